using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Book.Postgres;
using Lepidary.Book.Sqlite;

// The one place that knows which databases there are.
static void AddBook(IServiceCollection services, BookPlace place)
{
    services.AddDbContextFactory<BookContext>(options =>
    {
        if (place.IsPostgres)
        {
            options.UsePostgresBook(place.Text);
        }
        else
        {
            options.UseSqliteBook(place.Text);
        }
    });
}

var desk = new Desk(new Terminal(Console.Out, Console.Error), AddBook, TimeProvider.System);
return await Commands.Run(args, desk);

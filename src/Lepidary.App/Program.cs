using Lepidary;
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

static async Task<Checked<string>> Copied(Task<Checked<BookCopy>> copying)
{
    var copy = await copying;
    return copy.IsGood ? copy.Value.Sha256 : copy.Problems.ToArray();
}

var desk = new Desk(new Terminal(Console.Out, Console.Error), AddBook, TimeProvider.System)
{
    Copies = new(
        (from, to, stop) => Copied(BookBackup.MakeAsync(from, to, stop)),
        (from, to, stop) => Copied(BookBackup.RestoreAsync(from, to, stop))),
};
return await Commands.Run(args, desk);

using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace Lepidary.Book.Postgres;

/// <summary>Lets <c>tools/add-migration</c> see the model; it never connects.</summary>
internal sealed class DesignTime : IDesignTimeDbContextFactory<BookContext>
{
    public BookContext CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<BookContext>();
        options.UsePostgresBook("Host=design");
        return new(options.Options);
    }
}

using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace Lepidary.Book.Sqlite;

/// <summary>Lets <c>tools/add-migration</c> see the model; it never opens the file.</summary>
internal sealed class DesignTime : IDesignTimeDbContextFactory<BookContext>
{
    public BookContext CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<BookContext>();
        options.UseSqliteBook("design.db");
        return new(options.Options);
    }
}

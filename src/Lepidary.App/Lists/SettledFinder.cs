using Lepidary.Book;
using Lepidary.Taxa;

namespace Lepidary.App.Lists;

/// <summary>The finder of names with all that the book's keepers have settled.</summary>
internal static class SettledFinder
{
    public static async Task<NameFinder> Of(BookContext book, CancellationToken cancellation)
    {
        var settled = await SettledNames.ReadAsync(book, cancellation);
        return new NameFinder(TaxonTable.Shipped, settled.ToDictionary(name => name.Key, name => name.Value.Taxon));
    }
}

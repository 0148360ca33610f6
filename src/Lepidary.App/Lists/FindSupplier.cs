using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Lists;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Lists;

/// <summary>Whose list it is.</summary>
/// <param name="SupplierId">The one supplier that everything points to, or null.</param>
/// <param name="Guesses">Those that something points to, where it is not one.</param>
internal sealed record WhoseList(Guid? SupplierId, IReadOnlyList<string> Guesses);

/// <summary>
/// Finds the supplier of a list that came in by itself: by the mail's sender, by the name that the list bears, by the name of the file, and last
/// by the titles of its columns, where the last list of one supplier alone has the same. Where two of these disagree, the keeper is asked.
/// </summary>
internal sealed class FindSupplier(BookContext book, HouseDay day, CurrentLists lists)
{
    /// <summary>So many titles in one order are no chance.</summary>
    private const int FewestTitles = 3;

    private const int FewestLetters = 5;

    public async Task<WhoseList> Of(SupplierList read, string fileName, string? sender, CancellationToken cancellation)
    {
        var suppliers = (await day.House(cancellation)).Terms.Select(terms => terms.Supplier!).DistinctBy(supplier => supplier.Id).ToList();
        List<List<Supplier>> pointed =
        [
            suppliers.FindAll(supplier => sender is not null && sender.Equals(supplier.Email, StringComparison.OrdinalIgnoreCase)),
            suppliers.FindAll(supplier => read.Supplier is { } named && NameFinder.Normalise(named) == NameFinder.Normalise(supplier.Name)),
            suppliers.FindAll(supplier => Bears(fileName, supplier, suppliers)),
        ];
        var named = pointed.SelectMany(one => one).DistinctBy(supplier => supplier.Id).ToList();
        if (named.Count == 0)
        {
            named = await OfThisShape(read, suppliers, cancellation);
        }

        return named.Count == 1 ? new WhoseList(named[0].Id, []) : new WhoseList(null, [.. named.Select(supplier => supplier.Name)]);
    }

    /// <summary>The file bears the supplier's name, or its first word where no other supplier has that.</summary>
    private static bool Bears(string fileName, Supplier supplier, List<Supplier> all)
    {
        var file = Letters(Path.GetFileNameWithoutExtension(fileName));
        var first = Letters(supplier.Name.Split(' ')[0]);
        return file.Contains(Letters(supplier.Name), StringComparison.Ordinal)
            || (first.Length >= FewestLetters && file.Contains(first, StringComparison.Ordinal) && all.Count(other => Letters(other.Name).StartsWith(first, StringComparison.Ordinal)) == 1);
    }

    private static string Letters(string text) => string.Concat(NameFinder.Normalise(text).Where(char.IsLetterOrDigit));

    private async Task<List<Supplier>> OfThisShape(SupplierList read, List<Supplier> suppliers, CancellationToken cancellation)
    {
        var shape = Shape(read);
        if (shape.Count < FewestTitles)
        {
            return [];
        }

        var alike = new List<Supplier>();
        foreach (var supplier in suppliers)
        {
            var last = await book.Lists.AsNoTracking().Where(list => list.SupplierId == supplier.Id).OrderByDescending(list => list.OnDay).ThenByDescending(list => list.ReceivedAt)
                .Select(list => (Guid?)list.Id).FirstOrDefaultAsync(cancellation);
            if (last is { } id && await lists.One(id, cancellation) is { } list && Shape(list.List).SequenceEqual(shape))
            {
                alike.Add(supplier);
            }
        }

        return alike;
    }

    private static List<string> Shape(SupplierList list) => [.. list.Columns.Where(column => column.Title.Length > 0).DistinctBy(column => (column.Sheet, column.Column)).Select(column => column.Key)];
}

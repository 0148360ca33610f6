using Lepidary.Book;
using Lepidary.Lists;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Lists;

/// <summary>What an earlier list of a supplier said of itself, for one that does not.</summary>
/// <param name="OnDay">The day it came.</param>
/// <param name="Currency">ISO 4217 code, or null.</param>
/// <param name="PricesExcludeTax">Or null.</param>
internal sealed record EarlierWord(DateOnly OnDay, string? Currency, bool? PricesExcludeTax);

/// <summary>What the book remembers of suppliers' lists, as the reader of lists wants it.</summary>
internal static class SupplierMemory
{
    public const string Excluded = "excluded";
    public const string Included = "included";
    public const string Pack = "pack";
    public const string One = "one";

    /// <summary>How many earlier lists are asked for a currency and for tax.</summary>
    private const int EarlierAsked = 8;

    /// <summary>All that a list of a supplier is read with.</summary>
    /// <param name="book">The book.</param>
    /// <param name="supplier">Who sent it.</param>
    /// <param name="today">The day it came; what later lists say does not count for it.</param>
    /// <param name="cancellation">Stops reading.</param>
    public static async Task<ReadOptions> Options(BookContext book, Supplier supplier, DateOnly today, CancellationToken cancellation) => new()
    {
        Names = await SettledFinder.Of(book, cancellation),
        Supplier = supplier.Name,
        Layout = Layout(await LearntOfLists.ReadAsync(book, supplier.Id, cancellation), await Earlier(book, supplier.Id, today, cancellation)),
        Today = today,
    };

    /// <summary>What the last lists before a day said of currency and tax, newest first.</summary>
    public static async Task<IReadOnlyList<EarlierWord>> Earlier(BookContext book, Guid supplierId, DateOnly before, CancellationToken cancellation) =>
        await book.Lists.AsNoTracking().Where(list => list.SupplierId == supplierId && list.OnDay < before && (list.Currency != null || list.PricesExcludeTax != null))
            .OrderByDescending(list => list.OnDay).ThenByDescending(list => list.ReceivedAt).Take(EarlierAsked)
            .Select(list => new EarlierWord(list.OnDay, list.Currency, list.PricesExcludeTax)).ToListAsync(cancellation);

    /// <summary>The layout: the keeper's word; for a currency and tax that neither the keeper nor the list says, what the supplier's last list said.</summary>
    public static SupplierLayout Layout(IReadOnlyList<LearntOfList> learnt, IReadOnlyList<EarlierWord> earlier)
    {
        string? Of(LearntMatter matter) => learnt.FirstOrDefault(one => one.Matter == matter)?.Meaning;
        return new SupplierLayout
        {
            Columns = learnt.Where(one => one.Matter == LearntMatter.Column && Enum.TryParse<ColumnRole>(one.Meaning, out _)).ToDictionary(one => one.ColumnKey, one => Enum.Parse<ColumnRole>(one.Meaning)),
            Currency = Of(LearntMatter.Currency) ?? earlier.FirstOrDefault(one => one.Currency is not null)?.Currency,
            PricesExcludeTax = Of(LearntMatter.Tax) is { } tax ? tax == Excluded : null,
            PricesExcludeTaxUsually = earlier.FirstOrDefault(one => one.PricesExcludeTax is not null)?.PricesExcludeTax,
            PricesPerPack = Of(LearntMatter.PriceUnit) is { } unit ? unit == Pack : null,
            Lines = [.. learnt.Where(one => one.Matter == LearntMatter.Line).Select(one => ToldLine.Parse(one.ColumnKey, one.Meaning)).Where(line => line.IsGood).Select(line => line.Value)],
        };
    }
}

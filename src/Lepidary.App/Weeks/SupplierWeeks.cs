using Lepidary.Book;
using Lepidary.Science.Listing;

namespace Lepidary.App.Weeks;

/// <summary>What a list says of one taxon.</summary>
public enum OnList
{
    /// <summary>To be had.</summary>
    Listed,

    /// <summary>On the list, marked as gone.</summary>
    SoldOut,

    /// <summary>Not on it.</summary>
    Absent,

    /// <summary>A line that may mean it is not settled.</summary>
    InDoubt,
}

/// <summary>One list, seen from one taxon.</summary>
/// <param name="Price">The lowest for one, in the supplier's currency, as its terms have it with or without tax; null where none is printed or in another currency.</param>
public sealed record ListMark(Guid ListId, DateOnly Day, OnList State, decimal? Price);

/// <summary>One supplier's lists over the weeks; of several on one day the last counts.</summary>
internal sealed class SupplierWeeks
{
    private readonly IReadOnlyList<SeenWeek> weeks;
    private readonly decimal taxRate;

    public SupplierWeeks(SupplierTerms terms, decimal taxRate, IEnumerable<SeenWeek> weeks)
    {
        Terms = terms;
        this.taxRate = taxRate;
        this.weeks = [.. weeks.GroupBy(week => week.Day).OrderBy(day => day.Key).Select(day => day.MaxBy(week => week.At)!)];
    }

    public SupplierTerms Terms { get; }

    public string Name => Terms.Supplier!.Name;

    /// <summary>Oldest first.</summary>
    public IReadOnlyList<SeenWeek> Weeks => weeks;

    /// <summary>Every taxon that it ever listed.</summary>
    public IEnumerable<string> Taxa => weeks.SelectMany(week => week.Offers).Select(offer => offer.Taxon).Distinct(StringComparer.Ordinal);

    /// <summary>Its lists as the forecast of listings takes them.</summary>
    public IEnumerable<SeenList> Seen => weeks.Select(week => new SeenList(
        week.Day, week.Offers.Where(offer => !offer.SoldOut).Select(offer => offer.Taxon).ToHashSet(StringComparer.Ordinal), week.InDoubt));

    /// <summary>Its lists up to a day, seen from one taxon, oldest first.</summary>
    public IReadOnlyList<ListMark> Marks(string taxon, DateOnly until) => [.. weeks.Where(week => week.Day <= until).Select(week => Mark(taxon, week))];

    /// <summary>Prices of a taxon's pupae before a day, oldest first: one a list, the lowest.</summary>
    public IReadOnlyList<decimal> Prices(string taxon, DateOnly before) =>
        [.. weeks.Where(week => week.Day < before).Select(week => Lowest(week, offer => offer.Taxon == taxon && !offer.IsCocoon)).OfType<decimal>()];

    /// <summary>
    /// What is worth saying of an offer against the supplier's earlier lists: <c>new this week</c>, <c>seldom listed (3 of the last 20)</c>,
    /// <c>12 % dearer than usual</c>. Empty where the counts bear none of it.
    /// </summary>
    /// <param name="offer">The offer.</param>
    /// <param name="day">The day of its list.</param>
    /// <param name="currency">The list's, or null where it does not say.</param>
    /// <param name="pricesExcludeTax">What the list says of tax, or null.</param>
    /// <param name="isThisWeek">False for a list of the past.</param>
    public IReadOnlyList<string> Notes(SeenOffer offer, DateOnly day, string? currency, bool? pricesExcludeTax, bool isThisWeek)
    {
        var notes = new List<string>();
        var earlier = weeks.Where(week => week.Day < day).TakeLast(ListingWord.Last).ToList();
        var marks = earlier.Select(week => Mark(offer.Taxon, week)).Where(mark => mark.State != OnList.InDoubt).ToList();
        if (!offer.SoldOut && ListingWord.IsNew(marks.Count(mark => mark.State != OnList.Absent), marks.Count))
        {
            notes.Add(isThisWeek ? "new this week" : "new on this list");
        }
        else if (!offer.SoldOut)
        {
            var told = marks.TakeLast(ListingWord.Last - 1).ToList();
            var (listed, lists) = (told.Count(mark => mark.State == OnList.Listed) + 1, told.Count + 1);
            if (ListingWord.IsSeldom(listed, lists))
            {
                notes.Add($"seldom listed ({listed} of the last {lists})");
            }
        }

        if (Comparable(offer.Price, currency, pricesExcludeTax) is { } price && price > 0
            && ListingWord.OffUsual(price, [.. earlier.Select(week => Lowest(week, other => other.Taxon == offer.Taxon && other.Form == offer.Form && other.IsCocoon == offer.IsCocoon)).OfType<decimal>()]) is { } off)
        {
            notes.Add($"{Math.Abs(off) * 100:0} % {(off > 0 ? "dearer" : "cheaper")} than usual");
        }

        return notes;
    }

    /// <summary>One of its lists, seen from one taxon.</summary>
    public ListMark Mark(string taxon, SeenWeek week)
    {
        var offers = week.Offers.Where(offer => offer.Taxon == taxon).ToList();
        var state = offers.Any(offer => !offer.SoldOut) ? OnList.Listed
            : week.InDoubt.Contains(taxon) ? OnList.InDoubt
            : offers.Count > 0 ? OnList.SoldOut
            : OnList.Absent;
        return new(week.ListId, week.Day, state, Lowest(week, offer => offer.Taxon == taxon && !offer.IsCocoon) ?? Lowest(week, offer => offer.Taxon == taxon));
    }

    private decimal? Lowest(SeenWeek week, Func<SeenOffer, bool> which) =>
        week.Offers.Where(which).Select(offer => Comparable(offer.Price, week.Currency, week.PricesExcludeTax)).Where(price => price > 0).Min();

    // As the terms have it: a list that for once prints prices with tax is not dearer.
    private decimal? Comparable(decimal? price, string? currency, bool? pricesExcludeTax) =>
        price is not { } printed || (currency ?? Terms.Currency) != Terms.Currency ? null
        : pricesExcludeTax is not { } without || without == Terms.PricesExcludeTax ? printed
        : without ? printed * (1 + taxRate) : printed / (1 + taxRate);
}

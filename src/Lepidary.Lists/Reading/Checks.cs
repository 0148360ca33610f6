using System.Globalization;

namespace Lepidary.Lists.Reading;

/// <summary>Looks at the offers of a list side by side for what can hardly be meant.</summary>
internal static class Checks
{
    private const decimal HighestPrice = 500;

    /// <summary>In pounds, euros or dollars; other currencies have other numbers. Common practice, no source.</summary>
    private const decimal HighUsual = 12;

    private const decimal LowUsual = 0.3m;

    /// <summary>So many times dearer or cheaper than the list's median, a price is asked about.</summary>
    private const double FarOff = 10;

    /// <summary>Where nearly all prices of a list lie beyond these, in pounds, euros or dollars, what is read as prices is hardly one. Common practice, no source.</summary>
    private const decimal NoPriceAbove = 100, NoPriceBelow = 0.2m;

    /// <param name="offers">Of one list.</param>
    /// <param name="usualMoney">True where prices are in a currency with the usual numbers.</param>
    public static IReadOnlyList<Offer> Of(IReadOnlyList<Offer> offers, bool usualMoney)
    {
        var beyond = usualMoney && offers.Count(offer => offer.Price is > 0) is >= 5 and var priced && offers.Count(offer => offer.Price is > NoPriceAbove or > 0 and < NoPriceBelow) * 10 >= priced * 9;
        var prices = offers.Where(offer => offer.Price is > 0).Select(offer => (double)offer.Price!.Value).Order().ToList();
        double? median = prices.Count >= 5 ? prices[prices.Count / 2] : null;
        var first = new Dictionary<object, int>();
        return [.. offers.Select(offer => With(offer, [.. Doubts(offer, median), .. Twice(offer), .. Beyond(offer)]))];

        IEnumerable<string> Beyond(Offer offer)
        {
            if (beyond && offer.Price is { } price)
                yield return $"{price.ToString("0.00##", CultureInfo.InvariantCulture)} for one can hardly be meant, and the list's other prices are as odd: say what the column holds.";
        }

        IEnumerable<string> Twice(Offer offer)
        {
            var key = (offer.Taxon, Form: offer.Form?.ToUpperInvariant(), offer.Kind, offer.Pack, offer.Price, offer.Note);
            if (offer.Taxon is not null && !first.TryAdd(key, offer.Line))
                yield return $"The same offer stands on line {first[key].ToString(CultureInfo.InvariantCulture)}: it may be there twice by mistake.";
        }
    }

    /// <summary>A list on which most prices are high was perhaps read for one where several were meant.</summary>
    public static IEnumerable<Doubt> OfAll(IReadOnlyList<Offer> offers)
    {
        var prices = offers.Where(offer => offer.Price is > 0 && offer.Kind != OfferKind.Mix).Select(offer => offer.Price!.Value).Order().ToList();
        if (prices.Count >= 5 && (prices[prices.Count / 2] > HighUsual || prices[prices.Count / 2] < LowUsual))
            yield return new Doubt(0, "", $"Most prices are about {prices[prices.Count / 2].ToString("0.00##", CultureInfo.InvariantCulture)} for one pupa: check that they are meant for one, and the currency.");
    }

    private static Offer With(Offer offer, List<string> more) => more.Count == 0 ? offer : offer with { Doubts = [.. offer.Doubts, .. more] };

    private static IEnumerable<string> Doubts(Offer offer, double? median)
    {
        if (offer.Price is { } price)
        {
            if (price <= 0)
                yield return $"The price is {price.ToString(CultureInfo.InvariantCulture)}: ask the supplier for it.";
            else if (price > HighestPrice)
                yield return $"{price.ToString(CultureInfo.InvariantCulture)} for one pupa can hardly be meant: check it.";
            else if (median is { } usual && ((double)price > usual * FarOff || (double)price * FarOff < usual))
                yield return $"{price.ToString("0.00##", CultureInfo.InvariantCulture)} for one is far from what the list's other offers cost (about {usual.ToString("0.00", CultureInfo.InvariantCulture)}): check it.";
        }
        if (offer is { Available: { } available, Minimum: { } minimum, SoldOut: false } && available < minimum && available > 0)
            yield return $"Only {available.ToString(CultureInfo.InvariantCulture)} are available, fewer than the minimum of {minimum.ToString(CultureInfo.InvariantCulture)}: ask the supplier.";
    }
}

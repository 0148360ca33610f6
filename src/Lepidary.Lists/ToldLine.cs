using System.Globalization;
using System.Text.RegularExpressions;
using Lepidary.Lists.Words;
using Lepidary.Taxa;

namespace Lepidary.Lists;

/// <summary>
/// What the keeper said of one line of a supplier's list that could not be read for certain. "Right as read" and "no offer" hold for the same
/// line with other numbers too, so that next week's list need not be asked about again; numbers said by hand hold for that very line alone.
/// </summary>
public sealed partial record ToldLine
{
    /// <summary>The word for a line that was read right.</summary>
    public const string AsRead = "as-read";

    /// <summary>The word for a line that offers nothing.</summary>
    public const string NoOffer = "no-offer";

    /// <summary>The line as printed.</summary>
    public required string Text { get; init; }

    /// <summary>True when it was read right.</summary>
    public bool IsAsRead { get; init; }

    /// <summary>True when it offers nothing.</summary>
    public bool IsNoOffer { get; init; }

    /// <summary>Accepted binomial, or null to keep what was read.</summary>
    public string? Taxon { get; init; }

    /// <summary>Price of one pupa in the list's currency, above 0; null to keep what was read.</summary>
    public decimal? Price { get; init; }

    /// <summary>Pupae on hand; null to keep what was read.</summary>
    public int? Available { get; init; }

    /// <summary>Pupae a pack; null to keep what was read.</summary>
    public int? Pack { get; init; }

    /// <summary>Fewest pupae; null to keep what was read.</summary>
    public int? Minimum { get; init; }

    /// <summary>True when it is gone.</summary>
    public bool SoldOut { get; init; }

    /// <summary>As it is written down: <c>as-read</c>, <c>no-offer</c>, or what differs, as <c>price 1.30; hand 125; pack 25; fewest 50; species Morpho helenor; sold out</c>.</summary>
    public string Meaning => IsAsRead ? AsRead : IsNoOffer ? NoOffer : string.Join("; ", ((IEnumerable<string?>)
        [
            Taxon is null ? null : $"species {Taxon}",
            Price is { } price ? string.Create(CultureInfo.InvariantCulture, $"price {price}") : null,
            Available is { } hand ? string.Create(CultureInfo.InvariantCulture, $"hand {hand}") : null,
            Pack is { } pack ? string.Create(CultureInfo.InvariantCulture, $"pack {pack}") : null,
            Minimum is { } fewest ? string.Create(CultureInfo.InvariantCulture, $"fewest {fewest}") : null,
            SoldOut ? "sold out" : null,
        ]).OfType<string>());

    /// <summary>By what a line is known again: without case, accents and further spaces.</summary>
    public static string KeyOf(string text) => Folded.Of(text);

    /// <summary>Reads what was written down.</summary>
    /// <param name="text">The line as printed.</param>
    /// <param name="meaning">As <see cref="Meaning"/>.</param>
    /// <returns>What was said, or a problem that names the word which is not understood.</returns>
    public static Checked<ToldLine> Parse(string text, string meaning)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(meaning);
        var line = new ToldLine { Text = text };
        if (meaning.Trim() is AsRead or NoOffer)
        {
            return line with { IsAsRead = meaning.Trim() == AsRead, IsNoOffer = meaning.Trim() == NoOffer };
        }

        foreach (var part in meaning.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            var (word, value) = part.Split(' ', 2, StringSplitOptions.TrimEntries) is [var first, var rest] ? (first, rest) : (part, "");
            var number = int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out var whole) ? whole : (int?)null;
            switch (word)
            {
                case "species" when TaxonTable.Shipped.Find(value) is { } taxon:
                    line = line with { Taxon = taxon.Name };
                    break;
                case "price" when decimal.TryParse(value.Replace(',', '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var price) && price is > 0 and < 100_000:
                    line = line with { Price = price };
                    break;
                case "hand" when number is not null:
                    line = line with { Available = number };
                    break;
                case "pack" when number > 0:
                    line = line with { Pack = number };
                    break;
                case "fewest" when number > 0:
                    line = line with { Minimum = number };
                    break;
                case "sold" when value == "out":
                    line = line with { SoldOut = true };
                    break;
                default:
                    return new Problem("line", $"\"{part}\"", $"{AsRead}, {NoOffer}, or what differs: species, price, hand, pack, fewest with what it is, sold out; with ; between");
            }
        }

        return line.Meaning.Length > 0 ? line : new Problem("line", "nothing", "a species, a price, a number, or sold out");
    }

    /// <summary>The lines, as printed, that are in doubt for one reason alone and that can stand as they were read.</summary>
    /// <param name="list">As it was read.</param>
    /// <param name="why">The doubt, as <see cref="Doubt.Why"/>.</param>
    public static IReadOnlyList<string> Alike(SupplierList list, string why)
    {
        ArgumentNullException.ThrowIfNull(list);
        return
        [
            .. from doubts in list.Doubts.Where(doubt => doubt.About == DoubtAbout.Line && doubt.Line > 0).GroupBy(doubt => (doubt.Line, doubt.Text))
               where doubts.All(doubt => doubt.Why == why)
               where list.Offers.Any(offer => offer.Line == doubts.Key.Line && offer.Text == doubts.Key.Text && CanStand(offer))
               select doubts.Key.Text,
        ];
    }

    /// <summary>Whether something can be ordered of an offer as it was read, or is known not to be.</summary>
    /// <param name="offer">As it was read.</param>
    public static bool CanStand(Offer offer)
    {
        ArgumentNullException.ThrowIfNull(offer);
        return HasSpecies(offer) && (offer.SoldOut || offer.Price is > 0);
    }

    /// <summary>Whether it is known what is offered: a species, or a mix.</summary>
    /// <param name="offer">As it was read.</param>
    public static bool HasSpecies(Offer offer)
    {
        ArgumentNullException.ThrowIfNull(offer);
        return offer.Taxon is not null || offer.Kind == OfferKind.Mix;
    }

    /// <summary>The list with what the keeper said of its lines.</summary>
    /// <param name="list">As it was read.</param>
    /// <param name="said">What was said, the last word of each line.</param>
    public static SupplierList Apply(SupplierList list, IReadOnlyCollection<ToldLine> said)
    {
        ArgumentNullException.ThrowIfNull(list);
        ArgumentNullException.ThrowIfNull(said);
        if (said.Count == 0)
        {
            return list;
        }

        var exactly = said.DistinctBy(line => KeyOf(line.Text)).ToDictionary(line => KeyOf(line.Text));
        var alike = said.Where(line => line.IsAsRead || line.IsNoOffer).DistinctBy(line => ShapeOf(line.Text)).ToDictionary(line => ShapeOf(line.Text));
        ToldLine? Of(string text) => exactly.GetValueOrDefault(KeyOf(text)) ?? alike.GetValueOrDefault(ShapeOf(text));
        var asked = list.Doubts.Where(doubt => doubt.About == DoubtAbout.Line && doubt.Line > 0 && Of(doubt.Text) is { } word
            // Nothing but its species, or that it is no offer, settles one of which no species is known.
            && (word.IsNoOffer || word.Taxon is not null || !list.Offers.Any(offer => offer.Line == doubt.Line && offer.Text == doubt.Text && !HasSpecies(offer)))).ToHashSet();
        if (asked.Count == 0)
        {
            return list;
        }

        var settled = asked.ToLookup(doubt => (doubt.Line, doubt.Text), doubt => doubt.Why);
        var read = list.Offers.Select(offer => (offer.Sheet, offer.Line, offer.Text)).ToHashSet();
        // A line that was no offer becomes one where the keeper says of what and for how much; it is put where it stands on the list.
        var found = from line in list.Lines
                    where settled.Contains((line.Line, line.Text)) && !read.Contains((line.Sheet, line.Line, line.Text)) && Of(line.Text) is { Taxon: not null }
                    select With(new Offer { Line = line.Line, Sheet = line.Sheet, Text = line.Text }, Of(line.Text)!, []);
        var sheets = list.Lines.Select(line => line.Sheet).Distinct().ToList();
        var offers = list.Offers
            .Where(offer => !(settled.Contains((offer.Line, offer.Text)) && Of(offer.Text)!.IsNoOffer))
            .Select(offer => settled.Contains((offer.Line, offer.Text)) ? With(offer, Of(offer.Text)!, settled[(offer.Line, offer.Text)]) : offer)
            .Concat(found)
            .OrderBy(offer => sheets.IndexOf(offer.Sheet)).ThenBy(offer => offer.Line).ThenBy(offer => offer.OnLine).ToList();
        var offered = offers.Select(offer => (offer.Sheet, offer.Line, offer.Text)).ToHashSet();
        return list with
        {
            Offers = offers,
            Doubts = [.. list.Doubts.Where(doubt => !asked.Contains(doubt))],
            Lines = [.. list.Lines.Select(line => !settled.Contains((line.Line, line.Text)) ? line
                : line with { Kind = offered.Contains((line.Sheet, line.Line, line.Text)) ? LineKind.Offer : line.Kind is LineKind.Offer or LineKind.Doubt ? LineKind.Note : line.Kind })],
        };
    }

    private static Offer With(Offer offer, ToldLine said, IEnumerable<string> settled) => offer with
    {
        Taxon = said.Taxon ?? offer.Taxon,
        Price = said.Price ?? offer.Price,
        // Breaks of a price that was read wrong are wrong with it.
        Breaks = said.Price is null || said.Price == offer.Price ? offer.Breaks : [],
        Available = said.SoldOut ? null : said.Available ?? offer.Available,
        Pack = said.Pack ?? offer.Pack,
        Minimum = said.Minimum ?? offer.Minimum,
        SoldOut = said.SoldOut || (offer.SoldOut && said.Available is null or 0),
        Doubts = [.. offer.Doubts.Except(settled)],
    };

    /// <summary>A line whatever its numbers are.</summary>
    private static string ShapeOf(string text) => Number().Replace(KeyOf(text), "0");

    [GeneratedRegex(@"\d+([.,]\d+)*")]
    private static partial Regex Number();
}

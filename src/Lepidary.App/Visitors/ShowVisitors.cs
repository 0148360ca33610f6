using Lepidary.App.Deaths;
using Lepidary.App.Host;
using Lepidary.Taxa;

namespace Lepidary.App.Visitors;

/// <summary>A species as visitors read of it.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="CommonName">In the language asked for; empty where the table has none.</param>
/// <param name="From">Where it lives in the wild; may be empty.</param>
/// <param name="HowMany">About how many fly, in words.</param>
/// <param name="HowLong">How long an adult lives in a flight house, in words.</param>
internal sealed record VisitorRow(string Taxon, string CommonName, string From, string HowMany, string HowLong);

/// <summary>What flies, for those who came to see it.</summary>
internal sealed record VisitorsView(string House, DateOnly Day, VisitorWords Words, string Headline, IReadOnlyList<VisitorRow> Rows, IReadOnlyList<VisitorWords> Languages)
{
    /// <summary>The language after this one in the house's order, the first after the last.</summary>
    public VisitorWords Next => Languages[(Languages.Index().First(item => item.Item == Words).Index + 1) % Languages.Count];
}

/// <summary>What flies today, in a language of the house?</summary>
internal sealed class ShowVisitors(HouseDay day, FlyingNow flying)
{
    /// <summary>The sheet in a language; in the house's own where it does not speak that one. Null where the book has no house.</summary>
    public async Task<VisitorsView?> Show(string? language, CancellationToken cancellation)
    {
        if (day.HouseName is null)
        {
            return null;
        }

        IReadOnlyList<VisitorWords> languages = [.. ((await day.House(cancellation)).Languages is { Count: > 0 } spoken ? spoken : ["en"]).Select(VisitorWords.Of)];
        var words = languages.FirstOrDefault(one => one.Language == language) ?? languages[0];
        var flyers = await flying.Read(cancellation);
        var rows = flyers.Select(flyer => Row(TaxonTable.Shipped.Of(flyer.Taxon), flyer.About, words)).ToList();
        var sum = flyers.Sum(flyer => flyer.About);
        return new(
            day.HouseName,
            day.Today,
            words,
            rows.Count == 0 ? words.Nothing : VisitorWords.Say(words.Sums, sum < 20 ? sum : (int)Math.Round(sum / 10.0) * 10, rows.Count),
            rows,
            languages);
    }

    private static VisitorRow Row(Taxon taxon, int about, VisitorWords words) =>
        new(taxon.Name, NameIn(taxon, words.Language), words.Region(taxon.Region), words.HowMany(about), words.HowLong(taxon.Life.AdultLifeDays.Value));

    private static string NameIn(Taxon taxon, string language) =>
        language == "en"
            ? taxon.CommonNames is [var common, ..] ? common : ""
            : taxon.OtherCommonNames.FirstOrDefault(name => name.StartsWith(language + ":", StringComparison.Ordinal))?[(language.Length + 1)..].Trim() ?? "";
}

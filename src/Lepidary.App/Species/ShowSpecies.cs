using System.Globalization;
using System.Text.Json.Serialization;
using Lepidary.App.Host;
using Lepidary.App.Odds;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Species;

/// <summary>One figure of a life history with what it rests on.</summary>
internal sealed record LifeFigure(string What, string Figure, string Confidence, string Source)
{
    private const string Remembered = "memory";

    /// <summary>What the source says beyond the confidence: what is from memory needs no source that says it again.</summary>
    [JsonIgnore]
    public string More => !Confidence.EndsWith(Remembered, StringComparison.Ordinal) || !Source.StartsWith(Remembered, StringComparison.Ordinal) ? Source : Source[Remembered.Length..].TrimStart(',', ' ');
}

/// <summary>What the book has taught, beside the table.</summary>
internal sealed record LearntRow(string From, double Rate, string RateWords, string Source, string Days);

/// <summary>The chance of a pair from a number of pupae.</summary>
/// <param name="Chance">A male and a female emerge.</param>
/// <param name="Together">A male and a female fly together for two days.</param>
internal sealed record PairRow(int Pupae, double Chance, double Together);

internal sealed record SpeciesView
{
    public required string Name { get; init; }

    public required string Authority { get; init; }

    public required string CommonNames { get; init; }

    public required string Place { get; init; }

    public IReadOnlyList<string> Synonyms { get; init; } = [];

    public required string Tags { get; init; }

    public required bool InTable { get; init; }

    public required string Cites { get; init; }

    public required string Notes { get; init; }

    public required string Now { get; init; }

    public IReadOnlyList<LifeFigure> Life { get; init; } = [];

    /// <summary>What the house's counts of adults say, or null.</summary>
    public string? OnTheWing { get; init; }

    /// <summary>What the house's counts say of the sexes, or null.</summary>
    public string? Sexes { get; init; }

    public IReadOnlyList<LearntRow> Learnt { get; init; } = [];

    public IReadOnlyList<PairRow> Pairs { get; init; } = [];
}

internal sealed record SpeciesIndexView(string Headline, string? Asked, IReadOnlyList<SpeciesHit> Hits);

/// <param name="As">The name that fits what was typed, where it is another one.</param>
internal sealed record SpeciesHit(string Name, string CommonName, string As);

/// <summary>How does it live?</summary>
internal sealed class ShowSpecies(BookContext book, HouseDay day, OddsBook odds)
{
    private const int MostHits = 30;

    /// <summary>A pair needs some days: courtship and mating on one, eggs on the next. Common practice, no source.</summary>
    private const int DaysTogether = 2;

    /// <summary>The species asked for; those of the house where nothing is asked.</summary>
    public async Task<SpeciesIndexView> Find(string? asked, CancellationToken cancellation)
    {
        if (!string.IsNullOrWhiteSpace(asked))
        {
            var hits = Suggest(asked);
            return new SpeciesIndexView(hits.Count == 0 ? "No species of that name" : hits.Count == 1 ? "One species" : $"{hits.Count} species", asked, hits);
        }

        var stock = await odds.Stock(day.HouseId, day.Today, cancellation);
        var names = stock.Select(item => item.Taxon).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToList();
        return new SpeciesIndexView(
            names.Count == 0 ? "The house has none yet" : $"{names.Count} species in the house",
            null,
            [.. names.Select(name => new SpeciesHit(name, Common(TaxonTable.Shipped.Of(name)), ""))]);
    }

    /// <summary>Species that a typed name may mean, likeliest first.</summary>
    public static IReadOnlyList<SpeciesHit> Suggest(string typed) =>
    [
        .. new NameFinder(TaxonTable.Shipped).Suggest(typed, MostHits).Select(hit => new SpeciesHit(hit.Taxon.Name, Common(hit.Taxon), hit.Name == hit.Taxon.Name ? "" : hit.Name)),
    ];

    /// <summary>One species by its accepted name, another name of it, or any well-formed binomial; null for what is no name.</summary>
    public async Task<SpeciesView?> Show(string name, CancellationToken cancellation)
    {
        var match = new NameFinder(TaxonTable.Shipped).Find(name, NameContext.None);
        if ((TaxonTable.Shipped.Find(name) ?? match.Taxon) is not { } taxon)
        {
            return null;
        }

        var hasHouse = day.HouseName is not null;
        var learned = hasHouse ? await odds.Learned(day.HouseId, day.Today, cancellation) : Learned.Nothing;
        var suppliers = hasHouse ? await book.Suppliers.AsNoTracking().OrderBy(supplier => supplier.Name).Select(supplier => supplier.Name).ToListAsync(cancellation) : [];
        var rate = learned.Rate(taxon, null);
        return new SpeciesView
        {
            Name = taxon.Name,
            Authority = taxon.Authority,
            CommonNames = string.Join(", ", taxon.AllCommonNames.Distinct().Take(8)),
            Place = string.Join(", ", new[] { taxon.Family, taxon.Subfamily, taxon.Tribe, taxon.Region }.Where(part => part.Length > 0)),
            Synonyms = taxon.Synonyms,
            Tags = string.Join(", ", taxon.Tags.Order(StringComparer.Ordinal)),
            InTable = taxon.InTable,
            Cites = taxon.CitesAppendix,
            Notes = taxon.Notes,
            Now = hasHouse ? await Now(taxon.Name, cancellation) : "",
            Life = [.. Life(taxon)],
            OnTheWing = OnTheWing(taxon, learned),
            Learnt = [Learnt("all suppliers", taxon, null, learned), .. suppliers.Where(supplier => learned.FinishedLots(taxon.Name, supplier) > 0).Select(supplier => Learnt(supplier, taxon, supplier, learned))],
            Sexes = Sexes(taxon, learned),
            Pairs = [.. Enumerable.Range(2, 6).Select(half => half * 2).Select(pupae => Pair(pupae, rate, learned.Sexes(taxon)))],
        };
    }

    private static PairRow Pair(int pupae, Science.Emergence.EmergenceRate rate, Sexes sexes)
    {
        var emerged = rate.Forecast(pupae);
        return new(
            pupae,
            sexes.Share.Expect(females => Science.Pairing.Pairs.Chance(emerged, 1, females), pupae),
            sexes.Share.Expect(females => Science.Pairing.PairsTogether.Chance(emerged, sexes.Males, sexes.Females, DaysTogether, females), pupae));
    }

    /// <summary>What the house's counts say of the sexes, in a sentence; null where none was told.</summary>
    private static string? Sexes(Taxon taxon, Learned learned)
    {
        var sexes = learned.Sexes(taxon);
        if (sexes.Counted == 0)
        {
            return null;
        }

        var days = sexes.Protandry.DaysAhead;
        var life = sexes is { MaleLife: { } males, FemaleLife: { } females }
            ? string.Create(CultureInfo.InvariantCulture, $" On the wing males live {males.Survival.MeanDaysCounted - 0.5:0} days in the mean, females {females.Survival.MeanDaysCounted - 0.5:0}.")
            : "";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Females: {sexes.Share.Females * 100:0} of 100, from {sexes.Counted} adults of yours and the table. {(days >= 0 ? "Males" : "Females")} come {Math.Abs(days):0.0} days before the {(days >= 0 ? "females" : "males")}, give or take {sexes.Protandry.Deviation:0.0}.{life}");
    }

    private static LearntRow Learnt(string from, Taxon taxon, string? supplier, Learned learned)
    {
        var rate = learned.Rate(taxon, supplier);
        var timing = learned.Timing(taxon);
        return new LearntRow(from, rate.Mean, ChanceWords.Picture(rate.Mean) + " pupae", learned.RateSource(taxon, supplier), $"{timing.Quantile(0.05)} to {timing.Quantile(0.95)} days");
    }

    /// <summary>What the house's own counts say of life on the wing, in a sentence; null for the table alone.</summary>
    private static string? OnTheWing(Taxon taxon, Learned learned)
    {
        if (learned.OnTheWing(taxon) is not { } fit)
        {
            return null;
        }

        var table = Science.Flying.AdultSurvival.FromLife(taxon.Life.AdultLifeDays.Value, taxon.Life.AdultLifeDaysMax.Value);
        var z = Science.Numerics.SpecialFunctions.NormalQuantile(0.9);
        double Days(double factor) => Math.Max(0, table.AtRisk(factor).MeanDaysCounted - 0.5);
        return $"Your releases, walks and found dead: {Days(fit.Factor):0} days on the wing in the mean, 8 of 10 such guesses between {Days(fit.Factor * Math.Exp(z * fit.LogFactorDeviation)):0} and {Days(fit.Factor * Math.Exp(-z * fit.LogFactorDeviation)):0}. "
            + $"A walk counts about {ChanceWords.Picture(fit.Seen)} that fly; {ChanceWords.Picture(fit.Found)} dead are found.";
    }

    private static IEnumerable<LifeFigure> Life(Taxon taxon)
    {
        var life = taxon.Life;
        yield return Figure("Days to emergence, usual", life.DaysToEmergence, Range);
        yield return Figure("Emerge whole", life.EmergenceRate, share => ChanceWords.Picture(share));
        yield return Figure("Females", life.FemaleShare, share => ChanceWords.Picture(share));
        yield return Figure("Days on the wing, mean", life.AdultLifeDays, Number);
        yield return Figure("Days on the wing, longest", life.AdultLifeDaysMax, Number);
        if (life.PupalDays is { } pupal)
        {
            yield return Figure("Days as a pupa", pupal, Number);
        }

        if (life.EggToAdultDays is { } all)
        {
            yield return Figure("Days from egg to adult", all, Number);
        }

        if (life.WingspanMm is { } wings)
        {
            yield return Figure("Wingspan", wings, span => Range(span) + " mm");
        }

        if (life.FoodPlants.Value.Count > 0)
        {
            yield return Figure("Larvae eat", life.FoodPlants, plants => string.Join(", ", plants));
        }
    }

    private static LifeFigure Figure<T>(string what, Sourced<T> figure, Func<T, string> words) => new(
        what,
        words(figure.Value),
        figure.Confidence switch
        {
            Confidence.Published => "published",
            Confidence.CommonPractice => "common practice",
            Confidence.Memory => "from memory",
            Confidence.Borrowed => "borrowed",
            _ => throw new InvalidOperationException($"Confidence {figure.Confidence}."),
        },
        figure.Source);

    private static string Range(WholeRange range) => range.From == range.To ? range.From.ToString(CultureInfo.InvariantCulture) : $"{range.From} to {range.To}";

    private static string Number(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    private static string Common(Taxon taxon) => taxon.CommonNames is [var first, ..] ? first : "";

    private async Task<string> Now(string name, CancellationToken cancellation)
    {
        var stock = (await odds.Stock(day.HouseId, day.Today, cancellation)).Where(item => item.Taxon == name).ToList();
        if (stock.Count == 0)
        {
            return "The house has none of it.";
        }

        var hanging = stock.Where(item => item.Place == House.StockPlace.Hanging).Sum(item => item.Count);
        var coming = stock.Where(item => item.Place == House.StockPlace.Coming).Sum(item => item.Count);
        var taxon = TaxonTable.Shipped.Of(name);
        var flying = Science.Flying.FlyingForecast.Of(StockOdds.Of(taxon, stock, day.Today, await odds.Learned(day.HouseId, day.Today, cancellation)), 1)[0];
        return $"About {flying.Quantile(0.5)} fly, {hanging} hang, {coming} are on their way.";
    }
}

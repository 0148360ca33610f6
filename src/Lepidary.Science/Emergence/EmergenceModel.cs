using Lepidary.Science.Ground;
using Lepidary.Science.Mixed;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Emergence;

/// <summary>What a lot tells of its kind.</summary>
/// <param name="Species">Any key.</param>
/// <param name="Supplier">Any key; own broods are a supplier too.</param>
/// <param name="TableRate">What the table expects of the species, 0…1.</param>
/// <param name="Emerged">Emerged whole, 0…Done. A lot still hanging counts in part: <see cref="EmergenceModel.Told"/>.</param>
/// <param name="Done">Emerged or failed.</param>
/// <param name="DayOfYear">1…366, when it was hung.</param>
/// <param name="DaysInTransit">Days from posting to hanging, or null where nobody knows.</param>
public sealed record EmergedLot(string Species, string Supplier, double TableRate, double Emerged, double Done, int DayOfYear, double? DaysInTransit = null);

/// <summary>
/// The emergence rate of any species from any supplier as all lots of a book tell it together: the table's rate of the species, moved by effects of the species, the
/// supplier, both and the lot, by the season and by the days in transit.
/// </summary>
/// <remarks>
/// The prior of the effects' standard deviations (logit: species 0.35, supplier 0.25, both 0.25, lot 0.45, constant 0.2) makes a rate without any lot as uncertain as
/// <see cref="EmergenceRate.TableCertainty"/> and lots as unlike as <see cref="EmergenceRate.TableLotConcentration"/>: a book begins at the table and leaves it lot by lot.
/// </remarks>
public sealed class EmergenceModel
{
    private const double Species = 0.35, Supplier = 0.25, Both = 0.25, Lot = 0.45, Constant = 0.2, LogSpread = 0.5;

    /// <summary>How far season and a day of transit may move the logit, before any lot is seen: a choice of this project, no source.</summary>
    private const double Season = 0.3, Transit = 0.15;

    /// <summary>A posted box usually travels two days. Common practice, no source.</summary>
    private const double UsualTransit = 2;

    /// <summary>Fewer lots with a known time on the way do not support an effect of it.</summary>
    private const int TransitLots = 30;

    private readonly Dictionary<string, int> species, suppliers;
    private readonly Dictionary<(string, string), int> pairs;
    private readonly bool transit, season;
    private readonly int[] hangingDay;

    private EmergenceModel(
        LogisticMixedModel fit, Dictionary<string, int> species, Dictionary<string, int> suppliers, Dictionary<(string, string), int> pairs, bool season, bool transit, int[] hangingDay)
    {
        (Fit, this.species, this.suppliers, this.pairs) = (fit, species, suppliers, pairs);
        (this.season, this.transit, this.hangingDay) = (season, transit, hangingDay);
    }

    /// <summary>The fit: terms species, supplier, both, lot; fixed effects constant, then cosine and sine of the year, then days in transit less two, where used.</summary>
    public LogisticMixedModel Fit { get; }

    /// <summary>True when the book holds lots of most of a year, so that season has an effect of its own.</summary>
    public bool HasSeason => season;

    /// <summary>True when enough lots have a known time on the way.</summary>
    public bool HasTransit => transit;

    /// <summary>What one day more on the way does to the odds to emerge, as a factor, with the range that holds it 8 times of 10; null without known times.</summary>
    public (double Factor, double From, double To)? DayOnTheWay
    {
        get
        {
            if (!transit) return null;
            var (effect, reach) = (Fit.FixedEffects[^1], SpecialFunctions.NormalQuantile(0.9) * Fit.FixedErrors[^1]);
            return (Math.Exp(effect), Math.Exp(effect - reach), Math.Exp(effect + reach));
        }
    }

    /// <summary>What a lot still hanging may count: of each pupa that hangs the chance that it will still emerge, and of the whole the share of its time that is over.</summary>
    /// <param name="received">Pupae hung, at least 1.</param>
    /// <param name="emerged">Emerged whole so far.</param>
    /// <param name="failed">Failed so far.</param>
    /// <param name="outByNow">The share F of those that emerge at all which is out after so many days, 0…1.</param>
    /// <param name="expected">The rate p that was thought before, 0…1.</param>
    /// <returns>Emerged and done, in pupae; nothing while less than half would be out: such a lot would only repeat what was thought.</returns>
    /// <remarks>
    /// A pupa still hanging will emerge with p(1-F)/(1-pF). Of n pupae n·p·F are expected out and n·p·(1-F) still to come: the sum times F, of n·F, has the share p. Early in
    /// its time a lot leans on what was thought, at the end of it on its counts alone.
    /// </remarks>
    public static (double Emerged, double Done) Told(int received, int emerged, int failed, double outByNow, double expected)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(received);
        Guard.Chance(outByNow);
        Guard.Chance(expected);
        var hanging = received - emerged - failed;
        if (hanging <= 0) return (emerged, emerged + failed);
        if (outByNow < 0.5) return (0, 0);
        var still = outByNow == 1 ? 0 : expected * (1 - outByNow) / (1 - expected * outByNow);
        return (outByNow * (emerged + hanging * still), outByNow * received);
    }

    /// <summary>Learns from all lots together.</summary>
    /// <param name="lots">Those with nothing done are passed over.</param>
    /// <param name="near">The model of the book as it was a round ago, or null: only a quicker start.</param>
    /// <returns>Null where no lot tells anything: then the table alone speaks.</returns>
    public static EmergenceModel? Learn(IEnumerable<EmergedLot> lots, EmergenceModel? near = null)
    {
        ArgumentNullException.ThrowIfNull(lots);
        var told = lots.Where(lot => lot.Done > 0).ToList();
        if (told.Count == 0) return null;
        var months = told.Select(lot => Math.Min(11, (lot.DayOfYear - 1) * 12 / 366)).Distinct().Count();
        var days = told.Where(lot => lot.DaysInTransit is not null).Select(lot => lot.DaysInTransit!.Value).ToList();
        var (season, transit) = (months >= 9, days.Count >= TransitLots && days.Distinct().Count() > 1);
        // The levels that were known keep their numbers: the search then starts where it ended.
        Dictionary<T, int> Levels<T>(IEnumerable<T> keys, Dictionary<T, int>? before) where T : notnull
        {
            var levels = before is null ? [] : new Dictionary<T, int>(before);
            foreach (var key in keys) levels.TryAdd(key, levels.Count);
            return levels;
        }
        var species = Levels(told.Select(lot => lot.Species), near?.species);
        var suppliers = Levels(told.Select(lot => lot.Supplier), near?.suppliers);
        var pairs = Levels(told.Select(lot => (lot.Species, lot.Supplier)), near?.pairs);
        var design = new MixedDesign(
            [.. told.Select(lot => lot.Emerged)],
            [.. told.Select(lot => lot.Done)],
            [.. told.Select(lot => Row(season, transit, lot.DayOfYear, lot.DaysInTransit))],
            [
                new("species", [.. told.Select(lot => species[lot.Species])], species.Count),
                new("supplier", [.. told.Select(lot => suppliers[lot.Supplier])], suppliers.Count),
                new("species from a supplier", [.. told.Select(lot => pairs[(lot.Species, lot.Supplier)])], pairs.Count),
                new("lot", [.. Enumerable.Range(0, told.Count)], told.Count),
            ],
            [.. told.Select(lot => Logit(lot.TableRate))]);
        double[] spreads = [Constant, .. season ? new[] { Season, Season } : [], .. transit ? new[] { Transit } : []];
        var prior = new MixedPrior(new double[spreads.Length], spreads, [Species, Supplier, Both, Lot], LogSpread);
        var start = near is not null && near.season == season && near.transit == transit ? near.Fit : null;
        return new(LogisticMixedModel.Fit(design, prior, start), species, suppliers, pairs, season, transit, [.. told.Select(lot => lot.DayOfYear)]);
    }

    /// <summary>The rate of a new lot.</summary>
    /// <param name="kind">Its species; one never seen has the table's rate, moved by what is known of the supplier.</param>
    /// <param name="supplier">Null for any: a supplier not known yet.</param>
    /// <param name="tableRate">What the table expects of the species, 0…1.</param>
    /// <param name="dayOfYear">When it will hang, or null for the mean over the days on which the book's lots were hung.</param>
    /// <param name="daysInTransit">Days on the way, or null for the usual two.</param>
    public EmergenceRate Rate(string kind, string? supplier, double tableRate, int? dayOfYear = null, double? daysInTransit = null)
    {
        int? At<T>(Dictionary<T, int> levels, T key) where T : notnull => levels.TryGetValue(key, out var level) ? level : null;
        int?[] levels =
        [
            At(species, kind),
            supplier is null ? null : At(suppliers, supplier),
            supplier is null ? null : At(pairs, (kind, supplier)),
            null,
        ];
        var row = Row(season, transit, dayOfYear ?? 1, daysInTransit);
        if (season && dayOfYear is null)
        {
            (row[1], row[2]) = (0, 0);
            foreach (var day in hangingDay)
            {
                row[1] += Math.Cos(2 * Math.PI * day / 365.25) / hangingDay.Length;
                row[2] += Math.Sin(2 * Math.PI * day / 365.25) / hangingDay.Length;
            }
        }
        var forecast = Fit.Forecast(row, levels, Logit(tableRate));
        var lot = Fit.Deviations[3];
        return FromLogit(forecast.Logit, Math.Sqrt(Math.Max(1e-8, forecast.Variance - lot * lot)), lot);
    }

    /// <summary>The rate with the same mean, the same variance of the mean and the same variance between lots as normal effects on the logit give.</summary>
    /// <param name="logit">Mean.</param>
    /// <param name="deviation">Of what is not known of the mean, above 0.</param>
    /// <param name="lotDeviation">Between lots, above 0.</param>
    internal static EmergenceRate FromLogit(double logit, double deviation, double lotDeviation)
    {
        // Means over normal effects by the trapezoid rule, which for them converges faster than any power of the step.
        const int half = 20;
        const double reach = 6;
        var (total, mean, square, between) = (0.0, 0.0, 0.0, 0.0);
        for (var i = -half; i <= half; i++)
        {
            var z = reach * i / half;
            var (weights, first, second) = (0.0, 0.0, 0.0);
            for (var j = -half; j <= half; j++)
            {
                var e = reach * j / half;
                var (weight, p) = (Math.Exp(-e * e / 2), 1 / (1 + Math.Exp(-(logit + deviation * z + lotDeviation * e))));
                weights += weight;
                first += weight * p;
                second += weight * p * p;
            }
            (first, second) = (first / weights, second / weights);
            var outer = Math.Exp(-z * z / 2);
            total += outer;
            mean += outer * first;
            square += outer * first * first;
            between += outer * (second - first * first);
        }
        (mean, square, between) = (mean / total, square / total, between / total);
        var variance = Math.Max(1e-12, square - mean * mean);
        // In a beta-binomial lot of concentration c the lots' rates vary by μ(1-μ)/(c+1).
        return new(mean, mean * (1 - mean) / variance - 1, Math.Max(1, (mean - square) / Math.Max(1e-12, between) - 1));
    }

    private static double[] Row(bool season, bool transit, int dayOfYear, double? daysInTransit)
    {
        var angle = 2 * Math.PI * dayOfYear / 365.25;
        return [1, .. season ? new[] { Math.Cos(angle), Math.Sin(angle) } : [], .. transit ? new[] { (daysInTransit ?? UsualTransit) - UsualTransit } : []];
    }

    /// <remarks>
    /// The logit whose mean rate, over all that the prior leaves open, is the table's: normal effects draw a mean towards a half by √(1 + c²σ²), c = 16√3/(15π) (the logistic
    /// curve taken as a normal one; from memory). A table that says never or always is not believed to the last pupa.
    /// </remarks>
    private static double Logit(double rate)
    {
        const double c = 16 * 1.7320508075688772 / (15 * Math.PI);
        const double variance = Species * Species + Supplier * Supplier + Both * Both + Lot * Lot + Constant * Constant;
        var chance = Math.Clamp(Guard.Chance(rate), 0.01, 0.99);
        return Math.Log(chance / (1 - chance)) * Math.Sqrt(1 + c * c * variance);
    }
}

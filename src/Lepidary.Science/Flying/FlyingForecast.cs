using Lepidary.Science.Counts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Ground;

namespace Lepidary.Science.Flying;

/// <summary>
/// The exact distribution of how many adults of a species fly on a day, from what flies, what hangs and what is on its way.
/// The unknown mean rate is shared by the lots of a source, each lot has its own rate around it, and what a lot has shown so far
/// (emerged, lost, still hanging so many days) is taken into account.
/// </summary>
/// <remarks>
/// Day 0 is the day of the stock; what emerges on a day flies on that day. Pupae and adults are independent given the rates.
/// One day's distribution says nothing of the next one's given it: days are not independent, and only single days are given.
/// Species are independent in the model, so groups and totals are exact sums (<see cref="Total"/>); bad weeks that strike all
/// species at once are not in it.
/// </remarks>
public static class FlyingForecast
{
    /// <summary>How many fly on day 0, 1, … <paramref name="days"/>-1.</summary>
    /// <param name="stock">What the house has of the species.</param>
    /// <param name="days">At least 0.</param>
    public static IReadOnlyList<CountDistribution> Of(SpeciesStock stock, int days)
    {
        ArgumentNullException.ThrowIfNull(stock);
        var chances = stock.Lots.Select(lot => FlyingGivenAlive(lot, stock.Survival, days)).ToList();
        var byDay = Seen(stock.Lots, chances, days);
        for (var day = 0; day < byDay.Length; day++)
        {
            var now = CountDistribution.PoissonBinomial(
                stock.Flying.Select(group => (group.Count, Guard.Chance(group.Alive) * stock.Survival.GivenAlive(group.DaysOnWing, day))));
            if (now.Max > 0) byDay[day] = byDay[day].Plus(now);
        }
        return byDay;
    }

    /// <summary>How many emerge on day 0, 1, … <paramref name="days"/>-1, all lots together.</summary>
    /// <param name="lots">Lots of one species.</param>
    /// <param name="days">At least 0.</param>
    public static IReadOnlyList<CountDistribution> Emerging(IReadOnlyList<HangingLot> lots, int days)
    {
        ArgumentNullException.ThrowIfNull(lots);
        return Seen(lots, [.. lots.Select(lot => EmergingGivenAlive(lot, days))], days);
    }

    /// <summary>
    /// How many of one lot emerge on day 0, 1, … <paramref name="days"/>-1, with what is not known of the days themselves: given k alive, beta-binomial(k, w·p, w·(1-p))
    /// with the chance p of the day and w = <see cref="EmergenceTiming.Watched"/>. Where the timing is taken as known, the same as <see cref="Emerging"/>.
    /// </summary>
    /// <param name="lot">The lot, with what it has shown.</param>
    /// <param name="days">At least 0.</param>
    public static IReadOnlyList<CountDistribution> EmergingOf(HangingLot lot, int days)
    {
        ArgumentNullException.ThrowIfNull(lot);
        var (alive, known) = (Alive(lot), lot.Timing.Watched(lot.DaysHanging));
        return
        [
            .. EmergingGivenAlive(lot, days).Select(chance => chance is 0 or 1 || double.IsPositiveInfinity(known)
                ? alive.Thin(chance)
                : CountDistribution.Mixture(alive.Masses.ToArray(), [.. Enumerable.Range(0, alive.Max + 1).Select(k => CountDistribution.BetaBinomial(k, known * chance, known * (1 - chance)))])),
        ];
    }

    /// <summary>
    /// On which day, counted from arrival, the first of a lot emerges, given that one does: of k alive that have not emerged before, none emerges on day d with the chance (1-h)^k, h the hazard
    /// of the day; where the days are not known that well, with its mean over h ~ Beta(w·h, w·(1-h)), w = <see cref="EmergenceTiming.Watched"/>: Π (w(1-h)+i)/(w+i), i = 0…k-1. The
    /// pupae of a lot then come early or late together. Nothing where none can emerge any more.
    /// </summary>
    /// <param name="lot">A lot of which none has emerged.</param>
    public static CountDistribution? First(HangingLot lot)
    {
        ArgumentNullException.ThrowIfNull(lot);
        var alive = Alive(lot);
        if (lot.Timing.NotBefore(lot.DaysHanging) <= 0 || alive.AtLeast(1) <= 0) return null;
        // Of so many alive: the chance that none has emerged yet.
        var waiting = new double[alive.Max + 1];
        for (var k = 1; k < waiting.Length; k++) waiting[k] = alive[k];
        var masses = new double[lot.Timing.LastDay + 1];
        for (var day = Math.Max(0, lot.DaysHanging); day < masses.Length; day++)
        {
            var (hazard, known, none) = (Math.Min(1, lot.Timing[day] / lot.Timing.NotBefore(day)), lot.Timing.Watched(day), 1.0);
            for (var k = 1; k < waiting.Length; k++)
            {
                none *= double.IsPositiveInfinity(known) ? 1 - hazard : (known * (1 - hazard) + k - 1) / (known + k - 1);
                masses[day] += waiting[k] * (1 - none);
                waiting[k] *= none;
            }
        }
        var sum = masses.Sum();
        return sum > 0 ? CountDistribution.FromMasses([.. masses.Select(mass => mass / sum)]) : null;
    }

    /// <summary>How many of the pupae that hang in this lot are alive and will emerge.</summary>
    /// <param name="lot">The lot, with what it has shown.</param>
    public static CountDistribution Alive(HangingLot lot)
    {
        ArgumentNullException.ThrowIfNull(lot);
        return new SourceForecast([lot]).Seen([1.0]);
    }

    /// <summary>A group of species, or all: the sum of independent counts.</summary>
    public static CountDistribution Total(IEnumerable<CountDistribution> species) => CountDistribution.Sum(species);

    private static CountDistribution[] Seen(IReadOnlyList<HangingLot> lots, List<double[]> chances, int days)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(days);
        foreach (var lot in lots)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(lot.Hanging, nameof(lots));
            ArgumentOutOfRangeException.ThrowIfNegative(lot.Emerged, nameof(lots));
            ArgumentOutOfRangeException.ThrowIfNegative(lot.Lost, nameof(lots));
        }
        var byDay = new CountDistribution[days];
        Array.Fill(byDay, CountDistribution.Certain(0));
        foreach (var source in Enumerable.Range(0, lots.Count).GroupBy(i => (lots[i].RateSource, lots[i].Rate)))
        {
            var members = source.ToArray();
            var forecast = new SourceForecast([.. members.Select(i => lots[i])]);
            var seen = new double[members.Length];
            for (var day = 0; day < days; day++)
            {
                for (var m = 0; m < members.Length; m++) seen[m] = chances[members[m]][day];
                if (seen.Any(chance => chance > 0)) byDay[day] = byDay[day].Plus(forecast.Seen(seen));
            }
        }
        return byDay;
    }

    /// <summary>By day: the chance that a pupa of the lot that hangs alive emerges on it.</summary>
    private static double[] EmergingGivenAlive(HangingLot lot, int days)
    {
        var chances = new double[days];
        var waiting = lot.Timing.NotBefore(lot.DaysHanging);
        if (waiting > 0)
            for (var day = 0; day < days; day++) chances[day] = Math.Min(1, lot.Timing[lot.DaysHanging + day] / waiting);
        return chances;
    }

    /// <summary>By day: the chance that a pupa of the lot that hangs alive has emerged by then and lives.</summary>
    private static double[] FlyingGivenAlive(HangingLot lot, AdultSurvival survival, int days)
    {
        var emerging = EmergingGivenAlive(lot, days);
        var flying = new double[days];
        for (var day = 0; day < days; day++)
        {
            for (var on = 0; on <= day; on++)
                if (emerging[on] > 0) flying[day] += emerging[on] * survival[day - on];
            flying[day] = Math.Min(1, flying[day]);
        }
        return flying;
    }
}

namespace Lepidary.Science.Listing;

/// <summary>One supplier's list as far as it tells what was to be had.</summary>
/// <param name="Day">The day it came.</param>
/// <param name="Listed">Taxa to be had on it.</param>
/// <param name="InDoubt">Taxa of which it does not tell: a line that may mean them is not settled.</param>
public sealed record SeenList(DateOnly Day, IReadOnlySet<string> Listed, IReadOnlySet<string> InDoubt);

/// <summary>How a supplier's lists follow each other.</summary>
public enum ListingPattern
{
    /// <summary>Each list is drawn anew: only how often counts.</summary>
    Steady,

    /// <summary>What was on the last list tends to be on the next: a farm's brood lasts some weeks.</summary>
    Lasting,

    /// <summary>A taxon has its quarters of the year.</summary>
    Seasonal,
}

/// <summary>The chance that a taxon is on a supplier's list.</summary>
/// <param name="Listed">Lists on which it was.</param>
/// <param name="Lists">Lists that tell.</param>
/// <param name="OnList">Chance for the next list, the one after that, …</param>
/// <param name="Next">The first of these with its uncertainty.</param>
public sealed record ListingChance(int Listed, int Lists, IReadOnlyList<double> OnList, UncertainChance Next);

/// <summary>
/// What will be on a supplier's next lists, from those seen. A list that is missing says nothing: it is not a list without the taxon. Three patterns are
/// weighed by how well they foretold the lists that were seen; the simplest is kept unless another is at least twenty times as probable.
/// </summary>
public sealed class ListingForecast
{
    /// <summary>How much more probable the lists must be under another pattern than under <see cref="ListingPattern.Steady"/>: ln 20.</summary>
    public static double Needed { get; } = Math.Log(20);

    /// <summary>A gap between two lists longer than this many usual gaps breaks the chain: what was on the last one tells little.</summary>
    private const double Gap = 1.75;
    private const int Quarters = 4;
    private const int Ahead = 8;

    private readonly List<SeenList> lists;
    private readonly Dictionary<string, Counts> taxa;
    private readonly DateOnly next;
    private readonly ListingRates steady;
    private readonly ListingRates? on;
    private readonly ListingRates? off;
    private readonly ListingRates? seasonal;
    private readonly double usualGap;

    /// <summary>Learns from one supplier's lists.</summary>
    /// <param name="lists">In any order; at least one. Of several on one day the last counts.</param>
    /// <param name="names">The taxa that it might list: those that anybody does. Those on its lists are added.</param>
    /// <param name="next">The day of the next list.</param>
    public ListingForecast(IEnumerable<SeenList> lists, IEnumerable<string> names, DateOnly next)
    {
        ArgumentNullException.ThrowIfNull(lists);
        ArgumentNullException.ThrowIfNull(names);
        this.lists = [.. lists.GroupBy(list => list.Day).OrderBy(day => day.Key).Select(day => day.Last())];
        ArgumentOutOfRangeException.ThrowIfZero(this.lists.Count, nameof(lists));
        this.next = next;
        usualGap = UsualGap(this.lists);
        taxa = names.Concat(this.lists.SelectMany(list => list.Listed)).Distinct(StringComparer.Ordinal).ToDictionary(name => name, Count, StringComparer.Ordinal);
        var all = taxa.Values;
        steady = new([.. all.Select(counts => (counts.Listed, counts.Lists))]);
        var evidence = new Dictionary<ListingPattern, double> { [ListingPattern.Steady] = 0 };
        if (all.Sum(counts => counts.On.Of) > 0 && all.Sum(counts => counts.Off.Of) > 0)
        {
            on = new([.. all.Select(counts => counts.On)]);
            off = new([.. all.Select(counts => counts.Off)]);
            // Both are asked for what follows the first list of each chain, given that one.
            var firsts = new ListingRates([.. all.Select(counts => counts.First)]);
            evidence[ListingPattern.Lasting] = on.LogEvidence + off.LogEvidence - (steady.LogEvidence - firsts.LogEvidence);
        }

        // A season shows itself only when each quarter has been seen in two years.
        if (Enumerable.Range(0, Quarters).All(quarter => this.lists.Where(list => Quarter(list.Day) == quarter).Select(list => list.Day.Year).Distinct().Count() >= 2))
        {
            seasonal = new([.. all.SelectMany(counts => counts.ByQuarter)]);
            evidence[ListingPattern.Seasonal] = seasonal.LogEvidence - steady.LogEvidence;
        }

        Evidence = evidence;
        var best = evidence.MaxBy(pattern => pattern.Value);
        Pattern = best.Value > Needed ? best.Key : ListingPattern.Steady;
    }

    private sealed record Counts(int Listed, int Lists, (int Yes, int Of) First, (int Yes, int Of) On, (int Yes, int Of) Off, (int Yes, int Of)[] ByQuarter, bool? Last);

    /// <summary>How the lists follow each other, as far as they show it.</summary>
    public ListingPattern Pattern { get; }

    /// <summary>Logarithm of how much more probable the lists are than if <see cref="ListingPattern.Steady"/>, by pattern that could be tried.</summary>
    public IReadOnlyDictionary<ListingPattern, double> Evidence { get; }

    /// <summary>Lists that were learnt from, one a day.</summary>
    public int Lists => lists.Count;

    /// <summary>The taxa that were asked about or listed.</summary>
    public IReadOnlyCollection<string> Taxa => taxa.Keys;

    /// <summary>The chance that a taxon is on the next lists.</summary>
    /// <param name="taxon">One of <see cref="Taxa"/>.</param>
    public ListingChance Of(string taxon)
    {
        var counts = taxa[taxon];
        switch (Pattern)
        {
            case ListingPattern.Lasting:
                var (stays, comes) = (on!.Of(counts.On.Yes, counts.On.Of), off!.Of(counts.Off.Yes, counts.Off.Of));
                // Long after the last list, what was on it tells nothing more.
                var first = counts.Last is { } last && next.DayNumber - lists[^1].Day.DayNumber <= Gap * usualGap
                    ? last ? stays : comes
                    : steady.Of(counts.Listed, counts.Lists);
                var ahead = new double[Ahead];
                ahead[0] = first.Mean;
                for (var list = 1; list < Ahead; list++)
                    ahead[list] = (ahead[list - 1] * stays.Mean) + ((1 - ahead[list - 1]) * comes.Mean);

                return new(counts.Listed, counts.Lists, ahead, first);
            case ListingPattern.Seasonal:
                var quarters = Enumerable.Range(0, Ahead).Select(list => Quarter(next.AddDays((int)Math.Round(list * usualGap)))).ToList();
                var chances = counts.ByQuarter.Select(quarter => seasonal!.Of(quarter.Yes, quarter.Of)).ToList();
                return new(counts.Listed, counts.Lists, [.. quarters.Select(quarter => chances[quarter].Mean)], chances[quarters[0]]);
            default:
                var always = steady.Of(counts.Listed, counts.Lists);
                return new(counts.Listed, counts.Lists, [always.Mean], always);
        }
    }

    private Counts Count(string taxon)
    {
        var (listed, seen, first, wasOn, wasOff) = (0, 0, (Yes: 0, Of: 0), (Yes: 0, Of: 0), (Yes: 0, Of: 0));
        var byQuarter = new (int Yes, int Of)[Quarters];
        bool? last = null;
        var lastDay = 0;
        foreach (var list in lists)
        {
            var here = list.Listed.Contains(taxon);
            if (!here && list.InDoubt.Contains(taxon))
            {
                last = null;
                continue;
            }

            var yes = here ? 1 : 0;
            (listed, seen) = (listed + yes, seen + 1);
            ref var quarter = ref byQuarter[Quarter(list.Day)];
            quarter = (quarter.Yes + yes, quarter.Of + 1);
            if (last is { } before && list.Day.DayNumber - lastDay <= Gap * usualGap)
            {
                if (before)
                    wasOn = (wasOn.Yes + yes, wasOn.Of + 1);
                else
                    wasOff = (wasOff.Yes + yes, wasOff.Of + 1);
            }
            else
            {
                first = (first.Yes + yes, first.Of + 1);
            }

            (last, lastDay) = (here, list.Day.DayNumber);
        }

        return new(listed, seen, first, wasOn, wasOff, byQuarter, last);
    }

    private static int Quarter(DateOnly day) => (day.Month - 1) / 3;

    // The middle gap; a week where there is none.
    private static double UsualGap(List<SeenList> lists)
    {
        var gaps = lists.Zip(lists.Skip(1), (one, other) => other.Day.DayNumber - one.Day.DayNumber).Order().ToList();
        return gaps.Count == 0 ? 7 : gaps[gaps.Count / 2];
    }
}

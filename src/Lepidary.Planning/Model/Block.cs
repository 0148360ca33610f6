using Lepidary.Science.Counts;

namespace Lepidary.Planning.Model;

/// <summary>A wish for one taxon on one day.</summary>
/// <param name="Aim">Place of the aim in the problem.</param>
/// <param name="Day">Days from the order day.</param>
/// <param name="Wanted">Number wanted.</param>
/// <param name="Sure">How sure, or null for the mean.</param>
/// <param name="Worth">What one short is worth, house currency.</param>
internal sealed record DayWish(int Aim, int Day, int Wanted, double? Sure, double Worth);

/// <summary>A wish for pairs of one taxon: on the best day of the plan.</summary>
/// <param name="Aim">Place of the aim in the problem.</param>
/// <param name="Pairs">Pairs wanted.</param>
/// <param name="Sure">How sure, or null for the mean.</param>
/// <param name="Worth">What one pair short is worth, house currency.</param>
/// <param name="NewBlood">True when only what is ordered counts.</param>
internal sealed record PairWish(int Aim, int Pairs, double? Sure, double Worth, bool NewBlood = false);

/// <summary>Bounds on the pupae of some items of a block together.</summary>
/// <param name="Places">Places in the block.</param>
/// <param name="Least">Fewest pupae.</param>
/// <param name="Most">Most pupae.</param>
internal sealed record SumRule(int[] Places, int Least, int Most)
{
    /// <summary>True when the rule is kept.</summary>
    public bool Holds(ReadOnlySpan<int> pupae)
    {
        var sum = Sum(pupae);
        return sum >= Least && sum <= Most;
    }

    /// <summary>Pupae of its items.</summary>
    public int Sum(ReadOnlySpan<int> pupae)
    {
        var sum = 0;
        foreach (var place in Places)
            sum += pupae[place];
        return sum;
    }
}

/// <summary>What a complete choice for a block does that depends on all its items together.</summary>
/// <param name="Shortage">Worth of what is short of the block's own wishes, house currency.</param>
/// <param name="Absent">By place in <see cref="Block.PresenceDays"/>: chance that none flies.</param>
internal sealed record Joint(double Shortage, double[] Absent);

/// <summary>
/// Items that must be decided together because one wish, or one limit, is about all of them: usually all offers of one taxon.
/// </summary>
internal sealed class Block
{
    private readonly Dictionary<int[], Joint> joints = new(new ChoiceComparer());
    private readonly Dictionary<int, double[][]>[] lots;
    private readonly int[] days;
    private readonly int[] depth;
    private readonly double[][] own;
    private readonly List<(int Place, DayWish Wish)> wishPlaces = [];
    private readonly int[] presencePlaces;
    private readonly double[][] bothSexesMissing;
    private readonly double femaleShare;

    public Block(
        int index, PlanTaxon? taxon, Item[] items, IReadOnlyList<DayWish> wishes, IReadOnlyList<PairWish> pairs,
        int[] presenceDays, IReadOnlyList<SumRule> rules, IReadOnlyList<CountDistribution>? ownByDay)
    {
        Index = index;
        Taxon = taxon;
        Items = items;
        Wishes = wishes;
        Pairs = pairs;
        PresenceDays = presenceDays;
        Rules = rules;
        femaleShare = taxon?.FemaleShare ?? 0.5;
        bothSexesMissing = [.. Enumerable.Range(1, pairs.Select(p => p.Pairs).DefaultIfEmpty(0).Max()).Select(BothSexesMissing)];

        var wanted = new SortedDictionary<int, int>();
        void Need(int day, int count) => wanted[day] = Math.Max(count, wanted.GetValueOrDefault(day));
        foreach (var wish in wishes)
            Need(wish.Day, wish.Wanted);
        foreach (var day in presenceDays)
            Need(day, 1);
        if (pairs.Count > 0)
        {
            for (var day = 0; day < ownByDay!.Count; day++)
            {
                // Some day must stand for "never", where nothing ever flies.
                if (day == 0 || items.Any(i => i.Flies[day] > 0) || ownByDay[day].Max > 0)
                    Need(day, bothSexesMissing[^1].Length);
            }
        }

        days = [.. wanted.Keys];
        depth = [.. wanted.Values];
        own = [.. days.Select((day, i) => Below(ownByDay?[day], depth[i]))];
        lots = [.. items.Select(_ => new Dictionary<int, double[][]>())];
        foreach (var wish in wishes)
            wishPlaces.Add((Array.IndexOf(days, wish.Day), wish));
        presencePlaces = [.. presenceDays.Select(day => Array.IndexOf(days, day))];
    }

    /// <summary>Its place in the model.</summary>
    public int Index { get; }

    /// <summary>The taxon; null for a mix.</summary>
    public PlanTaxon? Taxon { get; }

    /// <summary>Its items.</summary>
    public Item[] Items { get; }

    /// <summary>Wishes for this taxon alone.</summary>
    public IReadOnlyList<DayWish> Wishes { get; }

    /// <summary>Wishes for pairs.</summary>
    public IReadOnlyList<PairWish> Pairs { get; }

    /// <summary>Days on which it matters whether any flies.</summary>
    public int[] PresenceDays { get; }

    /// <summary>Limits on sums of its items.</summary>
    public IReadOnlyList<SumRule> Rules { get; }

    /// <summary>Group days that its items add to, as places in the model.</summary>
    public int[] GroupDays { get; set; } = [];

    /// <summary>True when nothing depends on two items together.</summary>
    public bool IsSeparable => days.Length == 0;

    /// <summary>Evaluations of the joint part so far, for the account of where the time went.</summary>
    public int Evaluations { get; private set; }

    /// <summary>True when the sums are within their limits.</summary>
    public bool Allows(ReadOnlySpan<int> pupae)
    {
        foreach (var rule in Rules)
        {
            if (!rule.Holds(pupae))
                return false;
        }

        return true;
    }

    /// <summary>What these numbers do together. Kept once computed.</summary>
    public Joint Of(int[] pupae)
    {
        if (joints.TryGetValue(pupae, out var known))
            return known;
        var joint = Evaluate(pupae);
        joints.Add((int[])pupae.Clone(), joint);
        return joint;
    }

    /// <summary>Chances of 0, 1, … of its taxon without any order, on a day that a wish or a number of species is about.</summary>
    public void OwnBelow(int day, Span<double> below) => own[Array.IndexOf(days, day)].AsSpan(0, below.Length).CopyTo(below);

    /// <summary>Forgets what was kept, when memory matters more than time.</summary>
    public void Forget() => joints.Clear();

    /// <summary>What is missing of a wished number, given the chances of 0 … wanted-1.</summary>
    internal static double Missing(ReadOnlySpan<double> below, int wanted, double? sure)
    {
        if (sure is null)
            return CountsBelow.Shortfall(below[..wanted]);
        // The largest number that is sure enough, with the part of the way to the next.
        var under = 0.0;
        for (var count = 0; count < wanted; count++)
        {
            var spare = 1 - under - sure.Value;
            if (spare < below[count])
                return wanted - count - Math.Max(0, spare / below[count]);
            under += below[count];
        }

        return 0;
    }

    private static double[] Below(CountDistribution? there, int count)
    {
        var below = new double[count];
        if (there is null)
            CountsBelow.Start(below);
        else
            CountsBelow.Start(there, below);
        return below;
    }

    private Joint Evaluate(int[] pupae)
    {
        Evaluations++;
        var absent = new double[presencePlaces.Length];
        if (days.Length == 0)
            return new(0, absent);
        var below = new double[days.Length][];
        var fresh = Pairs.Any(p => p.NewBlood) ? new double[days.Length][] : below;
        var used = Enumerable.Range(0, Items.Length).Where(i => pupae[i] > 0).Select(i => Lot(i, pupae[i])).ToArray();
        for (var place = 0; place < days.Length; place++)
        {
            below[place] = With((double[])own[place].Clone(), used, place);
            if (fresh != below)
                fresh[place] = With(Below(null, depth[place]), used, place);
        }

        for (var i = 0; i < absent.Length; i++)
            absent[i] = below[presencePlaces[i]][0];
        var shortage = 0.0;
        foreach (var (place, wish) in wishPlaces)
            shortage += wish.Worth * Missing(below[place], wish.Wanted, wish.Sure);
        foreach (var wish in Pairs)
            shortage += wish.Worth * (wish.NewBlood ? fresh : below).Min(b => PairsMissing(b, wish));
        return new(shortage, absent);
    }

    private static double[] With(double[] sum, double[][][] lots, int place)
    {
        foreach (var lot in lots)
        {
            if (lot[place].Length == 0)
                continue;
            if (sum.Length == 1)
                sum[0] *= lot[place][0];
            else
                CountsBelow.Add(sum, lot[place]);
        }

        return sum;
    }

    private double PairsMissing(double[] below, PairWish wish)
    {
        var chanceBefore = 1.0;
        var missing = 0.0;
        for (var pairs = 1; pairs <= wish.Pairs; pairs++)
        {
            var chance = 1.0;
            var lacking = bothSexesMissing[pairs - 1];
            for (var count = 0; count < lacking.Length && count < below.Length; count++)
                chance -= below[count] * lacking[count];
            if (wish.Sure is null)
                missing += 1 - chance;
            else if (chance < wish.Sure)
                return wish.Pairs - (pairs - 1) - Math.Clamp((chanceBefore - wish.Sure.Value) / (chanceBefore - chance), 0, 1);
            chanceBefore = chance;
        }

        return missing;
    }

    // By number of adults: chance that they are not so many of each sex. Cut where it no longer matters.
    private double[] BothSexesMissing(int pairs)
    {
        const double negligible = 1e-12;
        const int most = 400;
        var missing = new List<double>();
        for (var adults = 0; adults < most; adults++)
        {
            var lacking = adults < 2 * pairs ? 1 : 1 - Science.Pairing.Pairs.Chance(CountDistribution.Certain(adults), pairs, femaleShare);
            if (lacking < negligible)
                break;
            missing.Add(lacking);
        }

        return [.. missing];
    }

    // By place of day: chances of 0 … depth-1 of a lot; empty where none can fly.
    private double[][] Lot(int item, int pupae)
    {
        if (lots[item].TryGetValue(pupae, out var known))
            return known;
        var emerged = Items[item].Rate.Forecast(pupae).Masses;
        var flies = Items[item].FliesGivenEmerged;
        var lot = new double[days.Length][];
        for (var place = 0; place < days.Length; place++)
        {
            var kept = flies is null ? 0 : flies[days[place]];
            lot[place] = kept <= 0 ? [] : Thin(emerged, kept, depth[place]);
        }

        lots[item].Add(pupae, lot);
        return lot;
    }

    // The first few masses of a thinned count: Horner's rule at 1-kept+kept·z, powers beyond the last wanted one dropped.
    private static double[] Thin(ReadOnlySpan<double> masses, double kept, int count)
    {
        var lost = 1 - kept;
        if (count == 1)
        {
            var none = 0.0;
            for (var k = masses.Length - 1; k >= 0; k--)
                none = none * lost + masses[k];
            return [none];
        }

        var thinned = new double[Math.Min(count, masses.Length)];
        thinned[0] = masses[^1];
        for (var k = masses.Length - 2; k >= 0; k--)
        {
            for (var i = Math.Min(thinned.Length - 1, masses.Length - 1 - k); i >= 1; i--)
                thinned[i] = thinned[i] * lost + thinned[i - 1] * kept;
            thinned[0] = thinned[0] * lost + masses[k];
        }

        return thinned;
    }
}

/// <summary>Compares choices by their numbers.</summary>
internal sealed class ChoiceComparer : IEqualityComparer<int[]>
{
    /// <inheritdoc/>
    public bool Equals(int[]? x, int[]? y) => x.AsSpan().SequenceEqual(y);

    /// <inheritdoc/>
    public int GetHashCode(int[] obj)
    {
        var hash = 17;
        foreach (var n in obj)
            hash = unchecked((hash * 486187739) + n);
        return hash ^ (hash >> 15);
    }
}

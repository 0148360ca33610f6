using Lepidary.Planning.Model;

namespace Lepidary.Planning.Search;

/// <summary>A choice for a block with what it costs at given prices.</summary>
/// <param name="Pupae">By place in the block.</param>
/// <param name="ReducedCost">Cost less what it must beat.</param>
internal readonly record struct Priced(int[] Pupae, double ReducedCost);

/// <summary>
/// Finds the best choices of one block at given prices, over every combination of numbers: branch and bound over boxes of
/// choices. The joint part (own wishes, presence) only falls as any number grows, so a box is never below the cheapest numbers in it
/// plus the joint part at its upper corner. No assumption of convexity is made.
/// </summary>
internal sealed class Pricer
{
    private const double Tiny = 1e-9;

    private readonly Block block;
    private readonly Prices prices;
    private readonly double[][] alone;
    private readonly (int Lowest, int Highest)[] range;
    private readonly List<(int Place, double Mean, double Variance)> presence = [];

    /// <summary>A pricer of one block.</summary>
    /// <param name="model">The model.</param>
    /// <param name="block">The block.</param>
    /// <param name="prices">Prices.</param>
    /// <param name="ranges">By item of the model: lowest and highest place in its choices that may be used.</param>
    public Pricer(PlanModel model, Block block, Prices prices, (int Lowest, int Highest)[] ranges)
    {
        this.block = block;
        this.prices = prices;
        alone = [.. block.Items.Select(prices.Alone)];
        range = [.. block.Items.Select(i => ranges[i.Index])];
        foreach (var at in block.GroupDays)
        {
            var day = model.GroupDays[at];
            if (day.CountsSpecies && prices.Mean[at] != 0)
                presence.Add((Array.BinarySearch(block.PresenceDays, day.Day), prices.Mean[at], prices.Variance[at]));
        }
    }

    /// <summary>The best choice and some other good ones met on the way, best first; none where no choice is allowed.</summary>
    /// <param name="others">How many other ones at most.</param>
    public List<Priced> Best(int others)
    {
        var met = new SortedSet<(double Cost, long Order, int[] Places)>(Comparer<(double Cost, long Order, int[] Places)>.Create(
            (x, y) => x.Cost != y.Cost ? x.Cost.CompareTo(y.Cost) : x.Order.CompareTo(y.Order)));
        var seen = new HashSet<int[]>(new ChoiceComparer());
        var best = double.PositiveInfinity;
        var order = 0L;
        void Meet(int[] places)
        {
            if (!seen.Add(places))
                return;
            var pupae = PupaeAt(places);
            if (!block.Allows(pupae))
                return;
            var cost = SumAlone(places) + JointAt(pupae);
            best = Math.Min(best, cost);
            met.Add((cost, order++, places));
            if (met.Count > others + 1)
                met.Remove(met.Max);
        }

        var open = new PriorityQueue<Box, (double, long)>();
        void Push(Box box)
        {
            var bound = Bound(box, out var cheapest);
            if (bound < best - Tiny)
            {
                Meet(cheapest);
                open.Enqueue(box, (bound, order++));
            }
        }

        Push(Whole());
        while (open.TryDequeue(out var box, out var key) && key.Item1 < best - Tiny)
        {
            if (box.IsPoint)
                continue;
            var (left, right) = Split(box);
            Push(left);
            Push(right);
        }

        return [.. met.Select(m => new Priced(PupaeAt(m.Places), m.Cost - prices.Block[block.Index]))];
    }

    /// <summary>Every choice whose reduced cost is at most a limit, or null when there are more than <paramref name="most"/>.</summary>
    public List<Priced>? All(double limit, int most)
    {
        var found = new List<Priced>();
        var ceiling = limit + prices.Block[block.Index];
        var open = new Stack<Box>();
        open.Push(Whole());
        // A box can be looked into without finding anything; that too must end.
        var looks = 0;
        while (open.TryPop(out var box))
        {
            if (Bound(box, out _) > ceiling)
                continue;
            if (++looks > 40 * (most + 25))
                return null;
            if (!box.IsPoint)
            {
                var (left, right) = Split(box);
                open.Push(right);
                open.Push(left);
                continue;
            }

            var pupae = PupaeAt(box.Low);
            if (!block.Allows(pupae))
                continue;
            var cost = SumAlone(box.Low) + JointAt(pupae);
            if (cost > ceiling)
                continue;
            if (found.Count == most)
                return null;
            found.Add(new(pupae, cost - prices.Block[block.Index]));
        }

        return found;
    }

    private Box Whole() => new([.. range.Select(r => r.Lowest)], [.. range.Select(r => r.Highest)]);

    private double Bound(Box box, out int[] cheapest)
    {
        cheapest = new int[alone.Length];
        foreach (var rule in block.Rules)
        {
            if (rule.Sum(PupaeAt(box.Low)) > rule.Most || rule.Sum(PupaeAt(box.High)) < rule.Least)
                return double.PositiveInfinity;
        }

        var sum = 0.0;
        for (var i = 0; i < alone.Length; i++)
        {
            var at = box.Low[i];
            for (var c = at + 1; c <= box.High[i]; c++)
            {
                if (alone[i][c] < alone[i][at])
                    at = c;
            }

            cheapest[i] = at;
            sum += alone[i][at];
        }

        return sum + JointAt(PupaeAt(box.High));
    }

    private (Box Left, Box Right) Split(Box box)
    {
        // The number whose cost varies most in the box is the one the bound knows least about.
        var widest = -1;
        var most = -1.0;
        for (var i = 0; i < alone.Length; i++)
        {
            var width = box.High[i] - box.Low[i];
            if (width == 0)
                continue;
            var spread = width * (1e-6 + Math.Abs(alone[i][box.High[i]] - alone[i][box.Low[i]]) / width);
            if (spread > most)
                (most, widest) = (spread, i);
        }

        var middle = (box.Low[widest] + box.High[widest]) / 2;
        var (leftHigh, rightLow) = ((int[])box.High.Clone(), (int[])box.Low.Clone());
        leftHigh[widest] = middle;
        rightLow[widest] = middle + 1;
        return (new(box.Low, leftHigh), new(rightLow, box.High));
    }

    private int[] PupaeAt(int[] places)
    {
        var pupae = new int[places.Length];
        for (var i = 0; i < pupae.Length; i++)
            pupae[i] = block.Items[i].Choices[places[i]];
        return pupae;
    }

    private double SumAlone(int[] places)
    {
        var sum = 0.0;
        for (var i = 0; i < places.Length; i++)
            sum += alone[i][places[i]];
        return sum;
    }

    private double JointAt(int[] pupae)
    {
        if (block.IsSeparable)
            return 0;
        var joint = block.Of(pupae);
        var cost = prices.Real * joint.Shortage;
        foreach (var (place, mean, variance) in presence)
        {
            var absent = joint.Absent[place];
            cost -= (mean * (1 - absent)) - (variance * absent * (1 - absent));
        }

        return cost;
    }

    private readonly record struct Box(int[] Low, int[] High)
    {
        public bool IsPoint => Low.AsSpan().SequenceEqual(High);
    }
}

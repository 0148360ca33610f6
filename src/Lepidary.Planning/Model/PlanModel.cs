using System.Runtime.Intrinsics;

namespace Lepidary.Planning.Model;

/// <summary>A group, or the number of species, on one day: what is wanted, what is there anyway.</summary>
internal sealed class GroupDay
{
    private Vector256<double>[]? byFour;

    /// <summary>Place of the aim in the problem.</summary>
    public required int Aim { get; init; }

    /// <summary>Place of the group in <see cref="Item.Groups"/>, or -1 for a number of species.</summary>
    public required int Group { get; init; }

    /// <summary>Days from the order day.</summary>
    public required int Day { get; init; }

    /// <summary>What one short is worth, house currency.</summary>
    public required double Worth { get; init; }

    /// <summary>The faces of its shortage.</summary>
    public required Plane[] Planes { get; init; }

    /// <summary>Mean of what no item changes.</summary>
    public required double OwnMean { get; init; }

    /// <summary>Variance of what no item changes.</summary>
    public required double OwnVariance { get; init; }

    /// <summary>True for a number of species.</summary>
    public bool CountsSpecies => Group < 0;

    /// <summary>Shortage at a mean and a variance of what items add.</summary>
    public double Short(double mean, double variance)
    {
        // The local search asks this more often than anything else: four faces at once.
        var faces = byFour ??= ByFour(Planes);
        var (m, v) = (Vector256.Create(OwnMean + mean), Vector256.Create(OwnVariance + variance));
        var most = Vector256<double>.Zero;
        for (var i = 0; i < faces.Length; i += 3)
            most = Vector256.Max(most, faces[i] - (faces[i + 1] * m) + (faces[i + 2] * v));
        return Math.Max(Math.Max(most[0], most[1]), Math.Max(most[2], most[3]));
    }

    // Right sides, factors of the mean, factors of the variance of four faces, then of the next four; what is missing lies at 0.
    private static Vector256<double>[] ByFour(Plane[] planes) => [.. planes.Chunk(4).SelectMany(four =>
    {
        Vector256<double> Of(Func<Plane, double> part)
        {
            double At(int i) => i < four.Length ? part(four[i]) : 0;
            return Vector256.Create(At(0), At(1), At(2), At(3));
        }

        return new[] { Of(p => p.Right), Of(p => p.MeanFactor), Of(p => p.VarianceFactor) };
    })];
}

/// <summary>Room left on a day, in pupae hanging or adults flying.</summary>
/// <param name="Day">Days from the order day.</param>
/// <param name="Room">How many more, at least 0.</param>
/// <param name="OfCages">True for hanging places, false for adults flying.</param>
internal sealed record RoomDay(int Day, double Room, bool OfCages)
{
    /// <summary>What a pupa of an item takes up.</summary>
    public double Takes(Item item) => OfCages ? item.Hangs[Day] : item.Flies[Day];
}

/// <summary>The problem in numbers. Everything is sorted by key, so that the order of input does not matter.</summary>
internal sealed class PlanModel
{
    /// <summary>What it was made from.</summary>
    public required PlanProblem Problem { get; init; }

    /// <summary>Deliveries that could be ordered.</summary>
    public required IReadOnlyList<Slot> Slots { get; init; }

    /// <summary>Items with a choice other than nothing.</summary>
    public required IReadOnlyList<Item> Items { get; init; }

    /// <summary>Items decided together.</summary>
    public required IReadOnlyList<Block> Blocks { get; init; }

    /// <summary>Groups and numbers of species by day.</summary>
    public required IReadOnlyList<GroupDay> GroupDays { get; init; }

    /// <summary>Limits of room.</summary>
    public required IReadOnlyList<RoomDay> Rooms { get; init; }

    /// <summary>Budget, or infinity.</summary>
    public required double Budget { get; init; }

    /// <summary>Worth of what is short and no item changes.</summary>
    public required double Constant { get; init; }

    /// <summary>What one butterfly short on one day is worth at importance 1.</summary>
    public required double Worth { get; init; }

    /// <summary>The objective of an order, by item; infinity where a limit is broken.</summary>
    public double Objective(ReadOnlySpan<int> pupaeByItem)
    {
        var objective = Constant;
        var landed = 0.0;
        var (pupae, goods) = (new double[Slots.Count], new double[Slots.Count]);
        var (mean, variance) = (new double[GroupDays.Count], new double[GroupDays.Count]);
        foreach (var block in Blocks)
        {
            var choice = new int[block.Items.Length];
            for (var place = 0; place < choice.Length; place++)
                choice[place] = pupaeByItem[block.Items[place].Index];
            if (!block.Allows(choice))
                return double.PositiveInfinity;
            var column = new Column(block, choice, GroupDays);
            objective += column.Cost;
            landed += column.Landed;
            for (var i = 0; i < block.GroupDays.Length; i++)
            {
                mean[block.GroupDays[i]] += column.Mean[i];
                variance[block.GroupDays[i]] += column.Variance[i];
            }

            for (var place = 0; place < choice.Length; place++)
            {
                var item = block.Items[place];
                if (Array.BinarySearch(item.Choices, choice[place]) < 0)
                    return double.PositiveInfinity;
                pupae[item.Slot.Index] += choice[place];
                goods[item.Slot.Index] += (double)Item.GoodsOf(item.Offer, choice[place]);
            }
        }

        foreach (var slot in Slots)
        {
            if (!slot.Allows(pupae[slot.Index], goods[slot.Index]))
                return double.PositiveInfinity;
            var cost = slot.FixedCost(pupae[slot.Index], goods[slot.Index]);
            landed += cost;
            objective += cost * slot.Weight;
        }

        foreach (var room in Rooms)
        {
            var taken = 0.0;
            foreach (var item in Items)
                taken += room.Takes(item) * pupaeByItem[item.Index];
            if (taken > room.Room + Tolerance)
                return double.PositiveInfinity;
        }

        if (landed > Budget + Tolerance)
            return double.PositiveInfinity;
        for (var i = 0; i < GroupDays.Count; i++)
            objective += GroupDays[i].Worth * GroupDays[i].Short(mean[i], variance[i]);
        return objective;
    }

    /// <summary>Limits are kept to within this, in pupae or house currency.</summary>
    public const double Tolerance = 1e-6;
}

/// <summary>A complete choice for a block and all that it does.</summary>
internal sealed class Column
{
    private readonly double[] goods;

    public Column(Block block, int[] pupae, IReadOnlyList<GroupDay> groupDays)
    {
        Block = block;
        Pupae = pupae;
        var joint = block.Of(pupae);
        Cost = joint.Shortage;
        goods = new double[pupae.Length];
        Mean = new double[block.GroupDays.Length];
        Variance = new double[block.GroupDays.Length];
        for (var place = 0; place < pupae.Length; place++)
        {
            var n = pupae[place];
            if (n == 0)
                continue;
            var item = block.Items[place];
            goods[place] = (double)Item.GoodsOf(item.Offer, n);
            var landed = goods[place] * item.Slot.GoodsFactor;
            Landed += landed;
            Cost += landed * item.Slot.Weight;
            for (var i = 0; i < Mean.Length; i++)
            {
                var day = groupDays[block.GroupDays[i]];
                if (day.CountsSpecies || item.Groups[day.Group] is not { } share)
                    continue;
                var chance = share.Mean[day.Day];
                Mean[i] += n * chance;
                Variance[i] += (n * chance * (1 - chance)) + ((double)n * (n - 1) * share.Excess[day.Day]);
            }
        }

        for (var i = 0; i < Mean.Length; i++)
        {
            var day = groupDays[block.GroupDays[i]];
            if (!day.CountsSpecies)
                continue;
            var absent = joint.Absent[Array.BinarySearch(block.PresenceDays, day.Day)];
            Mean[i] = 1 - absent;
            Variance[i] = absent * (1 - absent);
        }
    }

    /// <summary>Its block.</summary>
    public Block Block { get; }

    /// <summary>Pupae by place in the block.</summary>
    public int[] Pupae { get; }

    /// <summary>Printed goods of an item.</summary>
    public double GoodsAt(int place) => goods[place];

    /// <summary>Weighted goods and shortage of the block's own wishes.</summary>
    public double Cost { get; }

    /// <summary>Landed goods.</summary>
    public double Landed { get; }

    /// <summary>By place in <see cref="Block.GroupDays"/>: what it adds to the mean.</summary>
    public double[] Mean { get; }

    /// <summary>By place in <see cref="Block.GroupDays"/>: what it adds to the variance.</summary>
    public double[] Variance { get; }
}

using Lepidary.Planning.Model;

namespace Lepidary.Planning.Search;

/// <summary>
/// A complete order as one choice a block, with running sums, so that the effect of changing one block is found without
/// working out the rest again. Broken limits cost a price each.
/// </summary>
internal sealed class Order
{
    private readonly PlanModel model;
    private readonly double breachPrice;
    private readonly double[] mean;
    private readonly double[] variance;
    private readonly double[] shortage;
    private readonly double[] pupae;
    private readonly double[] goods;
    private readonly double[] fixedCost;
    private readonly double[] room;
    private double columnCost;
    private double landed;
    private double fixedWeighted;
    private double shortageSum;
    private double breach;

    public Order(PlanModel model, Column[] chosen, double breachPrice)
    {
        this.model = model;
        this.breachPrice = breachPrice;
        Chosen = chosen;
        mean = new double[model.GroupDays.Count];
        variance = new double[mean.Length];
        shortage = new double[mean.Length];
        pupae = new double[model.Slots.Count];
        goods = new double[pupae.Length];
        fixedCost = new double[pupae.Length];
        room = new double[model.Rooms.Count];
        Recompute();
    }

    /// <summary>The choice of each block.</summary>
    public Column[] Chosen { get; }

    /// <summary>Objective, with the price of broken limits.</summary>
    public double Cost => model.Constant + columnCost + fixedWeighted + shortageSum + (breachPrice * breach);

    /// <summary>True when no limit is broken.</summary>
    public bool Holds => breach <= 1e-9;

    /// <summary>Pupae by item.</summary>
    public int[] PupaeByItem()
    {
        var all = new int[model.Items.Count];
        foreach (var column in Chosen)
        {
            for (var place = 0; place < column.Pupae.Length; place++)
                all[column.Block.Items[place].Index] = column.Pupae[place];
        }

        return all;
    }

    /// <summary>Pupae of a slot.</summary>
    public double PupaeOf(Slot slot) => pupae[slot.Index];

    /// <summary>Works out all sums from the choices, so that rounding does not pile up.</summary>
    public void Recompute()
    {
        Array.Clear(mean);
        Array.Clear(variance);
        Array.Clear(pupae);
        Array.Clear(goods);
        Array.Clear(room);
        columnCost = landed = 0;
        foreach (var column in Chosen)
            Count(column, 1);
        shortageSum = 0;
        for (var i = 0; i < mean.Length; i++)
            shortageSum += shortage[i] = model.GroupDays[i].Worth * model.GroupDays[i].Short(mean[i], variance[i]);
        Settle();
    }

    /// <summary>What the cost would be with another choice for its block.</summary>
    public double CostWith(Column other)
    {
        var block = other.Block;
        var old = Chosen[block.Index];
        var cost = columnCost + other.Cost - old.Cost;
        var groups = 0.0;
        for (var i = 0; i < block.GroupDays.Length; i++)
        {
            var at = block.GroupDays[i];
            var (m, v) = (other.Mean[i] - old.Mean[i], other.Variance[i] - old.Variance[i]);
            if (m == 0 && v == 0)
                continue;
            groups += (model.GroupDays[at].Worth * model.GroupDays[at].Short(mean[at] + m, variance[at] + v)) - shortage[at];
        }

        var newBreach = breach;
        var newFixed = fixedWeighted;
        var newLanded = landed + other.Landed - old.Landed;
        // A block has few items; a slot met twice is settled once, with all its changes.
        for (var place = 0; place < block.Items.Length; place++)
        {
            var slot = block.Items[place].Slot;
            if (FirstOfSlot(block, place))
            {
                var (q, g) = (pupae[slot.Index], goods[slot.Index]);
                for (var p = place; p < block.Items.Length; p++)
                {
                    if (block.Items[p].Slot != slot || other.Pupae[p] == old.Pupae[p])
                        continue;
                    q += other.Pupae[p] - old.Pupae[p];
                    g += other.GoodsAt(p) - old.GoodsAt(p);
                }

                if (q == pupae[slot.Index] && g == goods[slot.Index])
                    continue;
                var fixedNow = slot.FixedCost(q, g);
                newFixed += (fixedNow - fixedCost[slot.Index]) * slot.Weight;
                newLanded += fixedNow - fixedCost[slot.Index];
                newBreach += SlotBreach(slot, q, g) - SlotBreach(slot, pupae[slot.Index], goods[slot.Index]);
            }
        }

        newBreach += Over(newLanded, model.Budget) - Over(landed, model.Budget);
        for (var r = 0; r < room.Length; r++)
        {
            var change = 0.0;
            for (var p = 0; p < block.Items.Length; p++)
            {
                if (other.Pupae[p] != old.Pupae[p])
                    change += model.Rooms[r].Takes(block.Items[p]) * (other.Pupae[p] - old.Pupae[p]);
            }

            if (change != 0)
                newBreach += Over(room[r] + change, model.Rooms[r].Room) - Over(room[r], model.Rooms[r].Room);
        }

        return model.Constant + cost + newFixed + shortageSum + groups + (breachPrice * newBreach);
    }

    /// <summary>Takes another choice for its block.</summary>
    public void Take(Column other)
    {
        var block = other.Block;
        Count(Chosen[block.Index], -1);
        Chosen[block.Index] = other;
        Count(other, 1);
        foreach (var at in block.GroupDays)
        {
            shortageSum -= shortage[at];
            shortageSum += shortage[at] = model.GroupDays[at].Worth * model.GroupDays[at].Short(mean[at], variance[at]);
        }

        Settle();
    }

    private static bool FirstOfSlot(Block block, int place)
    {
        for (var p = 0; p < place; p++)
        {
            if (block.Items[p].Slot == block.Items[place].Slot)
                return false;
        }

        return true;
    }

    private static double Over(double amount, double limit) => Math.Max(0, amount - limit - (PlanModel.Tolerance / 2));

    private static double SlotBreach(Slot slot, double q, double g) => q <= 1e-9 ? 0
        : Math.Max(0, slot.Supplier.MinimumPupae - q) + Math.Max(0, (double)slot.Supplier.MinimumGoods - g - 1e-9);

    private void Count(Column column, int sign)
    {
        columnCost += sign * column.Cost;
        landed += sign * column.Landed;
        for (var i = 0; i < column.Mean.Length; i++)
        {
            mean[column.Block.GroupDays[i]] += sign * column.Mean[i];
            variance[column.Block.GroupDays[i]] += sign * column.Variance[i];
        }

        for (var place = 0; place < column.Pupae.Length; place++)
        {
            if (column.Pupae[place] == 0)
                continue;
            var item = column.Block.Items[place];
            pupae[item.Slot.Index] += sign * column.Pupae[place];
            goods[item.Slot.Index] += sign * column.GoodsAt(place);
            for (var r = 0; r < room.Length; r++)
                room[r] += sign * model.Rooms[r].Takes(item) * column.Pupae[place];
        }
    }

    // Landed goods are in `landed`; carriage and charges come on top here.
    private void Settle()
    {
        var goodsLanded = 0.0;
        foreach (var column in Chosen)
            goodsLanded += column.Landed;
        landed = goodsLanded;
        fixedWeighted = breach = 0;
        foreach (var slot in model.Slots)
        {
            fixedCost[slot.Index] = slot.FixedCost(pupae[slot.Index], goods[slot.Index]);
            landed += fixedCost[slot.Index];
            fixedWeighted += fixedCost[slot.Index] * slot.Weight;
            breach += SlotBreach(slot, pupae[slot.Index], goods[slot.Index]);
        }

        breach += Over(landed, model.Budget);
        for (var r = 0; r < room.Length; r++)
            breach += Over(room[r], model.Rooms[r].Room);
    }
}

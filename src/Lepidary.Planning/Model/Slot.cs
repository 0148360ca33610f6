namespace Lepidary.Planning.Model;

/// <summary>A cost that rises by steps with what is counted.</summary>
/// <param name="ByGoods">True when goods as printed are counted, false when pupae are.</param>
/// <param name="From">Starts of the steps, ascending; the first is 0.</param>
/// <param name="Cost">Landed cost of each step, house currency.</param>
internal sealed record Ladder(bool ByGoods, double[] From, double[] Cost)
{
    /// <summary>Cost at an amount.</summary>
    public double At(double amount) => Cost[StepAt(amount)];

    /// <summary>The step that an amount is on.</summary>
    public int StepAt(double amount)
    {
        var step = From.Length - 1;
        while (step > 0 && amount < From[step] - Tolerance)
            step--;
        return step;
    }

    /// <summary>The largest amount of a step, given the largest of all.</summary>
    public double Top(int step, double most) => step + 1 == From.Length
        ? Math.Max(most, From[step])
        : Math.Min(Math.Max(most, From[step]), From[step + 1] - (ByGoods ? GoodsStep : 1));

    private const double Tolerance = 1e-9;

    /// <summary>Goods are money; nothing is printed finer than a hundredth of a penny.</summary>
    internal const double GoodsStep = 1e-4;
}

/// <summary>One delivery that could be ordered: a supplier and an arrival day.</summary>
internal sealed class Slot
{
    /// <summary>Its place in the model.</summary>
    public required int Index { get; init; }

    /// <summary>Whose it is.</summary>
    public required PlanSupplier Supplier { get; init; }

    /// <summary>The day it arrives.</summary>
    public required DateOnly Arrives { get; init; }

    /// <summary>Days from the order day to arrival.</summary>
    public required int ArrivalDay { get; init; }

    /// <summary>Landed house currency for one of printed goods.</summary>
    public required double GoodsFactor { get; init; }

    /// <summary>Landed cost by ladder: carriage and charges.</summary>
    public required IReadOnlyList<Ladder> Ladders { get; init; }

    /// <summary>Landed charges once an order.</summary>
    public required double OrderCharge { get; init; }

    /// <summary>What the keeper's favour makes of one unit of its cost in the objective; 1 without favour.</summary>
    public required double Weight { get; init; }

    /// <summary>True when using it costs nothing by itself and has no minimum: no switch is needed.</summary>
    public bool IsFree => Ladders.Count == 0 && OrderCharge == 0 && Supplier.MinimumPupae <= 1 && Supplier.MinimumGoods <= 0;

    /// <summary>Landed carriage and charges of a delivery.</summary>
    public double FixedCost(double pupae, double goods)
    {
        if (pupae <= 0)
            return 0;
        var cost = OrderCharge;
        foreach (var ladder in Ladders)
            cost += ladder.At(ladder.ByGoods ? goods : pupae);
        return cost;
    }

    /// <summary>True when a delivery of this size may be ordered.</summary>
    public bool Allows(double pupae, double goods) =>
        pupae <= 0 || (pupae >= Supplier.MinimumPupae && goods >= (double)Supplier.MinimumGoods - 1e-9);
}

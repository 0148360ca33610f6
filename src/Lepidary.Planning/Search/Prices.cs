using Lepidary.Planning.Model;

namespace Lepidary.Planning.Search;

/// <summary>
/// What the limits and wishes that blocks share are worth at a linear optimum: the prices at which a block may decide alone.
/// </summary>
internal sealed class Prices(PlanModel model)
{
    /// <summary>What real costs count: 1, or 0 while only broken limits are counted.</summary>
    public double Real { get; init; } = 1;

    /// <summary>By block: what any choice must beat.</summary>
    public double[] Block { get; } = new double[model.Blocks.Count];

    /// <summary>By item: for being used at all.</summary>
    public double[] Use { get; } = new double[model.Items.Count];

    /// <summary>By item: for each pupa.</summary>
    public double[] Pupa { get; } = new double[model.Items.Count];

    /// <summary>By item: for each ordered pair of pupae, n·(n-1) in all.</summary>
    public double[] Twin { get; } = new double[model.Items.Count];

    /// <summary>By slot: for each printed unit of money.</summary>
    public double[] Goods { get; } = new double[model.Slots.Count];

    /// <summary>For each landed unit of the house's money.</summary>
    public double Budget { get; set; }

    /// <summary>By group day: for the mean.</summary>
    public double[] Mean { get; } = new double[model.GroupDays.Count];

    /// <summary>By group day: against the variance.</summary>
    public double[] Variance { get; } = new double[model.GroupDays.Count];

    /// <summary>What an item costs at these prices by place in its choices, without what depends on other items.</summary>
    public double[] Alone(Item item)
    {
        var pupa = Pupa[item.Index];
        var twin = Twin[item.Index];
        for (var i = 0; i < model.GroupDays.Count; i++)
        {
            var day = model.GroupDays[i];
            if (day.CountsSpecies || Mean[i] == 0 || item.Groups[day.Group] is not { } share)
                continue;
            var chance = share.Mean[day.Day];
            pupa += (Mean[i] * chance) - (Variance[i] * chance * (1 - chance));
            twin -= Variance[i] * share.Excess[day.Day];
        }

        var costs = new double[item.Choices.Length];
        for (var c = 0; c < costs.Length; c++)
        {
            double n = item.Choices[c];
            if (n == 0)
                continue;
            costs[c] = (item.Landed[c] * ((Real * item.Slot.Weight) - Budget)) - (Goods[item.Slot.Index] * item.Goods[c])
                - (pupa * n) - (twin * n * (n - 1)) - Use[item.Index];
        }

        return costs;
    }
}

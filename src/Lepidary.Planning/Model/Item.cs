using Lepidary.Science.Emergence;

namespace Lepidary.Planning.Model;

/// <summary>One offer in one delivery: the unit of deciding how many.</summary>
internal sealed class Item
{
    private double[]? landed;

    /// <summary>Its place in the model.</summary>
    public required int Index { get; init; }

    /// <summary>The offer.</summary>
    public required PlanOffer Offer { get; init; }

    /// <summary>The delivery.</summary>
    public required Slot Slot { get; init; }

    /// <summary>The numbers of pupae that may be ordered, ascending; with 0 first unless a rule forbids it.</summary>
    public required int[] Choices { get; init; }

    /// <summary>True when the supplier has answered, so that there is only one choice.</summary>
    public bool IsSettled { get; init; }

    /// <summary>Emergence rate of a new lot; of no meaning for a mix.</summary>
    public required EmergenceRate Rate { get; init; }

    /// <summary>By day: chance that a pupa that emerges at all flies; null for a mix.</summary>
    public double[]? FliesGivenEmerged { get; init; }

    /// <summary>By day: chance that a pupa takes up a hanging place.</summary>
    public required double[] Hangs { get; init; }

    /// <summary>By day: chance that a pupa flies, whatever the taxon.</summary>
    public required double[] Flies { get; init; }

    /// <summary>By group: what a pupa adds to it, or null.</summary>
    public Share?[] Groups { get; set; } = [];

    /// <summary>Place in its block.</summary>
    public int PlaceInBlock { get; set; }

    /// <summary>Its block.</summary>
    public int Block { get; set; }

    /// <summary>Printed goods by place in <see cref="Choices"/>.</summary>
    public double[] Goods => field ??= [.. Choices.Select(n => (double)GoodsOf(Offer, n))];

    /// <summary>Landed goods by place in <see cref="Choices"/>, house currency.</summary>
    public double[] Landed => landed ??= [.. Goods.Select(g => g * Slot.GoodsFactor)];

    /// <summary>Price of one pupa at a number.</summary>
    public static decimal PriceAt(PlanOffer offer, int pupae)
    {
        if (offer.BreaksHold == BreakHolds.FromThere && pupae > 0)
            return Math.Round(GoodsOf(offer, pupae) / pupae, 4, MidpointRounding.AwayFromZero);
        var price = offer.Price;
        foreach (var step in offer.Breaks)
        {
            if (pupae >= step.From)
                price = step.Price;
        }

        return price;
    }

    /// <summary>Goods of a line as printed.</summary>
    public static decimal GoodsOf(PlanOffer offer, int pupae)
    {
        if (offer.BreaksHold == BreakHolds.ForAll)
            return pupae * PriceAt(offer, pupae);
        var (goods, counted, price) = (0m, 0, offer.Price);
        foreach (var step in offer.Breaks.Where(b => b.From <= pupae))
        {
            goods += (step.From - 1 - counted) * price;
            (counted, price) = (step.From - 1, step.Price);
        }

        return goods + ((pupae - counted) * price);
    }
}

/// <summary>
/// What n pupae of an item add to a group by day: mean n·Mean, variance n·Mean·(1-Mean) + n·(n-1)·Excess.
/// </summary>
/// <param name="Mean">By day: chance that a pupa is one of the group and flies.</param>
/// <param name="Excess">By day: covariance of two pupae of the lot, which share the lot's unknown rate.</param>
internal sealed record Share(double[] Mean, double[] Excess);

using Lepidary.Science.Proportions;

namespace Lepidary.Science.Listing;

/// <summary>
/// When a count or a price is worth a word: rules that keep silent where few lists would make a habit of an accident. Where they lie is a choice of this
/// project, no source.
/// </summary>
public static class ListingWord
{
    /// <summary>Lists that a habit is read from: the last so many.</summary>
    public const int Last = 20;

    /// <summary>Earlier lists that must have come before a taxon on none of them is called new.</summary>
    public const int FewestForNew = 4;

    /// <summary>Earlier prices that make a usual one worth comparing with.</summary>
    public const int FewestPrices = 5;

    /// <summary>A difference below this share of the usual price is no news.</summary>
    public const double SmallestDifference = 0.05;

    /// <summary>True when it was on none of the earlier lists, and these are at least <see cref="FewestForNew"/>.</summary>
    /// <param name="listedBefore">Earlier lists that had it, at least 0.</param>
    /// <param name="listsBefore">Earlier lists that tell.</param>
    public static bool IsNew(int listedBefore, int listsBefore)
    {
        Check(listedBefore, listsBefore);
        return listedBefore == 0 && listsBefore >= FewestForNew;
    }

    /// <summary>True when it is on fewer than every second list, as surely as 39 of 40: the 95 % Wilson interval ends below one half.</summary>
    /// <param name="listed">Lists that had it, this one included.</param>
    /// <param name="lists">Lists that tell, this one included.</param>
    public static bool IsSeldom(int listed, int lists)
    {
        Check(listed, lists);
        return lists > 0 && ProportionInterval.Wilson(listed, lists).To < 0.5;
    }

    /// <summary>
    /// By what share a price lies above (or, negative, below) the usual one, the middle of the earlier; null where that is no news: fewer than
    /// <see cref="FewestPrices"/> earlier prices, a difference below <see cref="SmallestDifference"/>, or a price that more than one of ten earlier ones reached.
    /// </summary>
    /// <param name="price">Today's, above 0.</param>
    /// <param name="earlier">In any order, each above 0, in the same currency.</param>
    public static double? OffUsual(decimal price, IReadOnlyCollection<decimal> earlier)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(price);
        ArgumentNullException.ThrowIfNull(earlier);
        if (earlier.Count < FewestPrices || PriceForecast.Usual(earlier) is not { } usual)
            return null;
        var off = (double)(price / usual) - 1;
        var reached = off > 0 ? earlier.Count(other => other >= price) : earlier.Count(other => other <= price);
        return Math.Abs(off) >= SmallestDifference && reached * 10 <= earlier.Count ? off : null;
    }

    private static void Check(int yes, int of)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(yes);
        ArgumentOutOfRangeException.ThrowIfLessThan(of, yes);
    }
}

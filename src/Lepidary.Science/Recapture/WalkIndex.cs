namespace Lepidary.Science.Recapture;

/// <summary>
/// Index of a season from counts along a fixed path: the sum of the counts, a missed walk filled with the mean of the walks before and after it (Pollard 1977, Biol. Conserv.
/// 12:115-134; the rule for missed walks is from memory). Relative, not a census: it compares seasons of one path.
/// </summary>
public static class WalkIndex
{
    /// <summary>The counts with missed walks filled.</summary>
    /// <param name="counts">One a walk, at least 0; null where the walk was missed.</param>
    /// <returns>
    /// A run of missed walks gets the mean of the counts on either side of the run; missed walks at the ends get the nearest count.
    /// </returns>
    /// <exception cref="ArgumentException">Every walk was missed.</exception>
    public static IReadOnlyList<double> Filled(IReadOnlyList<int?> counts)
    {
        ArgumentNullException.ThrowIfNull(counts);
        if (counts.Any(count => count < 0)) throw new ArgumentOutOfRangeException(nameof(counts), "A count below 0.");
        if (counts.All(count => count is null)) throw new ArgumentException("Every walk was missed.", nameof(counts));
        var filled = new double[counts.Count];
        for (var i = 0; i < filled.Length; i++)
        {
            var (before, after) = (i, i);
            while (before >= 0 && counts[before] is null) before--;
            while (after < counts.Count && counts[after] is null) after++;
            filled[i] = before < 0 ? counts[after]!.Value
                : after == counts.Count ? counts[before]!.Value
                : (counts[before]!.Value + counts[after]!.Value) / 2.0;
        }
        return filled;
    }

    /// <summary>The index: the sum of the filled counts.</summary>
    /// <param name="counts">As in <see cref="Filled"/>.</param>
    public static double Of(IReadOnlyList<int?> counts) => Filled(counts).Sum();
}

using Lepidary.Science.Ground;

namespace Lepidary.Science.Inspection;

/// <summary>A portion of a lot that was counted and weighed.</summary>
/// <param name="Pupae">How many, at least 1.</param>
/// <param name="Grams">What they weigh together, above 0; any unit that is the same throughout.</param>
public readonly record struct CountedPortion(int Pupae, double Grams);

/// <summary>How many pupae are in a heap that was weighed and not counted.</summary>
/// <param name="Likely">The nearest whole number to its weight over the mean weight.</param>
/// <param name="From">Fewest.</param>
/// <param name="To">Most.</param>
public readonly record struct HeapCount(int Likely, int From, int To);

/// <summary>
/// Counts a heap by its weight, from portions of the same lot that were counted and weighed. Exact where the weights of single pupae follow a normal
/// distribution; near it where portions hold several, since their sums are then nearly normal. The balance is taken to be right.
/// </summary>
public static class WeighedCount
{
    /// <summary>Most pupae in a heap.</summary>
    public const int Most = 1_000_000;

    /// <summary>
    /// A portion of g pupae weighs gμ on average with a variance of gσ², and so does the heap of N. With G pupae in k portions of W in all, m = W/G and
    /// s² = Σ (w - g·m)²/g / (k - 1), the heap's weight R gives (R - N·m)/(s·√(N + N²/G)) a t distribution with k - 1 degrees of freedom whatever μ and σ are.
    /// The limits are all N for which it is not beyond its two-sided quantile: Fieller's theorem for a line through the origin.
    /// </summary>
    /// <param name="portions">At least two.</param>
    /// <param name="heap">Weight of what was not counted, above 0, in the unit of the portions.</param>
    /// <param name="level">Above 0, below 1.</param>
    /// <returns>Null where the portions differ so much that there is no upper limit, or it is above <see cref="Most"/>: weigh more of them.</returns>
    /// <exception cref="ArgumentException">Fewer than two portions, an empty one, or a weight that is not above 0.</exception>
    public static HeapCount? Of(IReadOnlyCollection<CountedPortion> portions, double heap, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(portions);
        if (portions.Count < 2) throw new ArgumentException("One portion does not tell how much pupae differ.", nameof(portions));
        if (portions.Any(portion => portion.Pupae < 1 || !(portion.Grams > 0) || !double.IsFinite(portion.Grams))) throw new ArgumentException("A portion without pupae or without weight.", nameof(portions));
        if (!(heap > 0) || !double.IsFinite(heap)) throw new ArgumentOutOfRangeException(nameof(heap), heap, "Must be above 0.");
        var pupae = (double)portions.Sum(portion => (long)portion.Pupae);
        var mean = portions.Sum(portion => portion.Grams) / pupae;
        var spread = portions.Sum(portion => (portion.Grams - portion.Pupae * mean) * (portion.Grams - portion.Pupae * mean) / portion.Pupae) / (portions.Count - 1);
        var beyond = StudentT.TwoSided(Guard.OpenChance(level), portions.Count - 1);
        var scatter = beyond * beyond * spread;

        // (R - N·m)² ≤ t²s²(N + N²/G): between the roots of a·N² - 2b·N + R².
        var a = mean * mean - scatter / pupae;
        var b = heap * mean + scatter / 2;
        if (a <= 0) return null;
        var root = Math.Sqrt(Math.Max(0, b * b - a * heap * heap));
        var (low, high) = (heap * heap / (b + root), (b + root) / a);
        if (high > Most) return null;
        var likely = Math.Max(1, (int)Math.Round(heap / mean));
        return new(likely, Math.Min(likely, (int)Math.Ceiling(low - Slack)), Math.Max(likely, (int)Math.Floor(high + Slack)));
    }

    /// <summary>A whole number on the limit belongs to it, whatever the last digit of the arithmetic says.</summary>
    private const double Slack = 1e-9;
}

using System.Globalization;
using Lepidary.Science.Inspection;

namespace Lepidary.App.Deliveries;

/// <summary>A portion as it was typed.</summary>
/// <param name="Where">What messages call it: <c>portion 2</c>.</param>
/// <param name="Pupae">How many; null where nothing readable was typed.</param>
/// <param name="Grams">What they weigh; null where nothing readable was typed.</param>
internal sealed record PortionTyped(string Where, int? Pupae, double? Grams);

/// <summary>What the weights say of a heap.</summary>
/// <param name="Words">The limits, in a sentence.</param>
/// <param name="Likely">The likeliest number in the heap.</param>
/// <param name="From">Fewest.</param>
/// <param name="To">Most.</param>
/// <param name="Counted">Pupae in the portions, which are not in the heap.</param>
internal sealed record HeapWeighed(string Words, int Likely, int From, int To, int Counted);

/// <summary>How many pupae are in a heap that was weighed, where portions of the same lot were counted and weighed?</summary>
internal static class WeighHeap
{
    private const int MostPupae = 100_000;

    /// <param name="portions">Portions that were counted.</param>
    /// <param name="heap">Weight of what was not counted, g.</param>
    public static Checked<HeapWeighed> Do(IReadOnlyList<PortionTyped> portions, double? heap)
    {
        var problems = new List<Problem>();
        foreach (var portion in portions)
        {
            if (portion.Pupae is not (>= 1 and <= MostPupae))
            {
                problems.Add(new($"{portion.Where}, pupae", portion.Pupae?.ToString(CultureInfo.InvariantCulture) ?? "nothing", $"1 to {MostPupae}"));
            }

            if (portion.Grams is not > 0)
            {
                problems.Add(new($"{portion.Where}, weight", portion.Grams?.ToString(CultureInfo.InvariantCulture) ?? "nothing", "grams above 0"));
            }
        }

        if (portions.Count < 2)
        {
            problems.Add(new("portions", portions.Count == 0 ? "none" : "one", "two or more: one does not tell how much pupae differ"));
        }

        if (heap is not > 0)
        {
            problems.Add(new("the rest weighs", heap?.ToString(CultureInfo.InvariantCulture) ?? "nothing", "grams above 0"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        if (WeighedCount.Of([.. portions.Select(portion => new CountedPortion(portion.Pupae!.Value, portion.Grams!.Value))], heap!.Value) is not { } found)
        {
            return new Problem("portions", "weights that differ too much to say", "more portions, or larger ones");
        }

        var counted = portions.Sum(portion => portion.Pupae!.Value);
        return new HeapWeighed(
            found.From == found.To
                ? $"The rest is {found.Likely}; with the {counted} counted {found.Likely + counted}."
                : $"The rest is about {found.Likely}, {found.From} to {found.To}; with the {counted} counted {found.From + counted} to {found.To + counted}. On 19 of 20 boxes like this the true number is among these.",
            found.Likely,
            found.From,
            found.To,
            counted);
    }
}

using Lepidary.Science.Inspection;

namespace Lepidary.App.Deliveries;

/// <summary>What a look at a part of a lot says of the whole.</summary>
/// <param name="Words">The limits, in a sentence.</param>
/// <param name="From">Fewest bad ones in the whole lot.</param>
/// <param name="To">Most.</param>
internal sealed record PartJudged(string Words, int From, int To);

/// <summary>How many of a big lot are bad, where only a part of it was looked at?</summary>
internal static class JudgePart
{
    private const int MostPupae = 100_000;

    /// <summary>Exact 95 % limits from the hypergeometric distribution; the part must be taken by chance, not from the top.</summary>
    /// <param name="lot">Pupae in the lot.</param>
    /// <param name="looked">Looked at.</param>
    /// <param name="bad">Bad among those.</param>
    public static Checked<PartJudged> Do(int? lot, int? looked, int? bad)
    {
        var problems = new List<Problem>();
        if (lot is not (>= 1 and <= MostPupae))
        {
            problems.Add(new("in the lot", lot?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? "nothing", $"1 to {MostPupae}"));
        }

        if (looked is not >= 1 || looked > lot)
        {
            problems.Add(new("looked at", looked?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? "nothing", "1 to all in the lot"));
        }

        if (bad is not >= 0 || bad > looked)
        {
            problems.Add(new("bad", bad?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? "nothing", "0 to all that were looked at"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var (from, to) = PartialInspection.BadLimits(lot!.Value, looked!.Value, bad!.Value);
        return new PartJudged(
            looked == lot ? $"All were looked at: {bad} are bad." : $"Of the {lot - looked} not looked at, {from - bad} to {to - bad} are bad: {from} to {to} in the whole lot. On 19 of 20 boxes like this the true number is among these.",
            from,
            to);
    }
}

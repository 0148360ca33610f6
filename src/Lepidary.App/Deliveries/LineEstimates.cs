using System.Globalization;
using Lepidary.Book;

namespace Lepidary.App.Deliveries;

/// <summary>A line that was not counted whole: what was looked at or weighed, and the exact limits that it gives.</summary>
internal static class LineEstimates
{
    /// <summary>How portions are written in a field or an argument.</summary>
    public const string PortionsExpected = "portions as pupae:grams, 20:31.5 20:30.9";

    /// <summary>Reads <c>20:31.5 20:30.9</c>; null where it is something else.</summary>
    /// <param name="text">Portions, with blanks, <c>+</c> or <c>/</c> between them.</param>
    /// <param name="where">What messages call the line.</param>
    public static IReadOnlyList<PortionTyped>? ReadPortions(string? text, string where)
    {
        var portions = new List<PortionTyped>();
        foreach (var (at, portion) in (text ?? "").Split([' ', '+', '/', ';'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Index())
        {
            var parts = portion.Split(':', '=');
            if (parts.Length != 2 || !int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var pupae)
                || !double.TryParse(parts[1].Replace(',', '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var grams))
            {
                return null;
            }

            portions.Add(new($"{where}, portion {at + 1}", pupae, grams));
        }

        return portions;
    }

    /// <summary>What the weights of a line say; null where nothing was weighed, or where it is wrong.</summary>
    public static HeapWeighed? Weighed(BoxLine line, List<Problem> problems)
    {
        if (line.Portions.Count == 0 && line.RestGrams is null)
        {
            return null;
        }

        var weighed = WeighHeap.Do(line.Portions, line.RestGrams);
        problems.AddRange(weighed.Problems.Select(problem => problem.Where.StartsWith(line.Where, StringComparison.Ordinal) ? problem : problem with { Where = $"{line.Where}, {problem.Where}" }));
        return weighed.IsGood ? weighed.Value : null;
    }

    /// <summary>The limits of a line; null where all of it was counted.</summary>
    /// <param name="line">As it was typed.</param>
    /// <param name="weighed">What its weights say.</param>
    /// <param name="alive">Alive, as counted or reckoned.</param>
    /// <param name="bad">Dead, damaged, emerged or of another species.</param>
    /// <param name="problems">Gets what is wrong.</param>
    public static LineEstimate? Of(BoxLine line, HeapWeighed? weighed, int alive, int bad, List<Problem> problems)
    {
        if (line.LookedAt is not { } looked)
        {
            return weighed is null ? null : new() { By = EstimateBy.Weight, Counted = weighed.Counted, From = weighed.From + weighed.Counted, To = weighed.To + weighed.Counted };
        }

        if (weighed is not null)
        {
            problems.Add(new($"{line.Where}, looked at", "a part looked at and the rest weighed", "one of the two"));
            return null;
        }

        var judged = JudgePart.Do(alive + bad, looked, bad);
        problems.AddRange(judged.Problems.Select(problem => problem with { Where = $"{line.Where}, {problem.Where}" }));
        return judged.IsGood && looked < alive + bad ? new() { By = EstimateBy.Part, Counted = looked, From = judged.Value.From, To = judged.Value.To } : null;
    }

    /// <summary>A line's limits in words; null where all of it was counted.</summary>
    public static string? Words(DeliveryLine line) => line.Estimate switch
    {
        null => null,
        { By: EstimateBy.Part } part => $"{part.Counted} of {line.Counted} were looked at, taken by chance, {line.Counted - line.Alive} of them bad: {part.From} to {part.To} of all (exact 95 % limits)",
        { By: EstimateBy.Weight } weight => $"counted by weight: {weight.From} to {weight.To} in the box (exact 95 % limits), {weight.Counted} of them counted",
        _ => throw new InvalidOperationException($"Estimate by {line.Estimate.By}."),
    };
}

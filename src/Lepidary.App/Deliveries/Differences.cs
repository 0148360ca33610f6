using Lepidary.Book;

namespace Lepidary.App.Deliveries;

/// <summary>What of a box was not as it should be, in words.</summary>
internal static class Differences
{
    /// <summary><c>3 short, 2 dead</c>; <c>all as noted</c> where nothing was wrong.</summary>
    public static string Of(IReadOnlyCollection<DeliveryLine> lines)
    {
        var parts = new List<string>();
        Add(lines.Sum(Short), "short");
        Add(lines.Sum(line => -Math.Min(0, Balance(line))), "more than noted");
        Add(lines.Sum(line => line.Dead), "dead");
        Add(lines.Sum(line => line.Damaged), "damaged");
        Add(lines.Sum(line => line.Emerged), "emerged in the box");
        Add(lines.Sum(line => line.WrongSpecies), "of another species");
        return parts.Count > 0 ? string.Join(", ", parts) : lines.Any(line => line.Noted is not null) ? "all as noted" : "nothing to complain of";

        void Add(int count, string what)
        {
            if (count > 0)
            {
                parts.Add($"{count} {what}");
            }
        }
    }

    /// <summary>What the note leaves out of the order, in a sentence; null where it says the same.</summary>
    public static string? NoteAgainstOrder(IReadOnlyCollection<DeliveryLine> lines)
    {
        var fewer = lines.Sum(line => line is { Ordered: { } ordered, Noted: { } noted } ? Math.Max(0, ordered - noted) : 0);
        var more = lines.Sum(line => line is { Ordered: { } ordered, Noted: { } noted } ? Math.Max(0, noted - ordered) : 0);
        var unasked = lines.Count(line => line.Ordered is null && line.OrderLineId is null && lines.Any(other => other.Ordered is not null));
        var parts = new List<string>();
        if (fewer > 0)
        {
            parts.Add($"{fewer} fewer on the note than ordered");
        }

        if (more > 0)
        {
            parts.Add($"{more} more on the note than ordered");
        }

        if (unasked > 0)
        {
            parts.Add(unasked == 1 ? "one species that nobody ordered" : $"{unasked} species that nobody ordered");
        }

        return parts.Count == 0 ? null : string.Join(", ", parts);
    }

    /// <summary>Noted, or ordered where there is no note, and not in the box.</summary>
    private static int Short(DeliveryLine line) => Math.Max(0, Balance(line));

    private static int Balance(DeliveryLine line) => (line.Noted ?? line.Ordered ?? line.Counted) - line.Counted;
}

using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;

namespace Lepidary.App.Deliveries;

/// <summary>A claim's state in words.</summary>
/// <param name="Words">Empty where there is nothing to claim and nothing was claimed.</param>
/// <param name="CanSend">True where something is to claim, nothing was sent, and the window is open or not known.</param>
/// <param name="State">The last step, or null.</param>
public sealed record ClaimStanding(string Words, bool CanSend, ClaimState? State);

/// <summary>Claims in words: where they stand, and their steps.</summary>
internal static class ClaimWords
{
    /// <summary>Most suppliers want a claim within 24 to 48 hours (common practice, no source).</summary>
    private const int UsualWindowDays = 2;

    /// <summary>The newest step; null where there is none.</summary>
    public static ClaimStep? Last(IEnumerable<ClaimStep> steps) => steps.MaxBy(step => (step.OnDay, step.DeviceTime, step.Id));

    /// <summary><c>sent today by Ann, EUR 15.00: with photos</c>.</summary>
    public static string Of(ClaimStep step, string currency, HouseDay day) =>
        $"{step.State.ToString().ToLowerInvariant()} {DayWords.Near(step.OnDay, day.Today)}{(step.Who.Length == 0 ? "" : $" by {step.Who}")}"
        + $"{(step.Amount is { } amount ? $", {MoneyWords.Sum(amount, currency)}" : "")}{(step.Note is null ? "" : $": {step.Note}")}";

    /// <summary>What was credited of what was asked, in words; null where no credit says its money.</summary>
    /// <param name="asked">What the claim comes to at the prices of the order; the money of the step that sent it goes before.</param>
    public static string? Credit(IReadOnlyCollection<ClaimStep> steps, decimal asked, string currency)
    {
        if (!steps.Any(step => step is { State: ClaimState.Credited, Amount: not null }))
        {
            return null;
        }

        var credited = steps.Where(step => step.State == ClaimState.Credited).Sum(step => step.Amount ?? 0);
        var sent = Last(steps.Where(step => step is { State: ClaimState.Sent, Amount: not null }))?.Amount ?? asked;
        return sent > credited ? $"{MoneyWords.Sum(credited, currency)} of {MoneyWords.Sum(sent, currency)} credited: {MoneyWords.Sum(sent - credited, currency)} open" : $"{MoneyWords.Sum(credited, currency)} credited";
    }

    /// <summary>Where a claim stands.</summary>
    /// <param name="deliveredOn">The day the box came.</param>
    /// <param name="steps">Its steps that count.</param>
    public static ClaimStanding Of(Claim claim, DateOnly deliveredOn, IEnumerable<ClaimStep> steps, HouseDay day)
    {
        if (Last(steps) is { } last)
        {
            var words = last.State switch
            {
                ClaimState.Sent => "claim sent",
                ClaimState.Credited => "credited",
                ClaimState.Refused => "claim refused",
                ClaimState.Answered => "claim answered",
                _ => throw new ArgumentOutOfRangeException(nameof(steps), last.State, "no state of a claim"),
            };
            return new($"{words} {DayWords.Near(last.OnDay, day.Today)}", false, last.State);
        }

        if (claim.Pupae == 0)
        {
            return new("", false, null);
        }

        return claim.Until switch
        {
            null when deliveredOn >= day.Today.AddDays(-UsualWindowDays) => new($"{claim.Pupae} to claim; the supplier's window is not known, so claim at once", true, null),
            null => new($"{claim.Pupae} not claimed", false, null),
            { } until when until >= day.Now => new($"{claim.Pupae} to claim until {Instant(until, day)}", true, null),
            { } until => new($"{claim.Pupae} not claimed; the window closed {Instant(until, day)}", false, null),
        };
    }

    /// <summary><c>tomorrow 14:30</c>.</summary>
    public static string Instant(DateTimeOffset instant, HouseDay day)
    {
        var local = day.Local(instant);
        return $"{DayWords.Near(DateOnly.FromDateTime(local), day.Today)} {local.ToString("HH:mm", CultureInfo.InvariantCulture)}";
    }
}

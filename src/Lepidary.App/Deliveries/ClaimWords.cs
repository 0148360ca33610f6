using System.Globalization;
using System.Text;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;

namespace Lepidary.App.Deliveries;

/// <summary>A claim's state in words.</summary>
/// <param name="Words">Empty where there is nothing to claim and nothing was claimed.</param>
/// <param name="CanSend">True where something is to claim, nothing was sent, and the window is open or not known.</param>
/// <param name="State">The last step, or null.</param>
public sealed record ClaimStanding(string Words, bool CanSend, ClaimState? State);

/// <summary>Claims in words: where they stand, and the letter.</summary>
internal static class ClaimWords
{
    /// <summary>Most suppliers want a claim within 24 to 48 hours (common practice, no source).</summary>
    private const int UsualWindowDays = 2;

    /// <summary>Where a claim stands.</summary>
    /// <param name="deliveredOn">The day the box came.</param>
    /// <param name="steps">Its steps that count.</param>
    public static ClaimStanding Of(Claim claim, DateOnly deliveredOn, IEnumerable<ClaimStep> steps, HouseDay day)
    {
        if (steps.MaxBy(step => (step.OnDay, step.DeviceTime, step.Id)) is { } last)
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

    /// <summary>The claim as a letter in plain text: what was sent, what was in the box, line by line.</summary>
    public static string Letter(Delivery delivery, Claim claim, string house, string supplier, DateOnly? orderedOn, string currency, IReadOnlyList<Photo> photos, HouseDay day)
    {
        var letter = new StringBuilder();
        Line($"To: {supplier}");
        Line($"From: {house}");
        Line($"Claim on the box {(delivery.BoxMark is null ? "" : delivery.BoxMark + " ")}received {DayWords.Long(delivery.OnDay)}");
        Line("");
        Line($"We counted the box on the day it came{(orderedOn is { } on ? $", against your note and our order of {DayWords.Short(on)}" : ", against your note")}.");
        if (delivery.Condition is { } condition)
        {
            Line($"State of the box: {condition}.");
        }

        Line($"{claim.Pupae} pupae were not as they should be:");
        Line("");
        var name = Math.Max("Species".Length, claim.Lines.Max(line => Name(line).Length));
        Line($"{"Species".PadRight(name)}  {"short",6} {"dead",6} {"damaged",8} {"emerged",8} {"wrong",6}  {"price",9} {"amount",9}");
        foreach (var line in claim.Lines)
        {
            Line($"{Name(line).PadRight(name)}  {line.Missing,6} {line.Dead,6} {line.Damaged,8} {line.Emerged,8} {line.WrongSpecies,6}  {Money(line.UnitPrice),9} {Money(line.Amount),9}");
        }

        Line("");
        Line($"In all {claim.Pupae} pupae{(claim.Amount > 0 ? $", {currency} {Money(claim.Amount)} at the prices of the order, without tax and carriage" : "")}.");
        foreach (var line in delivery.Lines.Where(line => line.SubstituteFor is not null))
        {
            Line($"{line.Counted} {line.Taxon} came in place of {line.SubstituteFor}, which we had ordered.");
        }

        var remarks = delivery.Lines.Where(line => line.Remark is not null).Select(line => $"{line.Taxon}: {line.Remark}").ToList();
        if (remarks.Count > 0)
        {
            Line(string.Join("\n", remarks));
        }

        Line("");
        Line($"Please credit this, or send the same again with the next box. {(photos.Count == 0 ? "Photographs can follow." : $"Photographs: {photos.Count}, enclosed{string.Concat(photos.Where(photo => photo.Note is not null).Select(photo => $"; {photo.Note}"))}.")}");
        if (delivery.Who.Length > 0)
        {
            Line("");
            Line($"{delivery.Who}, {house}, {DayWords.Short(day.Today)}");
        }

        return letter.ToString();

        void Line(string text) => letter.Append(text).Append('\n');
        static string Name(ClaimLine line) => line.Form is null ? line.Taxon : $"{line.Taxon} {line.Form}";
        static string Money(decimal? amount) => amount?.ToString("0.00", CultureInfo.InvariantCulture) ?? "";
    }

    private static string Instant(DateTimeOffset instant, HouseDay day)
    {
        var local = day.Local(instant);
        return $"{DayWords.Near(DateOnly.FromDateTime(local), day.Today)} {local.ToString("HH:mm", CultureInfo.InvariantCulture)}";
    }
}

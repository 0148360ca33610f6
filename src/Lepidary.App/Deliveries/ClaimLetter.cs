using System.Globalization;
using System.Net;
using System.Text;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;

namespace Lepidary.App.Deliveries;

/// <summary>A claim as a letter. As plain text, on the page and in a mail it says the same.</summary>
internal sealed record ClaimLetter
{
    public required string To { get; init; }

    public required string From { get; init; }

    public required string Subject { get; init; }

    /// <summary>Sentences above the table.</summary>
    public required IReadOnlyList<string> Before { get; init; }

    public required IReadOnlyList<ClaimLine> Lines { get; init; }

    /// <summary>Sentences below the table, and the last one asks.</summary>
    public required IReadOnlyList<string> After { get; init; }

    /// <summary>Photos that go with it, each with what it shows.</summary>
    public required IReadOnlyList<(Guid Id, string Words)> Photos { get; init; }

    /// <summary>Who counted, where and when; null where nobody signed the box.</summary>
    public string? Signed { get; init; }

    /// <summary>ISO 4217 of the prices.</summary>
    public required string Currency { get; init; }

    public static ClaimLetter Of(Delivery delivery, Claim claim, string house, string supplier, DateOnly? orderedOn, DateOnly? listedOn, string currency, IReadOnlyList<Photo> photos, HouseDay day)
    {
        var remarks = from line in delivery.Lines
                      let said = string.Join("; ", new[] { line.Remark, BoxLayers.Words(line.Layers), LineEstimates.Words(line) }.Where(part => part is not null))
                      where said.Length > 0
                      select $"{line.Taxon}: {said}.";
        var unpriced = claim.Lines.Where(line => line.UnitPrice is null).Sum(line => line.Pupae);
        var sources = claim.Lines.Select(line => line.PriceSource).OfType<PriceSource>().Distinct().Order().Select(place => place switch
        {
            PriceSource.Note => "your note",
            PriceSource.Order => "the order",
            PriceSource.List => $"your list of {DayWords.Short(listedOn ?? delivery.OnDay)}",
            _ => throw new ArgumentOutOfRangeException(nameof(claim), place, "no place of a price"),
        });
        return new()
        {
            To = supplier,
            From = house,
            Subject = $"Claim on the box {(delivery.BoxMark is null ? "" : delivery.BoxMark + " ")}received {DayWords.Long(delivery.OnDay)}",
            Before =
            [
                $"We counted the box on the day it came{(orderedOn is { } on ? $", against your note and our order of {DayWords.Short(on)}" : ", against your note")}.",
                .. delivery.Condition is { } condition ? [$"State of the box: {condition}."] : Array.Empty<string>(),
                $"{claim.Pupae} pupae were not as they should be:",
            ],
            Lines = claim.Lines,
            After =
            [
                $"In all {claim.Pupae} pupae{(claim.Amount > 0 ? $", {currency} {Money(claim.Amount)} at the prices of {string.Join(" and ", sources)}, without tax and carriage{(unpriced > 0 ? $"; for {unpriced} no price is known" : "")}" : "")}.",
                .. delivery.Lines.Where(line => line.SubstituteFor is not null).Select(line => $"{line.Counted} {line.Taxon} came in place of {line.SubstituteFor}, which we had ordered."),
                .. remarks,
                $"Please credit this, or send the same again with the next box. {(photos.Count == 0 ? "Photographs can follow." : $"Photographs: {photos.Count}, enclosed{string.Concat(photos.Where(photo => photo.Note is not null).Select(photo => $"; {photo.Note}"))}.")}",
            ],
            Photos = [.. photos.Select(photo => (photo.Id, photo.Note ?? "The box"))],
            Signed = delivery.Who.Length == 0 ? null : $"{delivery.Who}, {house}, {DayWords.Short(day.Today)}",
            Currency = currency,
        };
    }

    /// <summary>The letter as plain text, its table in columns.</summary>
    public string Text()
    {
        var letter = new StringBuilder();
        Line($"To: {To}");
        Line($"From: {From}");
        Line(Subject);
        Line("");
        foreach (var sentence in Before)
        {
            Line(sentence);
        }

        Line("");
        var name = Math.Max("Species".Length, Lines.Max(line => Name(line).Length));
        Line($"{"Species".PadRight(name)}  {"short",6} {"dead",6} {"damaged",8} {"emerged",8} {"wrong",6}  {"price",9} {"amount",9}");
        foreach (var line in Lines)
        {
            Line($"{Name(line).PadRight(name)}  {line.Missing,6} {line.Dead,6} {line.Damaged,8} {line.Emerged,8} {line.WrongSpecies,6}  {Money(line.UnitPrice),9} {Money(line.Amount),9}");
        }

        Line("");
        foreach (var sentence in After.SkipLast(1))
        {
            Line(sentence);
        }

        Line("");
        Line(After[^1]);
        if (Signed is not null)
        {
            Line("");
            Line(Signed);
        }

        return letter.ToString();

        void Line(string text) => letter.Append(text).Append('\n');
    }

    /// <summary>The letter as the body of a mail, with a table that stays one in any typeface.</summary>
    public string Html()
    {
        var letter = new StringBuilder("<!DOCTYPE html><html lang=\"en\"><body>");
        Append("p", Subject);
        foreach (var sentence in Before)
        {
            Append("p", sentence);
        }

        letter.Append("<table border=\"1\" cellpadding=\"4\" style=\"border-collapse:collapse\"><tr>");
        foreach (var head in (string[])["Species", "short", "dead", "damaged", "emerged", "wrong", $"price, {Currency}", $"amount, {Currency}"])
        {
            Append("th", head);
        }

        letter.Append("</tr>");
        foreach (var line in Lines)
        {
            letter.Append("<tr>");
            foreach (var cell in (string[])[Name(line), Number(line.Missing), Number(line.Dead), Number(line.Damaged), Number(line.Emerged), Number(line.WrongSpecies), Money(line.UnitPrice), Money(line.Amount)])
            {
                Append("td", cell);
            }

            letter.Append("</tr>");
        }

        letter.Append("</table>");
        foreach (var sentence in After.Concat(Signed is null ? [] : [Signed]))
        {
            Append("p", sentence);
        }

        return letter.Append("</body></html>").ToString();

        void Append(string element, string text) => letter.Append('<').Append(element).Append('>').Append(WebUtility.HtmlEncode(text)).Append("</").Append(element).Append('>');
        static string Number(int count) => count.ToString(CultureInfo.InvariantCulture);
    }

    private static string Name(ClaimLine line) => line.Form is null ? line.Taxon : $"{line.Taxon} {line.Form}";

    private static string Money(decimal? amount) => amount?.ToString("0.00", CultureInfo.InvariantCulture) ?? "";
}

using System.Globalization;

namespace Lepidary.App.Labels;

/// <summary>A line of text on a label, mm from the label's corner.</summary>
/// <param name="Text">What it says.</param>
/// <param name="Y">Base line.</param>
/// <param name="Size">Size of the type.</param>
/// <param name="Style"><c>code</c>, <c>latin</c> or <c>plain</c>.</param>
/// <param name="Squeeze">Width to squeeze it into, or null where it fits.</param>
public sealed record LabelLine(string Text, double Y, double Size, string Style, double? Squeeze);

/// <summary>One label, laid out.</summary>
/// <param name="X">Left edge on the paper, mm.</param>
/// <param name="Y">Upper edge on the paper, mm.</param>
/// <param name="Qr">What opens the lot.</param>
/// <param name="QrSide">Side of the code with its quiet zone, mm.</param>
/// <param name="TextX">Left edge of the text on the label, mm.</param>
/// <param name="Lines">The text.</param>
/// <param name="Code">The lot's code.</param>
public sealed record DrawnLabel(double X, double Y, LotQr Qr, double QrSide, double TextX, IReadOnlyList<LabelLine> Lines, string Code)
{
    public string At => string.Create(CultureInfo.InvariantCulture, $"translate({X:0.###} {Y:0.###})");

    public string QrScale => string.Create(CultureInfo.InvariantCulture, $"translate(0.5 {0.5:0.###}) scale({(QrSide - 1) / Qr.Modules:0.#####})");
}

/// <summary>Lays labels out: the code on the left, what a keeper reads beside it.</summary>
internal static class LabelDrawing
{
    /// <summary>Width of a letter over its size, for the type that labels are set in; wide enough for capitals among small letters.</summary>
    private const double LetterWidth = 0.52;

    private const double MonoWidth = 0.62;

    /// <summary>The pages of a sheet with a label for each lot, the first ones left free.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="labels">What to print, in order.</param>
    /// <param name="skip">Labels that are gone from the first sheet.</param>
    public static IReadOnlyList<IReadOnlyList<DrawnLabel>> Pages(LabelSheet sheet, IReadOnlyList<LotLabel> labels, int skip)
    {
        var places = labels.Select((label, at) => (label, Place: at + skip)).ToList();
        return
        [
            .. places.GroupBy(item => item.Place / sheet.Labels).Select(page => (IReadOnlyList<DrawnLabel>)
                [.. page.Select(item => Draw(sheet, item.label, item.Place % sheet.Labels % sheet.Columns, item.Place % sheet.Labels / sheet.Columns))]),
        ];
    }

    private static DrawnLabel Draw(LabelSheet sheet, LotLabel label, int column, int row)
    {
        var qr = Math.Min(sheet.Height, sheet.Width * 0.5);
        var text = qr + 0.5;
        return new(sheet.X(column), sheet.Y(row), LotQr.Of(label.Address), qr, text, Lines(label, sheet.Width - text - 1.5, sheet.Height), label.Code);
    }

    private static List<LabelLine> Lines(LotLabel label, double width, double height)
    {
        var genus = label.Taxon.Split(' ', 2);
        var wide = label.Taxon.Length * LetterWidth * height / 8 <= width;
        List<(string Text, string Style)> words =
        [
            (label.Code, "code"),
            .. wide || genus.Length < 2 ? new[] { (label.Taxon, "latin") } : [(genus[0], "latin"), (genus[1], "latin")],
        ];
        if (label.Form is { } form)
        {
            words.Add((form, "plain"));
        }

        words.Add((label.Where, "plain"));
        words.Add((label.Hung, "plain"));
        if (label.Supplier is { } supplier)
        {
            words.Add((supplier, "plain"));
        }

        // What does not fit below is left off: the code opens the rest.
        var size = Math.Clamp(height / (words.Count + 1.6), 1.9, 4.2);
        var most = Math.Max(2, (int)((height - 1.5) / (size * 1.18)));
        return
        [
            .. words.Take(most).Select((word, at) =>
            {
                var needs = word.Text.Length * size * (word.Style == "code" ? MonoWidth : LetterWidth);
                return new LabelLine(word.Text, 0.9 + size * 1.18 * (at + 0.85), size, word.Style, needs > width ? width : null);
            }),
        ];
    }
}

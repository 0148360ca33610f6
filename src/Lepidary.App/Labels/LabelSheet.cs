using System.Globalization;

namespace Lepidary.App.Labels;

/// <summary>
/// A sheet of labels, or a roll of single ones: measures in millimetres. Any sheet can be told by these; the usual ones are named by the size
/// of a label. The sizes of the usual ones are common practice, no source: measure your own sheet before you print a stack.
/// </summary>
public sealed record LabelSheet
{
    /// <summary>A4, ISO 216.</summary>
    private static readonly (double Width, double Height) A4 = (210, 297);

    /// <summary>Letter, ANSI/ASME Y14.1: 8.5 by 11 inches.</summary>
    private static readonly (double Width, double Height) Letter = (215.9, 279.4);

    public required double PaperWidth { get; init; }

    public required double PaperHeight { get; init; }

    public required int Columns { get; init; }

    public required int Rows { get; init; }

    /// <summary>Width of one label.</summary>
    public required double Width { get; init; }

    /// <summary>Height of one label.</summary>
    public required double Height { get; init; }

    /// <summary>From the paper's left edge to the first label.</summary>
    public required double Left { get; init; }

    /// <summary>From the paper's upper edge to the first label.</summary>
    public required double Top { get; init; }

    /// <summary>Between two labels side by side.</summary>
    public double GapAcross { get; init; }

    /// <summary>Between two labels one below the other.</summary>
    public double GapDown { get; init; }

    /// <summary>The usual sheets by name: <c>63.5 × 38.1, 21 on A4</c>.</summary>
    public static IReadOnlyList<(string Name, LabelSheet Sheet)> Usual { get; } =
    [
        Named("A4", Centred(A4, 3, 7, 63.5, 38.1, 2.5)),
        Named("A4", Centred(A4, 3, 8, 70, 37, 0)),
        Named("A4", Centred(A4, 3, 8, 64, 33.9, 2.5)),
        Named("A4", Centred(A4, 5, 13, 38.1, 21.2, 2.5)),
        Named("A4", Centred(A4, 4, 10, 48.5, 25.4, 0)),
        Named("A4", Centred(A4, 2, 7, 99.1, 38.1, 2.5)),
        Named("A4", Centred(A4, 2, 8, 105, 37, 0)),
        Named("Letter", Centred(Letter, 3, 10, 66.7, 25.4, 3.2)),
        Named("Letter", Centred(Letter, 2, 5, 101.6, 50.8, 4.8)),
        Named("a roll", Roll(62, 29)),
        Named("a roll", Roll(54, 25)),
    ];

    /// <summary>Labels on one sheet.</summary>
    public int Labels => Columns * Rows;

    /// <summary>A sheet from what was asked for, every wrong measure named.</summary>
    internal static Checked<LabelSheet> Of(double? paperWidth, double? paperHeight, int? columns, int? rows, double? width, double? height, double? left, double? top, double? gapAcross, double? gapDown)
    {
        var problems = new List<Problem>();
        Measure("paper width", paperWidth, 10, 1000);
        Measure("paper height", paperHeight, 10, 1000);
        Measure("columns", columns, 1, 20);
        Measure("rows", rows, 1, 60);
        Measure("label width", width, 15, 1000);
        Measure("label height", height, 10, 1000);
        Measure("left margin", left ?? 0, 0, 500);
        Measure("top margin", top ?? 0, 0, 500);
        Measure("gap across", gapAcross ?? 0, 0, 200);
        Measure("gap down", gapDown ?? 0, 0, 200);
        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var sheet = new LabelSheet
        {
            PaperWidth = paperWidth!.Value,
            PaperHeight = paperHeight!.Value,
            Columns = columns!.Value,
            Rows = rows!.Value,
            Width = width!.Value,
            Height = height!.Value,
            Left = left ?? 0,
            Top = top ?? 0,
            GapAcross = gapAcross ?? 0,
            GapDown = gapDown ?? 0,
        };
        var (right, foot) = (sheet.X(sheet.Columns - 1) + sheet.Width, sheet.Y(sheet.Rows - 1) + sheet.Height);
        if (right > sheet.PaperWidth + 0.05)
        {
            problems.Add(new("columns", $"{N(right)} mm needed", $"at most the paper's {N(sheet.PaperWidth)} mm"));
        }

        if (foot > sheet.PaperHeight + 0.05)
        {
            problems.Add(new("rows", $"{N(foot)} mm needed", $"at most the paper's {N(sheet.PaperHeight)} mm"));
        }

        return problems.Count > 0 ? problems.ToArray() : sheet;

        void Measure(string where, double? found, double from, double to)
        {
            if (found is not { } value || !(value >= from && value <= to))
            {
                problems.Add(new(where, found is { } said ? N(said) : "nothing", $"{N(from)} to {N(to)}{(where is "columns" or "rows" ? "" : " mm")}"));
            }
        }
    }

    /// <summary>The usual sheet of a name, or of a label's size alone (<c>63.5x38.1</c>); problems where it is none.</summary>
    internal static Checked<LabelSheet> Find(string name)
    {
        var asked = Plain(name);
        var found = Usual.Where(usual => Plain(usual.Name) == asked || Plain(usual.Name).StartsWith(asked + ",", StringComparison.Ordinal)).ToList();
        return found.Count > 0 ? found[0].Sheet : new Problem("size", name, $"one of {string.Join("; ", Usual.Select(usual => usual.Name))}; or the measures of your sheet");

        static string Plain(string text) => text.Replace(" ", "", StringComparison.Ordinal).Replace('×', 'x').ToLowerInvariant();
    }

    /// <summary>Left edge of a column, mm from the paper's.</summary>
    public double X(int column) => Left + column * (Width + GapAcross);

    /// <summary>Upper edge of a row, mm from the paper's.</summary>
    public double Y(int row) => Top + row * (Height + GapDown);

    private static LabelSheet Centred((double Width, double Height) paper, int columns, int rows, double width, double height, double gapAcross) => new()
    {
        PaperWidth = paper.Width,
        PaperHeight = paper.Height,
        Columns = columns,
        Rows = rows,
        Width = width,
        Height = height,
        GapAcross = gapAcross,
        Left = (paper.Width - columns * width - (columns - 1) * gapAcross) / 2,
        Top = (paper.Height - rows * height) / 2,
    };

    private static LabelSheet Roll(double width, double height) =>
        new() { PaperWidth = width, PaperHeight = height, Columns = 1, Rows = 1, Width = width, Height = height, Left = 0, Top = 0 };

    private static (string, LabelSheet) Named(string paper, LabelSheet sheet) =>
        (sheet.Labels == 1 ? $"{N(sheet.Width)} × {N(sheet.Height)}, {paper}" : $"{N(sheet.Width)} × {N(sheet.Height)}, {sheet.Labels} on {paper}", sheet);

    private static string N(double number) => number.ToString("0.##", CultureInfo.InvariantCulture);
}

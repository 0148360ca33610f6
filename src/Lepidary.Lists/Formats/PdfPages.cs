using System.Text.RegularExpressions;
using Lepidary.Lists.Reading;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Exceptions;

namespace Lepidary.Lists.Formats;

/// <summary>
/// A PDF with a text layer. A PDF knows words and where they stand, not rows and columns: rows are words on one height, columns are the bands
/// between the gaps that run down the page, and a line closer to its neighbour than rows are to each other is the rest of a wrapped cell.
/// </summary>
internal static partial class PdfPages
{
    private const int MostPages = 60;

    /// <summary>Fewer letters than this on a page, and the page is a picture.</summary>
    private const int FewestLetters = 15;

    private sealed record Piece(double Left, double Right, string Text)
    {
        public double Middle => (Left + Right) / 2;
    }

    /// <summary>One height of a page.</summary>
    private sealed record Line(double Height, double Size, List<Piece> Pieces)
    {
        public string Text => string.Join("   ", Pieces.Select(piece => piece.Text));
    }

    public static Checked<Source> Read(ReadOnlyMemory<byte> content, string fileName, CancellationToken cancellation)
    {
        var filters = new PdfFilters(cancellation);
        try
        {
            using var document = PdfDocument.Open(content.ToArray(), new ParsingOptions { UseLenientParsing = true, SkipMissingFonts = true, FilterProvider = filters });
            if (document.NumberOfPages > MostPages)
                return new Problem(fileName, $"a PDF of {document.NumberOfPages} pages", $"a list of at most {MostPages} pages");
            var pages = new List<List<Line>>();
            for (var number = 1; number <= document.NumberOfPages; number++)
            {
                cancellation.ThrowIfCancellationRequested();
                pages.Add(Lines(document.GetPage(number)));
            }
            if (filters.Exceeded)
                return Endless(fileName);
            if (pages.Sum(page => page.Sum(line => line.Text.Count(char.IsLetter))) < FewestLetters * Math.Max(1, pages.Count))
                return new Problem(fileName, "a scanned PDF: pictures of pages without text", "the list as text or a workbook: ask the supplier for it, or type the offers");
            var rows = new List<Row>();
            for (var page = 0; page < pages.Count; page++)
                AddPage(rows, pages[page], page + 1);
            return new Source("PDF", [new Sheet(null, false, rows)]);
        }
        catch (TooLargeException exception)
        {
            return new Problem(fileName, exception.Message, "a PDF of a few pages with the list on them");
        }
        catch (Exception exception) when (filters.Exceeded && exception is not OperationCanceledException)
        {
            return Endless(fileName);
        }
        catch (PdfDocumentEncryptedException)
        {
            return new Problem(fileName, "a PDF locked with a password", "a PDF without a password");
        }
        catch (Exception exception) when (exception is PdfDocumentFormatException or IOException or InvalidDataException or ArgumentException or InvalidOperationException
            or NotSupportedException or FormatException or IndexOutOfRangeException or NullReferenceException or OverflowException or InvalidCastException or KeyNotFoundException)
        {
            // The library meets damaged files with whatever exception the damage leads to; to the keeper they are all one thing.
            return new Problem(fileName, "a damaged PDF", "a whole PDF: fetch the file again");
        }
    }

    private static Problem Endless(string fileName) => new(fileName, "a PDF that unpacks to far more than it holds", "a PDF of a few pages with the list on them");

    /// <summary>More letters on one page are no page.</summary>
    private const int MostLetters = 60_000;

    /// <summary>The lines of a page from top to bottom, each with its pieces from left to right.</summary>
    private static List<Line> Lines(Page page)
    {
        if (page.Letters.Count > MostLetters)
            throw new TooLargeException($"a PDF with a page of more than {MostLetters} letters");
        var words = page.GetWords().Where(word => word.Text.Trim().Length > 0).ToList();
        var lines = new List<List<Word>>();
        foreach (var word in words.OrderByDescending(word => word.BoundingBox.Bottom).ThenBy(word => word.BoundingBox.Left))
        {
            var height = Math.Max(4, word.Letters.Count > 0 ? word.Letters[0].PointSize : word.BoundingBox.Height);
            var baseline = Baseline(word);
            var line = lines.Find(line => Math.Abs(Baseline(line[0]) - baseline) < height * 0.35);
            if (line is null)
                lines.Add([word]);
            else
                line.Add(word);
        }
        return [.. lines.OrderByDescending(line => Baseline(line[0])).Select(line => new Line(Baseline(line[0]), Size(line), Pieces(line)))];
    }

    private static double Baseline(Word word) => word.Letters.Count > 0 ? word.Letters[0].StartBaseLine.Y : word.BoundingBox.Bottom;

    private static double Size(List<Word> line) => line.Select(word => word.Letters.Count > 0 ? word.Letters[0].PointSize : word.BoundingBox.Height).DefaultIfEmpty(10).Max();

    /// <summary>Words with no more than a wide space between them belong together.</summary>
    private static List<Piece> Pieces(List<Word> words)
    {
        var pieces = new List<Piece>();
        var size = Size(words);
        foreach (var word in words.OrderBy(word => word.BoundingBox.Left))
        {
            var box = word.BoundingBox;
            if (pieces.Count > 0 && box.Left - pieces[^1].Right < size * 0.75)
                pieces[^1] = new Piece(pieces[^1].Left, Math.Max(pieces[^1].Right, box.Right), $"{pieces[^1].Text} {word.Text}");
            else
                pieces.Add(new Piece(box.Left, box.Right, word.Text));
        }
        return pieces;
    }

    private static void AddPage(List<Row> rows, List<Line> lines, int page)
    {
        foreach (var part in Columns(lines))
            AddPart(rows, part, page);
    }

    /// <summary>Names begin so near one another when they stand in one column; in points.</summary>
    private const double Near = 8;

    /// <summary>
    /// A page set in columns, each with names and prices of its own and without titles, is read column after column: what stands over them, each
    /// column from top to bottom, what stands below.
    /// </summary>
    private static List<List<Line>> Columns(List<Line> lines)
    {
        if (lines.Exists(line => ColumnTitles.CountIn(line.Pieces.Select(piece => piece.Text)) > 1))
            return [lines];
        var starts = new List<(double Left, int Count)>();
        foreach (var name in lines.SelectMany(line => line.Pieces).Where(IsName).OrderBy(piece => piece.Left))
        {
            if (starts.Count > 0 && name.Left - starts[^1].Left < Near)
                starts[^1] = (starts[^1].Left, starts[^1].Count + 1);
            else
                starts.Add((name.Left, 1));
        }
        starts.RemoveAll(start => start.Count < 3);
        int Column(Piece piece) => Math.Max(0, starts.FindLastIndex(start => start.Left <= piece.Left + Near));
        bool SideBySide(Line line) => line.Pieces.Where(IsName).Select(Column).Distinct().Count() > 1;
        var first = lines.FindIndex(SideBySide);
        if (starts.Count < 2 || lines.Count(SideBySide) < 3)
            return [lines];
        for (var column = 0; column < starts.Count; column++)
        {
            if (lines.Skip(first).SelectMany(line => line.Pieces).Count(piece => Column(piece) == column && HasMoney(piece)) * 10 < starts[column].Count * 6)
                return [lines];
        }
        // Families over the columns.
        while (first > 0 && lines[first - 1].Pieces.Count > 1 && lines[first - 1].Pieces.Select(Column).Distinct().Count() == lines[first - 1].Pieces.Count)
            first--;
        var last = lines.FindLastIndex(line => line.Pieces.Exists(piece => Column(piece) > 0 || IsName(piece)));
        return [
            lines[..first],
            .. Enumerable.Range(0, starts.Count).Select(column => lines[first..(last + 1)]
                .Select(line => line with { Pieces = line.Pieces.FindAll(piece => Column(piece) == column) })
                .Where(line => line.Pieces.Count > 0).ToList()),
            lines[(last + 1)..],
        ];
    }

    /// <summary>Two words of which the first has a capital and neither is one that lists use: perhaps a scientific name.</summary>
    private static bool IsName(Piece piece) => Binomial().IsMatch(piece.Text) && Tokeniser.Cut(piece.Text, null) is [{ Meanings.Count: 0 }, ..];

    private static bool HasMoney(Piece piece) => Tokeniser.Cut(piece.Text, null).Exists(token => token.Kind == TokenKind.Currency || (token.Kind == TokenKind.Number && (token.Decimals is 1 or 2 || token.Currency is not null)));

    private static void AddPart(List<Row> rows, List<Line> lines, int page)
    {
        var bands = Bands(lines);
        var merged = Merge(lines, bands);
        foreach (var (text, cells) in merged)
        {
            var clean = cells.Select(cell => cell with { Text = DocumentRows.Clean(cell.Text) }).Where(cell => cell.Text.Length > 0).ToList();
            if (clean.Count > 0)
                rows.Add(new Row(rows.Count + 1, DocumentRows.Clean(text), clean) { Page = page, Quoted = PageMark().IsMatch(text.Trim()) });
        }
    }

    /// <summary>The columns of a page: stretches of its width that pieces of several lines cover, with gaps between that hardly any piece crosses.</summary>
    private static List<(double Left, double Right)> Bands(List<Line> lines)
    {
        var rows = lines.Where(line => line.Pieces.Count > 1).ToList();
        if (rows.Count < 3)
            return [];
        var width = (int)Math.Clamp(rows.Max(line => line.Pieces[^1].Right) + 2, 1, 5000);
        var cover = new int[width + 1];
        foreach (var piece in rows.SelectMany(line => line.Pieces))
        {
            for (var x = (int)Math.Max(0, piece.Left); x <= Math.Min(width, piece.Right); x++)
                cover[x]++;
        }
        var few = rows.Count / 25;
        var bands = new List<(double, double)>();
        var start = -1;
        for (var x = 0; x <= width; x++)
        {
            var covered = cover[x] > few;
            if (covered && start < 0)
                start = x;
            else if (!covered && start >= 0)
            {
                bands.Add((start, x));
                start = -1;
            }
        }
        if (start >= 0)
            bands.Add((start, width));
        return bands;
    }

    private static List<Cell> Cells(Line line, List<(double Left, double Right)> bands)
    {
        if (bands.Count < 2 || line.Pieces.Count == 1 && bands.Count(band => Overlap(band, line.Pieces[0]) > 0) > 1)
            return [new Cell(0, string.Join(" | ", line.Pieces.Select(piece => piece.Text)))];
        return [.. line.Pieces
            .GroupBy(piece => Enumerable.Range(0, bands.Count).MaxBy(i => Overlap(bands[i], piece) - (Math.Abs((bands[i].Left + bands[i].Right) / 2 - piece.Middle) / 10000)))
            .Select(group => new Cell(group.Key, string.Join(" ", group.Select(piece => piece.Text))))
            .OrderBy(cell => cell.Column)];
    }

    private static double Overlap((double Left, double Right) band, Piece piece) => Math.Min(band.Right, piece.Right) - Math.Max(band.Left, piece.Left);

    /// <summary>Joins the lines of a wrapped row.</summary>
    private static List<(string Text, List<Cell> Cells)> Merge(List<Line> lines, List<(double Left, double Right)> bands)
    {
        var full = lines.Select((line, i) => (line, i)).Where(pair => pair.line.Pieces.Count >= Math.Max(2, bands.Count - 1)).ToList();
        var gaps = full.Zip(full.Skip(1)).Where(pair => pair.First.line.Height > pair.Second.line.Height).Select(pair => pair.First.line.Height - pair.Second.line.Height).Order().ToList();
        var pitch = gaps.Count > 2 ? gaps[gaps.Count / 2] : 0;
        var merged = new List<(string Text, List<Cell> Cells)>();
        for (var i = 0; i < lines.Count; i++)
        {
            var cells = Cells(lines[i], bands);
            var close = i > 0 && pitch > 0 && lines[i - 1].Height - lines[i].Height < pitch * 0.72;
            var whole = Math.Max(2, bands.Count - 1);
            var part = bands.Count > 1 && close && merged.Count > 0
                && (cells.Count >= whole) != (merged[^1].Cells.Count >= whole)
                && !AreTitles(cells) && !AreTitles(merged[^1].Cells);
            if (part)
            {
                var (text, upper) = merged[^1];
                foreach (var cell in cells)
                {
                    var at = upper.FindIndex(one => one.Column == cell.Column);
                    if (at >= 0)
                        upper[at] = upper[at] with { Text = Join(upper[at].Text, cell.Text) };
                    else
                        upper.Add(cell);
                }
                upper.Sort((a, b) => a.Column.CompareTo(b.Column));
                merged[^1] = ($"{text} {lines[i].Text}", upper);
                continue;
            }
            merged.Add((lines[i].Text, cells));
        }
        return merged;
    }

    private static bool AreTitles(List<Cell> cells) => ColumnTitles.CountIn(cells.Select(cell => cell.Text)) > 1;

    /// <summary>A capital or a bracket on the next line begins something new: a common name below the scientific one.</summary>
    private static string Join(string upper, string lower) => char.IsLower(lower[0]) || char.IsAsciiDigit(lower[0]) ? $"{upper} {lower}" : $"{upper} | {lower}";

    [GeneratedRegex(@"^\p{Lu}\p{Ll}*\.?\s\p{Ll}{3,}")]
    private static partial Regex Binomial();

    [GeneratedRegex(@"^(?:page|seite|pagina|página|blatt|bladzijde)\s*\d+(?:\s*(?:of|/|von|de|sur|van|di)\s*\d+)?$|^-?\s*\d+\s*(?:/\s*\d+\s*)?-?$", RegexOptions.IgnoreCase)]
    private static partial Regex PageMark();
}

using System.Text.RegularExpressions;
using Lepidary.Lists.Reading;

namespace Lepidary.Lists.Formats;

/// <summary>Text without a delimiter: columns lined up with spaces or led by dots, or one offer a line.</summary>
internal static partial class PlainText
{
    /// <summary>The layout of a text without columns.</summary>
    public const string OneALine = "one offer a line";

    /// <summary>The text as a sheet, and what it looks like.</summary>
    public static (Sheet Sheet, string Layout) Read(IReadOnlyList<string> lines)
    {
        foreach (var sign in SpacedSigns)
        {
            if (lines.Take(60).Any(line => line.Split(sign) is { Length: > 2 } cells && ColumnTitles.CountIn(cells.Select(cell => cell.Trim())) > 1))
                return (new Sheet(null, false, [.. lines.Select((line, i) => new Row(i + 1, line, Cells(line.Split(sign))))]), $"columns parted by \"{sign.Trim()}\"");
        }
        var pieces = lines.Select(Pieces).ToList();
        var titles = pieces.FindIndex(line => line.Count > 1 && ColumnTitles.CountIn(line.Select(piece => piece.Text)) > 1);
        if (titles < 0 && NamelessTitles(pieces) is { } nameless)
        {
            // The names stand below no title: one column more than there are titles.
            pieces[nameless].Insert(0, new Piece(0, 1, ""));
            titles = nameless;
        }
        if (titles < 0)
        {
            // Without titles the gaps say only where one thing ends; the words say what it is.
            return (new Sheet(null, false, Sentences(lines, pieces)), OneALine);
        }
        var whole = pieces.Skip(titles + 1).Where(line => line.Count == pieces[titles].Count).ToList();
        var linedUp = whole.Count(line => Under(pieces[titles], line).SequenceEqual(InOrder(line))) * 10 >= whole.Count * 7;
        var table = lines.Select((line, i) => new Row(i + 1, line, i < titles || pieces[i].Count == pieces[titles].Count ? InOrder(pieces[i]) : linedUp ? Under(pieces[titles], pieces[i]) : Joined(pieces[i])));
        return (new Sheet(null, false, [.. table]), "columns lined up with spaces");
    }

    /// <summary>The line of titles that leaves out the one over the names: "Available   Each   20+" over "memnon   40   2.40   2.20".</summary>
    private static int? NamelessTitles(List<List<Piece>> pieces)
    {
        for (var i = 0; i < Math.Min(pieces.Count, 40); i++)
        {
            var titles = pieces[i];
            if (titles.Count < 2 || titles[0].Start < 8 || titles.Exists(piece => ColumnTitles.Read(piece.Text) is null) || titles.Count(piece => ColumnTitles.Read(piece.Text) is { Bare: false }) < 2)
                continue;
            var below = pieces.Skip(i + 1).Where(line => line.Count > 1).Take(12).ToList();
            if (below.Count >= 3 && below.Count(line => line.Count == titles.Count + 1 && line[0].Start < titles[0].Start && char.IsLetter(line[0].Text[0])) * 10 >= below.Count * 7)
                return i;
        }
        return null;
    }

    /// <summary>Shorter lines were ended by hand and not by a mail program.</summary>
    private const int ShortestWrapped = 55;

    /// <summary>A row a line; but a sentence that a mail program broke over several lines is one row.</summary>
    private static List<Row> Sentences(IReadOnlyList<string> lines, List<List<Piece>> pieces)
    {
        var rows = new List<Row>();
        for (var i = 0; i < lines.Count; i++)
        {
            var further = new List<string>();
            while (i + further.Count + 1 < lines.Count && GoesOn(lines[i + further.Count], lines[i + further.Count + 1]))
                further.Add(lines[i + further.Count + 1]);
            rows.Add(further.Count == 0
                ? new Row(i + 1, lines[i], Joined(pieces[i]))
                : new Row(i + 1, lines[i], [new Cell(0, string.Join(' ', further.Prepend(lines[i]).Select(line => line.Trim())))]) { FurtherLines = further });
            i += further.Count;
        }
        return rows;
    }

    private static bool GoesOn(string line, string next)
    {
        var (end, start) = (line.TrimEnd(), next.TrimStart());
        return end.Length >= ShortestWrapped && end.Length < 120 && start.Length > 0 && next[0] == start[0] && (end[^1] is not ('.' or ':' or '!' or '?' or ';') || CutGenus().IsMatch(end))
            && (char.IsLower(start[0]) || char.IsAsciiDigit(start[0]) || start[0] is '(' or '£' or '€' or '$') && end.Count(char.IsWhiteSpace) >= 7 && !end.Contains("  ", StringComparison.Ordinal);
    }

    /// <summary>Signs that part columns when they stand between spaces under a row of titles.</summary>
    private static readonly string[] SpacedSigns = [" / ", " – ", " — ", " - ", " :: ", " * "];

    private static List<Cell> Cells(string[] parts) =>
        [.. parts.Select((part, i) => new Cell(i, part.Trim())).Where(cell => cell.Text.Length > 0)];

    private sealed record Piece(int Start, int End, string Text);

    private static List<Piece> Pieces(string line)
    {
        var pieces = new List<Piece>();
        var start = 0;
        foreach (var gap in Gap().EnumerateMatches(line))
        {
            Add(start, gap.Index);
            start = gap.Index + gap.Length;
        }
        Add(start, line.Length);
        return pieces;

        void Add(int from, int to)
        {
            if (line[from..to].Trim() is { Length: > 0 } text)
                pieces.Add(new Piece(from, to, text));
        }
    }

    /// <summary>All in one cell: which column each piece is in cannot be told.</summary>
    private static List<Cell> Joined(List<Piece> pieces) => pieces.Count == 0 ? [] : [new Cell(0, string.Join(" | ", pieces.Select(piece => piece.Text)))];

    private static List<Cell> InOrder(List<Piece> pieces) => [.. pieces.Select((piece, i) => new Cell(i, piece.Text)).Where(cell => cell.Text.Length > 0)];

    /// <summary>Each piece goes below the title that it overlaps most, or else lies nearest to; two below one title stay one cell.</summary>
    private static List<Cell> Under(List<Piece> titles, List<Piece> pieces)
    {
        if (pieces.Count == 1 && pieces[0].Text.Length > titles[0].End - titles[0].Start + 20)
            return InOrder(pieces);
        return [.. pieces
            .SelectMany(piece => Cut(titles, piece))
            .GroupBy(piece => Enumerable.Range(0, titles.Count).MinBy(i => Distance(titles[i], piece)))
            .Select(group => new Cell(group.Key, string.Join(" ", group.Select(piece => piece.Text))))
            .OrderBy(cell => cell.Column)];
    }

    /// <summary>A long text can leave a single space before the next column: it is cut where that column begins.</summary>
    private static IEnumerable<Piece> Cut(List<Piece> titles, Piece piece)
    {
        foreach (var title in titles.Where(title => title.Start > piece.Start + 2 && title.Start < piece.End && title != titles[0]))
        {
            var space = piece.Text.LastIndexOf(' ', Math.Min(piece.Text.Length - 1, Math.Max(0, title.Start - piece.Start)));
            if (space > 0 && Math.Abs(piece.Start + space + 1 - title.Start) <= 1 && piece.Text[..space].Trim() is { Length: > 0 } left && !left.Any(char.IsAsciiDigit) && piece.Text[(space + 1)..].Trim() is { Length: > 0 } right && !char.IsLetter(right[0]))
                return [new Piece(piece.Start, piece.Start + space, left), .. Cut(titles, new Piece(piece.Start + space + 1, piece.End, right))];
        }
        return [piece];
    }

    private static int Distance(Piece title, Piece piece)
    {
        var overlap = Math.Min(title.End, piece.End) - Math.Max(title.Start, piece.Start);
        return -overlap;
    }

    /// <summary>A genus cut short at the end of a line: its epithet begins the next.</summary>
    [GeneratedRegex(@"[\s(]\p{Lu}\p{Ll}?\.$")]
    private static partial Regex CutGenus();

    [GeneratedRegex(@"\s{2,}|\t+|\s?[.…_·]{3,}\s?|\s-{3,}\s")]
    private static partial Regex Gap();
}

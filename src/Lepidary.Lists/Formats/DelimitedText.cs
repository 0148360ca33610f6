using System.Globalization;
using Lepidary.Lists.Reading;

namespace Lepidary.Lists.Formats;

/// <summary>One field of a record, and where it stands.</summary>
/// <param name="Column">From 0.</param>
/// <param name="Text">Without quotes and the space around; empty where there is nothing.</param>
/// <param name="FirstLine">Index of the line on which it begins.</param>
/// <param name="From">Where it begins on that line.</param>
/// <param name="LastLine">Index of the line on which it ends.</param>
/// <param name="To">Where it ends on that line.</param>
internal sealed record Field(int Column, string Text, int FirstLine, int From, int LastLine, int To);

/// <summary>
/// Text with a character between the cells. An own splitter, and not a CSV library: suppliers' files have stray quotes (inch signs),
/// ragged rows and prose above the table, and every line of the file must keep its number; a strict reader stops at the first of these.
/// </summary>
internal static class DelimitedText
{
    private static readonly (char Character, string Name)[] Delimiters =
        [('\t', "tab"), (';', "semicolon"), ('|', "pipe"), (',', "comma"), ('^', "caret"), ('~', "tilde"), ('¦', "broken bar"), ('\u001F', "unit separator")];

    /// <summary>A quoted cell that does not end within so many lines was no quoted cell.</summary>
    private const int MostLinesInACell = 30;

    /// <summary>Rows looked at to choose the delimiter.</summary>
    private const int Sample = 300;

    /// <summary>The text as a table, or null when no delimiter explains it.</summary>
    public static (Sheet Sheet, string Delimiter)? Read(IReadOnlyList<string> lines)
    {
        if (StatedDelimiter(lines) is { } stated)
        {
            var rest = Split(lines, stated, 1, lines.Count);
            return (new Sheet(null, false, [new Row(1, lines[0], [new Cell(0, lines[0])]), .. rest]), NameOf(stated));
        }
        return Likeliest(lines) is { } likeliest
            ? (new Sheet(null, false, Split(lines, likeliest, 0, lines.Count)), NameOf(likeliest))
            : null;
    }

    /// <summary>The character between the cells, or null when the text is no table.</summary>
    public static char? Delimiter(IReadOnlyList<string> lines) => StatedDelimiter(lines) ?? Likeliest(lines);

    private static char? Likeliest(IReadOnlyList<string> lines)
    {
        var best = Delimiters.Select(delimiter => (delimiter.Character, score: Score(lines, delimiter.Character))).MaxBy(pair => pair.score);
        return best.score > 0 ? best.Character : null;
    }

    /// <summary>Spreadsheets write <c>sep=;</c> on the first line to tell each other the delimiter.</summary>
    private static char? StatedDelimiter(IReadOnlyList<string> lines)
    {
        var first = lines.Count > 0 ? lines[0].Trim().Trim('"') : "";
        return first.Length == 5 && first.StartsWith("sep=", StringComparison.OrdinalIgnoreCase) ? first[4] : null;
    }

    private static string NameOf(char delimiter)
    {
        var known = Array.Find(Delimiters, one => one.Character == delimiter).Name;
        return known ?? string.Create(CultureInfo.InvariantCulture, $"'{delimiter}'");
    }

    /// <summary>
    /// How well a delimiter explains the text: the share of lines with the commonest number of cells, times that number (no more
    /// than six count), plus two for each column title found. Zero when fewer than half of the lines agree and there are no titles.
    /// </summary>
    private static double Score(IReadOnlyList<string> lines, char delimiter)
    {
        if (delimiter == ',' && (MostlyDecimalCommas(lines) || MostLinesHaveASum(lines)))
            return 0;
        var rows = Split(lines, delimiter, 0, Math.Min(lines.Count, Sample)).Where(row => row.Text.Trim().Length > 0).ToList();
        var several = rows.Where(row => row.Cells.Count > 1).ToList();
        if (several.Count < 2 || rows.Count == 0)
            return 0;
        var commonest = several.GroupBy(row => row.Cells[^1].Column + 1).MaxBy(group => (group.Count(), group.Key))!;
        var support = (double)commonest.Count() / rows.Count;
        var titles = several.Take(60).Max(row => ColumnTitles.CountIn(row.Cells.Select(cell => cell.Text)));
        var prose = delimiter == ',' && several.Average(row => row.Cells.Average(cell => cell.Text.Count(char.IsWhiteSpace))) > 6;
        // Commas that always have a space behind them part the words of a sentence, unless titles say otherwise.
        prose |= titles < 2 && delimiter is ',' or ';' && SpacedShare(lines, delimiter) > 0.8;
        if (prose || (titles < 2 && support < 0.5 && (double)several.Count / rows.Count < 0.6))
            return 0;
        return (support * Math.Min(commonest.Key, 6)) + (titles >= 2 ? 2 * titles : 0);
    }

    /// <summary>Whole digits before, one or two behind: "2,40"; but not "2.20,2.60" and not "120,30,5".</summary>
    private static bool IsDecimalComma(string line, int comma)
    {
        var start = comma;
        while (start > 0 && char.IsAsciiDigit(line[start - 1]))
            start--;
        var end = comma + 1;
        while (end < line.Length && char.IsAsciiDigit(line[end]))
            end++;
        return start < comma && end - comma is 2 or 3 && !(start > 1 && line[start - 1] is '.' or ',' && char.IsAsciiDigit(line[start - 2])) && !(end + 1 < line.Length && line[end] is '.' or ',' && char.IsAsciiDigit(line[end + 1]));
    }

    private static double SpacedShare(IReadOnlyList<string> lines, char delimiter)
    {
        int all = 0, spaced = 0;
        foreach (var line in lines.Take(Sample))
        {
            for (var i = line.IndexOf(delimiter, StringComparison.Ordinal); i >= 0 && i + 1 < line.Length; i = line.IndexOf(delimiter, i + 1))
            {
                all++;
                if (line[i + 1] == ' ' || (delimiter == ',' && IsDecimalComma(line, i)))
                    spaced++;
            }
        }
        return all == 0 ? 0 : (double)spaced / all;
    }

    private static bool MostlyDecimalCommas(IReadOnlyList<string> lines)
    {
        int all = 0, decimals = 0;
        foreach (var line in lines.Take(Sample))
        {
            for (var i = line.IndexOf(',', StringComparison.Ordinal); i >= 0; i = line.IndexOf(',', i + 1))
            {
                all++;
                if (IsDecimalComma(line, i))
                    decimals++;
            }
        }
        return decimals * 2 > all;
    }

    /// <summary>"memnon, 5 pcs 10,75": on most lines with a comma, one stands in a number that follows a word. A cell would begin with its number.</summary>
    private static bool MostLinesHaveASum(IReadOnlyList<string> lines)
    {
        var withComma = lines.Take(Sample).Where(line => line.Contains(',', StringComparison.Ordinal) && !line.Contains('"', StringComparison.Ordinal)).ToList();
        return withComma.Count(line => Enumerable.Range(0, line.Length).Any(i => line[i] == ',' && IsDecimalComma(line, i) && FollowsAWord(line, i))) * 5 > withComma.Count * 3;

        static bool FollowsAWord(string line, int comma)
        {
            var start = comma;
            while (start > 0 && char.IsAsciiDigit(line[start - 1]))
                start--;
            return start > 1 && line[start - 1] == ' ' && line[start - 2] is not ',';
        }
    }

    private static List<Row> Split(IReadOnlyList<string> lines, char delimiter, int from, int to)
    {
        var rows = new List<Row>();
        for (var i = from; i < to;)
        {
            var (cells, used) = Record(lines, i, to, delimiter);
            rows.Add(new Row(i + 1, lines[i], cells) { FurtherLines = [.. lines.Skip(i + 1).Take(used - 1)] });
            i += used;
        }
        return rows;
    }

    /// <summary>The cells of the record that begins on a line, and how many lines it takes.</summary>
    private static (List<Cell> Cells, int Used) Record(IReadOnlyList<string> lines, int first, int end, char delimiter)
    {
        var (fields, used) = Fields(lines, first, end, delimiter);
        return ([.. fields.Where(field => field.Text.Length > 0).Select(field => new Cell(field.Column, field.Text))], used);
    }

    /// <summary>The fields of the record that begins on a line, empty ones too, with where each stands; and how many lines the record takes.</summary>
    public static (List<Field> Fields, int Used) Fields(IReadOnlyList<string> lines, int first, int end, char delimiter)
    {
        var fields = new List<Field>();
        var line = lines[first];
        int used = 1, column = 0, at = 0;
        while (true)
        {
            var start = at;
            while (start < line.Length && line[start] == ' ')
                start++;
            string text;
            var (index, from) = (first + used - 1, at);
            if (start < line.Length && line[start] == '"' && Quoted(lines, first + used - 1, start, end, delimiter) is { } quoted)
            {
                text = quoted.Text;
                used += quoted.Lines;
                line = lines[first + used - 1];
                at = quoted.At;
            }
            else
            {
                var next = line.IndexOf(delimiter, at);
                text = next < 0 ? line[at..] : line[at..next];
                at = next < 0 ? line.Length : next;
            }
            fields.Add(new Field(column, text.Trim(), index, from, first + used - 1, at));
            if (at >= line.Length)
                return (fields, used);
            at++;
            column++;
        }
    }

    /// <summary>A quoted cell: its text, the further lines it takes and where it ends; null when the quote is only a sign in the text.</summary>
    private static (string Text, int Lines, int At)? Quoted(IReadOnlyList<string> lines, int index, int quote, int end, char delimiter)
    {
        var text = new System.Text.StringBuilder();
        var at = quote + 1;
        for (var further = 0; further < MostLinesInACell && index + further < end; further++, at = 0)
        {
            var line = lines[index + further];
            if (further > 0)
                text.Append(' ');
            for (; at < line.Length; at++)
            {
                if (line[at] != '"')
                    text.Append(line[at]);
                else if (at + 1 < line.Length && line[at + 1] == '"')
                    text.Append(line[++at]);
                else
                    return OnlySpaceThenDelimiter(line, at + 1, delimiter) is { } stop ? (text.ToString(), further, stop) : null;
            }
        }
        return null;
    }

    private static int? OnlySpaceThenDelimiter(string line, int at, char delimiter)
    {
        while (at < line.Length && line[at] == ' ' && delimiter != ' ')
            at++;
        return at >= line.Length || line[at] == delimiter ? at : null;
    }
}

using System.Globalization;
using System.Text;
using Lepidary.Lists.Formats;

namespace Lepidary.Lists.Forms;

/// <summary>Puts numbers into cells of a text with a delimiter; every other byte stays as it is.</summary>
internal static class FilledText
{
    public static Checked<byte[]> Fill(ReadOnlySpan<byte> content, string fileName, IReadOnlyList<FormEntry> entries)
    {
        var decoded = TextDecoder.Decode(content);
        // The text as it stands, also with what does not print; the bytes must come out of it again.
        var text = decoded.Coding.GetString(content[decoded.Mark..]);
        if (!decoded.Coding.GetBytes(text).AsSpan().SequenceEqual(content[decoded.Mark..]))
            return new Problem(fileName, $"characters that can't be read ({decoded.Encoding})", "a CSV without damaged characters: ask the supplier for it anew, or fill this one in by hand");
        var places = Lines.Places(text);
        var lines = places.Select(line => text[line.From..line.To]).ToList();
        if (DelimitedText.Delimiter(lines) is not { } delimiter)
            return new Problem(fileName, "a text without cells", "a workbook (.xlsx) or CSV: only these can be filled in");

        var changes = new SortedList<int, (int To, string With)>();
        foreach (var entry in entries)
        {
            if (entry.Line < 1 || entry.Line > lines.Count)
                return new Problem(OrderForm.Where(fileName, entry), "no such line", $"one of {lines.Count} lines");
            var (fields, _) = DelimitedText.Fields(lines, entry.Line - 1, lines.Count, delimiter);
            var number = entry.Number.ToString(CultureInfo.InvariantCulture);
            if (fields.Find(field => field.Column == entry.Column - 1) is { } field)
            {
                var (from, to) = (places[field.FirstLine].From + field.From, places[field.LastLine].From + field.To);
                changes.Add(from, (to, text[from..to].Contains('"', StringComparison.Ordinal) ? $"\"{number}\"" : number));
            }
            else
            {
                // A short row: the line ends before the column begins.
                var last = fields[^1];
                var end = places[last.LastLine].From + last.To;
                changes.Add(end, (end, new string(delimiter, entry.Column - 1 - last.Column) + number));
            }
        }

        var filled = new StringBuilder(text.Length + (entries.Count * 4));
        var at = 0;
        foreach (var (from, (to, with)) in changes)
        {
            filled.Append(text, at, from - at).Append(with);
            at = to;
        }
        filled.Append(text, at, text.Length - at);
        return (byte[])[.. content[..decoded.Mark], .. decoded.Coding.GetBytes(filled.ToString())];
    }
}

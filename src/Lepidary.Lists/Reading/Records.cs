using System.Text.RegularExpressions;
using Lepidary.Lists.Formats;

namespace Lepidary.Lists.Reading;

/// <summary>Offers set one fact below the other, each with its title: "Species: Papilio thoas", "Price: 2.10", "Stock: 40".</summary>
internal static partial class Records
{
    private const int LongestRecord = 12;

    /// <summary>Joins the lines of each such offer to one row; a sheet without any comes back as it was.</summary>
    public static Sheet Join(Sheet sheet)
    {
        var facts = sheet.Rows.Select(row => row.Quoted ? null : Fact(row)).ToList();
        var first = facts.Where(fact => fact is { Role: ColumnRole.Name }).GroupBy(fact => fact!.Title).OrderByDescending(group => group.Count()).FirstOrDefault();
        if (first is null || first.Count() < 3)
            return sheet;
        var rows = new List<Row>();
        for (var i = 0; i < sheet.Rows.Count; i++)
        {
            var row = sheet.Rows[i];
            if (facts[i] is not { Role: ColumnRole.Name } name || name.Title != first.Key || row.FurtherLines.Count > 0)
            {
                rows.Add(row);
                continue;
            }
            var further = new List<string>();
            var said = new List<string> { name.Value };
            while (further.Count < LongestRecord && i + 1 < sheet.Rows.Count && sheet.Rows[i + 1].Number == row.Number + further.Count + 1 && sheet.Rows[i + 1].FurtherLines.Count == 0 && facts[i + 1] is { } next && next.Title != first.Key)
            {
                i++;
                further.Add(sheet.Rows[i].Text);
                if (next.Role is not (ColumnRole.Aside or ColumnRole.Order or ColumnRole.Total))
                    said.Add(next.Role is ColumnRole.Common or ColumnRole.Note or ColumnRole.Family ? next.Value : $"{next.Title}: {next.Value}");
            }
            rows.Add(further.Count == 0 ? row : row with { Cells = [new Cell(0, string.Join(" | ", said))], FurtherLines = further });
        }
        return sheet with { Rows = rows };
    }

    private sealed record Titled(ColumnRole Role, string Title, string Value);

    private static Titled? Fact(Row row)
    {
        var cells = row.Content.ToList();
        var text = cells.Count switch
        {
            1 => cells[0].Text,
            2 => $"{cells[0].Text.TrimEnd(':', ' ')}: {cells[1].Text}",
            _ => "",
        };
        return Pair().Match(text) is { Success: true } pair && (ColumnTitles.Read(pair.Groups["title"].Value) ?? ColumnTitles.Guess(pair.Groups["title"].Value)) is { Bare: false } says
            ? new Titled(says.Role, pair.Groups["title"].Value, pair.Groups["value"].Value.Trim())
            : null;
    }

    [GeneratedRegex(@"^[-*•]?\s*(?<title>\p{L}[\p{L} ./()]{1,30}?)\s*[:=]\s+(?<value>\S.{0,120})$")]
    private static partial Regex Pair();
}

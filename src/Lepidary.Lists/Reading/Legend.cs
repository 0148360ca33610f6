using System.Text.RegularExpressions;
using Lepidary.Lists.Formats;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>
/// Codes that stand in a column and what the list says elsewhere that they mean: "A 1.10, B 1.35" over rows that print A or B, "+++ more than 50"
/// below them. A code is put in the place of what it means before anything else is read.
/// </summary>
internal sealed partial class Legend(NameReader names, char? decimalMark)
{
    private const int LongestCode = 4, MostCodes = 15, LongestDefinition = 300;

    private const double SamePlace = 0.7;

    /// <summary>A column of codes: its codes, and what each means.</summary>
    /// <param name="Column">From 0.</param>
    /// <param name="Meanings">Texts by code.</param>
    /// <param name="ArePrices">True when each means an amount.</param>
    private sealed record Key(int Column, Dictionary<string, string> Meanings, bool ArePrices);

    /// <summary>The rows of a sheet with their codes replaced, the rows that only explain them, and the columns that now hold prices or stock.</summary>
    /// <param name="Sheet">With what the codes mean in their place.</param>
    /// <param name="Explaining">Rows that explain codes.</param>
    /// <param name="Roles">What the columns of codes hold.</param>
    public sealed record Applied(Sheet Sheet, IReadOnlySet<Row> Explaining, IReadOnlyDictionary<int, ColumnRole> Roles);

    /// <summary>Replaces the codes of a sheet.</summary>
    /// <param name="sheet">As the format gave it.</param>
    /// <param name="source">All sheets: terms often stand on one of their own.</param>
    public Applied Apply(Sheet sheet, Source source)
    {
        var offers = sheet.Rows.Where(row => !row.Quoted && Pieces(row) is { Count: > 1 } pieces && pieces.Exists(piece => names.IsScientific(piece.Text) || names.IsCommon(piece.Text))).ToList();
        sheet = Titled(sheet, source);
        var nothing = new Applied(sheet, new HashSet<Row>(), new Dictionary<int, ColumnRole>());
        if (offers.Count < 3)
            return nothing;
        var others = source.Sheets.Where(other => !other.Hidden).SelectMany(other => other.Rows).Where(row => !row.Quoted && row.Text.Length <= LongestDefinition && row.Content.Any()).Except(offers).ToList();
        var found = new List<(Key Key, List<Row> Rows)>();
        foreach (var column in offers.SelectMany(Pieces).GroupBy(piece => piece.Column).Where(group => group.Count() * 2 >= offers.Count))
        {
            var codes = column.Select(cell => cell.Text).Where(text => Code().IsMatch(text)).ToList();
            var distinct = codes.Distinct().ToList();
            if (codes.Count < column.Count() * SamePlace || distinct.Count is < 2 or > MostCodes || distinct.Count > codes.Count * 0.7)
                continue;
            var (key, rows) = Explained(column.Key, distinct, others);
            if (key is not null)
                found.Add((key, rows));
        }
        if (found.Count == 0)
            return nothing;
        var explaining = found.SelectMany(one => one.Rows).ToHashSet();
        var replaced = sheet.Rows.Select(row => offers.Contains(row) ? Replace(row, [.. found.Select(one => one.Key)]) : row).ToList();
        return new Applied(sheet with { Rows = replaced }, explaining, found.ToDictionary(one => one.Key.Column, one => one.Key.ArePrices ? ColumnRole.Price : ColumnRole.Status));
    }

    /// <summary>Titles that are letters, and what the list says of them: "column A: up to 9, column B: 10 to 49" over A and B.</summary>
    private Sheet Titled(Sheet sheet, Source source)
    {
        for (var i = 0; i < sheet.Rows.Count; i++)
        {
            var row = sheet.Rows[i];
            var codes = row.Content.Count() < 3 ? [] : row.Content.Select(cell => cell.Text).Where(text => TitleCode().IsMatch(text)).ToList();
            if (row.Quoted || codes.Count < 2 || codes.Distinct().Count() < codes.Count || row.Content.Any(cell => names.IsScientific(cell.Text)) || row.Content.Count(cell => cell.Text.Any(char.IsLetter)) * 2 < row.Content.Count())
                continue;
            var pattern = new Regex($@"(?<![\p{{L}}\d])(?<code>{string.Join('|', codes.Select(Regex.Escape))})(?![\p{{L}}\d]|[.,]\d)\s*[=:)–—-]\s*", RegexOptions.None, TimeSpan.FromSeconds(1));
            var said = new Dictionary<string, string>();
            foreach (var other in source.Sheets.Where(other => !other.Hidden).SelectMany(other => other.Rows).Where(other => other != row && !other.Quoted && other.Text.Length <= LongestDefinition))
            {
                var text = string.Join(' ', other.Content.Select(cell => cell.Text));
                var matches = pattern.Matches(text);
                for (var j = 0; j < matches.Count; j++)
                {
                    var value = text[(matches[j].Index + matches[j].Length)..(j + 1 < matches.Count ? matches[j + 1].Index : text.Length)].Split(',', ';', '(', '.', '|')[0].Trim();
                    if (ColumnTitles.Read(value) is not null)
                        said.TryAdd(matches[j].Groups["code"].Value, value);
                }
            }
            if (said.Count < codes.Count)
                continue;
            var cells = row.Cells.Select(cell => said.TryGetValue(cell.Text, out var value) ? cell with { Text = value, Number = null } : cell).ToList();
            return sheet with { Rows = [.. sheet.Rows.Select(other => other == row ? row with { Cells = cells } : other)] };
        }
        return sheet;
    }

    /// <summary>The cells of a row, or what a line of text puts side by side with wide gaps.</summary>
    private static List<(int Column, string Text)> Pieces(Row row)
    {
        var cells = row.Content.ToList();
        return cells is [{ } only] ? [.. only.Text.Split(Gap).Select((text, i) => (i, text))] : cells.ConvertAll(cell => (cell.Column, cell.Text));
    }

    private const string Gap = " | ";

    private static Row Replace(Row row, List<Key> keys)
    {
        string Meant(int column, string text) => keys.Find(key => key.Column == column) is { } key && key.Meanings.TryGetValue(text, out var meaning) ? meaning : text;
        return row.Content.ToList() is [{ } only]
            ? row with { Cells = [only with { Text = string.Join(Gap, only.Text.Split(Gap).Select((text, i) => Meant(i, text))) }] }
            : row with { Cells = [.. row.Cells.Select(cell => Meant(cell.Column, cell.Text) is var meant && meant != cell.Text ? cell with { Text = meant, Number = null } : cell)] };
    }

    private (Key? Key, List<Row> Rows) Explained(int column, List<string> codes, List<Row> others)
    {
        var any = string.Join('|', codes.OrderByDescending(code => code.Length).Select(Regex.Escape));
        var pattern = new Regex($@"(?<![\p{{L}}\d+*.,])(?<code>{any})(?![\p{{L}}\d+*]|[.,]\d)\s*(?<sign>[=:–—-]>?)?\s*", RegexOptions.None, TimeSpan.FromSeconds(1));
        var said = new Dictionary<string, string>();
        var rows = new List<Row>();
        foreach (var row in others)
        {
            var text = string.Join(' ', row.Content.Select(cell => cell.Text));
            var matches = pattern.Matches(text).Where(match => match.Groups["sign"].Success || match.Index + match.Length < text.Length).ToList();
            if (matches.Count == 0)
                continue;
            var values = matches.Select((match, i) => (Code: match.Groups["code"].Value, Signed: match.Groups["sign"].Success, Text: Value(text[(match.Index + match.Length)..(i + 1 < matches.Count ? matches[i + 1].Index : text.Length)]))).Where(value => value.Text.Length > 0).ToList();
            // "S) 1.80, medium (": what stands before the next code in brackets is its label.
            values = values.ConvertAll(value => FirstAmount().Match(value.Text) is { Success: true } amount && !value.Text[amount.Length..].Any(char.IsAsciiDigit) ? value with { Text = amount.Groups["amount"].Value.Trim() } : value);
            var amounts = values.FindAll(value => Amount(value.Text) is not null);
            // Letters and digits stand in every sentence: amounts side by side or signs of equation show that these are explained.
            var explains = amounts.Count >= 2 && amounts.Count == values.Count
                || values.Count > 0 && values.TrueForAll(value => value.Signed && value.Text.Any(char.IsLetterOrDigit) && value.Text.Length <= 60)
                || values.Count(value => !value.Code.Any(char.IsLetterOrDigit)) >= 2
                || values.Count == 1 && (matches[0].Index == 0 || Label().IsMatch(text[..matches[0].Index])) && (amounts.Count == 1 && row.Content.Count() <= 3 || (!values[0].Code.Any(char.IsDigit) && row.Content.Count() == 2));
            if (!explains)
                continue;
            foreach (var (code, _, value) in values)
                said.TryAdd(code, value);
            rows.Add(row);
        }
        if (said.Count < 2 || said.Count < codes.Count * SamePlace)
            return (null, []);
        var prices = said.Values.Count(value => Amount(value) is not null) == said.Count;
        if (!prices && said.Keys.Any(code => code.All(char.IsDigit)))
            return (null, []);
        return (new Key(column, prices ? said : said.ToDictionary(pair => pair.Key, pair => InStock(pair.Key, pair.Value)), prices), rows);
    }

    /// <summary>What stands behind a code, up to the next.</summary>
    private static string Value(string text) => LabelOfNext().Replace(text, "").Trim(' ', ',', ';', '/', '|', '(', ')', '·', '•', '.', '-', '–');

    private string? Amount(string text)
    {
        if (text.Length > 25)
            return null;
        var facts = FactReader.Read(text, decimalMark);
        return facts.Prices.Count == 1 && facts.Texts.Count == 0 ? text : null;
    }

    /// <summary>What a code says of the stock: gone, or there. A number in it is the least of a class, and no count.</summary>
    private string InStock(string code, string text)
    {
        var facts = FactReader.Read(text, decimalMark);
        var whole = ColumnEvidence.Whole(text);
        if (facts.SoldOut || whole.Contains(Meaning.SoldOut) || whole.Contains(Meaning.No) || whole.Contains(Meaning.Later) || whole.Contains(Meaning.None))
            return "sold out";
        var tokens = Tokeniser.Cut(text, decimalMark);
        var stock = tokens.Exists(token => token.Is(Meaning.Plenty) || token.Is(Meaning.Limited) || token.Is(Meaning.Available) || token.Is(Meaning.Left) || token.Is(Meaning.Yes) || token.Is(Meaning.From)) || tokens.Exists(token => token.IsWhole);
        return stock ? "in stock" : code.Any(char.IsLetterOrDigit) ? text : "in stock";
    }

    [GeneratedRegex(@"^(?:[A-Z]{1,2}\d?|[a-z]|\d{1,2}|I{1,3}|IV|V|[+*•●○■□▲△✓✔✗✘xXoO–—-]{1,5}|[A-Z][a-z]?\d?)$")]
    private static partial Regex Code();

    [GeneratedRegex(@"^[\s)\]=:]*(?<amount>(?:£|€|\$|US\$|EUR|GBP|USD|CHF)?\s?\d{1,3}[.,]\d{2}\s?(?:£|€|\$|EUR|GBP|USD|CHF)?|(?:£|€|\$)\s?\d{1,3}(?![.,\d])|\d{2,4}\s?(?:p|ct|c|¢)(?!\p{L}))")]
    private static partial Regex FirstAmount();

    /// <summary>"Gruppe A 1,45": one word before the code.</summary>
    [GeneratedRegex(@"^\p{L}{3,14}\.?\s+$")]
    private static partial Regex Label();

    [GeneratedRegex(@"^(?:[A-H]|[A-Z]\d|I{1,3}|IV|V|\d)$")]
    private static partial Regex TitleCode();

    [GeneratedRegex(@"(?<=[,;.]\s?)\p{L}{1,14}\.?\s*$")]
    private static partial Regex LabelOfNext();
}

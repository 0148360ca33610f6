using System.Globalization;
using System.Text.RegularExpressions;
using Lepidary.Lists.Formats;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>Turns rows into drafts: what each cell says, by the title over it or, without one, by its words.</summary>
internal sealed partial class RowReader(char? decimalMark)
{
    /// <summary>A row that is no row of a table: all of it is one text.</summary>
    public Draft Line(Sheet sheet, Row row, bool titles = false)
    {
        var cells = row.Content.ToList();
        var draft = New(sheet, row, row.Text, cells, inTable: false, titles);
        if (titles || cells.Count == 0)
            return draft;
        var text = string.Join(" | ", cells.Select(cell => cell.Text));
        draft.Struck = cells.TrueForAll(cell => cell.Struck);
        draft.Facts = FactReader.Read(TakeDitto(draft, text), decimalMark);
        if (draft.Facts.Prices.Count == 0 && cells.Count > 1 && cells.Skip(1).FirstOrDefault(cell => cell.Number is not null) is { Number: { } amount } sum)
            draft.Facts.Prices.Add(new PrintedPrice(amount, sum.Currency));
        draft.NameTexts.AddRange(draft.Facts.Texts);
        // "Port 15 par colis": a charge in whole money.
        if (!draft.HasPrice && draft.Facts.Bare is [{ IsWhole: true, Value: > 0 } whole] && Classifier.IsCharge(draft.Meanings) && !draft.Says(Meaning.AtCost) && !draft.Says(Meaning.From) && !draft.Says(Meaning.Minimum) && !draft.Says(Meaning.WholeOrder)
            && (draft.Says(Meaning.PerBox) || draft.Says(Meaning.PerShipment) || draft.Says(Meaning.PerPermit) || draft.Says(Meaning.PerOrder)) && draft.Words <= 14)
        {
            draft.Facts.Prices.Add(new PrintedPrice(whole.Value, null, Marked: true));
            draft.Facts.Bare.Clear();
        }
        // "Papilio memnon, about thirty at 2.40"
        if (draft.Facts is { Available: null, Bare.Count: 0, CountWords: [var said], Prices.Count: > 0 } && draft.Words <= 14)
            draft.Facts.Available = said;
        foreach (var bare in draft.Facts.Bare.Where(token => token.IsWhole))
            draft.Unexplained.Add(new Unexplained(PlaceOf(text, bare), (int)bare.Value));
        if (draft.Facts.Times is { } times)
            draft.Unexplained.Add(new Unexplained("in front, with x", times));
        return draft;
    }

    /// <summary>A row of a table, or its part in one block.</summary>
    public Draft TableRow(Sheet sheet, Row row, Block block, bool onlyBlock)
    {
        var cells = row.Content.Where(cell => onlyBlock || (cell.Column >= block.From && cell.Column <= block.To)).ToList();
        var text = onlyBlock ? row.Text : string.Join(" | ", cells.Select(cell => cell.Text));
        var draft = New(sheet, row, text, cells, inTable: true, titles: false, block.Columns.FirstOrDefault(column => column is { Role: ColumnRole.Order, Hidden: false }));
        var byColumn = block.Columns.ToDictionary(column => column.Index);
        draft.BelowPriceTitle = block.Columns.Any(column => column is { Role: ColumnRole.Price, Hidden: false, Title.Length: > 0 });
        string? genus = null, epithet = null;
        // A row struck as a whole is an offer taken back; its price is no old one beside a new.
        if (cells.Count > 1 && cells.TrueForAll(cell => cell.Struck))
        {
            draft.Struck = true;
            cells = cells.ConvertAll(cell => cell with { Struck = false });
        }
        foreach (var cell in cells)
        {
            var column = byColumn.GetValueOrDefault(cell.Column);
            // "SOLD OUT" is often written over whatever column has room.
            if (column?.Role is ColumnRole.Pack or ColumnRole.Minimum or ColumnRole.Order or ColumnRole.Total or ColumnRole.OldPrice or ColumnRole.Aside or ColumnRole.Origin or ColumnRole.Code
                && ColumnEvidence.Whole(cell.Text).Contains(Meaning.SoldOut))
            {
                draft.Facts.SoldOut = true;
                Remark(draft, cell.Text);
                continue;
            }
            switch (column?.Role)
            {
                case ColumnRole.Name:
                    Name(draft, cell);
                    break;
                case ColumnRole.Common:
                    Common(draft, cell);
                    break;
                case ColumnRole.Genus:
                    genus = cell.Text;
                    break;
                case ColumnRole.Epithet:
                    epithet = cell.Text;
                    draft.Struck |= cell.Struck;
                    break;
                case ColumnRole.Form:
                    var said = ColumnEvidence.Whole(cell.Text);
                    draft.Facts.Cocoon |= said.Contains(Meaning.Cocoon);
                    draft.Facts.Pupa |= said.Contains(Meaning.Pupa);
                    draft.FormText = IsDash(cell.Text) || said.Contains(Meaning.Cocoon) || said.Contains(Meaning.Pupa) ? null : cell.Text;
                    break;
                case ColumnRole.Family:
                    draft.FamilyText = cell.Text;
                    break;
                case ColumnRole.Price:
                    Price(draft, cell, column.Says);
                    break;
                case ColumnRole.OldPrice:
                    break;
                case ColumnRole.Pack:
                    Pack(draft, cell);
                    break;
                case ColumnRole.Minimum:
                    Minimum(draft, cell, column.Says);
                    break;
                case ColumnRole.Available:
                    Available(draft, cell, column.Says);
                    break;
                case ColumnRole.Status:
                    if (!Status(draft, cell) && column.Title.Length > 0 && WholeNumber(cell) is { } count)
                        draft.Unexplained.Add(new Unexplained($"column {cell.Column + 1}", count));
                    break;
                case ColumnRole.Note or ColumnRole.Kind:
                    Note(draft, cell);
                    // "40, min 5" in a column of remarks, where no other column can say how many there are.
                    if (column.Role == ColumnRole.Note && draft.Facts is { Available: null, SoldOut: false } && !block.Has(ColumnRole.Available) && !block.Has(ColumnRole.Quantity) && !block.Has(ColumnRole.Status) && CountFirst().Match(cell.Text) is { Success: true } counted)
                        draft.Unexplained.Add(new Unexplained($"column {cell.Column + 1}", int.Parse(counted.Groups["n"].Value, CultureInfo.InvariantCulture)));
                    break;
                case ColumnRole.Currency when Currencies.Find(cell.Text) is { } code:
                    for (var i = 0; i < draft.Facts.Prices.Count; i++)
                        draft.Facts.Prices[i] = draft.Facts.Prices[i] with { Currency = draft.Facts.Prices[i].Currency ?? code };
                    break;
                case ColumnRole.Unknown when column.Title.Length == 0:
                    Untitled(draft, cell);
                    break;
                case ColumnRole.Unknown when !cell.Hidden && column.Title.Any(char.IsLetter) && !IsDash(cell.Text) && cell.Text.Any(char.IsAsciiDigit) && !Measure().IsMatch(cell.Text):
                    draft.LeftOut.Add(column.Title);
                    break;
                case null when !cell.Hidden:
                    Note(draft, cell);
                    break;
                default:
                    break;
            }
        }
        if (draft.Facts.Pack is null && block.Columns.FirstOrDefault(column => column.Says.OfPack) is { Says.Per: { } ofPack })
            draft.Facts.Pack = ofPack;
        // "Price per 10" beside "packs in stock": so many come together.
        if (draft.Facts.Pack is null && (draft.Facts.AvailableInPacks || draft.OrderColumn is { Says.InPacks: true }) && draft.Facts.Prices.Find(price => price.Per > 1) is { Per: { } per })
            draft.Facts.Pack = per;
        if (epithet is not null)
        {
            var ditto = genus is null || DittoMark().IsMatch(genus + " ");
            draft.Ditto |= ditto;
            draft.NameTexts.Insert(0, ditto ? epithet : $"{genus} {epithet}");
        }
        else if (genus is not null)
        {
            draft.NameTexts.Add(genus);
        }
        return draft;
    }

    private Draft New(Sheet sheet, Row row, string text, List<Cell> cells, bool inTable, bool titles, Column? order = null)
    {
        var draft = new Draft { Row = row, Sheet = sheet, Text = text, InTable = inTable && cells.Count > 1, IsTitles = titles, OrderColumn = order };
        foreach (var cell in cells)
        {
            foreach (var token in Tokeniser.Cut(cell.Text, decimalMark))
            {
                draft.Meanings.UnionWith(token.Meanings);
                if (token.Kind is TokenKind.Word)
                    draft.Words += token.Text.Count(char.IsWhiteSpace) + 1;
            }
            if (cell.Text.Length > Tokeniser.LongestLine)
                draft.Words += cell.Text.Count(char.IsWhiteSpace);
        }
        return draft;
    }

    /// <summary>A ditto mark at the front stands for the genus above.</summary>
    private static string TakeDitto(Draft draft, string text)
    {
        var mark = DittoMark().Match(text);
        if (!mark.Success)
            return text;
        draft.Ditto = true;
        return text[mark.Length..];
    }

    private void Name(Draft draft, Cell cell)
    {
        draft.Struck |= cell.Struck;
        var facts = FactReader.Read(TakeDitto(draft, cell.Text), decimalMark);
        draft.NameTexts.AddRange(facts.Texts);
        foreach (var bare in facts.Bare.Where(token => token.IsWhole))
            draft.Unexplained.Add(new Unexplained("in the name's column, " + PlaceOf(cell.Text, bare), (int)bare.Value));
        if (facts.Times is { } times)
            draft.Unexplained.Add(new Unexplained("in the name's column, in front, with x", times));
        draft.AmountBesideName = facts.Prices.Count > 0;
        Merge(draft, facts, stock: true, prices: facts.Prices.Exists(price => price.Marked));
    }

    private void Common(Draft draft, Cell cell)
    {
        var facts = FactReader.Read(cell.Text, decimalMark);
        if (facts.Texts.Count > 0)
            draft.CommonName = draft.CommonName is null ? string.Join(", ", facts.Texts) : $"{draft.CommonName}, {string.Join(", ", facts.Texts)}";
        Merge(draft, facts, stock: facts.SoldOut || facts.Pack is not null, prices: false);
    }

    private void Price(Draft draft, Cell cell, ColumnTitle says)
    {
        if (DittoMark().IsMatch(cell.Text + " "))
        {
            draft.PriceDitto = says.From == 1;
            return;
        }
        if (IsDash(cell.Text))
            return;
        // "-5 %" below "from 10"
        if (Percent().Match(cell.Text) is { Success: true } percent && says.From > 1 && NumberText.Read(percent.Groups["n"].Value, decimalMark) is var (less, _))
        {
            draft.Facts.PercentBreaks.Add((says.From, less));
            return;
        }
        if (cell.Number is { } number)
        {
            Add(new PrintedPrice(number, cell.Currency, Marked: true));
            return;
        }
        var facts = FactReader.Read(cell.Text, decimalMark);
        if (facts.Prices.Count == 0 && facts.Bare.Count > 0)
        {
            var first = facts.Bare[0];
            var negative = cell.Text.TrimStart().StartsWith('-');
            Add(new PrintedPrice(negative ? -first.Value : first.Value, first.Currency, Marked: true));
            facts.Bare.Clear();
        }
        else
        {
            var steps = says.Steps.Count == facts.Prices.Count && facts.Prices.TrueForAll(price => price is { From: 1, Per: null });
            foreach (var (price, i) in facts.Prices.Select((price, i) => (price, i)))
                Add(steps ? price with { From = says.Steps[i], Per = 1 } : price);
            facts.Prices.Clear();
            if (facts.FromPrice)
                draft.Facts.FromPrice = true;
        }
        Merge(draft, facts, stock: true, prices: false);
        if (cell.Text.StartsWith('#') && cell.Text.EndsWith('!'))
            draft.Doubts.Add($"The price's cell shows an error ({cell.Text}): ask the supplier for the price.");

        if (cell.Hidden)
            draft.Doubts.Add("The price stands in a hidden column of the workbook: ask the supplier whether it holds.");

        void Add(PrintedPrice price)
        {
            var (amount, currency) = says.Currency == FactReader.Minor && price.Currency is null ? (price.Amount / 100, FactReader.Minor) : (price.Amount, price.Currency ?? says.Currency);
            var whole = price with { Amount = amount, Currency = currency, From = price.From > 1 ? price.From : says.From, Per = price.Per ?? says.Per, Marked = true };
            (cell.Struck ? draft.Facts.OldPrices : draft.Facts.Prices).Add(whole);
        }
    }

    private void Pack(Draft draft, Cell cell)
    {
        if (IsDash(cell.Text))
            return;
        if (WholeNumber(cell) is { } size)
        {
            draft.Facts.Pack = size;
            return;
        }
        // "piece", "Stück" in a column of units: the price is for one, whatever the packs.
        if (ColumnEvidence.Whole(cell.Text) is var unit && (unit.Contains(Meaning.Pieces) || unit.Contains(Meaning.Each) || unit.Contains(Meaning.Pupa)))
        {
            draft.Facts.PriceForOne = true;
            return;
        }
        if (Tokeniser.Cut(cell.Text, decimalMark) is [{ Kind: TokenKind.Word } word] && FactReader.CountOrWord(word) is > 1 and var several)
        {
            draft.Facts.Pack = several;
            return;
        }
        var facts = FactReader.Read(cell.Text, decimalMark);
        draft.Facts.Pack ??= facts.Pack ?? (facts.Bare.Count > 0 && facts.Bare[^1].IsWhole ? (int)facts.Bare[^1].Value : facts.Available);
    }

    private void Minimum(Draft draft, Cell cell, ColumnTitle says)
    {
        if (IsDash(cell.Text))
            return;
        var facts = FactReader.Read(cell.Text, decimalMark);
        draft.Facts.Minimum = WholeNumber(cell) ?? facts.Minimum ?? facts.Available ?? facts.Pack ?? (facts.Bare.Count > 0 && facts.Bare[0].IsWhole ? (int)facts.Bare[0].Value : null);
        if (draft.Facts.Minimum is null && facts.Texts.Count > 0)
            draft.Doubts.Add($"\"{cell.Text}\" stands where the smallest number is expected, and is not understood: say what it means.");
        draft.Facts.MinimumInPacks = says.InPacks || facts.MinimumInPacks || facts.AvailableInPacks;
    }

    private void Available(Draft draft, Cell cell, ColumnTitle says)
    {
        if (says.InPacks)
            draft.Facts.AvailableInPacks = true;
        if (cell.Struck || IsDash(cell.Text))
        {
            draft.Facts.SoldOut = true;
            return;
        }
        if (WholeNumber(cell) is { } count)
        {
            draft.Facts.Available = count;
            draft.Facts.SoldOut |= count == 0;
            return;
        }
        if (cell.Number is { } odd)
        {
            if (odd < 0)
                draft.Facts.SoldOut = true;
            draft.Doubts.Add($"{odd.ToString(CultureInfo.InvariantCulture)} stands where the number available is expected: ask the supplier how many there are.");
            return;
        }
        // "4 boxes"
        if (Tokeniser.Cut(cell.Text, decimalMark) is [{ IsWhole: true, Currency: null } number, { Kind: TokenKind.Word } unit] && !unit.Is(Meaning.Pieces) && (unit.Is(Meaning.Box) || unit.Is(Meaning.PackOf) || unit.Is(Meaning.Packs) || unit.Is(Meaning.PerPack) || unit.Is(Meaning.Packing)))
        {
            (draft.Facts.Available, draft.Facts.AvailableInPacks) = ((int)number.Value, true);
            draft.Facts.SoldOut |= number.Value == 0;
            return;
        }
        if (!Status(draft, cell) && cell.Date is null)
        {
            var facts = FactReader.Read(cell.Text, decimalMark);
            if (cell.Text.TrimStart() is ['<' or '≤', ..])
            {
                draft.Facts.InStock = true;
                draft.Doubts.Add($"\"{cell.Text}\" says that there are few and not how many: ask the supplier.");
            }
            else if (draft.Facts.Available is null && facts.Bare.Count > 0 && facts.Bare[0] is { IsWhole: true } first)
            {
                var negative = cell.Text.TrimStart().StartsWith('-');
                draft.Facts.Available = negative ? null : (int)first.Value;
                if (negative || first.Value == 0)
                    draft.Facts.SoldOut = true;
                if (negative)
                    draft.Doubts.Add($"\"{cell.Text}\" stands where the number available is expected: ask the supplier how many there are.");
            }
            else if (draft.Facts.Available is null && !draft.Facts.SoldOut)
            {
                draft.Doubts.Add($"\"{cell.Text}\" stands where the number available is expected, and is not understood: say what it means.");
            }
        }
    }

    /// <summary>There, limited, sold out, not yet: true when a word of the cell says so.</summary>
    private bool Status(Draft draft, Cell cell)
    {
        // "12, more next week": twelve now.
        if (cell.Date is null && Now().Match(cell.Text) is { Success: true } now && Tokeniser.Cut(now.Groups["more"].Value, decimalMark) is var more && more.Exists(token => token.Is(Meaning.Later)) && !more.Exists(token => token.Is(Meaning.SoldOut)))
        {
            draft.Facts.Available = int.Parse(now.Groups["now"].Value, CultureInfo.InvariantCulture);
            draft.Facts.SoldOut |= draft.Facts.Available == 0;
            Remark(draft, cell.Text);
            return true;
        }
        var whole = ColumnEvidence.Whole(cell.Text);
        if (cell.Struck || IsDash(cell.Text) || whole.Contains(Meaning.SoldOut) || whole.Contains(Meaning.No) || whole.Contains(Meaning.Later))
        {
            draft.Facts.SoldOut = true;
            Remark(draft, cell.Text);
            return true;
        }
        if (whole.Contains(Meaning.Yes) || whole.Contains(Meaning.Plenty) || whole.Contains(Meaning.Limited) || whole.Contains(Meaning.Available))
        {
            draft.Facts.InStock = true;
            if (!whole.Contains(Meaning.Yes))
                Remark(draft, cell.Text);
            return true;
        }
        var facts = FactReader.Read(cell.Text, decimalMark);
        // A day in the place of a number: not this week.
        var laterDay = cell.Date is not null || (DateReader.Find(cell.Text).Exists(date => date.Month != 0) && facts.Available is null) || LaterMonth().IsMatch(Folded.Of(cell.Text));
        if (laterDay && !facts.SoldOut)
        {
            facts.InStock = true;
            draft.Doubts.Add($"\"{cell.Text}\" stands where the number available is expected: it seems not to be on hand yet.");
        }
        Merge(draft, facts, stock: true, prices: false);
        if (facts.SoldOut || facts.Texts.Count > 0)
            Remark(draft, cell.Text);
        return laterDay || facts.SoldOut || facts.Available is not null;
    }

    private void Note(Draft draft, Cell cell)
    {
        // "per 4", "5er", "10s"
        if (SoldBy().Match(cell.Text) is { Success: true } by && int.Parse(by.Groups["n"].Value, CultureInfo.InvariantCulture) is > 1 and var size)
        {
            draft.Facts.Pack ??= size;
            Remark(draft, cell.Text);
            return;
        }
        if (Together(cell.Text) is { } many)
        {
            draft.Facts.Pack ??= many;
            Remark(draft, cell.Text);
            return;
        }
        var facts = FactReader.Read(cell.Text, decimalMark);
        var soldOut = ColumnEvidence.Whole(cell.Text) is var whole && (whole.Contains(Meaning.SoldOut) || whole.Contains(Meaning.Later));
        // Beside a number on hand "next week" speaks of more to come.
        facts.SoldOut = soldOut || (facts.SoldOut && draft.Facts.Available is null or 0 && StartsWithSoldOut(cell.Text));
        // "from 20: 1.95" is a price wherever it stands; any other sum in a remark is not for this line to be sold at.
        facts.Prices.RemoveAll(price => !(price.Marked && price.From > 1));
        Merge(draft, facts, stock: true, prices: facts.Prices.Count > 0);
        Remark(draft, cell.Text);
    }

    /// <summary>"le lot de 5", "für 5 Stück", "the ten": a remark of nothing but how many come together; whether the price is theirs, the list's other prices say.</summary>
    private int? Together(string text)
    {
        var tokens = Tokeniser.Cut(text, decimalMark).FindAll(token => token.Kind != TokenKind.Sign);
        var numbers = tokens.FindAll(token => FactReader.CountOrWord(token) is > 1 && token.Currency is null && !token.Is(Meaning.Packs));
        if (numbers is not [{ } number] || tokens.Count is < 2 or > 7)
            return null;
        var joins = false;
        foreach (var token in tokens.Where(token => token != number))
        {
            var packs = token.Is(Meaning.PackOf) || token.Is(Meaning.PerPack) || token.Is(Meaning.Packs) || token.Is(Meaning.Packed) || token.Is(Meaning.SoldIn);
            var article = token.Kind == TokenKind.Word && token.Text.ToLowerInvariant() is "the" or "die" or "der" or "das" or "les" or "le" or "la" or "los" or "las" or "el" or "il" or "lo" or "i" or "gli" or "de" or "of" or "à" or "a" or "van" or "da" or "di" or "in" or "en" or "zu" or "mit";
            if (token.Is(Meaning.Only) || token.Is(Meaning.Minimum) || !(packs || article || token.Is(Meaning.Per) || token.Is(Meaning.For) || token.Is(Meaning.Pieces) || token.Is(Meaning.Pupa)))
                return null;
            joins |= packs || (token != tokens[^1] && !token.Is(Meaning.Pieces));
        }
        return joins ? FactReader.CountOrWord(number) : null;
    }

    private bool StartsWithSoldOut(string text) => Tokeniser.Cut(text, decimalMark) is [var first, ..] && first.Is(Meaning.SoldOut);

    private void Untitled(Draft draft, Cell cell)
    {
        if (IsDash(cell.Text))
            return;
        if (WholeNumber(cell) is { } count && cell.Currency is null)
        {
            draft.Unexplained.Add(new Unexplained($"column {cell.Column + 1}", count));
            return;
        }
        if (Status(draft, cell))
            return;
        var facts = FactReader.Read(cell.Text, decimalMark);
        foreach (var bare in facts.Bare.Where(token => token.IsWhole))
            draft.Unexplained.Add(new Unexplained($"column {cell.Column + 1}", (int)bare.Value));
        draft.NameTexts.AddRange(facts.Texts);
    }

    private static void Remark(Draft draft, string text) => draft.Note = draft.Note is null || draft.Note == text ? text : $"{draft.Note}; {text}";

    /// <summary>Adds what a cell says to what the row says; what was said first stays.</summary>
    private static void Merge(Draft draft, Facts more, bool stock, bool prices)
    {
        var facts = draft.Facts;
        facts.Mix |= more.Mix;
        facts.Cocoon |= more.Cocoon;
        facts.Pupa |= more.Pupa;
        if (prices)
            facts.Prices.AddRange(more.Prices);
        facts.OldPrices.AddRange(more.OldPrices);
        facts.PercentBreaks.AddRange(more.PercentBreaks);
        facts.Charges.AddRange(more.Charges);
        facts.Unread.AddRange(more.Unread);
        if (!stock)
            return;
        facts.Pack ??= more.Pack;
        facts.Lot ??= more.Lot;
        if (facts.Minimum is null)
            (facts.Minimum, facts.MinimumInPacks) = (more.Minimum, more.MinimumInPacks);
        if (facts.Available is null && more.Available is not null)
            (facts.Available, facts.AvailableInPacks) = (more.Available, more.AvailableInPacks || facts.AvailableInPacks);
        facts.SoldOut |= more.SoldOut;
        facts.InStock |= more.InStock;
    }

    private static int? WholeNumber(Cell cell)
    {
        if (cell.Number is { } number)
            return number >= 0 && number < 1_000_000 && number == decimal.Truncate(number) ? (int)number : null;
        return cell.Text.Length <= 6 && cell.Text.All(char.IsAsciiDigit) ? int.Parse(cell.Text, CultureInfo.InvariantCulture) : null;
    }

    /// <summary>A dash or its like: nothing there.</summary>
    private static bool IsDash(string text) =>
        text.Trim() is "-" or "–" or "—" or "--" or "---" or "n/a" or "N/A" or "n/v" or "n.a." or "✗" or "×" or "./." or "/" or "n.v." or "nvt" or "n.v.t.";

    private static string PlaceOf(string text, Token token)
    {
        var before = text[..token.Start].TrimEnd();
        var after = text[token.End..].TrimStart(' ', '+', '.', '!');
        if (before.EndsWith(" x", StringComparison.OrdinalIgnoreCase) || before.EndsWith('×'))
            return "behind, with x";
        if (before.LastIndexOfAny(['(', '[']) > before.LastIndexOfAny([')', ']']))
            return "in brackets";
        if (after.StartsWith('@'))
            return "at a price";
        if (before.Length == 0)
            return "in front";
        return after.Length == 0 ? "at the end" : "inside";
    }

    [GeneratedRegex(@"^\s*[-–−]?\s*(?<n>\d{1,2}(?:[.,]\d)?)\s*%(?:\s*\p{L}+)?\s*$")]
    private static partial Regex Percent();

    [GeneratedRegex(@"^\s*(?:per|je|par|por|in|à|a|da|zu|by)\s+(?<n>\d{1,3})(?:\s*(?:er|s|'s|stk\.?|st\.?|pcs\.?|uds\.?|pz\.?))?\s*$|^\s*(?<n>\d{1,3})(?:er|s|'s|-er)\s*$", RegexOptions.IgnoreCase)]
    private static partial Regex SoldBy();

    [GeneratedRegex(@"^\s*(?<now>\d{1,5})(?:\s?\p{L}{1,7}\.?)?\s?[,;(+/–—-]\s?(?<more>.*\p{L}.*)$")]
    private static partial Regex Now();

    [GeneratedRegex(@"^\s*(?<n>\d{1,5})\s*(?:$|[,;](?!\d))")]
    private static partial Regex CountFirst();

    /// <summary>A size, a time or a span: none of them is a price or a number of pupae.</summary>
    [GeneratedRegex(@"^\s*\d{1,3}(?:[.,]\d)?\s*(?:[-–]\s*\d{1,3}(?:[.,]\d)?\s*\p{L}{0,8}\.?|mm|cm|g|mg|°C?|%|d|days?|weeks?|tage|wochen|jours?|sem\.?|semaines|dias|semanas|dagen|weken|giorni|settimane|h)\s*$", RegexOptions.IgnoreCase)]
    private static partial Regex Measure();

    [GeneratedRegex("^\\s*[-*•]?\\s*(?:-?[\"”“″〃]-?|''|,,|-\"-|(?:do|dto|ditto|id|idem)\\b\\.?)[\\s|]+", RegexOptions.IgnoreCase)]
    private static partial Regex DittoMark();

    [GeneratedRegex(@"^(?:ab|from|des|desde|vanaf|da|mid|mitte|ende|anfang|early|late|debut|mi|fin|medio|begin|eind|half|inizio|meta|fine)\b.*\b(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|mrz|mai|okt|dez|fev|avr|juin|juil|aou|ene|abr|ago|dic|mei|gen|mag|giu|lug|set|ott)\p{L}*\.?$")]
    private static partial Regex LaterMonth();
}

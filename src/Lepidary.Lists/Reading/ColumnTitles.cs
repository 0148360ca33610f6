using System.Text.RegularExpressions;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>What the title of a column says.</summary>
/// <param name="Role">What stands in the column.</param>
internal sealed record ColumnTitle(ColumnRole Role)
{
    /// <summary>For a price: pupae from which it holds.</summary>
    public int From { get; init; } = 1;

    /// <summary>For a price: pupae it pays for; 0 for a pack. For what is ordered: 1 where it says that it counts pupae. Null where not said.</summary>
    public int? Per { get; init; }

    /// <summary>For a price: ISO code in the title, <see cref="FactReader.Minor"/> for pence and cents, or null.</summary>
    public string? Currency { get; init; }

    /// <summary>A bare number: the title of a price break, if it stands among prices.</summary>
    public bool Bare { get; init; }

    /// <summary>True when the number counts packs.</summary>
    public bool InPacks { get; init; }

    /// <summary>True when the keeper said so: no evidence goes before it.</summary>
    public bool Told { get; init; }

    /// <summary>True when the title is only like a known one, cut short or misspelled: what stands below must bear it out.</summary>
    public bool Guessed { get; init; }

    /// <summary>For a price: what it pays for comes as one pack.</summary>
    public bool OfPack { get; init; }

    /// <summary>True when a legend says what its codes mean.</summary>
    public bool Explained { get; init; }

    /// <summary>For several prices in one cell: pupae from which each holds, "Price 1/10/50".</summary>
    public IReadOnlyList<int> Steps { get; init; } = [];
}

/// <summary>Reads the titles of columns.</summary>
internal static partial class ColumnTitles
{
    private const int LongestTitle = 60;

    /// <summary>How many titles stand in a row, if it can be a row of titles at all: it names a species column and holds no amounts.</summary>
    public static int CountIn(IEnumerable<string> cells)
    {
        var count = 0;
        var names = false;
        foreach (var cell in cells)
        {
            if (cell.Any(char.IsAsciiDigit) && Tokeniser.Cut(cell, null).Exists(token => token.Kind == TokenKind.Number && token.Decimals > 0))
                return 0;
            if (Read(cell) is not { Bare: false } title)
                continue;
            count++;
            names |= title.Role is ColumnRole.Name or ColumnRole.Common or ColumnRole.Genus or ColumnRole.Epithet or ColumnRole.Code;
        }
        return names ? count : 0;
    }

    /// <summary>What a title says, or null when it is none that is known.</summary>
    public static ColumnTitle? Read(string text)
    {
        if (text.Length is 0 or > LongestTitle)
            return null;
        // "unit_price_eur", "priceFrom50": as a program names its columns.
        if (!text.Any(char.IsWhiteSpace))
            text = NameInAProgram().Replace(text, " ").Trim();
        var tokens = Tokeniser.Cut(text, null);
        var words = tokens.Where(token => token.Kind is TokenKind.Word or TokenKind.Code or TokenKind.Date).ToList();
        var known = words.Where(word => word.Meanings.Count > 0).ToList();
        if (words.Count - known.Count > known.Count || (words.Count > 0 && words.Count == 2 * known.Count && known.TrueForAll(word => word.Is(Meaning.Pupa) || word.Is(Meaning.Species) || word.Is(Meaning.Firm))) || words.Count > 6)
            return null;
        bool Has(Meaning meaning) => known.Exists(word => word.Is(meaning));
        // "Order (pupae)" is one phrase; what is counted stands in its brackets.
        bool Pieces() => Has(Meaning.Pupa) || Has(Meaning.Pieces) || Vocabulary.Of(text[(text.IndexOf('(', StringComparison.Ordinal) + 1)..].TrimEnd(')')) is var within && (within.Contains(Meaning.Pupa) || within.Contains(Meaning.Pieces));
        var whole = Vocabulary.Of(text.Trim(' ', '.', ':', '*', '(', ')', '?'));
        var currency = tokens.Find(token => token.Kind == TokenKind.Currency)?.Currency;
        var pence = currency is null && known.Exists(word => word.Is(Meaning.Pence) && (Has(Meaning.Price) || Has(Meaning.Prices) || (Has(Meaning.Each) && words.Count > 1) || word.Text is "¢" || word.Text.Length > 3)) ? FactReader.Minor : null;

        if (Has(Meaning.Minimum))
            return new ColumnTitle(ColumnRole.Minimum) { InPacks = Has(Meaning.Packs) };
        // "Pieces per pack", and with no word for money: how many are in one.
        if (!Has(Meaning.Price) && !Has(Meaning.Prices) && !Has(Meaning.Available) && !Has(Meaning.Order) && !Has(Meaning.Total) && currency is null && pence is null && known is [{ } counted, ..]
            && (counted.Is(Meaning.Pieces) || counted.Is(Meaning.Pupa) || counted.Is(Meaning.Quantity)) && !counted.Is(Meaning.PerPack) && known.Skip(1).Any(word => word.Is(Meaning.PerPack)))
            return new ColumnTitle(ColumnRole.Pack);
        // "Conf. (pz)", "Pack (pcs)": how many are in one.
        if (!Has(Meaning.Price) && !Has(Meaning.Available) && !Has(Meaning.Order) && currency is null && pence is null && words is [{ } packing, _] && packing.Is(Meaning.PackOf) && text.Contains('(', StringComparison.Ordinal) && Pieces())
            return new ColumnTitle(ColumnRole.Pack);
        // "Only", "Quedan", "Reste", "Nog": what is left.
        if (whole.Contains(Meaning.Only) && !Folded.Of(text).StartsWith("max", StringComparison.Ordinal))
            return new ColumnTitle(ColumnRole.Available);
        if (Free().IsMatch(Folded.Of(text)))
            return new ColumnTitle(ColumnRole.Available);
        if (whole.Contains(Meaning.UnitTitle))
            return new ColumnTitle(ColumnRole.Pack);
        if (whole.Contains(Meaning.Aside) && !whole.Contains(Meaning.Price))
            return new ColumnTitle(ColumnRole.Aside);
        if (whole.Contains(Meaning.Total) && !whole.Contains(Meaning.Available))
            return new ColumnTitle(ColumnRole.Total);
        if (Has(Meaning.Total) && !Has(Meaning.Available))
            return new ColumnTitle(ColumnRole.Total);
        if (whole.Contains(Meaning.Price) && !words.Exists(word => word.Is(Meaning.Old)))
            return Price(text, tokens, currency, pence);
        if (Has(Meaning.Order) && !Has(Meaning.Price) && !Has(Meaning.Available))
            return new ColumnTitle(ColumnRole.Order) { InPacks = Has(Meaning.Packs) && !Pieces(), Per = Pieces() ? 1 : null };
        if (Has(Meaning.Old) && (Has(Meaning.Price) || whole.Contains(Meaning.Old)))
            return new ColumnTitle(ColumnRole.OldPrice);
        if (Has(Meaning.Aside) && !Has(Meaning.Price) && !Has(Meaning.Species) && !Has(Meaning.Available) && !Has(Meaning.PackOf))
            return new ColumnTitle(ColumnRole.Aside);
        // "da 10", "da 10 pezzi": Italian "from", though German says of stock that it is "da".
        if (tokens is [{ Kind: TokenKind.Word } fromWord, { IsWhole: true }, .. var unit] && fromWord.Is(Meaning.From) && unit.TrueForAll(token => token.Is(Meaning.Pieces) || token.Is(Meaning.Pupa)) && Mark(tokens) is { } least)
            return new ColumnTitle(ColumnRole.Price) { From = least };
        if (Has(Meaning.Available) || (Has(Meaning.Left) && !Has(Meaning.Price)))
            return new ColumnTitle(ColumnRole.Available) { InPacks = (Has(Meaning.Packs) || Has(Meaning.PackOf)) && !Has(Meaning.Pieces) };
        if (Has(Meaning.Price) || currency is not null || pence is not null || whole.Contains(Meaning.Each) || Has(Meaning.PerPack) || (whole.Contains(Meaning.Buyers) && known.Count == words.Count))
            return Price(text, tokens, currency, pence);
        if (Mark(tokens) is { } from)
            return new ColumnTitle(ColumnRole.Price) { From = from, Bare = tokens.Count == 1, Per = null };
        if (words is [{ Kind: TokenKind.Word } dozen] && dozen.Is(Meaning.Number12) && FactReader.CountOrWord(dozen) is 12 && Folded.Of(dozen.Text)[0] == 'd')
            return new ColumnTitle(ColumnRole.Price) { Per = 12 };
        // "Five", "zehn", "for ten": the price of so many, or from so many on; the amounts tell which.
        if (words is [{ Kind: TokenKind.Word } so, { Kind: TokenKind.Word } pays] && pays.Is(Meaning.For) && FactReader.CountOrWord(so) is > 1 and var many)
            return new ColumnTitle(ColumnRole.Price) { From = many };
        if (words is [.., { Kind: TokenKind.Word } numeral] && !numeral.Is(Meaning.Packs) && !numeral.Is(Meaning.PackOf) && words.Count <= 2 && FactReader.CountOrWord(numeral) is > 1 and var inWords && (words.Count == 1 || words[0].Is(Meaning.For) || words[0].Is(Meaning.Per) || words[0].Is(Meaning.From)))
            return new ColumnTitle(ColumnRole.Price) { From = inWords, Bare = words.Count == 1 };
        if (PerSeveral(tokens) is { } several && known.Count > 0)
            return new ColumnTitle(ColumnRole.Price) { Per = several };
        if (known.Count == 0)
            return null;
        if (Simple(whole, Has) is not { } role)
            return null;
        var size = role == ColumnRole.Pack ? tokens.Find(token => token.IsWhole && token.Value is > 1 and < 1000) : null;
        return new ColumnTitle(role) { InPacks = role == ColumnRole.Quantity && Has(Meaning.Packs), Per = size is null ? null : (int)size.Value };
    }

    /// <summary>What a title means that is cut short or misspelled: "Avl", "Dispon.", "Pirce each"; or null.</summary>
    public static ColumnTitle? Guess(string text)
    {
        if (text.Length is 0 or > LongestTitle)
            return null;
        var mended = Word().Replace(text, word => Vocabulary.Of(word.Value).Count > 0 ? word.Value : LikeTitles.Find(word.Value) ?? word.Value);
        return mended == text ? null : Read(mended) is { } title ? title with { Guessed = true } : null;
    }

    private static ColumnRole? Simple(IReadOnlySet<Meaning> whole, Func<Meaning, bool> has)
    {
        if (whole.Contains(Meaning.PackOf) || (has(Meaning.PackOf) && has(Meaning.Quantity)))
            return ColumnRole.Pack;
        if (has(Meaning.Species) && has(Meaning.Common) && !whole.Contains(Meaning.Common))
            return ColumnRole.Name;
        foreach (var (meaning, role) in Roles)
        {
            if (whole.Contains(meaning))
                return role;
        }
        foreach (var (meaning, role) in Roles)
        {
            if (has(meaning))
                return role;
        }
        return null;
    }

    private static readonly (Meaning, ColumnRole)[] Roles =
    [
        (Meaning.Common, ColumnRole.Common),
        (Meaning.Epithet, ColumnRole.Epithet),
        (Meaning.Genus, ColumnRole.Genus),
        (Meaning.Form, ColumnRole.Form),
        (Meaning.Species, ColumnRole.Name),
        (Meaning.Family, ColumnRole.Family),
        (Meaning.Origin, ColumnRole.Origin),
        (Meaning.Quantity, ColumnRole.Quantity),
        (Meaning.Pupa, ColumnRole.Quantity),
        (Meaning.Pieces, ColumnRole.Quantity),
        (Meaning.Code, ColumnRole.Code),
        (Meaning.Status, ColumnRole.Status),
        (Meaning.SoldOut, ColumnRole.Status),
        (Meaning.Note, ColumnRole.Note),
        (Meaning.CurrencyTitle, ColumnRole.Currency),
        (Meaning.KindTitle, ColumnRole.Kind),
        (Meaning.PackOf, ColumnRole.Pack),
        (Meaning.Packs, ColumnRole.Pack),
        (Meaning.Aside, ColumnRole.Aside),
    ];

    private static ColumnTitle Price(string text, List<Token> tokens, string? currency, string? pence)
    {
        // "Preis je 10 Stk.": what stands before the number says that it pays for ten, and "je" alone that it pays for one.
        if (!tokens.Exists(token => token.Is(Meaning.PerPack)) && PerSeveral(tokens) is { } several && !tokens.Exists(token => token.IsSign('+') || token.IsSign('-') || token.Is(Meaning.OrMore) || (token.Is(Meaning.UpTo) && token.Kind == TokenKind.Word && token.Text.Length > 1)))
            return new ColumnTitle(ColumnRole.Price) { Per = several, Currency = currency ?? pence };
        if (StepsOf(text) is { Count: > 1 } steps)
            return new ColumnTitle(ColumnRole.Price) { Currency = currency ?? pence, Steps = steps };
        // "Price per tray of 25"
        if (tokens.Exists(token => token.Is(Meaning.PerPack)) && tokens.FindAll(token => token.IsWhole && token.Value is > 1 and < 1000) is [{ } size] && tokens.IndexOf(size) > tokens.FindIndex(token => token.Is(Meaning.PerPack)))
            return new ColumnTitle(ColumnRole.Price) { Per = (int)size.Value, Currency = currency ?? pence, OfPack = true };
        // "what ten cost": for so many or from so many on, as the amounts tell.
        if (tokens.FindAll(token => token.Kind == TokenKind.Word && !token.Is(Meaning.Packs) && FactReader.CountOrWord(token) is > 1) is [{ } inWords] && tokens.Exists(token => token.Is(Meaning.Price)) && PerSeveral(tokens) is null && !tokens.Exists(token => token.Is(Meaning.Each) && token.Kind == TokenKind.Word))
            return new ColumnTitle(ColumnRole.Price) { From = FactReader.CountOrWord(inWords)!.Value, Currency = currency ?? pence };
        var from = Mark(tokens.Where(token => !token.Is(Meaning.Price) && token.Kind != TokenKind.Currency).ToList()) ?? Mark(tokens);
        var per = tokens.Exists(token => token.Is(Meaning.PerPack)) || (tokens.Exists(token => token.Is(Meaning.PackOf) && !token.Is(Meaning.Each)) && from is null && PerSeveral(tokens) is null)
            ? 0
            : tokens.Exists(token => token.Is(Meaning.Each) && token.Kind == TokenKind.Word) ? 1 : from is null ? PerSeveral(tokens) : null;
        return new ColumnTitle(ColumnRole.Price) { From = per is > 1 or 0 ? 1 : from ?? 1, Per = per, Currency = currency ?? pence };
    }

    /// <summary>"10+", "1-9", "from 50", "ab 10 Stk", "≥ 10", "10"; or null.</summary>
    private static int? Mark(List<Token> tokens)
    {
        for (var i = 0; i < tokens.Count; i++)
        {
            if (!tokens[i].IsWhole || tokens[i].Value < 1)
                continue;
            var n = (int)tokens[i].Value;
            Token? before = i > 0 ? tokens[i - 1] : null, after = i + 1 < tokens.Count ? tokens[i + 1] : null;
            if (before is not null && (before.Is(Meaning.UpTo) || before.IsSign('<') || before.IsSign('≤')) && !before.Is(Meaning.From))
                return 1;
            if (after is not null && (after.IsSign('+') || after.Is(Meaning.OrMore)))
                return n;
            if (before is not null && before.Is(Meaning.Per) && !before.Is(Meaning.From) && !before.Is(Meaning.For))
                return null;
            if (before is not null && before.IsSign('/'))
                return null;
            if (after is not null && (after.IsSign('-') || after.Is(Meaning.UpTo)))
                return n;
            if (before is not null && (before.Is(Meaning.From) || before.IsSign('≥') || before.IsSign('>')))
                return (before.IsSign('>') || IsOver(before.Text)) && n % 5 == 4 ? n + 1 : n;
            if (tokens.Count == 1 || (after is not null && after.Is(Meaning.Pieces)) || (before is not null && before.IsSign('x')))
                return n;
            if (i == tokens.Count - 1 && tokens.Count <= 3 && tokens.Take(i).All(token => token.Is(Meaning.Price) || token.Kind == TokenKind.Currency || token.Kind == TokenKind.Sign))
                return n;
        }
        return null;
    }

    /// <summary>"over 24", behind "10 to 24", begins at 25.</summary>
    internal static bool IsOver(string word) => Folded.Of(word) is "over" or "above" or "more than" or "uber" or "mehr als" or "plus de" or "mas de" or "boven" or "meer dan" or "oltre" or "piu di";

    /// <summary>"per 10", "/ 10", "pro 100 Stück"; or null.</summary>
    internal static int? PerSeveral(List<Token> tokens)
    {
        for (var i = 1; i < tokens.Count; i++)
        {
            // "a dozen", "je Paar", "les dix"; "from ten" is where a price begins.
            if (FactReader.CountOrWord(tokens[i]) is > 1 and var several && tokens[i].Currency is null && !tokens[i - 1].Is(Meaning.From)
                && (tokens[i - 1].IsSign('/') || tokens[i - 1].Is(Meaning.Per) || tokens[i - 1].Is(Meaning.For) || tokens[i - 1].Is(Meaning.PackOf)
                    || (tokens[i].Kind == TokenKind.Word && (tokens[i].Text.Contains(' ', StringComparison.Ordinal) || tokens[i].Is(Meaning.Number12)))))
                return several;
        }
        return null;
    }

    /// <summary>"1/10/50": where each of several prices in a cell begins to hold; "each (10+)": the second.</summary>
    private static IReadOnlyList<int> StepsOf(string text)
    {
        if (Steps().Match(text) is { Success: true } match)
        {
            var steps = match.Groups["n"].Captures.Select(capture => int.Parse(capture.ValueSpan, System.Globalization.CultureInfo.InvariantCulture)).ToList();
            return steps[0] == 1 && steps.Zip(steps.Skip(1)).All(pair => pair.First < pair.Second) ? steps : [];
        }
        return InBrackets().Match(text) is { Success: true } bracket && text[..bracket.Index].Trim().Length > 0 && Mark(Tokeniser.Cut(bracket.Groups["in"].Value, null)) is > 1 and var from ? [1, from] : [];
    }

    [GeneratedRegex(@"(?<!\d)(?<n>\d{1,4})(?:\s*[/|]\s*(?<n>\d{1,4}))+\+?(?!\d)")]
    private static partial Regex Steps();

    [GeneratedRegex(@"^(?:noch )?(?:frei|free|libres?|vrij|liber[oaie])$|^(?:stuck|st\.?|stk\.?|pcs|uds\.?|pz\.?) (?:frei|free|libres|vrij|liberi)$")]
    private static partial Regex Free();

    [GeneratedRegex(@"\((?<in>[^()]*\d[^()]*)\)\s*$")]
    private static partial Regex InBrackets();

    [GeneratedRegex(@"\p{L}{2,}\.?")]
    private static partial Regex Word();

    [GeneratedRegex(@"_+|(?<=\p{Ll}{2})(?=\p{Lu})|(?<=\p{Ll}{2})(?=\d)")]
    private static partial Regex NameInAProgram();
}

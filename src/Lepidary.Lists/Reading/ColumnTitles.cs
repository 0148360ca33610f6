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
        // "Only", "Quedan", "Reste", "Nog": what is left.
        if (whole.Contains(Meaning.Only) && !Folded.Of(text).StartsWith("max", StringComparison.Ordinal))
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
            return Price(tokens, currency, pence);
        if (Has(Meaning.Order) && !Has(Meaning.Price) && !Has(Meaning.Available))
            return new ColumnTitle(ColumnRole.Order) { InPacks = Has(Meaning.Packs) && !Pieces(), Per = Pieces() ? 1 : null };
        if (Has(Meaning.Old) && (Has(Meaning.Price) || whole.Contains(Meaning.Old)))
            return new ColumnTitle(ColumnRole.OldPrice);
        if (Has(Meaning.Aside) && !Has(Meaning.Price) && !Has(Meaning.Species) && !Has(Meaning.Available) && !Has(Meaning.PackOf))
            return new ColumnTitle(ColumnRole.Aside);
        // "da 10": Italian "from", though German says of stock that it is "da".
        if (tokens is [{ Kind: TokenKind.Word } fromWord, { IsWhole: true }] && fromWord.Is(Meaning.From) && Mark(tokens) is { } least)
            return new ColumnTitle(ColumnRole.Price) { From = least };
        if (Has(Meaning.Available) || (Has(Meaning.Left) && !Has(Meaning.Price)))
            return new ColumnTitle(ColumnRole.Available) { InPacks = (Has(Meaning.Packs) || Has(Meaning.PackOf)) && !Has(Meaning.Pieces) };
        if (Has(Meaning.Price) || currency is not null || pence is not null || whole.Contains(Meaning.Each) || Has(Meaning.PerPack) || (whole.Contains(Meaning.Buyers) && known.Count == words.Count))
            return Price(tokens, currency, pence);
        if (Mark(tokens) is { } from)
            return new ColumnTitle(ColumnRole.Price) { From = from, Bare = tokens.Count == 1, Per = null };
        if (PerSeveral(tokens) is { } several && known.Count > 0)
            return new ColumnTitle(ColumnRole.Price) { Per = several };
        if (known.Count == 0)
            return null;
        if (Simple(whole, Has) is not { } role)
            return null;
        var size = role == ColumnRole.Pack ? tokens.Find(token => token.IsWhole && token.Value is > 1 and < 1000) : null;
        return new ColumnTitle(role) { InPacks = role == ColumnRole.Quantity && Has(Meaning.Packs), Per = size is null ? null : (int)size.Value };
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

    private static ColumnTitle Price(List<Token> tokens, string? currency, string? pence)
    {
        // "Preis je 10 Stk.": what stands before the number says that it pays for ten, and "je" alone that it pays for one.
        if (!tokens.Exists(token => token.Is(Meaning.PerPack)) && PerSeveral(tokens) is { } several && !tokens.Exists(token => token.IsSign('+') || token.IsSign('-') || token.Is(Meaning.OrMore) || (token.Is(Meaning.UpTo) && token.Kind == TokenKind.Word && token.Text.Length > 1)))
            return new ColumnTitle(ColumnRole.Price) { Per = several, Currency = currency ?? pence };
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
                return before.IsSign('>') && n % 10 == 9 ? n + 1 : n;
            if (tokens.Count == 1 || (after is not null && after.Is(Meaning.Pieces)) || (before is not null && before.IsSign('x')))
                return n;
            if (i == tokens.Count - 1 && tokens.Count <= 3 && tokens.Take(i).All(token => token.Is(Meaning.Price) || token.Kind == TokenKind.Currency || token.Kind == TokenKind.Sign))
                return n;
        }
        return null;
    }

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

    [GeneratedRegex(@"_+|(?<=\p{Ll}{2})(?=\p{Lu})|(?<=\p{Ll}{2})(?=\d)")]
    private static partial Regex NameInAProgram();
}

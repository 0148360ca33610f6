using System.Globalization;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>What a token is.</summary>
internal enum TokenKind
{
    /// <summary>A word, or a phrase of the vocabulary.</summary>
    Word,
    Number,
    Currency,

    /// <summary>A day or a week; no number of pupae and no price.</summary>
    Date,

    /// <summary>Letters and digits in one: an article number, a web address.</summary>
    Code,
    Sign,
}

/// <summary>A piece of a line with what it can mean.</summary>
internal sealed class Token
{
    public required TokenKind Kind { get; init; }

    public required int Start { get; init; }

    public required int End { get; init; }

    /// <summary>As printed.</summary>
    public required string Text { get; init; }

    public IReadOnlySet<Meaning> Meanings { get; init; } = NoMeanings;

    /// <summary>Value of a number, and of words that make one: "two dozen".</summary>
    public decimal Value { get; init; }

    /// <summary>Digits behind the decimal mark.</summary>
    public int Decimals { get; init; }

    /// <summary>ISO code of a currency token; of a number, once it is known to be money.</summary>
    public string? Currency { get; set; }

    /// <summary>True once a rule has used it.</summary>
    public bool Used { get; set; }

    public bool Is(Meaning meaning) => Meanings.Contains(meaning);

    public bool IsSign(char c) => Kind == TokenKind.Sign && Text[0] == c;

    public bool IsWhole => Kind == TokenKind.Number && Decimals == 0 && Value < 1_000_000;

    private static readonly IReadOnlySet<Meaning> NoMeanings = new HashSet<Meaning>();
}

/// <summary>Cuts a line into tokens.</summary>
internal static class Tokeniser
{
    /// <summary>Longer lines are no offers; they are shown to the keeper and not taken apart.</summary>
    public const int LongestLine = 2000;

    public static List<Token> Cut(string text, char? decimalMark)
    {
        var tokens = new List<Token>();
        if (text.Length > LongestLine)
            return tokens;
        var folded = new Folded(text);
        var dates = DateReader.Find(text);
        var at = 0;
        while (at < folded.Text.Length)
        {
            if (folded.Text[at] == ' ')
            {
                at++;
                continue;
            }
            var start = folded.Origin(at);
            if (dates.Find(date => date.Start == start) is { } date)
            {
                tokens.Add(New(TokenKind.Date, start, date.End));
                while (at < folded.Text.Length && folded.Origin(at) < date.End)
                    at++;
                continue;
            }
            at = Next(at);
        }
        JoinDozens(tokens, text);
        JoinSums(tokens, text);
        return tokens;

        Token New(TokenKind kind, int start, int end) => new() { Kind = kind, Start = start, End = end, Text = text[start..end] };

        int Next(int from)
        {
            var f = folded.Text;
            var start = folded.Origin(from);
            var c = f[from];
            var afterLetter = from > 0 && char.IsLetter(f[from - 1]);

            if (CurrencyLength(f, from) is var (length, code))
            {
                tokens.Add(new Token { Kind = TokenKind.Currency, Start = start, End = folded.Origin(from + length), Text = text[start..folded.Origin(from + length)], Currency = code });
                return from + length;
            }
            if (char.IsAsciiDigit(c) || (c is '.' or ',' && (from == 0 || f[from - 1] is ' ' or '(' || Currencies.IsSign(f[from - 1])) && from + 1 < f.Length && char.IsAsciiDigit(f[from + 1])))
                return AddNumber(from);

            var (phrase, meanings) = afterLetter ? (0, null!) : Vocabulary.LongestAt(f, from);
            if (!afterLetter && Numerals.LongestAt(f, from) is var (numeral, value) && numeral > phrase)
            {
                var to = folded.Origin(from + numeral);
                tokens.Add(new Token { Kind = TokenKind.Word, Start = start, End = to, Text = text[start..to], Value = value });
                return from + numeral;
            }
            if (phrase > 0)
            {
                var to = folded.Origin(from + phrase);
                tokens.Add(new Token { Kind = TokenKind.Word, Start = start, End = to, Text = text[start..to], Meanings = meanings });
                return from + phrase;
            }
            if (!char.IsLetterOrDigit(c))
            {
                tokens.Add(new Token { Kind = TokenKind.Sign, Start = start, End = start + 1, Text = f[from..(from + 1)] });
                return from + 1;
            }
            // "x5" is a pack, not a word.
            if (c == 'x' && !afterLetter && from + 1 < f.Length && char.IsAsciiDigit(f[from + 1]))
            {
                tokens.Add(New(TokenKind.Sign, start, start + 1));
                return from + 1;
            }
            // "d'Attacus atlas": the genus begins behind the apostrophe.
            if (c is 'd' or 'l' && !afterLetter && from + 2 < f.Length && f[from + 1] == '\'' && char.IsUpper(text[folded.Origin(from + 2)]))
            {
                tokens.Add(New(TokenKind.Word, start, folded.Origin(from + 2)));
                return from + 2;
            }
            var end = from;
            var digits = false;
            while (end < f.Length && (char.IsLetterOrDigit(f[end]) || (f[end] is '\'' or '-' or '@' or '_' && end + 1 < f.Length && char.IsLetter(f[end + 1]))))
                digits |= char.IsAsciiDigit(f[end++]);
            if (end - from == 1 && c == 'x')
                tokens.Add(New(TokenKind.Sign, start, folded.Origin(end)));
            else
                tokens.Add(New(digits ? TokenKind.Code : TokenKind.Word, start, folded.Origin(end)));
            return end;
        }

        int AddNumber(int from)
        {
            var f = folded.Text;
            var start = folded.Origin(from);
            var length = NumberText.LengthAt(text, start);
            var end = start + length;
            // 2€40 is two euros and forty cents; 2,- is two euros.
            if (end + 2 < text.Length && Currencies.IsSign(text[end]) && char.IsAsciiDigit(text[end + 1]) && char.IsAsciiDigit(text[end + 2])
                && (end + 3 == text.Length || !char.IsAsciiDigit(text[end + 3]))
                && decimal.TryParse($"{text[start..end]}.{text[(end + 1)..(end + 3)]}", NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var joined))
            {
                tokens.Add(new Token { Kind = TokenKind.Number, Start = start, End = end + 3, Text = text[start..(end + 3)], Value = joined, Decimals = 2, Currency = Currencies.Find(text[end].ToString()) });
                return Skip(end + 3);
            }
            if (NumberText.Read(text[start..end], decimalMark) is not var (value, decimals))
            {
                tokens.Add(New(TokenKind.Code, start, end));
                return Skip(end);
            }
            if (decimals == 0 && end + 1 < text.Length && text[end] is '.' or ',' && text[end + 1] is '-' or '–' or '—')
            {
                tokens.Add(new Token { Kind = TokenKind.Number, Start = start, End = end + 2, Text = text[start..(end + 2)], Value = value, Decimals = 2 });
                return Skip(end + 2);
            }
            // 1st, 2nd: a place in a row, no amount.
            var at = Skip(end);
            if (at + 1 < f.Length && f.AsSpan(at, 2) is "st" or "nd" or "rd" or "th" && (at + 2 == f.Length || !char.IsLetter(f[at + 2])) && decimals == 0 && f.AsSpan(at, 2) is not "st")
            {
                tokens.Add(New(TokenKind.Code, start, end + 2));
                return at + 2;
            }
            // "LINNAEUS, 1758", "Kenrick 1911": the year of a description.
            var author = tokens.Count > 1 && tokens[^1].IsSign(',') ? tokens[^2] : tokens.Count > 1 ? tokens[^1] : null;
            if (decimals == 0 && value is >= 1730 and < 2100 && length == 4 && author is { Kind: TokenKind.Word } && char.IsUpper(author.Text[0]) && (author.Meanings.Count == 0 || tokens[^1].IsSign(',')))
            {
                tokens.Add(New(TokenKind.Code, start, end));
                return at;
            }
            tokens.Add(new Token { Kind = TokenKind.Number, Start = start, End = end, Text = text[start..end], Value = value, Decimals = decimals });
            return at;

            int Skip(int to)
            {
                var i = from;
                while (i < f.Length && folded.Origin(i) < to)
                    i++;
                return i;
            }
        }
    }

    /// <summary>"three dozen", "zwei Dutzend", "2 docenas" are one number.</summary>
    private static void JoinDozens(List<Token> tokens, string text)
    {
        for (var i = tokens.Count - 1; i > 0; i--)
        {
            if (!tokens[i].Is(Meaning.Number12) || tokens[i].Text[0] is not ('d' or 'D') || tokens[i].Text.Length < 5 || tokens[i].Text.StartsWith("dod", StringComparison.OrdinalIgnoreCase))
                continue;
            var times = tokens[i - 1].IsWhole && tokens[i - 1].Value is > 1 and < 20 ? (int)tokens[i - 1].Value
                : tokens[i - 1].Kind == TokenKind.Word && FactReader.CountOrWord(tokens[i - 1]) is { } said and < 12 ? said : 0;
            if (times < 2)
                continue;
            tokens[i - 1] = new Token { Kind = TokenKind.Word, Start = tokens[i - 1].Start, End = tokens[i].End, Text = text[tokens[i - 1].Start..tokens[i].End], Meanings = tokens[i].Meanings, Value = times * 12 };
            tokens.RemoveAt(i);
        }
    }

    /// <summary>"two pounds twenty", "zwei Euro fünfzig", "2 euros 50", "eighty pence" are one amount.</summary>
    private static void JoinSums(List<Token> tokens, string text)
    {
        for (var i = 1; i < tokens.Count; i++)
        {
            if (tokens[i - 1].Kind is not (TokenKind.Word or TokenKind.Number) || Whole(tokens[i - 1]) is not { } main)
                continue;
            var inWords = tokens[i - 1].Kind == TokenKind.Word;
            if (inWords && main > 1 && tokens[i].Kind == TokenKind.Word && tokens[i].Is(Meaning.Pence) && tokens[i].Text.Length > 3)
            {
                Join(i, main / 100m, FactReader.Minor);
                continue;
            }
            // Signs and codes are written beside digits and read there.
            if (tokens[i].Kind != TokenKind.Currency || tokens[i].Text.Length < 4)
                continue;
            var link = i + 1 < tokens.Count && Joins(tokens[i + 1]);
            var cents = i + (link || (i + 1 < tokens.Count && tokens[i + 1].Text == "con") ? 2 : 1);
            var isSum = cents < tokens.Count && Whole(tokens[cents]) is > 1 and < 100 && (tokens[cents].Kind == TokenKind.Word || tokens[cents].Text.Length == 2)
                && !(inWords && tokens[cents].Kind == TokenKind.Number) && EndsSum(tokens, cents, link);
            if (isSum)
                Join(cents + (cents + 1 < tokens.Count && tokens[cents + 1].Is(Meaning.Pence) && tokens[cents + 1].Text.Length > 3 ? 1 : 0), main + (Whole(tokens[cents])!.Value / 100m), tokens[i].Currency);
            else if (inWords)
                Join(i, main, tokens[i].Currency);

            void Join(int last, decimal amount, string? currency)
            {
                tokens[i - 1] = new Token { Kind = TokenKind.Number, Start = tokens[i - 1].Start, End = tokens[last].End, Text = text[tokens[i - 1].Start..tokens[last].End], Value = amount, Decimals = 2, Currency = currency };
                tokens.RemoveRange(i, last - i + 1);
            }
        }
    }

    /// <summary>Whole units of a sum: digits, a number in words, or a "one".</summary>
    private static int? Whole(Token token) => token.Kind == TokenKind.Word && Numerals.IsOne(token.Text) ? 1 : FactReader.CountOrWord(token);

    private static bool Joins(Token token) => token.Text.ToLowerInvariant() is "e" or "y" or "et" or "und" or "en";

    /// <summary>True when the number at a place is the pence of the sum before it, and not how many there are of what stands behind.</summary>
    private static bool EndsSum(List<Token> tokens, int cents, bool linked)
    {
        if (cents + 1 == tokens.Count || tokens[cents + 1].Kind == TokenKind.Sign)
            return true;
        var next = tokens[cents + 1];
        if (Joins(next) || next.Text == "and")
            return true;
        if (next.Kind != TokenKind.Word || next.Is(Meaning.Pieces) && !next.Is(Meaning.Each) || next.Is(Meaning.Packs) || next.Is(Meaning.Available))
            return false;
        return next.Meanings.Count > 0 || (!linked && !char.IsUpper(next.Text[0]) && Epithets.Find(next.Text).Count == 0);
    }

    /// <summary>A currency's sign, code or word at a place. Words of a few letters count only beside a number or a bracket.</summary>
    private static (int Length, string Code)? CurrencyLength(string folded, int at)
    {
        if (at > 0 && char.IsLetter(folded[at - 1]))
            return null;
        var end = at;
        while (end < folded.Length && end - at < 9 && (char.IsLetter(folded[end]) || Currencies.IsSign(folded[end])))
        {
            end++;
            if (Currencies.IsSign(folded[end - 1]) && !(end < folded.Length && folded[at] == '$' && folded.AsSpan(end).StartsWith("us")))
                break;
        }
        if (end == at)
            return null;
        if (end < folded.Length && folded[end] == '.' && Currencies.Find(folded[at..(end + 1)]) is { } dotted)
            return (end + 1 - at, dotted);
        if (Currencies.Find(folded[at..end]) is not { } code)
            return null;
        var word = folded[at..end];
        var beside = (at > 0 && NearestBefore(folded, at) is var b && char.IsAsciiDigit(b)) || (end < folded.Length && NearestAfter(folded, end) is var a && (char.IsAsciiDigit(a) || a is '.' or ','));
        return word is "ft" or "rm" or "stg" or "kc" && !beside ? null : (end - at, code);
    }

    private static char NearestBefore(string text, int at)
    {
        while (at > 0 && text[at - 1] == ' ')
            at--;
        return at > 0 ? text[at - 1] : ' ';
    }

    private static char NearestAfter(string text, int at)
    {
        while (at < text.Length && text[at] == ' ')
            at++;
        return at < text.Length ? text[at] : ' ';
    }
}

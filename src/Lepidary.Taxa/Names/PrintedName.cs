namespace Lepidary.Taxa.Names;

/// <summary>What a piece of a printed name is.</summary>
internal enum TokenKind
{
    /// <summary>Letters.</summary>
    Word,

    /// <summary>Digits that are no year.</summary>
    Number,

    /// <summary>Four digits that can be the year of a description.</summary>
    Year,

    /// <summary>The sign of a hybrid.</summary>
    Hybrid,
}

/// <summary>A piece of a printed name.</summary>
/// <param name="Text">As printed.</param>
/// <param name="Folded">Lower case a to z only.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Dot">A full stop follows at once.</param>
/// <param name="Bracketed">It stands in brackets.</param>
/// <param name="Break">A mark that parts names stands before it: comma, dash, slash, bracket, colon.</param>
/// <param name="Joined">An "and" of some kind stands before it: <c>&amp;</c>, <c>+</c>, <c>/</c>.</param>
internal readonly record struct Token(string Text, string Folded, TokenKind Kind, bool Dot, bool Bracketed, bool Break, bool Joined)
{
    /// <summary>True for a word that begins with a capital.</summary>
    public bool Capital => Kind == TokenKind.Word && char.IsUpper(Text[0]);
}

/// <summary>A printed text in pieces.</summary>
internal static class PrintedName
{
    /// <summary>A text longer than this is a sentence, not a name.</summary>
    public const int LongestName = 160;

    /// <summary>The pieces of a text. Quotes, stars, signs of sex and raised digits leave nothing behind.</summary>
    public static List<Token> Read(string text)
    {
        var tokens = new List<Token>(8);
        var (depth, broken, joined) = (0, false, false);
        var at = 0;
        while (at < text.Length)
        {
            var c = text[at];
            var start = at;
            if (char.IsLetter(c))
            {
                at = EndOfWord(text, at);
                var word = text[start..at];
                var folded = Folding.Fold(word);
                if (folded.Length == 0)
                    continue;
                var dot = at < text.Length && text[at] == '.';
                var kind = folded == "x" && !dot && tokens.Count > 0 ? TokenKind.Hybrid : TokenKind.Word;
                if (kind == TokenKind.Hybrid && (tokens[^1].Kind == TokenKind.Number || !NextIsLetter(text, at)))
                    continue; // "x10", "10 x" and a lone "x" count pupae or tick a box.
                tokens.Add(new Token(word, folded, kind, dot, depth > 0, broken, joined));
                (broken, joined) = (false, false);
            }
            else if (char.IsAsciiDigit(c))
            {
                while (at < text.Length && char.IsAsciiDigit(text[at]))
                    at++;
                var digits = text[start..at];
                var year = digits.Length == 4 && (digits[0] == '1' && digits[1] is ('7' or '8' or '9') || digits.StartsWith("20", StringComparison.Ordinal));
                tokens.Add(new Token(digits, "", year ? TokenKind.Year : TokenKind.Number, false, depth > 0, broken, joined));
                (broken, joined) = (false, false);
            }
            else
            {
                at++;
                switch (c)
                {
                    case '(' or '[' or '{':
                        (depth, broken) = (depth + 1, true);
                        break;
                    case ')' or ']' or '}':
                        (depth, broken) = (Math.Max(0, depth - 1), true);
                        break;
                    case '×' or '✕' or '╳':
                        tokens.Add(new Token(text[start..at], "", TokenKind.Hybrid, false, depth > 0, broken, joined));
                        break;
                    case '&' or '+' or '/':
                        (broken, joined) = (true, true);
                        break;
                    case ',' or ';' or ':' or '|' or '=' or '-' or '–' or '—' or '\t' or '\n' or '•' or '·':
                        broken = true;
                        break;
                    default:
                        break;
                }
            }
        }

        return tokens;
    }

    /// <summary>The folded words of a common name; a hyphen parts words, an apostrophe does not.</summary>
    public static List<string> Words(string text)
    {
        var words = new List<string>(4);
        var start = -1;
        for (var at = 0; at <= text.Length; at++)
        {
            var inWord = at < text.Length && (char.IsLetter(text[at]) || Folding.IsAccent(text[at]) || (start >= 0 && text[at] is ('\'' or '’' or '‘' or '`' or '´')));
            if (inWord && start < 0)
            {
                start = at;
            }
            else if (!inWord && start >= 0)
            {
                if (Folding.Fold(text[start..at]) is { Length: > 0 } folded)
                    words.Add(folded);
                start = -1;
            }
        }

        return words;
    }

    /// <summary>The folded words of some pieces; a hyphen parts words.</summary>
    public static List<string> Words(IEnumerable<Token> tokens)
    {
        var words = new List<string>(4);
        foreach (var token in tokens)
        {
            if (token.Kind is not (TokenKind.Word or TokenKind.Hybrid))
                continue;
            foreach (var part in token.Text.Split('-'))
            {
                if (Folding.Fold(part) is { Length: > 0 } folded)
                    words.Add(folded);
            }
        }

        return words;
    }

    private static bool NextIsLetter(string text, int at)
    {
        while (at < text.Length && char.IsWhiteSpace(text[at]))
            at++;
        return at < text.Length && char.IsLetter(text[at]);
    }

    // A hyphen or an apostrophe between letters belongs to the word: "c-album", "Rippon's".
    private static int EndOfWord(string text, int at)
    {
        while (at < text.Length)
        {
            var c = text[at];
            var inside = c is ('-' or '\'' or '’' or '‘' or '`' or '´') && at + 1 < text.Length && char.IsLetter(text[at + 1]);
            if (!char.IsLetter(c) && !Folding.IsAccent(c) && !inside)
                break;
            at++;
        }

        return at;
    }
}

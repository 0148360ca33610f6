namespace Lepidary.Taxa.Names;

/// <summary>A printed text read as genus and epithet with what stands around them.</summary>
internal sealed class Reading
{
    /// <summary>Genus or its abbreviation.</summary>
    public required Token Genus { get; init; }

    /// <summary>True for <c>M.</c> or <c>Pap.</c>.</summary>
    public bool Abbreviated { get; init; }

    /// <summary>The epithet; null where only a genus is printed.</summary>
    public Token? Epithet { get; private set; }

    /// <summary>Words before the genus.</summary>
    public required IReadOnlyList<Token> Before { get; init; }

    /// <summary>Lower-case words behind the epithet: subspecies, forms.</summary>
    public List<(string Mark, Token Name)> Forms { get; } = [];

    /// <summary>Author's words behind the name, folded.</summary>
    public List<string> Authors { get; } = [];

    /// <summary>Year behind the name.</summary>
    public bool Year { get; private set; }

    /// <summary>Whatever else stands behind.</summary>
    public List<Token> Rest { get; } = [];

    /// <summary>cf., aff. and the like.</summary>
    public bool Unsure { get; private set; }

    /// <summary>sp., mix and the like in place of an epithet.</summary>
    public bool NoSpecies { get; private set; }

    /// <summary>A sign of a hybrid.</summary>
    public bool Hybrid { get; private set; }

    /// <summary>Other species joined to this one: genus as printed (maybe cut) and epithet, folded.</summary>
    public List<(string Genus, string Epithet)> Joined { get; } = [];

    /// <summary>Every place of a text where a genus, or its abbreviation, can begin a name.</summary>
    /// <param name="tokens">The text.</param>
    /// <param name="index">Known names.</param>
    /// <param name="furthest">The last place to look at.</param>
    public static List<Reading> All(List<Token> tokens, NameIndex index, int furthest)
    {
        var readings = new List<Reading>(2);
        for (var i = 0; i < tokens.Count && i <= furthest; i++)
        {
            var token = tokens[i];
            if (token.Kind != TokenKind.Word)
                continue;
            var next = i + 1 < tokens.Count && tokens[i + 1].Kind == TokenKind.Word ? tokens[i + 1] : default;
            var isGenus = index.Genus(token.Folded) is not null || (next.Folded is { } epithet && index.Find(token.Folded, epithet) is not null);
            var isShort = token.Folded.Length == 1 || (token.Dot && token.Folded.Length <= 5);
            var isAbbreviation = !isGenus && isShort && next.Folded is not null && (!next.Break || next.Bracketed) && (token.Capital || (token.Dot && i == 0));
            if (isGenus || isAbbreviation)
                readings.Add(From(tokens, i, isAbbreviation, index));
        }

        return readings;
    }

    /// <summary>Reads from a genus on.</summary>
    /// <param name="tokens">The text.</param>
    /// <param name="start">Where the genus or its abbreviation stands.</param>
    /// <param name="abbreviated">Whether it is an abbreviation.</param>
    /// <param name="index">Known genera and forms.</param>
    public static Reading From(List<Token> tokens, int start, bool abbreviated, NameIndex index)
    {
        var reading = new Reading { Genus = tokens[start], Abbreviated = abbreviated, Before = tokens[..start] };
        var at = start + 1;

        // "Papilio (Menelaides) memnon"
        if (at + 1 < tokens.Count && tokens[at] is { Bracketed: true, Kind: TokenKind.Word } && !tokens[at + 1].Bracketed
            && (index.Genus(tokens[at].Folded) is not null || (tokens[at].Capital && char.IsLower(tokens[at + 1].Text[0]))))
        {
            at++;
        }

        for (; at < tokens.Count && reading.Epithet is null; at++)
        {
            var token = tokens[at];
            if (token.Kind == TokenKind.Hybrid)
                reading.Hybrid = true;
            else if (TradeWords.Unsure.Contains(token.Folded))
                reading.Unsure = true;
            else if (TradeWords.NoSpecies.Contains(token.Folded))
                reading.NoSpecies = true;
            else if (token.Kind == TokenKind.Word && !reading.NoSpecies && (!token.Break || IsOldSubgenusBreak(tokens, at) || index.Find(reading.Genus.Folded, token.Folded) is not null) && !TradeWords.Noise.Contains(token.Folded))
                reading.Epithet = token;
            else
                break;
        }

        reading.ReadTail(tokens, at, index);
        return reading;
    }

    // After "(Menelaides)" the closing bracket stands before the epithet.
    private static bool IsOldSubgenusBreak(List<Token> tokens, int at) => tokens[at - 1].Bracketed && !tokens[at].Bracketed && !tokens[at].Joined;

    private void ReadTail(List<Token> tokens, int at, NameIndex index)
    {
        var mark = "";
        var mayBeForm = Epithet is not null;
        var plainCase = tokens.Any(t => t.Kind == TokenKind.Word && t.Text.Length > 1 && !t.Text.Skip(1).Any(char.IsUpper) && !t.Capital);
        for (; at < tokens.Count; at++)
        {
            var token = tokens[at];
            ReadJoined(tokens, at, index);
            if (token.Kind == TokenKind.Year)
            {
                Year = true;
                mayBeForm = false;
            }
            else if (token.Kind == TokenKind.Hybrid)
            {
                Hybrid = true;
            }
            else if (TradeWords.Unsure.Contains(token.Folded))
            {
                Unsure = true;
            }
            else if (token.Kind == TokenKind.Number || TradeWords.Noise.Contains(token.Folded))
            {
                continue;
            }
            else if (TradeWords.FormMarks.Contains(token.Folded) && at + 1 < tokens.Count && (token.Dot || token.Folded.Length > 2 || !token.Capital) && Epithet is not null)
            {
                mark = token.Folded;
                mayBeForm = true;
            }
            else if (Epithet is { } epithet && index.Authors.Contains(token.Folded) && (token.Capital || token.Bracketed) && mark.Length == 0
                && !index.IsForm(Genus.Folded, token.Folded))
            {
                Authors.Add(token.Folded);
                mayBeForm = false;
            }
            else if (token.Bracketed && HasYear(tokens, at))
            {
                Authors.Add(token.Folded);
                mayBeForm = false;
            }
            else if (mayBeForm && !token.Joined && (mark.Length > 0 || !token.Break)
                && (mark.Length > 0 || (char.IsLower(token.Text[0]) && plainCase && Latin.IsStrictEpithet(token.Folded) && !index.Common.IsWord(token.Folded)) || index.IsForm(Genus.Folded, token.Folded) || index.Find(Genus.Folded, $"{Epithet?.Folded} {token.Folded}") is not null))
            {
                Forms.Add((mark, token));
                mark = "";
            }
            else
            {
                mayBeForm = false;
                Rest.Add(token);
            }
        }
    }

    // "& C. atreus", "or erato", "/ Morpho helenor", or a second whole name with nothing between.
    private void ReadJoined(List<Token> tokens, int at, NameIndex index)
    {
        var token = tokens[at];
        var next = at + 1 < tokens.Count ? tokens[at + 1].Folded : "";
        var joined = token.Joined || TradeWords.Joins.Contains(tokens[at - 1].Folded);
        if (next.Length > 1 && (joined ? token.Dot || index.Genus(token.Folded) is not null : index.Find(token.Folded, next) is not null))
            Joined.Add((token.Folded, next));
        else if (joined && token.Folded.Length > 1 && index.Find(Genus.Folded, token.Folded) is not null)
            Joined.Add((Genus.Folded, token.Folded));
    }

    private static bool HasYear(List<Token> tokens, int at)
    {
        for (var i = at; i < tokens.Count && tokens[i].Bracketed; i++)
        {
            if (tokens[i].Kind == TokenKind.Year)
                return true;
        }

        return false;
    }
}

/// <summary>Whether a word could be Latin.</summary>
internal static class Latin
{
    private static readonly string[] epithetEndings =
    [
        "us", "a", "um", "is", "e", "i", "ae", "es", "os", "on", "as", "ax", "ops", "or", "ys", "yx", "ix", "ens", "ans", "o", "er", "an", "en",
    ];

    private static readonly string[] strictEndings = ["us", "a", "um", "is", "e", "i", "ae", "es", "os", "as", "ops", "yx", "ys"];

    private static readonly string[] genusEndings = ["us", "a", "um", "is", "es", "as", "os", "on", "ops", "ys", "yx", "ax", "ix", "oe", "pho"];

    /// <summary>True for a word that can be an epithet behind a known genus.</summary>
    public static bool IsEpithet(string folded) => folded.Length >= 3 && Ends(folded, epithetEndings) && !IsOrdinary(folded);

    /// <summary>True for a word that can be a genus nobody told us of.</summary>
    public static bool IsGenus(string folded) => folded.Length >= 4 && (Ends(folded, genusEndings) || folded.EndsWith('e')) && !IsOrdinary(folded);

    /// <summary>True for a word that can be an epithet where nothing else says so: fewer endings, for English and German words share the rest.</summary>
    public static bool IsStrictEpithet(string folded) => folded.Length >= 4 && Ends(folded, strictEndings) && !IsOrdinary(folded);

    /// <summary>True for a word of lists and letters.</summary>
    public static bool IsOrdinary(string folded) =>
        TradeWords.Ordinary.Contains(folded) || TradeWords.Noise.Contains(folded) || TradeWords.NoSpecies.Contains(folded) || TradeWords.Joins.Contains(folded);

    private static bool Ends(string word, string[] endings)
    {
        foreach (var ending in endings)
        {
            if (word.EndsWith(ending, StringComparison.Ordinal))
                return true;
        }

        return false;
    }
}

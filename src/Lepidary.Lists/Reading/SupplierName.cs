using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>Finds the supplier's name in a title or a signature.</summary>
internal static class SupplierName
{
    private static readonly string[] Breaks = [" - ", " -- ", " – ", " — ", " | ", " · ", " • ", ": ", ", ", "; ", ". ", " // ", " / ", "\t", "  ", " * "];

    private static readonly string[] Greetings = ["dear", "hi", "hello", "hallo", "hej", "hey", "subject", "betreff", "objet", "asunto", "onderwerp", "oggetto", "to", "an", "re", "liebe", "lieber", "liebes", "werte", "geehrte", "caro", "cara", "querido", "geachte", "bonjour", "cher", "chers", "hola", "estimados", "beste", "ciao", "gentili", "buongiorno", "best", "kind", "regards", "thanks", "thank", "mit", "viele", "cordialement", "saludos", "groeten", "saluti", "guten", "good", "sehr", "merci", "gracias", "danke", "grazie", "please", "bitte", "we", "our", "all", "this", "here", "tel", "phone", "www", "email", "e-mail"];

    /// <summary>Parts of a line that could be the supplier, each with a score.</summary>
    public static IEnumerable<(string Name, double Score)> Candidates(string line)
    {
        var parts = Split(line);
        for (var i = 0; i < parts.Count; i++)
        {
            var label = i > 0 ? parts[i - 1].TrimEnd(':', ' ') : "";
            var labelled = label.Length > 0 && Vocabulary.Of(label).Contains(Meaning.SupplierLabel) && line.Contains(label + ":", StringComparison.Ordinal);
            var name = Trim(parts[i]);
            foreach (var own in (string[])["Ihre ", "Ihr ", "Your ", "Votre ", "Su ", "Uw ", "Jullie ", "Il vostro ", "La vostra ", "Euer ", "Eure "])
                name = name.StartsWith(own, StringComparison.Ordinal) ? name[own.Length..] : name;
            if (labelled && name.IndexOf(" at ", StringComparison.Ordinal) is > 0 and var at)
                name = name[(at + 4)..];
            if (Score(name, labelled, line) is { } score)
                yield return (name, score - (i * 0.25));
        }
    }

    private static List<string> Split(string line)
    {
        List<string> parts = [line];
        foreach (var at in Breaks)
            parts = [.. parts.SelectMany(part => part.Split(at, StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))];
        return parts;
    }

    /// <summary>Takes list words, dates and brackets off the ends: "Preisliste Auental Zucht KW 44" is of "Auental Zucht".</summary>
    private static string Trim(string part)
    {
        var tokens = Tokeniser.Cut(part, null);
        int from = 0, to = tokens.Count;
        while (from < to && (IsListWord(tokens[from]) || (from > 0 && tokens[from].Text.Length <= 3 && char.IsLower(tokens[from].Text[0]))) && tokens.Skip(from).Take(to - from).Any(token => !IsListWord(token) && char.IsUpper(token.Text[0])))
            from++;
        while (to > from && IsListWord(tokens[to - 1]) && tokens.Skip(from).Take(to - from - 1).Any(token => !IsListWord(token) && token.Kind == TokenKind.Word))
            to--;
        return from < to ? part[tokens[from].Start..tokens[to - 1].End].Trim(' ', '"', '\'', '*', '#', '=', '-', '–', '_', '(', ')', ':', ',', '~') : "";
    }

    private static bool IsListWord(Token token) =>
        token.Kind is TokenKind.Date or TokenKind.Number or TokenKind.Sign && token.Text != "&"
        || ((token.Is(Meaning.ListTitle) || token.Is(Meaning.ListDate) || token.Is(Meaning.Order)) && !token.Is(Meaning.Firm));

    private static double? Score(string name, bool labelled, string line)
    {
        var words = name.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words.Length is 0 or > 8 || name.Count(char.IsLetter) < 3 || name.Contains('@', StringComparison.Ordinal) || (!char.IsUpper(name.FirstOrDefault(char.IsLetter)) && line.Any(char.IsUpper)))
            return null;
        if (Greetings.Contains(Folded.Of(words[0]).Trim(',', '!', '.')))
            return null;
        var tokens = Tokeniser.Cut(name, null);
        if (!labelled && tokens.TrueForAll(IsListWord))
            return null;
        bool Has(Meaning meaning) => tokens.Exists(token => token.Is(meaning));
        if (Has(Meaning.Tax) || Has(Meaning.Prices) || Has(Meaning.Price) || Has(Meaning.Minimum) || Has(Meaning.SoldOut) || Has(Meaning.Mix) || tokens.Exists(token => token.Kind is TokenKind.Currency))
            return labelled ? 1 : null;
        var capitals = words.Count(word => char.IsUpper(word[0]) || word is "&" or "and" or "und" or "et" or "y" or "e" or "en" or "de" or "du" or "des" or "la" or "le" or "les" or "del" or "di" or "van" or "von" or "der" or "the" or "of");
        var score = capitals == words.Length ? 2.0 : -1;
        if (IsFirm(name, tokens))
            score += 5;
        if (labelled)
            score += 6;
        if (Has(Meaning.ListTitle) && tokens.Exists(token => token.Is(Meaning.ListTitle) && !token.Is(Meaning.Firm)))
            score -= 4;
        if (words.Length == 1)
            score -= 2;
        if (line.TrimStart().StartsWith('*'))
            score -= 1;
        if (!line.Any(char.IsUpper))
            score += 2;
        if (name.Any(char.IsAsciiDigit))
            score -= 5;
        if (Has(Meaning.OtherDate) || Has(Meaning.Region) && tokens.Count(token => token.Kind == TokenKind.Word) == 1)
            score -= 3;
        return score;
    }

    /// <summary>A word for a firm, alone or at the end of a compound: "Schmetterlingszucht", "Falterhaus".</summary>
    private static bool IsFirm(string name, List<Token> tokens)
    {
        if (tokens.Exists(token => token.Is(Meaning.Firm)))
            return true;
        var folded = Folded.Of(name);
        return FirmParts.Any(part => folded.Contains(part, StringComparison.Ordinal));
    }

    private static readonly string[] FirmParts = ["zucht", "falter", "schmetterling", "papillon", "mariposa", "vlinder", "farfall", "butterfl", "pupae", "insect", "insekt", "lepido", "kwekerij", "allevament", "elevage", "criadero", "& daughter", "& son", "exoten", "exotic", "tropic", "crisalid", "chrysalid", "puppen", "poppen", "wings", "moth"];
}

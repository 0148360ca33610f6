using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>What a clause says of all offers at once: "minimum 5 of each species", "sold in packs of 10", "prices per 10", "prices in cents".</summary>
internal sealed record ListRule
{
    /// <summary>Fewest pupae of each species.</summary>
    public int? Minimum { get; private init; }

    /// <summary>Pupae a pack.</summary>
    public int? Pack { get; private init; }

    /// <summary>Pupae that a price pays for.</summary>
    public int? Per { get; private init; }

    /// <summary>Prices are for a pack (true) or for one (false).</summary>
    public bool? PerPack { get; private init; }

    /// <summary>So many per cent less from a number of each species on.</summary>
    public (int From, decimal Percent)? Less { get; private init; }

    /// <summary>Numbers available count packs.</summary>
    public bool StockInPacks { get; private init; }

    /// <summary>It says that it holds for each species.</summary>
    public bool OfEach { get; private init; }

    /// <summary>Whole numbers are pence or cents.</summary>
    public bool InMinor { get; private init; }

    /// <summary>They are pence.</summary>
    public bool InPence { get; private init; }

    public static ListRule Of(string clause)
    {
        var tokens = Tokeniser.Cut(clause, null);
        bool Says(Meaning meaning) => tokens.Exists(token => token.Is(meaning));
        // "Minimum 5 where shown": each line says it for itself.
        if (Says(Meaning.WhereShown))
            return new ListRule();
        var prices = Says(Meaning.Prices) || Says(Meaning.Price);
        var number = tokens.FindIndex(token => FactReader.CountOrWord(token) is > 1 && token.Currency is null && !(token.Kind == TokenKind.Word && token.Is(Meaning.Packs)));
        var several = number < 0 ? null : FactReader.CountOrWord(tokens[number]);
        var before = number < 0 ? [] : tokens.Take(number).Where(token => token.Kind == TokenKind.Word).Reverse().Take(4).ToList();
        var counted = number < 0 || number + 1 >= tokens.Count || !(tokens[number + 1].IsSign('%') || tokens[number + 1].Kind == TokenKind.Currency || tokens[number + 1].Is(Meaning.Discount) || tokens[number + 1].Is(Meaning.Species));
        var order = Says(Meaning.Box) || Says(Meaning.Carriage) || Says(Meaning.Discount) || tokens.Exists(token => token.Kind == TokenKind.Currency);
        if (several is > 1000 || !counted || (order && !prices))
            several = null;
        var minor = prices && tokens.Exists(token => token.Is(Meaning.Pence) && token.Text.Length > 3);
        var each = prices && (Says(Meaning.Each) || tokens.Exists(token => token.Is(Meaning.Each)));
        var orMore = number >= 0 && number + 1 < tokens.Count && (tokens[number + 1].Is(Meaning.OrMore) || tokens[number + 1].IsSign('+'));
        var per = orMore ? null : prices && several is not null && !Says(Meaning.PackOf) && before.Take(2).Any(word => word.Is(Meaning.Per) || word.Is(Meaning.For) || word.Is(Meaning.Each)) && !Says(Meaning.From) ? several
            : prices && number > 0 && several is not null && tokens[number - 1].IsSign('/') ? several
            : null;
        var ofEach = Says(Meaning.PerSpecies);
        var from = before.Exists(word => word.Is(Meaning.Minimum)) || tokens.Take(Math.Max(number, 0)).Any(token => token.Is(Meaning.Minimum)) || (number + 1 < tokens.Count && number >= 0 && tokens[number + 1].Is(Meaning.Minimum))
            || (ofEach && !prices && before.Take(2).Any(word => word.Is(Meaning.From)));
        var pack = several is not null && per is null && !from && (Says(Meaning.SoldIn) || before.Take(3).Any(word => word.Is(Meaning.PackOf)) || IsSuffix(tokens, number)) && !Says(Meaning.Mix);
        return new ListRule
        {
            StockInPacks = !prices && tokens.FindIndex(token => token.Is(Meaning.Available) && !token.Is(Meaning.Packs)) is >= 0 and var stock && tokens.Skip(stock + 1).Take(3).Any(token => token.Is(Meaning.PackOf) || token.Is(Meaning.Packs)) && tokens.TrueForAll(token => !token.Is(Meaning.SoldIn) || token.Is(Meaning.PackOf)),
            OfEach = ofEach,
            Less = (ofEach || !order || Says(Meaning.Discount)) && FactReader.Read(clause, null).PercentBreaks is [var less] ? less : null,
            Minimum = several is { } least && ofEach && from && !prices ? least : null,
            Pack = pack && !(prices && !Says(Meaning.PackOf)) ? several : null,
            Per = per,
            PerPack = !prices || per is not null ? null : Says(Meaning.PerPack) ? true : each ? false : null,
            InMinor = minor,
            InPence = minor && tokens.Exists(token => token.Text.Equals("pence", StringComparison.OrdinalIgnoreCase)),
        };
    }

    /// <summary>"5er-Packungen", "5s".</summary>
    private static bool IsSuffix(List<Token> tokens, int number) => number >= 0 && tokens.Skip(number + 1).Take(2).Any(token => token.Is(Meaning.PackOf) && (token.Start - tokens[number].End) <= 1);
}

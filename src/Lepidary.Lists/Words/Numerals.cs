using System.Collections.Frozen;

namespace Lepidary.Lists.Words;

/// <summary>The numbers from 1 to 99 as the six languages write them in words, folded: <c>twenty-five</c>, <c>fünfundzwanzig</c>, <c>treinta y cinco</c>.</summary>
internal static class Numerals
{
    private const int LongestNumeral = 24;

    private static readonly FrozenDictionary<string, int> Values = Load();

    private static readonly FrozenDictionary<string, int>.AlternateLookup<ReadOnlySpan<char>> BySpan = Values.GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>One of something; an article as often as a number, so it counts only before a currency.</summary>
    private static readonly FrozenSet<string> Ones = FrozenSet.ToFrozenSet(["one", "ein", "einen", "eine", "un", "une", "uno", "una", "een"]);

    /// <summary>True for a word that is a one or an article.</summary>
    public static bool IsOne(string word) => Ones.Contains(Folded.Of(word));

    /// <summary>The longest numeral that begins at a place of a folded text and ends at the end of a word; its length is 0 when there is none.</summary>
    public static (int Length, int Value) LongestAt(string folded, int start)
    {
        var text = folded.AsSpan(start, Math.Min(LongestNumeral, folded.Length - start));
        for (var length = text.Length; length > 2; length--)
        {
            var next = start + length < folded.Length ? folded[start + length] : ' ';
            if (!char.IsLetter(next) && next is not '-' && BySpan.TryGetValue(text[..length], out var value))
                return (length, value);
        }
        return (0, 0);
    }

    private static FrozenDictionary<string, int> Load()
    {
        var values = new Dictionary<string, int>(StringComparer.Ordinal);
        void Add(string word, int value) => values.TryAdd(word, value);
        void AddAll(string words, int first, int step = 1)
        {
            foreach (var (word, i) in words.Split(' ').Select((word, i) => (word, i)))
                Add(word, first + (i * step));
        }

        // Two to nineteen and the tens; a one stands within the numbers above twenty alone.
        AddAll("two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen", 2);
        AddAll("twenty thirty forty fifty sixty seventy eighty ninety", 20, 10);
        AddAll("zwei drei vier funf sechs sieben acht neun zehn elf zwolf dreizehn vierzehn funfzehn sechzehn siebzehn achtzehn neunzehn", 2);
        AddAll("zwanzig dreissig vierzig funfzig sechzig siebzig achtzig neunzig", 20, 10);
        AddAll("deux trois quatre cinq six sept huit neuf dix onze douze treize quatorze quinze seize dix-sept dix-huit dix-neuf", 2);
        AddAll("vingt trente quarante cinquante soixante soixante-dix quatre-vingts quatre-vingt-dix", 20, 10);
        AddAll("dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince dieciseis diecisiete dieciocho diecinueve", 2);
        AddAll("veinte treinta cuarenta cincuenta sesenta setenta ochenta noventa", 20, 10);
        AddAll("twee drie vier vijf zes zeven acht negen tien elf twaalf dertien veertien vijftien zestien zeventien achttien negentien", 2);
        AddAll("twintig dertig veertig vijftig zestig zeventig tachtig negentig", 20, 10);
        AddAll("due tre quattro cinque sei sette otto nove dieci undici dodici tredici quattordici quindici sedici diciassette diciotto diciannove", 2);
        AddAll("venti trenta quaranta cinquanta sessanta settanta ottanta novanta", 20, 10);
        foreach (var (umlaut, plain) in new[] { ("fuenf", "funf"), ("zwoelf", "zwolf"), ("dreiszig", "dreissig") })
        {
            foreach (var (word, value) in values.Where(pair => pair.Key.StartsWith(plain, StringComparison.Ordinal)).ToList())
                Add(umlaut + word[plain.Length..], value);
        }

        string[] english = "one two three four five six seven eight nine".Split(' '), german = "ein zwei drei vier funf sechs sieben acht neun".Split(' '), french = "un deux trois quatre cinq six sept huit neuf".Split(' ');
        string[] spanish = "uno dos tres cuatro cinco seis siete ocho nueve".Split(' '), dutch = "een twee drie vier vijf zes zeven acht negen".Split(' '), italian = "uno due tre quattro cinque sei sette otto nove".Split(' ');
        string[] frenchTeens = "onze douze treize quatorze quinze seize dix-sept dix-huit dix-neuf".Split(' ');
        for (var ten = 2; ten <= 9; ten++)
        {
            for (var unit = 1; unit <= 9; unit++)
            {
                var value = (ten * 10) + unit;
                var one = unit - 1;
                var (en, de, nl) = ("twenty thirty forty fifty sixty seventy eighty ninety".Split(' ')[ten - 2], "zwanzig dreissig vierzig funfzig sechzig siebzig achtzig neunzig".Split(' ')[ten - 2], "twintig dertig veertig vijftig zestig zeventig tachtig negentig".Split(' ')[ten - 2]);
                Add($"{en}-{english[one]}", value);
                Add($"{en} {english[one]}", value);
                Add($"{german[one]}und{de}", value);
                Add($"{dutch[one]}en{nl}", value);
                var it = "venti trenta quaranta cinquanta sessanta settanta ottanta novanta".Split(' ')[ten - 2];
                Add((unit is 1 or 8 ? it[..^1] : it) + italian[one], value);
                var es = "veinte treinta cuarenta cincuenta sesenta setenta ochenta noventa".Split(' ')[ten - 2];
                Add(ten == 2 ? "veinti" + spanish[one] : $"{es} y {spanish[one]}", value);
                var fr = ten switch { 2 => "vingt", 3 => "trente", 4 => "quarante", 5 => "cinquante", 6 or 7 => "soixante", _ => "quatre-vingt" };
                var (joined, spaced) = ten is 7 or 9 ? (frenchTeens[one], frenchTeens[one]) : (french[one], french[one]);
                Add(unit == 1 && ten < 8 ? $"{fr} et {joined}" : $"{fr}-{joined}", value);
                Add(unit == 1 && ten < 8 ? $"{fr}-et-{joined}" : $"{fr} {spaced}", value);
            }
        }
        foreach (var (word, value) in values.Where(pair => pair.Value % 10 == 1).ToList())
        {
            // Chrysalides and pupas are feminine: vingt et une, veintiuna, ventuna.
            if (word.EndsWith("un", StringComparison.Ordinal))
                Add(word + "e", value);
            else if (word.EndsWith("uno", StringComparison.Ordinal))
                Add(word[..^1] + "a", value);
        }
        // English says it of time.
        values.Remove("once");
        return values.ToFrozenDictionary(StringComparer.Ordinal);
    }
}

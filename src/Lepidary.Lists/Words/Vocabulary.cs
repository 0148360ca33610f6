using System.Collections.Frozen;

namespace Lepidary.Lists.Words;

/// <summary>The table <c>words.txt</c>: phrases in six languages and what they can mean.</summary>
internal static class Vocabulary
{
    /// <summary>Longest phrase looked for, in folded characters.</summary>
    private const int LongestPhrase = 40;

    private static readonly FrozenDictionary<string, FrozenSet<Meaning>> Phrases = Load();

    private static readonly FrozenDictionary<string, FrozenSet<Meaning>>.AlternateLookup<ReadOnlySpan<char>> BySpan = Phrases.GetAlternateLookup<ReadOnlySpan<char>>();

    private static readonly FrozenSet<Meaning> Nothing = FrozenSet<Meaning>.Empty;

    /// <summary>What a whole text means, or nothing.</summary>
    public static IReadOnlySet<Meaning> Of(string text) => Phrases.GetValueOrDefault(Folded.Of(text)) ?? Nothing;

    /// <summary>The longest phrase that begins at a place of a folded text and ends at the end of a word; its length is 0 when there is none.</summary>
    public static (int Length, IReadOnlySet<Meaning> Meanings) LongestAt(string folded, int start)
    {
        var text = folded.AsSpan(start, Math.Min(LongestPhrase, folded.Length - start));
        for (var length = text.Length; length > 0; length--)
        {
            var next = start + length < folded.Length ? folded[start + length] : ' ';
            var endsInWord = (char.IsLetter(text[length - 1]) && char.IsLetter(next)) || (char.IsAsciiDigit(text[length - 1]) && (char.IsAsciiDigit(next) || next is '.' or ','));
            if (!endsInWord && text[length - 1] != ' ' && BySpan.TryGetValue(text[..length], out var meanings))
                return (length, meanings);
        }
        return (0, Nothing);
    }

    /// <summary>Every phrase with its meaning and language, as the table has them.</summary>
    public static IEnumerable<(Meaning Meaning, string Language, string Phrase)> Entries()
    {
        using var stream = typeof(Vocabulary).Assembly.GetManifestResourceStream("words.txt")!;
        using var reader = new StreamReader(stream);
        Meaning? meaning = null;
        while (reader.ReadLine() is { } line)
        {
            if (line.Length == 0 || line[0] == '#')
                continue;
            if (line[0] == '[')
            {
                meaning = Enum.Parse<Meaning>(line.Trim('[', ']'));
                continue;
            }
            var colon = line.IndexOf(':', StringComparison.Ordinal);
            foreach (var phrase in line[(colon + 1)..].Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
                yield return (meaning!.Value, line[..colon], phrase);
        }
    }

    private static FrozenDictionary<string, FrozenSet<Meaning>> Load() => Entries()
        .GroupBy(entry => Folded.Of(entry.Phrase), entry => entry.Meaning)
        .ToFrozenDictionary(group => group.Key, group => group.ToFrozenSet(), StringComparer.Ordinal);
}

using System.Globalization;
using System.Text;

namespace Lepidary.Taxa.Names;

/// <summary>Brings printed words to letters that can be compared.</summary>
internal static class Folding
{
    /// <summary>A word in lower case a to z, without accents, hyphens, apostrophes and other marks.</summary>
    public static string Fold(string word)
    {
        var plain = true;
        foreach (var c in word)
            plain &= c is >= 'a' and <= 'z';
        if (plain)
            return word;

        Span<char> kept = word.Length <= 64 ? stackalloc char[128] : new char[word.Length * 2];
        var count = 0;
        foreach (var c in Ascii(word) ? word : word.Normalize(NormalizationForm.FormD))
        {
            var lower = char.ToLowerInvariant(c);
            if (lower is >= 'a' and <= 'z')
            {
                kept[count++] = lower;
                continue;
            }

            var (first, second) = lower switch
            {
                'æ' => ('a', 'e'),
                'œ' => ('o', 'e'),
                'ß' => ('s', 's'),
                'ø' => ('o', '\0'),
                'ł' => ('l', '\0'),
                'đ' or 'ð' => ('d', '\0'),
                'ı' => ('i', '\0'),
                _ => ('\0', '\0'),
            };
            if (first != '\0')
                kept[count++] = first;
            if (second != '\0')
                kept[count++] = second;
        }

        return new string(kept[..count]);
    }

    /// <summary>The letters of a word as bits, to rule out unlike words quickly.</summary>
    public static uint Letters(string folded)
    {
        var bits = 0u;
        foreach (var c in folded)
            bits |= 1u << (c - 'a');
        return bits;
    }

    private static bool Ascii(string word)
    {
        foreach (var c in word)
        {
            if (c > 127)
                return false;
        }

        return true;
    }

    /// <summary>True for a mark that sits on a letter.</summary>
    public static bool IsAccent(char c) => CharUnicodeInfo.GetUnicodeCategory(c) == UnicodeCategory.NonSpacingMark;
}

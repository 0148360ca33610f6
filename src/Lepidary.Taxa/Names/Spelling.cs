using System.Numerics;

namespace Lepidary.Taxa.Names;

/// <summary>How far apart two folded words are.</summary>
internal static class Spelling
{
    /// <summary>The distance of words that a Latin ear confuses: y for i, ph for f, one letter for two, another gender.</summary>
    public const double SameSound = 0.5;

    /// <summary>More than any distance that is looked for.</summary>
    public const double Far = 99;

    private static readonly string[] endings = ["us", "um", "os", "is", "ea", "ii", "a", "e", "i"];

    /// <summary>
    /// Letters to insert, drop, change, or swap with their neighbour (Damerau and Levenshtein), or <see cref="SameSound"/> where both sound the same.
    /// </summary>
    /// <returns>0 when equal; <see cref="Far"/> when more than <paramref name="most"/>.</returns>
    public static double Distance(Word a, Word b, int most)
    {
        if (a.Text == b.Text)
            return 0;
        if (a.Sound.Length >= 3 && a.Sound == b.Sound)
            return SameSound;

        // Every edit changes at most one letter on each side.
        if (Math.Abs(a.Text.Length - b.Text.Length) > most
            || BitOperations.PopCount(a.Letters & ~b.Letters) > most
            || BitOperations.PopCount(b.Letters & ~a.Letters) > most)
        {
            return Far;
        }

        return Edits(a.Text, b.Text, most) is var edits && edits <= most ? edits : Far;
    }

    /// <summary>A folded word by its sound: doubled letters single, y as i, ph as f, th as t, ch and k as c, ae and oe as e, without its gender.</summary>
    public static string Sound(string folded)
    {
        var stem = folded.AsSpan();
        foreach (var ending in endings)
        {
            if (stem.Length - ending.Length >= 3 && stem.EndsWith(ending, StringComparison.Ordinal))
            {
                stem = stem[..^ending.Length];
                break;
            }
        }

        Span<char> sound = stem.Length <= 64 ? stackalloc char[64] : new char[stem.Length];
        var count = 0;
        for (var i = 0; i < stem.Length; i++)
        {
            var next = i + 1 < stem.Length ? stem[i + 1] : '\0';
            var c = (stem[i], next) switch
            {
                ('p', 'h') => 'f',
                ('a' or 'o', 'e') => 'e',
                ('t' or 'c' or 'r', 'h') => stem[i],
                ('y' or 'j', _) => 'i',
                ('k' or 'q', _) => 'c',
                ('w', _) => 'v',
                _ => stem[i],
            };
            if ((stem[i], next) is ('p', 'h') or ('a' or 'o', 'e') or ('t' or 'c' or 'r', 'h'))
                i++;
            if (count == 0 || sound[count - 1] != c)
                sound[count++] = c;
        }

        return new string(sound[..count]);
    }

    // Damerau and Levenshtein's distance in full: letters may have come between two that are swapped.
    private static int Edits(string a, string b, int most)
    {
        var (height, width) = (a.Length + 2, b.Length + 2);
        Span<int> cost = height * width <= 512 ? stackalloc int[height * width] : new int[height * width];
        Span<int> lastRow = stackalloc int[26];
        var far = a.Length + b.Length;
        cost.Fill(far);
        for (var i = 0; i <= a.Length; i++)
            cost[((i + 1) * width) + 1] = i;
        for (var j = 0; j <= b.Length; j++)
            cost[width + j + 1] = j;

        for (var i = 1; i <= a.Length; i++)
        {
            var (lastColumn, least) = (0, far);

            // Further from the diagonal than the limit nothing within the limit passes.
            for (var j = Math.Max(1, i - most); j <= Math.Min(b.Length, i + most); j++)
            {
                var (row, column) = (lastRow[b[j - 1] - 'a'], lastColumn);
                var same = a[i - 1] == b[j - 1];
                if (same)
                    lastColumn = j;
                var change = cost[(i * width) + j] + (same ? 0 : 1);
                var edit = Math.Min(cost[(i * width) + j + 1], cost[((i + 1) * width) + j]) + 1;
                var swap = cost[(row * width) + column] + (i - row - 1) + 1 + (j - column - 1);
                least = Math.Min(least, cost[((i + 1) * width) + j + 1] = Math.Min(change, Math.Min(edit, swap)));
            }

            // A swap can reach back one row, so one row above the limit is not yet the end.
            if (least > most + 1)
                return most + 1;
            lastRow[a[i - 1] - 'a'] = i;
        }

        return cost[^1];
    }
}

/// <summary>A folded word with what comparing needs.</summary>
internal readonly record struct Word(string Text, string Sound, uint Letters)
{
    /// <summary>From a folded word.</summary>
    public static Word Of(string folded) => new(folded, Spelling.Sound(folded), Folding.Letters(folded));
}

using System.Numerics;
using System.Text;

namespace Lepidary.Taxa.Names;

/// <summary>How far apart two folded words are.</summary>
internal static class Spelling
{
    /// <summary>The distance of words that a Latin ear confuses: y for i, ph for f, one letter for two, another gender.</summary>
    public const double SameSound = 0.5;

    /// <summary>More than any distance that is looked for.</summary>
    public const double Far = 99;

    private static readonly string[] endings = ["us", "um", "os", "is", "a", "e"];

    /// <summary>
    /// Letters to insert, drop, change, or swap with their neighbour (optimal string alignment), or <see cref="SameSound"/> where both sound the same.
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

        var sound = new StringBuilder(stem.Length);
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
            if (sound.Length == 0 || sound[^1] != c)
                sound.Append(c);
        }

        return sound.ToString();
    }

    private static int Edits(string a, string b, int most)
    {
        var width = b.Length + 1;
        Span<int> rows = stackalloc int[3 * width <= 192 ? 192 : 3 * width];
        var before = rows[..width];
        var above = rows.Slice(width, width);
        var row = rows.Slice(2 * width, width);
        for (var j = 0; j < width; j++)
            above[j] = j;
        for (var i = 1; i <= a.Length; i++)
        {
            row[0] = i;
            var least = i;
            for (var j = 1; j < width; j++)
            {
                var change = above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
                var cost = Math.Min(change, Math.Min(above[j], row[j - 1]) + 1);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    cost = Math.Min(cost, before[j - 2] + 1);
                row[j] = cost;
                least = Math.Min(least, cost);
            }

            if (least > most)
                return most + 1;
            var spare = before;
            before = above;
            above = row;
            row = spare;
        }

        return above[b.Length];
    }
}

/// <summary>A folded word with what comparing needs.</summary>
internal readonly record struct Word(string Text, string Sound, uint Letters)
{
    /// <summary>From a folded word.</summary>
    public static Word Of(string folded) => new(folded, Spelling.Sound(folded), Folding.Letters(folded));
}

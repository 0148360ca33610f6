using System.Globalization;
using System.Text;

namespace Lepidary.Lists.Words;

/// <summary>A text in lower case, without accents and with plain spaces, that knows where each character came from.</summary>
internal sealed class Folded
{
    private readonly int[] origin;

    public Folded(string text)
    {
        var folded = new StringBuilder(text.Length);
        var places = new List<int>(text.Length + 1);
        for (var i = 0; i < text.Length; i++)
        {
            foreach (var c in Fold(text[i]))
            {
                folded.Append(c);
                places.Add(i);
            }
        }
        places.Add(text.Length);
        Text = folded.ToString();
        origin = [.. places];
    }

    public string Text { get; }

    /// <summary>Index in the text before folding.</summary>
    public int Origin(int index) => origin[index];

    /// <summary>The folded text, trimmed and with single spaces.</summary>
    public static string Of(string text) => string.Join(' ', new Folded(text).Text.Split(' ', StringSplitOptions.RemoveEmptyEntries));

    private static string Fold(char c)
    {
        if (c < 128)
            return AsciiLower[c];
        if (char.IsWhiteSpace(c))
            return " ";
        switch (c)
        {
            case 'ß':
                return "ss";
            case 'æ' or 'Æ':
                return "ae";
            case 'œ' or 'Œ':
                return "oe";
            case 'ø' or 'Ø':
                return "o";
            case 'ł' or 'Ł':
                return "l";
            case '’' or '‘' or '´' or '`':
                return "'";
            case '–' or '—' or '‐' or '‑' or '−':
                return "-";
            case '°' or 'º':
                return c.ToString();
        }
        // Half of a surrogate pair cannot be normalised alone.
        if (char.IsSurrogate(c) || CharUnicodeInfo.GetUnicodeCategory(c) == UnicodeCategory.OtherNotAssigned)
            return c.ToString();
        if (CharUnicodeInfo.GetUnicodeCategory(c) == UnicodeCategory.NonSpacingMark)
            return "";
        var plain = c.ToString().Normalize(NormalizationForm.FormD);
        return char.ToLowerInvariant(plain[0]).ToString();
    }

    private static readonly string[] AsciiLower =
        [.. Enumerable.Range(0, 128).Select(c => char.IsWhiteSpace((char)c) ? " " : char.ToLowerInvariant((char)c).ToString())];
}

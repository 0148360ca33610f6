namespace Lepidary.Lists.Formats;

/// <summary>Cuts a text into lines, whatever ends them.</summary>
internal static class Lines
{
    /// <summary>The lines, without their ends; a line end at the very end of the text begins no further line.</summary>
    public static IReadOnlyList<string> Of(string text)
    {
        var lines = new List<string>();
        var start = 0;
        for (var i = 0; i < text.Length; i++)
        {
            if (!IsLineEnd(text[i]))
                continue;
            lines.Add(text[start..i]);
            if (text[i] == '\r' && i + 1 < text.Length && text[i + 1] == '\n')
                i++;
            start = i + 1;
        }
        if (start < text.Length)
            lines.Add(text[start..]);
        return lines;
    }

    private static bool IsLineEnd(char c) => c is '\n' or '\r' or '\f' or '\v' or '\u0085' or '\u2028' or '\u2029';
}

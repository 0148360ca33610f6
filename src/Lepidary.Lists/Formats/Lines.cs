namespace Lepidary.Lists.Formats;

/// <summary>Cuts a text into lines, whatever ends them.</summary>
internal static class Lines
{
    /// <summary>The lines, without their ends; a line end at the very end of the text begins no further line.</summary>
    public static IReadOnlyList<string> Of(string text) => [.. Places(text).Select(line => text[line.From..line.To])];

    /// <summary>Where each of them begins and ends in the text, their line ends apart.</summary>
    public static IReadOnlyList<(int From, int To)> Places(string text)
    {
        var lines = new List<(int From, int To)>();
        var start = 0;
        for (var i = 0; i < text.Length; i++)
        {
            if (!IsLineEnd(text[i]))
                continue;
            lines.Add((start, i));
            if (text[i] == '\r' && i + 1 < text.Length && text[i + 1] == '\n')
                i++;
            start = i + 1;
        }
        if (start < text.Length)
            lines.Add((start, text.Length));
        return lines;
    }

    private static bool IsLineEnd(char c) => c is '\n' or '\r' or '\f' or '\v' or '\u0085' or '\u2028' or '\u2029';
}

namespace Lepidary.Lists.Reading;

/// <summary>Numbers as people print them: which sign is the decimal mark depends on the list.</summary>
internal static class NumberText
{
    /// <summary>Length of the number at a place, or 0. Grouping by apostrophes and by no-break spaces is taken along, by plain spaces only when decimals follow.</summary>
    public static int LengthAt(string text, int start)
    {
        var i = start;
        if (i < text.Length && text[i] is '.' or ',' && i + 1 < text.Length && char.IsAsciiDigit(text[i + 1]))
            i++;
        if (i >= text.Length || !char.IsAsciiDigit(text[i]))
            return 0;
        while (true)
        {
            while (i < text.Length && char.IsAsciiDigit(text[i]))
                i++;
            if (i >= text.Length)
                break;
            var joins = text[i] switch
            {
                '.' or ',' => i + 1 < text.Length && char.IsAsciiDigit(text[i + 1]),
                '\'' or '’' or '\u00A0' or '\u202F' or '\u2009' => GroupOfThree(text, i + 1) && i - start <= 3,
                ' ' => i - start <= 3 && GroupOfThree(text, i + 1) && i + 4 < text.Length && text[i + 4] is '.' or ',' && i + 5 < text.Length && char.IsAsciiDigit(text[i + 5]),
                _ => false,
            };
            if (!joins)
                break;
            i++;
        }
        return i - start;
    }

    private static bool GroupOfThree(string text, int start) =>
        start + 3 <= text.Length && char.IsAsciiDigit(text[start]) && char.IsAsciiDigit(text[start + 1]) && char.IsAsciiDigit(text[start + 2])
        && (start + 3 == text.Length || !char.IsAsciiDigit(text[start + 3]));

    /// <summary>The decimal mark that a printed number proves, or null when it proves none.</summary>
    public static char? MarkProvedBy(string number)
    {
        var (last, behind, kinds, count) = Shape(number);
        if (kinds == 2)
            return last;
        return count == 1 && behind != 3 ? last : null;
    }

    /// <summary>The value of a printed number.</summary>
    /// <param name="number">As <see cref="LengthAt"/> found it.</param>
    /// <param name="mark">Decimal mark of the list, or null where it is not known.</param>
    /// <returns>The value and the digits behind the decimal mark; null when it is no number of a list (too long, grouped oddly).</returns>
    public static (decimal Value, int Decimals)? Read(string number, char? mark)
    {
        var (last, behind, kinds, count) = Shape(number);
        char? point = null;
        if (kinds == 2 && number.LastIndexOf(last!.Value) != number.IndexOf(last.Value, StringComparison.Ordinal))
            return null;
        if (kinds == 2)
            point = last;
        else if (count == 1 && (behind != 3 || last == mark || number.StartsWith('0') || number[0] == last))
            point = last;
        else if (count > 1 && behind != 3)
            return null;

        decimal value = 0, scale = 1;
        int decimals = 0, digits = 0;
        var fraction = false;
        foreach (var c in number)
        {
            if (char.IsAsciiDigit(c))
            {
                if (++digits > 15)
                    return null;
                value = (value * 10) + (c - '0');
                if (fraction)
                {
                    scale *= 10;
                    decimals++;
                }
            }
            else if (c == point)
            {
                fraction = true;
            }
        }
        return (value / scale, decimals);
    }

    private static (char? Last, int Behind, int Kinds, int Count) Shape(string number)
    {
        char? last = null;
        int behind = 0, points = 0, commas = 0;
        foreach (var c in number)
        {
            if (c is '.' or ',')
            {
                last = c;
                behind = 0;
                if (c == '.')
                    points++;
                else
                    commas++;
            }
            else if (char.IsAsciiDigit(c))
            {
                behind++;
            }
        }
        return (last, behind, (points > 0 ? 1 : 0) + (commas > 0 ? 1 : 0), points + commas);
    }
}

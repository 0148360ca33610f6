using System.Globalization;
using System.Text.RegularExpressions;
using Lepidary.Lists.Words;
using S = DocumentFormat.OpenXml.Spreadsheet;

namespace Lepidary.Lists.Formats;

/// <summary>What the look of a cell says about its number.</summary>
/// <param name="Code">The number format; empty for general.</param>
/// <param name="Currency">ISO 4217 code that it shows, or null.</param>
/// <param name="IsDate">True when the number is a day.</param>
/// <param name="Decimals">Digits behind the point; -1 for as many as there are.</param>
/// <param name="Struck">True when the font is struck through.</param>
internal sealed record CellStyle(string Code, string? Currency, bool IsDate, int Decimals, bool Struck)
{
    public static CellStyle General { get; } = new("", null, false, -1, false);

    /// <summary>The number as the sheet shows it, with a decimal point and the currency's code or sign behind.</summary>
    public string Show(decimal value)
    {
        if (Code.Contains('%', StringComparison.Ordinal))
            return (value * 100).ToString("0.##", CultureInfo.InvariantCulture) + "%";
        var number = Decimals < 0
            ? Math.Round(value, 6).ToString("0.######", CultureInfo.InvariantCulture)
            : value.ToString("F" + Math.Min(Decimals, 6).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return Currency is null ? number : $"{number} {Currency}";
    }
}

/// <summary>The styles of a workbook, by index.</summary>
internal sealed partial class CellStyles
{
    private readonly List<CellStyle> styles = [];

    public CellStyles(S.Stylesheet? sheet)
    {
        var codes = new Dictionary<uint, string>();
        foreach (var format in sheet?.NumberingFormats?.Elements<S.NumberingFormat>() ?? [])
        {
            if (format.NumberFormatId?.Value is { } id)
                codes[id] = format.FormatCode?.Value ?? "";
        }
        var struck = sheet?.Fonts?.Elements<S.Font>().Select(font => font.Strike is { } strike && (strike.Val?.Value ?? true)).ToList() ?? [];
        foreach (var format in sheet?.CellFormats?.Elements<S.CellFormat>() ?? [])
        {
            var id = format.NumberFormatId?.Value ?? 0;
            var code = codes.TryGetValue(id, out var own) ? own : BuiltIn(id);
            var font = format.FontId?.Value ?? 0;
            styles.Add(Of(code, font < struck.Count && struck[(int)font]));
        }
    }

    public CellStyle Of(uint? index) => index is { } i && i < styles.Count ? styles[(int)i] : CellStyle.General;

    private static CellStyle Of(string code, bool struck)
    {
        // A format has up to four parts: positive, negative, zero, text. The first one shows a price.
        var first = code.Split(';')[0];
        var bare = Quoted().Replace(Bracketed().Replace(first, ""), "");
        var isDate = bare.IndexOfAny(['d', 'y', 'D', 'Y']) >= 0 || (bare.Contains('m', StringComparison.OrdinalIgnoreCase) && bare.IndexOfAny(['0', '#']) < 0);
        var point = bare.IndexOf('.', StringComparison.Ordinal);
        var decimals = bare.IndexOfAny(['0', '#', '?']) < 0 ? -1 : point < 0 ? 0 : bare[(point + 1)..].TakeWhile(c => c is '0' or '#' or '?').Count();
        return new CellStyle(first, isDate ? null : CurrencyOf(first), isDate && !first.Equals("General", StringComparison.OrdinalIgnoreCase), decimals, struck);
    }

    internal static string? CurrencyOf(string code)
    {
        var bracket = CurrencyBracket().Match(code);
        var shown = bracket.Success ? bracket.Groups[1].Value.Trim() : Bracketed().Replace(code, "").Trim('0', '#', ',', '.', '_', '-', ' ', '*', '(', ')', '"', '\\');
        return shown.Length is > 0 and < 8 && !shown.Equals("General", StringComparison.OrdinalIgnoreCase) ? Currencies.Find(shown) : null;
    }

    /// <summary>
    /// The formats that files may use by number alone (ECMA-376 part 1, 18.8.30). Those with a currency show whatever the reader's own
    /// machine is set to, so they say nothing about the list's.
    /// </summary>
    private static string BuiltIn(uint id) => id switch
    {
        1 => "0",
        2 => "0.00",
        3 or 37 or 38 => "#,##0",
        4 or 39 or 40 => "#,##0.00",
        5 or 6 or 41 or 42 => "#,##0",
        7 or 8 or 43 or 44 => "#,##0.00",
        9 => "0%",
        10 => "0.00%",
        >= 14 and <= 17 or 22 => "yyyy-mm-dd",
        _ => "",
    };

    [GeneratedRegex(@"\[\$([^\]-]*)(?:-[0-9A-Fa-f]*)?\]")]
    private static partial Regex CurrencyBracket();

    [GeneratedRegex(@"\[[^\]]*\]")]
    private static partial Regex Bracketed();

    [GeneratedRegex("\"[^\"]*\"|\\\\.|_.|\\*.")]
    private static partial Regex Quoted();
}

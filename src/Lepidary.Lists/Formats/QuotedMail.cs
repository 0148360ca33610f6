using System.Text.RegularExpressions;

namespace Lepidary.Lists.Formats;

/// <summary>Finds what a mail quotes of older mails: last week's list below this week's must not be read as offers.</summary>
internal static partial class QuotedMail
{
    /// <summary>The sheet with its quoted rows marked; unchanged when nearly all of it is quoted, as in a mail sent on.</summary>
    public static Sheet Mark(Sheet sheet)
    {
        var below = sheet.Rows.ToList().FindIndex(row => Begins().IsMatch(row.Text.Trim()));
        var rows = sheet.Rows.Select((row, i) => row with { Quoted = row.Text.StartsWith('>') || (below >= 0 && i >= below) }).ToList();
        var kept = rows.Where(row => !row.Quoted).Sum(row => row.Text.Length);
        return kept > 0 && rows.Exists(row => row.Quoted) && rows.Count(row => !row.Quoted && row.Text.Any(char.IsAsciiDigit)) >= 2 ? sheet with { Rows = rows } : sheet;
    }

    [GeneratedRegex(@"^(?:-{2,}\s*(?:original message|urspr.ngliche nachricht|message d'origine|mensaje original|oorspronkelijk bericht|messaggio originale|forwarded message)\s*-*|(?:on|am|le|el|op|il)\s.{5,80}\s(?:wrote|schrieb|a écrit|escribió|schreef|ha scritto)(?:\s.*)?:)$", RegexOptions.IgnoreCase)]
    private static partial Regex Begins();
}

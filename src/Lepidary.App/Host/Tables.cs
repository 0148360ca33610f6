using System.Globalization;
using Spectre.Console;

namespace Lepidary.App.Host;

/// <summary>Tables in the terminal: rules between head and body alone, figures on the right.</summary>
internal static class Tables
{
    public static Table Plain(params string[] heads)
    {
        var table = new Table().Border(TableBorder.Simple);
        foreach (var head in heads)
        {
            table.AddColumn(new TableColumn(head));
        }

        return table;
    }

    /// <summary>Text as it is: brackets in a list's line are no markup.</summary>
    public static Text Cell(string text) => new(text);

    public static Text Number(int number) => Number(number.ToString(CultureInfo.InvariantCulture));

    public static Text Number(string number) => new Text(number).RightJustified();
}

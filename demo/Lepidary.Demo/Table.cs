using System.Globalization;
using System.Text;

namespace Lepidary.Demo;

/// <summary>The small tables that ship inside this program: a header, then rows, semicolons between, no quotes.</summary>
internal static class Table
{
    public static IEnumerable<Row> Read(string name)
    {
        using Stream stream = typeof(Table).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"No table {name} in this program.");
        using StreamReader reader = new(stream, Encoding.UTF8);
        string[] header = reader.ReadLine()!.Split(';');
        List<Row> rows = [];
        while (reader.ReadLine() is { Length: > 0 } line)
        {
            rows.Add(new Row(header, line.Split(';')));
        }

        return rows;
    }

    internal sealed record Row(string[] Header, string[] Cells)
    {
        public string this[string column] => Cells[Array.IndexOf(Header, column)];

        public int Whole(string column) => int.Parse(this[column], CultureInfo.InvariantCulture);

        public double Number(string column) => double.Parse(this[column], CultureInfo.InvariantCulture);

        public decimal Money(string column) => decimal.Parse(this[column], CultureInfo.InvariantCulture);
    }
}

using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Xml.Linq;
using Lepidary.Lists;
using Lepidary.Taxa;

namespace Lepidary.Bench.Lists;

/// <summary>Reading a list of 150 lines, beside the bare pass over the same bytes that any reader must make.</summary>
internal static class ListsBench
{
    private const int Lines = 150;
    private const int Times = 15;

    public static int Run(string[] args)
    {
        Figures.Head("lists");
        var options = new ReadOptions { Names = new NameFinder(TaxonTable.Shipped), Today = new DateOnly(2026, 11, 27) };
        var species = TaxonTable.Shipped.All.Where(taxon => taxon.TradedOften).Take(Lines).ToList();
        var csv = Encoding.UTF8.GetBytes("Species;Common name;Price EUR;from 20;Available\n" + string.Concat(species.Select((taxon, index) =>
            string.Create(CultureInfo.InvariantCulture, $"{taxon.Name};{(taxon.CommonNames is [var common, ..] ? common : "")};{2 + (index % 30 / 10.0m):0.00};{1.8m + (index % 30 / 10.0m):0.00};{10 + (index % 60)}\n"))));
        var text = Encoding.UTF8.GetBytes("Prices in EUR, without tax\n" + string.Concat(species.Select((taxon, index) =>
            string.Create(CultureInfo.InvariantCulture, $"{taxon.Name} {2 + (index % 30 / 10.0m):0.00}, {10 + (index % 60)} available\n"))));
        Say("CSV of 150 lines", csv, "list.csv", () => Cells(csv, ';'));
        Say("text of 150 lines", text, "list.txt", () => Cells(text, ' '));
        if (args is [var workbook])
        {
            var bytes = File.ReadAllBytes(workbook);
            Say($"workbook {Path.GetFileName(workbook)}", bytes, "list.xlsx", () => Parts(bytes));
        }

        return 0;

        void Say(string what, byte[] bytes, string name, Action bare)
        {
            var offers = ListReader.Read(bytes, name, options).Value.Offers.Count;
            Figures.Row($"{what}, {offers} offers", Figures.Median(Times, () => ListReader.Read(bytes, name, options)), "ms", Figures.Median(Times, bare));
        }
    }

    /// <summary>The text cut into cells and nothing more.</summary>
    private static void Cells(byte[] bytes, char between)
    {
        var cells = 0;
        foreach (var line in Encoding.UTF8.GetString(bytes).Split('\n'))
        {
            cells += line.Split(between).Length;
        }

        ArgumentOutOfRangeException.ThrowIfZero(cells);
    }

    /// <summary>All the XML of a workbook, parsed and nothing more.</summary>
    private static void Parts(byte[] bytes)
    {
        using var zip = new ZipArchive(new MemoryStream(bytes));
        foreach (var part in zip.Entries.Where(part => part.FullName.EndsWith(".xml", StringComparison.Ordinal)))
        {
            using var stream = part.Open();
            _ = XDocument.Load(stream);
        }
    }
}

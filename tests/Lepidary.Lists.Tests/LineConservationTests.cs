using System.Globalization;
using System.Text;
using CsCheck;
using Xunit;

namespace Lepidary.Lists.Tests;

/// <summary>Laws that hold for any list.</summary>
public sealed class LineConservationTests
{
    private static readonly string[] Species =
        ["Papilio memnon", "Papilio palinurus", "Morpho peleides", "Caligo memnon", "Idea leuconoe", "Heliconius hecale", "Danaus plexippus", "Graphium agamemnon", "Hypolimnas bolina", "Attacus atlas"];

    private static Gen<T> AnyOf<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    private sealed record Line(string Species, decimal Price, int Stock, int Minimum);

    private static readonly Gen<Line> Lines =
        from species in AnyOf(Species)
        from cents in Gen.Int[120, 900]
        from stock in Gen.Int[11, 400]
        from minimum in Gen.Int[1, 20]
        select new Line(species, cents / 100m, stock, minimum);

    private static readonly Gen<Line[]> Tables = Lines.Array[4, 12];

    private static string Shown(decimal price) => price.ToString("0.00", CultureInfo.InvariantCulture);

    private static readonly (string Title, Func<Line, string> Cell)[] Columns =
    [
        ("Species", line => line.Species),
        ("Price", line => Shown(line.Price)),
        ("Stock", line => line.Stock.ToString(CultureInfo.InvariantCulture)),
        ("Min", line => line.Minimum.ToString(CultureInfo.InvariantCulture)),
    ];

    private static string Table(IReadOnlyList<Line> lines, IEnumerable<int> order, string delimiter)
    {
        var columns = order.Select(i => Columns[i]).ToList();
        var text = new StringBuilder().AppendJoin(delimiter, columns.Select(column => column.Title)).Append('\n');
        foreach (var line in lines)
            text.AppendJoin(delimiter, columns.Select(column => column.Cell(line))).Append('\n');
        return text.ToString();
    }

    private static IEnumerable<(string?, decimal?, int?, int?)> Facts(SupplierList list) =>
        list.Offers.Select(offer => (offer.Taxon, offer.Price, offer.Available, offer.Minimum));

    [Fact]
    public void Read_columnsInAnyOrder_givesTheSameOffers() =>
        Gen.Select(Tables, Gen.Shuffle(new[] { 0, 1, 2, 3 })).Sample(
            pair => Assert.Equal(Facts(Lists.Read(Table(pair.Item1, [0, 1, 2, 3], ";"))), Facts(Lists.Read(Table(pair.Item1, pair.Item2, ";")))),
            seed: "0000000000001", iter: 60, threads: 1);

    [Fact]
    public void Read_anyDelimiter_givesTheSameOffers() =>
        Gen.Select(Tables, AnyOf("\t", ";", "|", ",", "^", "    ")).Sample(
            pair => Assert.Equal(Facts(Lists.Read(Table(pair.Item1, [0, 1, 2, 3], ";"))), Facts(Lists.Read(Table(pair.Item1, [0, 1, 2, 3], pair.Item2)))),
            seed: "0000000000001", iter: 60, threads: 1);

    [Fact]
    public void Read_decimalCommaOrPoint_givesTheSamePrices() =>
        Tables.Sample(
            lines =>
            {
                var points = Table(lines, [0, 1, 2, 3], ";");
                Assert.Equal(Facts(Lists.Read(points)), Facts(Lists.Read(points.Replace('.', ','))));
            },
            seed: "0000000000001", iter: 60, threads: 1);

    private static readonly Gen<string> AnyLine = AnyOf(
        "", "Papilio memnon £2.20 (40)", "Papilio memnon;2,20;40", "SWALLOWTAILS", "Carriage £12.00 per box", "Week 48", "???", "Prices excl. VAT", "Species,Price,Stock", "P. lowi,2.20,40", "\"open quote,1",
        "Species;Price", "   ", "-----", "Mixed tropicals 25 pupae £40", "Morpho peleides 3.40 sold out", "\"a\nb\",2.20", "x\ty\tz", "12345", "£", "Minimum order £50", "Attacus atlas\t5.00\t6");

    [Fact]
    public void Read_anyLines_eachComesOutOnce() =>
        AnyLine.Array[1, 25].Sample(
            lines =>
            {
                var text = string.Join("\n", lines) + "\n.";
                var read = Lists.Read(text);
                Assert.Equal(Enumerable.Range(1, text.Split('\n').Length), read.Lines.Select(line => line.Line));
                var offers = read.Lines.Where(line => line.Kind == LineKind.Offer).Select(line => line.Line).ToHashSet();
                Assert.Subset(read.Lines.Where(line => line.Kind is LineKind.Offer or LineKind.Doubt).Select(line => line.Line).ToHashSet(), read.Offers.Select(offer => offer.Line).ToHashSet());
                Assert.All(offers, line => Assert.Contains(read.Offers, offer => offer.Line == line));
                Assert.All(read.Lines.Where(line => line.Kind == LineKind.Charge), line => Assert.Contains(read.Charges, charge => charge.Line == line.Line));
                Assert.All(read.Lines.Where(line => line.Kind == LineKind.Doubt), line => Assert.Contains(read.Doubts, doubt => doubt.Line == line.Line));
            },
            seed: "0000000000001", iter: 300, threads: 1);
}

using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using CsCheck;
using Lepidary.App.Labels;
using Lepidary.App.Rounds;
using Lepidary.App.Tests.Support;
using ZXing;
using ZXing.Common;
using ZXing.QrCode;

namespace Lepidary.App.Tests.Labels;

public sealed partial class LabelTests
{
    private const string Address = "http://192.0.2.7:5280/pocket/K7Q-2M9D";

    /// <summary>Read back with ZXing.Net, a library that shares no code with the one that wrote it.</summary>
    [Fact]
    public void Qr_read_back_by_another_library_says_the_address()
    {
        var qr = LotQr.Of(Address);

        var read = Read(Pixels(qr, 4));

        Assert.Equal(Address, read.Text);
        Assert.Equal("Q", read.ResultMetadata[ResultMetadataType.ERROR_CORRECTION_LEVEL]);
    }

    /// <summary>
    /// What is read is the code's own redundancy: a camera finds one label in two at the first look that has lost the mark in this corner, as
    /// the same library does on a photograph.
    /// </summary>
    [Fact]
    public void Qr_with_a_corner_torn_off_still_reads() =>
        Assert.All(Enumerable.Range(0, 20), number =>
        {
            var address = $"http://192.0.2.7:5280/pocket/{LotCode.Of(new Guid(number, 7, 9, 1, 2, 3, 4, 5, 6, 7, 8))}";
            var qr = LotQr.Of(address);
            var pixels = Pixels(qr, 4);

            // The lower right corner bears no finder pattern: about a tenth of the code's face.
            var (from, to) = ((qr.Modules - 4) * 4 * 70 / 100, (qr.Modules - 4) * 4);
            for (var y = from; y < to; y++)
            {
                for (var x = from; x < to; x++)
                {
                    pixels[y, x] = false;
                }
            }

            Assert.Equal(address, Read(pixels, asDrawn: true).Text);
        });

    [Fact]
    public async Task Labels_page_has_a_code_for_each_lot_that_reads_back_as_the_address_of_its_page()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        Book.Lot[] lots =
        [
            await HungHouse.Hang(book, house, "Ornithoptera priamus", 12, 9, row: "10"),
            await HungHouse.Hang(book, house, "Morpho helenor", 12, 9, row: "2"),
            await HungHouse.Hang(book, house, "Papilio memnon", 8, 3, "Cage B", "1"),
        ];
        using var browser = await book.Serve();

        var page = await browser.Page("/labels?size=38.1x21.2&address=http%3A%2F%2F192.0.2.7%3A5280");

        var codes = QrPath().Matches(page).Select(match => Read(Pixels(match.Groups["d"].Value, 4)).Text).ToList();
        Assert.Equal([lots[1], lots[0], lots[2]], lots.OrderBy(lot => codes.IndexOf($"http://192.0.2.7:5280/pocket/{LotCode.Of(lot.Id)}")));
        Assert.Equal(3, codes.Count);
        await browser.Page(new Uri(codes[0]).AbsolutePath);
        Assert.Contains("size: 210mm 297mm", await browser.Page(WebUtility.HtmlDecode(PaperLink().Match(page).Groups["to"].Value)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Labels_with_wrong_measures_name_each_and_print_nothing()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var browser = await book.Serve();

        var answer = await browser.GetAsync(new Uri("/labels?size=own&paper-width=210&paper-height=297&columns=4&rows=0&width=63.5&height=38.1", UriKind.Relative), TestContext.Current.CancellationToken);

        var page = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains("rows: found 0; expected 1 to 60.", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<svg class=\"label-page\"", page, StringComparison.Ordinal);
        Assert.Contains("columns: found 254 mm needed", LabelSheet.Of(210, 297, 4, 7, 63.5, 38.1, 0, 0, 0, 0).Problems[0].ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Labels_command_writes_a_file_that_needs_nothing_else()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9, row: "2");
        var file = book.File("labels.html", "");

        var said = await book.Done("labels", LotCode.Of(lot.Id), "--paper", "210x297", "--label", "70x37", "--columns", "3", "--rows", "8", "--margin", "0x0.5", "--address", "http://192.0.2.7:5280", "--to", file, "--json");
        var wrong = await book.Run("labels", "--size", "12x12", "--address", "http://192.0.2.7:5280");

        var html = await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
        Assert.Equal(1, said.Json.GetProperty("sheets").GetInt32());
        Assert.StartsWith("<!DOCTYPE html>", html, StringComparison.Ordinal);
        Assert.Contains("translate(0 0.5)", html, StringComparison.Ordinal);
        Assert.Equal($"http://192.0.2.7:5280/pocket/{LotCode.Of(lot.Id)}", Read(Pixels(QrPath().Match(html).Groups["d"].Value, 4)).Text);
        Assert.Equal(App.Host.ExitCodes.BadInput, wrong.Code);
        Assert.Contains("63.5 × 38.1, 21 on A4", wrong.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Labels_of_any_sheet_lie_on_the_paper_and_not_on_each_other()
    {
        var sheets = Gen.Select(Gen.Int[1, 6], Gen.Int[1, 14], Gen.Double[15, 110], Gen.Double[10, 60], Gen.Double[0, 8], Gen.Double[0, 8])
            .Select(of => LabelSheet.Of(210, 297, of.Item1, of.Item2, of.Item3, of.Item4, 3, 4, of.Item5, of.Item6)).Where(sheet => sheet.IsGood).Select(sheet => sheet.Value);

        Gen.Select(sheets, Gen.Int[0, 90], Gen.Int[0, 5]).Sample((sheet, count, skip) => Check(sheet, count, Math.Min(skip, sheet.Labels - 1)), iter: 200);
        Assert.All(LabelSheet.Usual, usual => Check(usual.Sheet, 70, 0));
    }

    private static void Check(LabelSheet sheet, int count, int skip)
    {
        var labels = Enumerable.Range(0, count).Select(at => new LotLabel($"L{at}", "http://h/round/1", "Ornithoptera priamus", null, "Cage A, row 12", "20 hung Tue 24 Nov", "Quillfeather Pupae")).ToList();

        var pages = LabelDrawing.Pages(sheet, labels, skip);

        Assert.Equal(labels.Select(label => label.Code), pages.SelectMany(page => page).Select(label => label.Code));
        foreach (var page in pages)
        {
            Assert.All(page, label =>
            {
                Assert.InRange(label.X, -0.001, sheet.PaperWidth - sheet.Width + 0.06);
                Assert.InRange(label.Y, -0.001, sheet.PaperHeight - sheet.Height + 0.06);
                Assert.True(label.QrSide <= sheet.Height && label.QrSide < sheet.Width);
                Assert.All(label.Lines, line => Assert.InRange(line.Y, 0, sheet.Height));
                Assert.Equal("Ornithoptera priamus", string.Join(' ', label.Lines.Where(line => line.Style == "latin").Select(line => line.Text)));
            });
            Assert.Equal(page.Count, page.Select(label => (Math.Round(label.X, 3), Math.Round(label.Y, 3))).Distinct().Count());
        }
    }

    /// <param name="dark">The picture.</param>
    /// <param name="asDrawn">True to read each square where it was drawn; false to look for the code as a camera does.</param>
    private static Result Read(bool[,] dark, bool asDrawn = false)
    {
        var (height, width) = (dark.GetLength(0), dark.GetLength(1));
        var grey = new byte[height * width];
        for (var at = 0; at < grey.Length; at++)
        {
            grey[at] = dark[at / width, at % width] ? (byte)0 : (byte)255;
        }

        var source = new RGBLuminanceSource(grey, width, height, RGBLuminanceSource.BitmapFormat.Gray8);
        Dictionary<DecodeHintType, object> hints = asDrawn ? new() { [DecodeHintType.PURE_BARCODE] = true } : [];
        var read = new QRCodeReader().decode(new BinaryBitmap(new HybridBinarizer(source)), hints);
        Assert.True(read is not null, "the code does not read");
        return read;
    }

    private static bool[,] Pixels(LotQr qr, int scale) => Pixels(qr.Path, scale);

    /// <summary>The drawing as pixels, from the path alone: what a printer would blacken.</summary>
    private static bool[,] Pixels(string path, int scale)
    {
        var runs = Runs().Matches(path).Select(run => (X: Whole(run, "x"), Y: Whole(run, "y"), Length: Whole(run, "length"))).ToList();
        Assert.Equal(path.Length, Runs().Matches(path).Sum(run => run.Length));
        var side = Math.Max(runs.Max(run => run.X + run.Length), runs.Max(run => run.Y + 1)) + 4;
        var pixels = new bool[side * scale, side * scale];
        foreach (var (x, y, length) in runs)
        {
            for (var row = y * scale; row < (y + 1) * scale; row++)
            {
                for (var column = x * scale; column < (x + length) * scale; column++)
                {
                    pixels[row, column] = true;
                }
            }
        }

        return pixels;

        static int Whole(Match run, string part) => int.Parse(run.Groups[part].Value, CultureInfo.InvariantCulture);
    }

    [GeneratedRegex(@"M(?<x>\d+) (?<y>\d+)h(?<length>\d+)v1h-\k<length>z")]
    private static partial Regex Runs();

    [GeneratedRegex("<path class=\"qr\"[^>]* d=\"(?<d>[^\"]+)\"")]
    private static partial Regex QrPath();

    [GeneratedRegex("href=\"(?<to>/labels/paper.css[^\"]*)\"")]
    private static partial Regex PaperLink();
}

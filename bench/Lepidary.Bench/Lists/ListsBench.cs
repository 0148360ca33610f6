using System.Diagnostics;
using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Xml.Linq;
using Lepidary.Lists;
using Lepidary.Taxa;

namespace Lepidary.Bench.Lists;

/// <summary>Reading a list of 150 offers in each format: how long, and how much memory a process of its own needs at most.</summary>
internal static class ListsBench
{
    private const int Times = 15;

    public static int Run(string[] args)
    {
        if (args is [var format])
            return Alone(format);
        Figures.Head("lists");
        var options = Options();
        foreach (var each in SampleLists.Formats)
        {
            var bytes = SampleLists.Of(each);
            var name = $"list.{each}";
            var offers = ListReader.Read(bytes, name, options).Value.Offers;
            var (peer, bare) = Peer(each, bytes);
            Figures.Row($"{each}, {offers.Count} offers, {offers.Count(offer => offer.Doubts.Count > 0)} in doubt; peer: {peer}", Figures.Median(Times, () => ListReader.Read(bytes, name, options)), "ms", Figures.Median(Times, bare));
        }

        var empty = Memory("none");
        foreach (var each in SampleLists.Formats)
            Figures.Row($"{each}, most memory; peer: names loaded, no list", Memory(each), "MB", empty);
        return 0;
    }

    private static ReadOptions Options() => new() { Names = new NameFinder(TaxonTable.Shipped), Today = new DateOnly(2026, 11, 27) };

    /// <summary>Reads one list in this process and prints the most memory that it has had, in MB.</summary>
    private static int Alone(string format)
    {
        var options = Options();
        _ = options.Names.Find("Papilio memnon", NameContext.None);
        if (format != "none")
            _ = ListReader.Read(SampleLists.Of(format), $"list.{format}", options).Value;
        using var self = Process.GetCurrentProcess();
        Console.WriteLine((self.PeakWorkingSet64 / 1e6).ToString("0.0", CultureInfo.InvariantCulture));
        return 0;
    }

    private static double Memory(string format)
    {
        using var child = Process.Start(new ProcessStartInfo(Environment.ProcessPath!, ["lists", format]) { RedirectStandardOutput = true })!;
        var said = child.StandardOutput.ReadToEnd();
        child.WaitForExit();
        return double.Parse(said, CultureInfo.InvariantCulture);
    }

    private static (string Name, Action Bare) Peer(string format, byte[] bytes) => format switch
    {
        "csv" => ("lines cut into cells", () => Cells(bytes, ';')),
        "xlsx" => ("its XML parsed", () => Parts(bytes)),
        "pdf" when Program("pdftotext") => ("pdftotext -layout", () => PdfToText(bytes)),
        "pdf" => ("one pass over the bytes", () => Cells(bytes, ' ')),
        "html" => ("cut at the tags", () => Cells(bytes, '<')),
        _ => ("cut into words", () => Cells(bytes, ' ')),
    };

    private static bool Program(string name) => (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':').Any(folder => File.Exists(Path.Combine(folder, name)));

    private static void PdfToText(byte[] bytes)
    {
        using var child = Process.Start(new ProcessStartInfo("pdftotext", ["-layout", "-", "-"]) { RedirectStandardInput = true, RedirectStandardOutput = true })!;
        child.StandardInput.BaseStream.Write(bytes);
        child.StandardInput.Close();
        ArgumentOutOfRangeException.ThrowIfZero(child.StandardOutput.ReadToEnd().Length);
        child.WaitForExit();
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

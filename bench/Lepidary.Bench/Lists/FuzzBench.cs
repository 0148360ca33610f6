using System.Diagnostics;
using System.Globalization;
using System.Text;
using Lepidary.Lists;
using Lepidary.Lists.Tests;
using Lepidary.Taxa;

namespace Lepidary.Bench.Lists;

/// <summary>Mutants of a folder of lists through all readers, with counts. What breaks one is kept as a file, to become a test.</summary>
internal static class FuzzBench
{
    /// <summary>More of the processor for one mutant of a short list is a finding; a clock on the wall would find how busy the machine is.</summary>
    private static readonly TimeSpan Slow = TimeSpan.FromSeconds(20);

    /// <summary>Lines of a text that are kept: what a reader does with thirty it does with three hundred, ten times slower.</summary>
    private const int Lines = 30;

    private sealed class Count
    {
        public int Runs { get; set; }

        public int Refused { get; set; }

        public int Findings { get; set; }

        public TimeSpan Longest { get; set; }
    }

    public static int Run(string[] args)
    {
        if (args is not [var folder, .. var rest] || !Directory.Exists(folder))
        {
            Console.Error.WriteLine("usage: bench fuzz FOLDER [EXECUTIONS] [SEED] [KEEP]");
            return 2;
        }

        Figures.Head("fuzz");
        var executions = rest.Length > 0 ? int.Parse(rest[0], CultureInfo.InvariantCulture) : 100_000;
        var seed = rest.Length > 1 ? int.Parse(rest[1], CultureInfo.InvariantCulture) : 1;
        var keep = Directory.CreateDirectory(rest.Length > 2 ? rest[2] : Path.Combine(Path.GetTempPath(), "lepidary-fuzz")).FullName;
        var files = Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)
            .Where(file => Path.GetExtension(file) is not (".json" or ".read" or ".md"))
            .Order(StringComparer.Ordinal).Select(file => (Name: Path.GetFileName(file), Bytes: Short(file))).ToList();
        var options = new ReadOptions { Names = new NameFinder(TaxonTable.Shipped), Today = new DateOnly(2026, 11, 27) };
        var mutator = new Mutator(seed);
        var random = new Random(seed);
        var packed = files.Where(file => IsPacked(file.Name)).ToList();
        var plain = files.Where(file => !IsPacked(file.Name)).ToList();
        var counts = new SortedDictionary<string, Count>(StringComparer.Ordinal);
        var all = Stopwatch.StartNew();
        for (var i = 0; i < executions; i++)
        {
            // Packages and PDFs cost fifty times as much as texts.
            var kind = packed.Count > 0 && random.Next(12) == 0 ? packed : plain;
            var (name, bytes) = kind[random.Next(kind.Count)];
            var mutant = mutator.Mutate(bytes, files[random.Next(files.Count)].Bytes);
            var format = Path.GetExtension(name).TrimStart('.');
            if (!counts.TryGetValue(format, out var count))
                counts[format] = count = new Count();
            count.Runs++;
            var before = Environment.CpuUsage.TotalTime;
            var wrong = Wrong(mutant, name, options, count);
            var took = Environment.CpuUsage.TotalTime - before;
            if (took > count.Longest)
                count.Longest = took;
            if (wrong is null && took > Slow)
                wrong = $"took {took.TotalSeconds:0} s of a processor";
            if (wrong is null)
                continue;
            count.Findings++;
            var file = Path.Combine(keep, $"{seed}-{i}-{name}");
            File.WriteAllBytes(file, mutant);
            Console.WriteLine($"{file}: {wrong}");
        }

        foreach (var (format, count) in counts)
            Figures.Note(format, $"{count.Runs,8} executions {count.Refused,7} refused {count.Findings,4} findings, longest {count.Longest.TotalMilliseconds:0} ms of a processor");
        Figures.Note("all", $"{counts.Values.Sum(count => count.Runs),8} executions {counts.Values.Sum(count => count.Refused),7} refused {counts.Values.Sum(count => count.Findings),4} findings, {all.Elapsed.TotalSeconds:0} s");
        return counts.Values.Sum(count => count.Findings) == 0 ? 0 : 1;
    }

    private static bool IsPacked(string name) => Path.GetExtension(name) is ".xlsx" or ".ods" or ".docx" or ".pdf" or ".xls";

    private static byte[] Short(string file)
    {
        var bytes = File.ReadAllBytes(file);
        return Path.GetExtension(file) is ".txt" or ".csv" or ".tsv"
            ? Encoding.Latin1.GetBytes(string.Join('\n', Encoding.Latin1.GetString(bytes).Split('\n').Take(Lines)))
            : bytes;
    }

    /// <summary>What is wrong with what came out, or null.</summary>
    private static string? Wrong(byte[] mutant, string name, ReadOptions options, Count count)
    {
        try
        {
            if (Mailbox.Is(mutant))
                _ = Mailbox.Each(new MemoryStream(mutant), name).Take(50).Count();
            var read = ListReader.Read(mutant, name, options);
            if (!read.IsGood)
            {
                count.Refused++;
                return read.Problems.Count == 0 || read.Problems.Any(problem => problem.Found.Length == 0 || problem.Expected.Length == 0) ? "a refusal that says nothing" : null;
            }

            var list = read.Value;
            if (list.Offers.FirstOrDefault(offer => offer.Pack < 1 || offer.Price < 0 && offer.Doubts.Count == 0 || offer.Breaks.Any(step => step.From < 2)) is { } offer)
                return $"an offer that can't be: line {offer.Line}, {offer.Text}";
            var lines = list.Lines.Select(line => (line.Sheet, line.Line)).ToHashSet();
            return list.Offers.All(one => lines.Contains((one.Sheet, one.Line))) ? null : "an offer on a line that is not there";
        }
        catch (Exception exception)
        {
            // Whatever a reader throws is what is looked for.
            return exception.ToString().ReplaceLineEndings(" ")[..Math.Min(700, exception.ToString().Length)];
        }
    }
}

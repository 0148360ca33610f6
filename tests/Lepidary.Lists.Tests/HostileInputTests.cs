using System.Text;
using Xunit;

namespace Lepidary.Lists.Tests;

/// <summary>Whatever comes in, a list or a refusal in words comes out: never an exception.</summary>
public sealed class HostileInputTests(ITestOutputHelper output)
{
    /// <summary>Mutants of each sample file; raise it by this environment variable for a long run.</summary>
    private static readonly int Mutants = int.TryParse(Environment.GetEnvironmentVariable("LEPIDARY_FUZZ"), out var count) ? count : 25;

    private static readonly byte[][] Splices =
    [
        [0], [0xFF, 0xFE], [0xEF, 0xBB, 0xBF], [0x80], [0xC3], "\""u8.ToArray(), "\r"u8.ToArray(), "\n\n"u8.ToArray(), "999999999999999999999"u8.ToArray(), "-0"u8.ToArray(), "1,2.3,4"u8.ToArray(),
        "\u202E\u200B\u00A0"u8.ToArray(), "=HYPERLINK(\"x\")"u8.ToArray(), "£"u8.ToArray(), ";;;;"u8.ToArray(), ",,,,"u8.ToArray(), "\t"u8.ToArray(), "32.13.2026"u8.ToArray(), "pack of 0"u8.ToArray(), "min -5"u8.ToArray(),
        "(((((((((("u8.ToArray(), "10+ 20+ 30+"u8.ToArray(), "0 for 0.00"u8.ToArray(), "\U0001F98B"u8.ToArray(), "ß̈́"u8.ToArray(), "from from from"u8.ToArray(), "1-0 5.00"u8.ToArray(), "€€€"u8.ToArray(), "x99999999"u8.ToArray(),
        "<!DOCTYPE a [<!ENTITY b \"c\">]>"u8.ToArray(), [0xED, 0xA0, 0x80], "100000000000000000000000000.00"u8.ToArray(), "per 0"u8.ToArray(), "Week 99"u8.ToArray(), "P. "u8.ToArray(),
    ];

    [Fact]
    public void Read_mutantsOfEverySample_neverThrows()
    {
        var random = new Random(20261125);
        var runs = 0;
        var refused = 0;
        foreach (var file in Directory.EnumerateFiles(Path.Combine(AppContext.BaseDirectory, "Files"), "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal))
        {
            if (file.EndsWith(".json", StringComparison.Ordinal) || file.EndsWith(".read", StringComparison.Ordinal) || file.EndsWith(".md", StringComparison.Ordinal))
                continue;
            var original = File.ReadAllBytes(file);
            for (var i = 0; i < Mutants; i++)
            {
                var mutant = Mutate(original, random);
                try
                {
                    var read = ListReader.Read(mutant, Path.GetFileName(file), Lists.Options, TestContext.Current.CancellationToken);
                    runs++;
                    if (!read.IsGood)
                        refused++;
                    else
                        Assert.All(read.Value.Offers, offer => Assert.True(offer.Pack >= 1));
                }
                catch (Exception exception) when (exception is not Xunit.Sdk.IAssertionException)
                {
                    var kept = Path.Combine(Path.GetTempPath(), $"lepidary-mutant-{i}{Path.GetExtension(file)}");
                    File.WriteAllBytes(kept, mutant);
                    Assert.Fail($"{Path.GetFileName(Path.GetDirectoryName(file))}/{Path.GetFileName(file)}, mutant {i} (kept as {kept}): {exception}");
                }
            }
        }
        output.WriteLine($"{runs} mutants read, {refused} of them refused in words.");
        Assert.True(runs > 100);
    }

    private static byte[] Mutate(byte[] original, Random random)
    {
        var bytes = original.ToList();
        for (var changes = random.Next(1, 8); changes > 0 && bytes.Count > 0; changes--)
        {
            var at = random.Next(bytes.Count);
            switch (random.Next(7))
            {
                case 0:
                    bytes[at] = (byte)random.Next(256);
                    break;
                case 1:
                    bytes.RemoveRange(at, Math.Min(random.Next(1, 40), bytes.Count - at));
                    break;
                case 2:
                    bytes.InsertRange(at, Splices[random.Next(Splices.Length)]);
                    break;
                case 3:
                    bytes.InsertRange(at, bytes.GetRange(at, Math.Min(random.Next(1, 200), bytes.Count - at)));
                    break;
                case 4:
                    bytes.RemoveRange(at, bytes.Count - at);
                    break;
                case 5:
                    var other = random.Next(bytes.Count);
                    (bytes[at], bytes[other]) = (bytes[other], bytes[at]);
                    break;
                default:
                    bytes[at] ^= (byte)(1 << random.Next(8));
                    break;
            }
        }
        return [.. bytes];
    }

    [Fact]
    public void Read_randomText_accountsForEveryLine()
    {
        var random = new Random(7);
        const string alphabet = "abcP M.,;:-/()£€0123456789\t|\"'+@%&*x\n\n";
        for (var i = 0; i < 200; i++)
        {
            var text = new StringBuilder();
            for (var n = random.Next(1, 400); n > 0; n--)
                text.Append(alphabet[random.Next(alphabet.Length)]);
            var read = ListReader.Read(Encoding.UTF8.GetBytes(text.ToString()), "random.txt", Lists.Options, TestContext.Current.CancellationToken);
            if (read.IsGood)
                Assert.Equal(Enumerable.Range(1, read.Value.Lines.Count), read.Value.Lines.Select(line => line.Line));
        }
    }
}

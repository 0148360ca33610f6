using System.Text;
using Xunit;

namespace Lepidary.Lists.Tests;

/// <summary>Whatever comes in, a list or a refusal in words comes out: never an exception.</summary>
public sealed class HostileInputTests(ITestOutputHelper output)
{
    /// <summary>Mutants of each sample file, a few for the gate; raise it by this environment variable for a long run, or let <c>bench fuzz</c> do that.</summary>
    private static readonly int Mutants = int.TryParse(Environment.GetEnvironmentVariable("LEPIDARY_FUZZ"), out var count) ? count : 6;

    [Fact]
    public void Read_mutantsOfEverySample_neverThrows()
    {
        var mutator = new Mutator(20261125);
        var other = Array.Empty<byte>();
        var runs = 0;
        var refused = 0;
        foreach (var file in Directory.EnumerateFiles(Path.Combine(AppContext.BaseDirectory, "Files"), "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal))
        {
            if (file.EndsWith(".json", StringComparison.Ordinal) || file.EndsWith(".read", StringComparison.Ordinal) || file.EndsWith(".md", StringComparison.Ordinal))
                continue;
            var original = File.ReadAllBytes(file);
            for (var i = 0; i < Mutants; i++)
            {
                var mutant = mutator.Mutate(original, other);
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

            other = original;
        }

        output.WriteLine($"{runs} mutants read, {refused} of them refused in words.");
        Assert.True(runs > 100);
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

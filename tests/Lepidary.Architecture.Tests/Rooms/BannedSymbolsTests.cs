using System.Diagnostics;
using System.Text.RegularExpressions;

namespace Lepidary.Architecture.Rooms;

/// <summary>
/// Science may not do input or output, read a clock or make randomness: a compile error, by BannedSymbols.txt. Proved by
/// building science's own project file, with its own list and settings, around one planted use of every banned symbol.
/// </summary>
public sealed partial class BannedSymbolsTests
{
    /// <summary>A use of each banned symbol. A new line in BannedSymbols.txt needs a new line here.</summary>
    private static readonly Dictionary<string, string> _uses = new()
    {
        ["N:System.IO"] = "System.IO.Path.GetTempPath()",
        ["N:System.Net"] = "System.Net.IPAddress.Loopback",
        ["N:System.Data"] = "typeof(System.Data.DataTable)",
        ["T:System.Console"] = "System.Console.Out",
        ["T:System.Environment"] = "System.Environment.ProcessorCount",
        ["P:System.DateTime.Now"] = "System.DateTime.Now",
        ["P:System.DateTime.UtcNow"] = "System.DateTime.UtcNow",
        ["P:System.DateTime.Today"] = "System.DateTime.Today",
        ["P:System.DateTimeOffset.Now"] = "System.DateTimeOffset.Now",
        ["P:System.DateTimeOffset.UtcNow"] = "System.DateTimeOffset.UtcNow",
        ["T:System.TimeProvider"] = "System.TimeProvider.System",
        ["T:System.Diagnostics.Stopwatch"] = "System.Diagnostics.Stopwatch.StartNew()",
        ["M:System.Random.#ctor"] = "new System.Random()",
        ["P:System.Random.Shared"] = "System.Random.Shared",
        ["T:System.Security.Cryptography.RandomNumberGenerator"] = "System.Security.Cryptography.RandomNumberGenerator.Create()",
        ["M:System.Guid.NewGuid"] = "System.Guid.NewGuid()",
        ["M:System.Guid.CreateVersion7"] = "System.Guid.CreateVersion7()",
    };

    [Fact]
    public async Task Build_planted_use_of_each_banned_symbol_fails_with_RS0030()
    {
        var banned = await File.ReadAllLinesAsync(InScience("BannedSymbols.txt"), TestContext.Current.CancellationToken);
        Assert.Equal(banned.Select(line => line.Split(';')[0]).Order(StringComparer.Ordinal), _uses.Keys.Order(StringComparer.Ordinal));

        var expressions = _uses.Values.ToList();
        var code = string.Join('\n', expressions.Select((use, i) => $"    internal static object Use{i}() => {use};"));
        var output = await BuildScienceAround($"namespace Lepidary.Science;\n\ninternal static class Planted\n{{\n{code}\n}}\n");

        var found = Found().Matches(output).Select(match => int.Parse(match.Groups["line"].Value, null) - 5).ToHashSet();
        Assert.Empty(expressions.Where((_, i) => !found.Contains(i)));
    }

    [Fact]
    public async Task Build_seeded_randomness_and_given_dates_passes()
    {
        var output = await BuildScienceAround(
            """
            namespace Lepidary.Science;

            internal static class Planted
            {
                internal static int Draw(int seed) => new System.Random(seed).Next();

                internal static System.DateOnly Next(System.DateOnly day) => day.AddDays(1);
            }

            """);

        Assert.DoesNotMatch(Found(), output);
        Assert.Contains("0 Error(s)", output, StringComparison.Ordinal);
    }

    private static async Task<string> BuildScienceAround(string planted)
    {
        var folder = Directory.CreateTempSubdirectory("lepidary-planted-").FullName;
        try
        {
            var project = Path.Combine(folder, "src", "Lepidary.Science");
            Directory.CreateDirectory(project);
            foreach (var shared in new[] { "Directory.Build.props", "Directory.Packages.props", "global.json", ".editorconfig" })
            {
                File.Copy(Path.Combine(SourceFile.Root.FullName, shared), Path.Combine(folder, shared));
            }

            foreach (var own in new[] { "Lepidary.Science.csproj", "BannedSymbols.txt", "packages.lock.json" })
            {
                File.Copy(InScience(own), Path.Combine(project, own));
            }

            await File.WriteAllTextAsync(Path.Combine(project, "Planted.cs"), planted, TestContext.Current.CancellationToken);
            var start = new ProcessStartInfo("dotnet", ["build", project, "-v", "m", "-nologo"])
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
                Environment = { ["MSBUILDDISABLENODEREUSE"] = "1", ["DOTNET_CLI_UI_LANGUAGE"] = "en" },
            };
            using var build = Process.Start(start)!;
            var errors = build.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
            var output = await build.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
            await build.WaitForExitAsync(TestContext.Current.CancellationToken);
            return output + await errors;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string InScience(string name) => Path.Combine(SourceFile.Root.FullName, "src", "Lepidary.Science", name);

    [GeneratedRegex(@"Planted\.cs\((?<line>\d+),\d+\): error RS0030:")]
    private static partial Regex Found();
}

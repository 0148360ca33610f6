using System.Diagnostics;

namespace Lepidary.Architecture.Repository;

public sealed class RepositoryRulesTests
{
    private static readonly IReadOnlyList<SourceFile> _files = SourceFile.Below("");

    [Fact]
    public void NamingARegistry_repository_finds_nothing() => Assert.Empty(RepositoryRules.NamingARegistry(_files));

    [Fact]
    public void NamingARegistry_planted_host_is_found() =>
        Assert.Single(RepositoryRules.NamingARegistry([new SourceFile("x.config", "<add value=\"https://api.nuget" + ".org/v3/index.json\" />")]));

    [Fact]
    public void NamingAMachine_repository_finds_nothing() => Assert.Empty(RepositoryRules.NamingAMachine(_files));

    [Theory]
    [InlineData("cd /" + "work/main")]
    [InlineData("path = \"/" + "root/.cache\"")]
    [InlineData("see file:///" + "home/someone/notes.txt")]
    public void NamingAMachine_planted_path_is_found(string line) =>
        Assert.Single(RepositoryRules.NamingAMachine([new SourceFile("x.md", line)]));

    [Theory]
    [InlineData("/usr/lib/postgresql/15/bin")]
    [InlineData("docs/work/week.md and src/root/x")]
    public void NamingAMachine_path_of_every_machine_finds_nothing(string line) =>
        Assert.Empty(RepositoryRules.NamingAMachine([new SourceFile("x.md", line)]));

    [Fact]
    public void Unlocked_repository_finds_nothing() => Assert.Empty(RepositoryRules.Unlocked([.. _files.Select(file => file.Path)]));

    [Fact]
    public void Unlocked_planted_project_is_found() =>
        Assert.Single(RepositoryRules.Unlocked(["src/A/A.csproj", "src/A/packages.lock.json", "src/B/B.csproj"]));

    [Fact]
    public void OutsideTheSolution_repository_finds_nothing() => Assert.Empty(
        RepositoryRules.OutsideTheSolution(_files.Select(file => file.Path), _files.Single(file => file.Path == "Lepidary.slnx").Text));

    [Fact]
    public void OutsideTheSolution_planted_project_is_found() =>
        Assert.Single(RepositoryRules.OutsideTheSolution(["src/A/A.csproj", "src/B/B.csproj"], "<Project Path=\"src/A/A.csproj\" />"));

    [Fact]
    public void UsingsOutOfOrder_repository_finds_nothing() => Assert.Empty(RepositoryRules.UsingsOutOfOrder(_files));

    [Theory]
    [InlineData("using Microsoft.Playwright;\nusing System.Text;\n")]
    [InlineData("using Lepidary.Book;\nusing Lepidary.App.Host;\n")]
    [InlineData("using Lepidary.Books;\nusing Lepidary.Book.Lists;\n")]
    public void UsingsOutOfOrder_planted_pair_is_found(string text) =>
        Assert.Single(RepositoryRules.UsingsOutOfOrder([new SourceFile("src/A/x.cs", text)]));

    [Fact]
    public void BrokenLinks_repository_finds_nothing() => Assert.Empty(RepositoryRules.BrokenLinks(_files, Exists));

    [Theory]
    [InlineData("docs/a.md", "see [the week](week.md)")]
    [InlineData("docs/a.md", "see [the gate](../tset)")]
    [InlineData("docs/a.md", "![week](pictures/week.png \"The week\")")]
    [InlineData("docs/deep/a.md", "see [a part](../gone.md#part)")]
    public void BrokenLinks_planted_link_is_found(string path, string text) =>
        Assert.Single(RepositoryRules.BrokenLinks([new SourceFile(path, text)], target => target is "test" or "docs/a.md"));

    [Theory]
    [InlineData("[the gate](../test)")]
    [InlineData("[this page](a.md#part), [this part](#part), [a site](https://example.org/x)")]
    [InlineData("```\n[not](a-link.md)\n```\n")]
    public void BrokenLinks_link_that_resolves_finds_nothing(string text) =>
        Assert.Empty(RepositoryRules.BrokenLinks([new SourceFile("docs/a.md", text)], target => target is "test" or "docs/a.md"));

    [Fact]
    public void Commands_block_gives_its_command_words()
    {
        const string Page = """
            Run `./run nonsense` in a sentence.

            ```
            ./run lists read this-week.csv --json
            $ ./run pairs --emergence 0.8 --pupae 8
            lepidary propose --house house.yaml
            echo done
            ```

            ```bash
            ./test unit
            ```

            """;

        Assert.Equal(
            [("./run", "lists read"), ("./run", "pairs"), ("lepidary", "propose"), ("./test", "unit")],
            RepositoryRules.Commands([new SourceFile("a.md", Page)]).Select(c => (c.Script, c.Command)));
    }

    /// <summary>What prose tells people to type, the program must know: each command is asked for its help.</summary>
    [Fact]
    public async Task Commands_in_prose_are_commands_of_the_program()
    {
        var unknown = new List<string>();
        foreach (var (page, script, words) in RepositoryRules.Commands(_files).Where(c => c.Script != "./test" && c.Command.Length > 0).Distinct())
        {
            if (!await Knows(words))
            {
                unknown.Add($"{page}: {script} {words}");
            }
        }

        Assert.Empty(unknown);
    }

    [Theory]
    [InlineData("serve", true)]
    [InlineData("conjure", false)]
    [InlineData("lists conjure", false)]
    public async Task Commands_planted_command_is_found(string words, bool known) => Assert.Equal(known, await Knows(words));

    /// <summary>
    /// Whether the program has the command. Help is given for an unknown command too, that of the command above it; so what
    /// counts is the command that the usage line names. Words left over are arguments, if it is not a group of commands.
    /// </summary>
    private static async Task<bool> Knows(string words)
    {
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "lepidary.dll"), .. words.Split(' '), "--help"])
        {
            RedirectStandardOutput = true,
        };
        using var process = Process.Start(start)!;
        var help = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        var usage = help.Split('\n').First(line => line.TrimStart().StartsWith("lepidary", StringComparison.Ordinal)).Trim().Split(' ');
        var command = usage.Skip(1).TakeWhile(word => char.IsAsciiLetter(word[0])).ToList();
        return words.Split(' ').Take(command.Count).SequenceEqual(command)
            && (words.Split(' ').Length == command.Count || !usage.Contains("[command]"));
    }

    private static bool Exists(string path) => Path.Exists(Path.Combine(SourceFile.Root.FullName, path));
}

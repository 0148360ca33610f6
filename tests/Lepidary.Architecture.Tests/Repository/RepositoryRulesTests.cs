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

    private static bool Exists(string path) => Path.Exists(Path.Combine(SourceFile.Root.FullName, path));
}

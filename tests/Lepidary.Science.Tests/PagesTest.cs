using System.Reflection;
using System.Text.RegularExpressions;

namespace Lepidary.Science.Tests;

/// <summary>The pages in docs/science: every one is in the index, and the test that asserts its hand-worked case exists.</summary>
public partial class PagesTest
{
    private static readonly string Folder = Path.Combine(Root(), "docs", "science");

    public static TheoryData<string> Pages =>
        [.. Directory.GetFiles(Folder, "*.md").Select(Path.GetFileName).OfType<string>().Where(name => name != "README.md")];

    [Theory]
    [MemberData(nameof(Pages))]
    public void Page_is_in_the_index_and_its_test_exists(string page)
    {
        Assert.Contains($"({page})", File.ReadAllText(Path.Combine(Folder, "README.md")), StringComparison.Ordinal);
        var text = File.ReadAllText(Path.Combine(Folder, page));
        var named = AssertedIn().Matches(text);
        Assert.NotEmpty(named);
        foreach (Match match in named)
        {
            var type = Assembly.GetExecutingAssembly().GetTypes().SingleOrDefault(type => type.Name == match.Groups[1].Value);
            Assert.True(type?.GetMethod(match.Groups[2].Value) is not null, $"{page} names {match.Value}, which is no test");
        }
        foreach (var part in new[] { "## Formula", "## Assumptions", "## By hand", "## Source" })
            Assert.Contains(part, text, StringComparison.Ordinal);
    }

    [Fact]
    public void Index_names_only_pages_that_exist()
    {
        var named = Link().Matches(File.ReadAllText(Path.Combine(Folder, "README.md"))).Select(match => match.Groups[1].Value).ToList();
        Assert.NotEmpty(named);
        Assert.All(named, page => Assert.True(File.Exists(Path.Combine(Folder, page)), page));
    }

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "Lepidary.slnx")))
            folder = folder.Parent ?? throw new InvalidOperationException("The tests do not run inside the repository.");
        return folder.FullName;
    }

    [GeneratedRegex(@"`(\w+Test)\.(\w+)`")]
    private static partial Regex AssertedIn();

    [GeneratedRegex(@"\]\(([\w-]+\.md)\)")]
    private static partial Regex Link();
}

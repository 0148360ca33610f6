namespace Lepidary.Architecture.Words;

public sealed class WordRulesTests
{
    [Fact]
    public void GivingLeave_product_finds_nothing() => Assert.Empty(WordRules.GivingLeave(SourceFile.Below("src")));

    [Theory]
    [InlineData("A.cs", "var text = \"Release is allowed.\";")]
    [InlineData("A.cs", "var text = $\"{name} is permitted here.\";")]
    [InlineData("A.cs", "var text = \"\"\"\n    Imports are not allowed.\n    \"\"\";")]
    [InlineData("A.razor", "<p>Release is\tallowed.</p>")]
    [InlineData("A.razor", "@code { string Text => \"They are legal.\"; }")]
    public void GivingLeave_planted_text_is_found(string path, string text) =>
        Assert.Single(WordRules.GivingLeave([new SourceFile(path, text)]));

    [Theory]
    [InlineData("A.cs", "// A second delivery is allowed to come late.\nvar text = \"Ask your plant health inspector.\";")]
    [InlineData("A.cs", "/// <summary>Only letters are allowed.</summary>\nvar allowed = 1;")]
    [InlineData("A.razor", "@* nothing\n is allowed here *@\n<p>Ask the licensing authority.</p>")]
    [InlineData("A.csv", "is allowed")]
    public void GivingLeave_comments_and_other_files_find_nothing(string path, string text) =>
        Assert.Empty(WordRules.GivingLeave([new SourceFile(path, text)]));

    [Fact]
    public void GivingLeave_finding_names_the_line() =>
        Assert.Equal("A.razor:4", Assert.Single(WordRules.GivingLeave([new SourceFile("A.razor", "@* one\n two *@\n\n<p>It is legal</p>")])).Where);
}

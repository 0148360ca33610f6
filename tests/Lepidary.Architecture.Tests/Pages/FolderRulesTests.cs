namespace Lepidary.Architecture.Pages;

public sealed class FolderRulesTests
{
    [Fact]
    public void Misplaced_product_finds_nothing() => Assert.Empty(FolderRules.Misplaced(SourceFile.Below("src/Lepidary.App")));

    [Fact]
    public void Misplaced_feature_in_one_folder_finds_nothing() => Assert.Empty(FolderRules.Misplaced(
    [
        new SourceFile("Rounds/RoundPage.razor", "@page \"/round\"\n<h1>Round</h1>"),
        new SourceFile("Rounds/RoundPage.razor.cs", "namespace Lepidary.App.Rounds;"),
        new SourceFile("Rounds/RoundCommands.cs", "namespace Lepidary.App.Rounds;"),
        new SourceFile("Program.cs", "return 0;"),
    ]));

    [Fact]
    public void Misplaced_planted_page_and_commands_apart_are_found() => Assert.Single(FolderRules.Misplaced(
    [
        new SourceFile("Rounds/RoundPage.razor", "@page \"/round\""),
        new SourceFile("Cli/RoundCommands.cs", "namespace Lepidary.App.Cli;"),
    ]));

    [Theory]
    [InlineData("Pages/RoundPage.razor", "@page \"/round\"")]
    [InlineData("Rounds/Services/MakeRound.cs", "namespace Lepidary.App.Rounds.Services;")]
    [InlineData("RoundPage.razor", "@page \"/round\"")]
    [InlineData("Rounds/MakeRound.cs", "using System;\n\nnamespace Lepidary.App.Flying;")]
    public void Misplaced_planted_file_is_found(string path, string text) =>
        Assert.Single(FolderRules.Misplaced([new SourceFile(path, text)]));
}

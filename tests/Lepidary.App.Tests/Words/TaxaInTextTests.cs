using Lepidary.App.Words;

namespace Lepidary.App.Tests.Words;

public sealed class TaxaInTextTests
{
    private static readonly string[] Taxa = ["Papilio memnon", "Papilio memnon agenor", "Idea leuconoe"];

    [Theory]
    [InlineData("6 Idea leuconoe came in place of Papilio memnon.", "6 |[Idea leuconoe]| came in place of |[Papilio memnon]|.")]
    [InlineData("Papilio memnon agenor: damp", "[Papilio memnon agenor]|: damp")]
    [InlineData("Please credit this.", "Please credit this.")]
    [InlineData("", "")]
    public void Of_cuts_where_a_taxon_is_named(string sentence, string parts)
    {
        var cut = TaxaInText.Of(sentence, Taxa);

        Assert.Equal(parts, string.Join('|', cut.Select(part => part.IsTaxon ? $"[{part.Text}]" : part.Text)));
        Assert.Equal(sentence, string.Concat(cut.Select(part => part.Text)));
    }

    [Fact]
    public void Of_without_names_is_the_sentence() => Assert.Equal([("Cage A, row 3", false)], TaxaInText.Of("Cage A, row 3", []));
}

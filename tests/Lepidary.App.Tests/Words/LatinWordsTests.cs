using Lepidary.App.Words;

namespace Lepidary.App.Tests.Words;

public sealed class LatinWordsTests
{
    [Theory]
    [InlineData("6 Idea leuconoe came in place of Papilio memnon.", "6 |[Idea leuconoe]| came in place of |[Papilio memnon]|.")]
    [InlineData("Morpho flies, and Papilio memnon: damp", "[Morpho]| flies, and |[Papilio memnon]|: damp")]
    [InlineData("Please credit this.", "Please credit this.")]
    [InlineData("Cage A, row 3", "Cage A, row 3")]
    [InlineData("", "")]
    public void Parts_cut_where_a_species_or_genus_is_named(string sentence, string parts)
    {
        var cut = LatinWords.Parts(sentence);

        Assert.Equal(parts, string.Join('|', cut.Select(part => part.IsLatin ? $"[{part.Text}]" : part.Text)));
        Assert.Equal(sentence, string.Concat(cut.Select(part => part.Text)));
    }
}

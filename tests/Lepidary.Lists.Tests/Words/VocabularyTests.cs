using Lepidary.Lists.Words;
using Xunit;

namespace Lepidary.Lists.Tests.Words;

public sealed class VocabularyTests
{
    private static readonly string[] Languages = ["en", "de", "fr", "es", "nl", "it"];

    [Fact]
    public void Entries_everyMeaning_hasWordsInAllSixLanguages()
    {
        var found = Vocabulary.Entries().Select(entry => (entry.Meaning, entry.Language)).ToHashSet();

        Assert.All(Enum.GetValues<Meaning>(), meaning => Assert.All(Languages, language => Assert.Contains((meaning, language), found)));
    }

    [Theory]
    [InlineData(nameof(Meaning.SoldOut), nameof(Meaning.Available))]
    [InlineData(nameof(Meaning.SoldOut), nameof(Meaning.Yes))]
    [InlineData(nameof(Meaning.Minimum), nameof(Meaning.Available))]
    [InlineData(nameof(Meaning.Minimum), nameof(Meaning.PackOf))]
    [InlineData(nameof(Meaning.Excluding), nameof(Meaning.Including))]
    [InlineData(nameof(Meaning.Price), nameof(Meaning.Available))]
    [InlineData(nameof(Meaning.Mix), nameof(Meaning.SoldOut))]
    [InlineData(nameof(Meaning.Order), nameof(Meaning.Available))]
    public void Entries_contraries_shareNoPhrase(string one, string other)
    {
        var phrases = Vocabulary.Entries().ToLookup(entry => entry.Meaning, entry => Folded.Of(entry.Phrase));

        Assert.Empty(phrases[Enum.Parse<Meaning>(one)].Intersect(phrases[Enum.Parse<Meaning>(other)]));
    }

    [Theory]
    [InlineData("Ausverkauft", nameof(Meaning.SoldOut))]
    [InlineData("ÉPUISÉ", nameof(Meaning.SoldOut))]
    [InlineData("c/u", nameof(Meaning.Each))]
    [InlineData("Größe", nameof(Meaning.Aside))]
    public void Of_phrase_ignoresCaseAndAccents(string phrase, string meaning) => Assert.Contains(Enum.Parse<Meaning>(meaning), Vocabulary.Of(phrase));

    [Fact]
    public void LongestAt_phraseInsideAWord_isNone() => Assert.Equal(0, Vocabulary.LongestAt("minerva", 0).Length);
}

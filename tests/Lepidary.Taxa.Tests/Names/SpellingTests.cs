using CsCheck;
using Lepidary.Taxa.Names;
using Xunit;

namespace Lepidary.Taxa.Tests.Names;

public sealed class SpellingTests
{
    private static readonly Gen<string> words = Gen.Char['a', 'd'].Array[0, 9].Select(c => new string(c));

    private static double Distance(string a, string b) => Spelling.Distance(new Word(a, "", Folding.Letters(a)), new Word(b, "", Folding.Letters(b)), 20);

    // Damerau 1964's own four slips; "ca" to "abc" is 2 in the full distance and 3 in optimal string alignment [from memory].
    [Theory]
    [InlineData("memnon", "memnon", 0)]
    [InlineData("memnon", "memon", 1)]
    [InlineData("memnon", "mmemnon", 1)]
    [InlineData("memnon", "memmon", 1)]
    [InlineData("memnon", "menmon", 1)]
    [InlineData("ca", "abc", 2)]
    [InlineData("", "abc", 3)]
    public void Distance_counts_slips(string a, string b, double slips) => Assert.Equal(slips, Distance(a, b));

    [Fact]
    public void Distance_is_a_metric() =>
        Gen.Select(words, words, words).Sample(
            (a, b, c) =>
            {
                Assert.Equal(Distance(a, b), Distance(b, a));
                Assert.Equal(a == b, Distance(a, b) == 0);
                Assert.True(Distance(a, c) <= Distance(a, b) + Distance(b, c));
            },
            seed: "0000000000001", iter: 2000);

    [Fact]
    public void Distance_beyond_the_limit_is_far_and_within_it_is_unchanged() =>
        Gen.Select(words, words).Sample(
            (a, b) =>
            {
                var exact = Distance(a, b);
                for (var most = 1; most <= 4; most++)
                {
                    var limited = Spelling.Distance(new Word(a, "", Folding.Letters(a)), new Word(b, "", Folding.Letters(b)), most);
                    Assert.Equal(exact <= most ? exact : Spelling.Far, limited);
                }
            },
            seed: "0000000000002", iter: 2000);

    [Theory]
    [InlineData("charithonia", "charitonius")]
    [InlineData("sylvia", "silvia")]
    [InlineData("agamemnon", "aggamemnon")]
    [InlineData("paralekta", "paralecta")]
    [InlineData("alcinoe", "alcinoa")]
    public void Sound_is_the_same_for_what_a_latin_ear_confuses(string a, string b) => Assert.Equal(Spelling.Sound(a), Spelling.Sound(b));

    [Theory]
    [InlineData("erato", "hecale")]
    [InlineData("polytes", "polyxenes")]
    public void Sound_differs_for_other_words(string a, string b) => Assert.NotEqual(Spelling.Sound(a), Spelling.Sound(b));
}

using Lepidary.App.Odds;
using Lepidary.Taxa;

namespace Lepidary.App.Tests.Odds;

public sealed class LearnedTests
{
    /// <summary>Two pages asked for at once share what was learned; a plain dictionary broke under that.</summary>
    [Fact]
    public void Rate_and_Timing_asked_at_once_answer_as_one_after_the_other()
    {
        var taxa = TaxonTable.Shipped.All.Take(300).ToList();
        var lots = taxa.Select(taxon => new LotRecord(taxon.Name, "Quillfeather Pupae", 8, 2, 0, [0, 3, 5], 12)).ToList();
        var alone = new Learned(lots);
        var expected = taxa.Select(taxon => (alone.Rate(taxon, null).Mean, alone.Timing(taxon).MeanDays)).ToList();

        for (var round = 0; round < 5; round++)
        {
            var shared = new Learned(lots);
            var answers = Enumerable.Range(0, 4).AsParallel().WithDegreeOfParallelism(4)
                .Select(_ => taxa.Select(taxon => (shared.Rate(taxon, null).Mean, shared.Timing(taxon).MeanDays)).ToList()).ToList();

            Assert.All(answers, answer => Assert.Equal(expected, answer));
        }
    }
}

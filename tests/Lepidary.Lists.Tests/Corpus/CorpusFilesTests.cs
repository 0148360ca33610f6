using Xunit;

namespace Lepidary.Lists.Tests.Corpus;

/// <summary>The truth files themselves must be sound, or a score against them means nothing.</summary>
public sealed class CorpusFilesTests
{
    private static readonly IReadOnlyList<CorpusEntry> Entries = CorpusFolder.Read(CorpusFolder.Visible);

    public static TheoryData<string> Names => [.. Entries.Select(e => e.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Truth_ofEachList_isSound(string name)
    {
        var truth = Entries.Single(e => e.Name == name).Truth;

        Assert.NotEmpty(truth.Offers);
        Assert.All(truth.Offers, offer =>
        {
            Assert.True(offer.Line >= 1 || truth.Lineless);
            Assert.True(offer.Taxon is null == (offer.Kind == OfferKind.Mix), $"line {offer.Line}: a mix has no taxon, all else has one");
            Assert.Matches(@"^([A-Z][a-z]+ [a-z-]+)?$", offer.Taxon ?? "");
            Assert.True(offer.Price is null or (> 0 and < 500));
            Assert.InRange(offer.Pack, 1, 500);
            var prices = offer.Breaks.Select(b => b.Price).Prepend(offer.Price ?? decimal.MaxValue).ToList();
            Assert.Equal(prices.OrderDescending(), prices);
            Assert.Equal(offer.Breaks.OrderBy(b => b.From), offer.Breaks);
            Assert.True(offer.Breaks.All(b => b.From >= 2));
        });
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Truth_ofEachList_namesOnlyLinesThatHoldSomething(string name)
    {
        var truth = Entries.Single(e => e.Name == name).Truth;
        if (truth.Lineless)
            return;

        var lines = truth.SourceLines.SelectMany(s => s.Lines.Select(l => (s.Sheet, l))).ToHashSet();

        Assert.All(truth.Offers.Where(o => !o.Optional), o => Assert.Contains((o.Sheet, o.Line), lines));
        Assert.All(truth.Charges, c => Assert.Contains((c.Sheet, c.Line), lines));
    }
}

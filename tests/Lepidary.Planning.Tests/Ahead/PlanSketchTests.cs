using Lepidary.Planning.Tests.Instances;
using Lepidary.Science.Emergence;
using Xunit;

namespace Lepidary.Planning.Tests.Ahead;

public class PlanSketchTests
{
    private static readonly DateOnly Box = Tiny.Day.AddDays(8);

    private static (PlanProblem Problem, Plan Plan) Week(LaterOffers? later, LaterOffers? memnonLater = null)
    {
        var (problem, _) = PlanCheckerTests.Week();
        problem = problem with
        {
            HorizonDays = 27,
            Taxa = [problem.Taxa[0] with { Later = later }, problem.Taxa[1] with { Later = memnonLater }],
            LaterArrivals = [Box, Box.AddDays(7)],
            Aims = [new DisplayAim { Id = "blue", Words = "8 blue", Of = AimOf.Taxon("Morpho helenor"), AtLeast = 8, Sure = 0.9, From = Tiny.Day.AddDays(7), To = Tiny.Day.AddDays(26) }],
        };
        return (problem, Planner.Propose(problem, cancel: TestContext.Current.CancellationToken).Plan!);
    }

    [Fact]
    public void Of_fourWeeks_tellsWhatIsFirmWeekByWeek()
    {
        var (problem, plan) = Week(new(0.8, 4));
        problem = problem with
        {
            Taxa = [problem.Taxa[0], problem.Taxa[1] with { Stock = problem.Taxa[1].Stock with { Lots = [new(10, -9, EmergenceRate.Known(0.8), EmergenceTiming.FromWindow(3, 8), "own")] } }],
        };
        plan = Planner.Propose(problem, cancel: TestContext.Current.CancellationToken).Plan!;
        var sketch = PlanSketch.Of(problem, plan);
        Assert.Equal([0, 7, 14, 21], sketch.Weeks.Select(w => w.From.DayNumber - Tiny.Day.DayNumber));
        Assert.Equal(Tiny.Day.AddDays(27), sketch.Weeks[^1].To);
        var blue = sketch.Weeks.Select(w => w.Firm.SingleOrDefault(f => f.Taxon == "Morpho helenor")).ToList();
        var ordered = plan.Lines.Where(l => l.Taxon == "Morpho helenor").Sum(l => l.Pupae);
        Assert.Equal(ordered, blue[0]!.Arrives);
        // All that will ever emerge does so within the four weeks: 8 of 10.
        Assert.Equal(0.8 * ordered, blue.Sum(f => f?.Emerges ?? 0), 1e-9);
        var own = sketch.Weeks.Select(w => w.Firm.SingleOrDefault(f => f.Taxon == "Papilio memnon")).ToList();
        Assert.Equal((0, 10), (own[0]?.Arrives ?? 0, own[1]!.Arrives));
        Assert.Equal(8, own.Sum(f => f?.Emerges ?? 0), 1e-3);
        var forecast = plan.Forecast.Single(f => f.Taxon == "Papilio memnon").Days;
        Assert.Equal(forecast.Skip(14).Take(7).Average(d => d.With), own[2]!.Flies, 1e-9);
    }

    [Fact]
    public void Of_likelyOrders_fillWhatIsLackingWhenTheirButterfliesFly()
    {
        var (problem, plan) = Week(new(0.8, 4));
        var outlook = new ListingOutlook("Morpho helenor",
        [
            new() { Supplier = "Amberwing Farm", Listed = 1, Lists = 4, OnList = [0.2], OnNextList = (0, 1), Landed = new(3, 4, 5) },
            new() { Supplier = "Quillfeather Pupae", Listed = 3, Lists = 4, OnList = [0.75], OnNextList = (0, 1), Landed = new(3, 4, 5) },
        ]);
        var sketch = PlanSketch.Of(problem, plan, 4, [outlook]);
        var likely = sketch.Weeks.SelectMany(w => w.Likely).ToList();
        Assert.All(likely, o => Assert.Equal(("Morpho helenor", 0.8, 4m), (o.Taxon, o.Chance, o.UnitPrice)));
        Assert.All(likely, o => Assert.Equal(["Quillfeather Pupae", "Amberwing Farm"], o.Suppliers));
        Assert.Equal(Box.AddDays(7), likely[^1].Arrives);
        Assert.Equal(Math.Round(0.8m * likely[^1].Pupae * 4, 2), likely[^1].ExpectedCost);
        // If the last box came for certain, the aim would be met in the mean on every day that it serves.
        var sure = problem with { Taxa = [problem.Taxa[0] with { Later = new(1, 4) }, problem.Taxa[1]] };
        var last = PlanSketch.Of(sure, plan).Weeks[^1].Aims.Single();
        Assert.True(last.Firm < 8);
        Assert.True(last.Likely >= 8 - 1e-9, $"{last.Likely}");
        // Half the chance counts half.
        Assert.True(PlanSketch.Of(problem with { Taxa = [problem.Taxa[0] with { Later = new(0.1, 4) }, problem.Taxa[1]] }, plan).Weeks[^1].Aims.Single().Likely < last.Likely);
    }

    [Fact]
    public void Of_nothingKnownOfLaterLists_hasNothingLikely()
    {
        var (problem, plan) = Week(null);
        var sketch = PlanSketch.Of(problem, plan, 2);
        Assert.Equal(2, sketch.Weeks.Count);
        Assert.All(sketch.Weeks, w => Assert.Empty(w.Likely));
        Assert.All(sketch.Weeks.SelectMany(w => w.Aims), a => Assert.Equal(a.Firm, a.Likely, 1e-12));
    }

    [Fact]
    public void NowOrLater_rareOffer_isWorthMoreThanOneThatComesEveryWeek()
    {
        NowOrLater One(LaterOffers later)
        {
            var (problem, plan) = Week(later);
            return Assert.Single(NowOrLater.Of(problem, plan));
        }

        var (rare, often) = (One(new(0.05, 4)), One(new(0.9, 4)));
        Assert.Equal(NowOrLaterKind.Rare, rare.Kind);
        Assert.Equal(NowOrLaterKind.Now, often.Kind);
        Assert.True(rare.WorthNow > often.WorthNow);
        // The later lists can only make the offer of today worth less.
        Assert.True(often.WorthAsLast > often.WorthNow);
        Assert.Equal(1 - Math.Pow(0.95, 2), rare.ListedLater, 1e-12);
        // A butterfly is a pupa, its share of carriage with it, through the chance that it emerges.
        var (week, plan) = Week(new(0.9, 4));
        var taxon = week.Taxa.Single(t => t.Name == often.Taxon);
        var lines = plan.Lines.Where(l => l.Taxon == often.Taxon).ToList();
        Assert.Equal(4 / taxon.UsualRate.Mean, (double)often.ButterflyLater, 1e-3);
        Assert.Equal(lines.Min(l => (double)l.Landed / l.Pupae / taxon.RateFrom(l.Supplier).Mean), (double)often.ButterflyNow, 0.01);
        Assert.Equal(FormattableString.Invariant($"Listed in 5 of 100 weeks only: who waits will probably not have it. A butterfly costs about {rare.ButterflyNow:0.00} GBP now."), rare.Sentence);
        Assert.Equal(FormattableString.Invariant($"Listed in 9 of 10 weeks. A butterfly costs about {often.ButterflyNow:0.00} GBP now and {often.ButterflyLater:0.00} later, and flies a week later."), often.Sentence);
    }

    [Fact]
    public void NowOrLater_wantedButCheaperLater_canWait()
    {
        var (problem, _) = Week(new(1, 0.02m));
        problem = problem with { Aims = [((DisplayAim)problem.Aims[0]) with { From = Tiny.Day.AddDays(18) }] };
        var plan = Planner.Propose(problem, cancel: TestContext.Current.CancellationToken).Plan!;
        Assert.Empty(plan.Lines);
        var one = Assert.Single(NowOrLater.Of(problem, plan));
        Assert.Equal((NowOrLaterKind.Wait, 0, 0m), (one.Kind, one.Pupae, one.WorthNow));
        // No box comes, so nobody knows what its carriage would be shared over.
        Assert.Equal("Can wait: listed in 10 of 10 weeks.", one.Sentence);
        Assert.True(one.ButterflyLater < one.ButterflyNow);
        // As the last list it would have been ordered.
        Assert.NotEmpty(Planner.Propose(problem with { LaterArrivals = [] }, cancel: TestContext.Current.CancellationToken).Plan!.Lines);
    }
}

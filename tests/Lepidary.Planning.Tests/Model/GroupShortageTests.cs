using System.Diagnostics;
using Lepidary.Planning.Model;
using Lepidary.Planning.Report;
using Lepidary.Planning.Search;
using Lepidary.Planning.Tests.Instances;
using Lepidary.Science.Emergence;
using Xunit;

namespace Lepidary.Planning.Tests.Model;

/// <summary>What the model says of groups and numbers of species, held against full distributions.</summary>
public class GroupShortageTests(ITestOutputHelper output)
{
    // Measured over the weeks below. Near and above the wish the model is close; far below it (less than half is there) the model
    // counts up to about one butterfly too many, which changes no choice: everything helps equally there.
    private const double NearError = 0.35;
    private const double MeanError = 0.05;
    private const double SmallChance = 0.005;

    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 60)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Short_ofAProposal_isCloseToTheFullDistribution(int seed) => Check(Tiny.Random(seed));

    [Fact]
    public void Short_ofAPublicHouse_isCloseToTheFullDistribution() => Check(PlannedWeek.Public());

    private static void Check(PlanProblem problem)
    {
        foreach (var day in Errors(problem))
        {
            Assert.Equal(day.Mean, day.MeanSaid, 1e-9 * (1 + day.Mean));
            Assert.Equal(day.Variance, day.VarianceSaid, 1e-6 * (1 + day.Variance));
            if (day.IsNear)
                Assert.True(Math.Abs(day.Error) < NearError, $"{day.Aim.Words} on day {day.Day}: {day.Said:0.000} short, exactly {day.Exact:0.000}");
            if (day.Said < 1e-6 && day.Aim.Sure is { } sure)
                Assert.True(day.Chance >= sure - SmallChance, $"{day.Aim.Words} on day {day.Day}: met, but {day.Chance:0.0000}");
        }
    }

    /// <summary>How large the error is, all in all: printed, and held.</summary>
    [Fact]
    public void Short_overAllWeeks_errsByThisMuch()
    {
        var all = Enumerable.Range(1, 60).Select(seed => Tiny.Random(seed)).Append(PlannedWeek.Public()).SelectMany(Errors).ToList();
        var near = all.Where(e => e.IsNear).ToList();
        var (sure, mean) = (near.Where(e => e.Aim.Sure is not null).ToList(), near.Where(e => e.Aim.Sure is null).ToList());
        output.WriteLine($"{all.Count} days of groups, {near.Count} with at least half of the wish there");
        output.WriteLine($"on average wished: {mean.Count} days, mean error {mean.Average(e => Math.Abs(e.Error)):0.0000}, largest {mean.Max(e => Math.Abs(e.Error)):0.000} butterflies");
        output.WriteLine($"surely wished: {sure.Count} days, mean error {sure.Average(e => Math.Abs(e.Error)):0.0000}, largest {sure.Max(e => Math.Abs(e.Error)):0.000} butterflies");
        output.WriteLine($"far below the wish: largest {all.Except(near).Select(e => Math.Abs(e.Error)).DefaultIfEmpty().Max():0.000} butterflies");
        // Enough days of both kinds for the figures to say something.
        Assert.True(mean.Count >= 40 && sure.Count >= 100);
        Assert.True(near.Average(e => Math.Abs(e.Error)) < MeanError);
        Assert.True(near.Max(e => Math.Abs(e.Error)) < NearError);
    }

    private static IReadOnlyList<GroupError> Errors(PlanProblem problem)
    {
        if (Clashes.Plain(problem).Count > 0)
            return [];
        var model = ModelBuilder.Build(problem);
        using var search = new BranchAndPrice(model, Stopwatch.StartNew(), cancel: TestContext.Current.CancellationToken);
        return search.Run().Pupae is { } pupae ? GroupErrors.Of(model, pupae) : [];
    }

    [Theory]
    [InlineData(12, 0.7, 4, 20.0, 30.0)]
    [InlineData(25, 0.45, 8, 15.0, 8.0)]
    [InlineData(7, 0.9, 4, 400.0, 1000.0)]
    public void SquaredMean_ofALot_givesTheVarianceOfItsCount(int pupae, double rate, int wanted, double certainty, double concentration)
    {
        var emergence = new EmergenceRate(rate, certainty, concentration);
        const double flies = 0.6;
        var count = emergence.Forecast(pupae).Thin(flies);
        var excess = (ModelBuilder.SquaredMean(emergence) - (rate * rate)) * flies * flies;
        Assert.Equal(count.Mean, pupae * rate * flies, 1e-9);
        Assert.Equal(count.Variance, (pupae * rate * flies * (1 - (rate * flies))) + (pupae * (pupae - 1) * excess), 1e-8);
        Assert.Equal(count.Shortfall(wanted), Block.Missing([.. Enumerable.Range(0, wanted).Select(k => count[k])], wanted, null), 1e-10);
    }

    [Fact]
    public void Missing_ofASureNumber_isWhatStandsBetweenItAndTheNumberToRelyOn()
    {
        // 0, 1, 2, 3 with chances 0.1, 0.2, 0.3, 0.4: at least 1 in 0.9, at least 2 in 0.7, at least 3 in 0.4 of days.
        double[] below = [0.1, 0.2, 0.3];
        Assert.Equal(3 - 1 - 0.5, Block.Missing(below, 3, 0.8), 1e-12);
        Assert.Equal(3 - 1, Block.Missing(below, 3, 0.9), 1e-12);
        Assert.Equal(3 - 2, Block.Missing(below, 3, 0.7), 1e-12);
        Assert.Equal(0, Block.Missing(below.AsSpan(0, 2), 2, 0.7), 1e-12);
        Assert.Equal((3 * 0.1) + (2 * 0.2) + 0.3, Block.Missing(below, 3, null), 1e-12);
    }

    [Theory]
    [InlineData(-3.0, 0.0013498980316300933)]
    [InlineData(-1.0, 0.15865525393145705)]
    [InlineData(0.0, 0.5)]
    [InlineData(1.2815515655446004, 0.9)]
    [InlineData(2.3263478740408408, 0.99)]
    [InlineData(-7.0, 1.279812543885835e-12)]
    public void Below_knownValues_agree(double u, double chance)
    {
        Assert.Equal(chance, Normal.Below(u), 1e-13);
        if (Math.Abs(u) < 5)
            Assert.Equal(u, Normal.Quantile(chance), 1e-9);
    }
}

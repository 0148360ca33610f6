using Lepidary.Planning.Tests.Instances;
using Lepidary.Science.Emergence;
using Xunit;

namespace Lepidary.Planning.Tests.Model;

/// <summary>How many of a mix fly, when its make-up is drawn anew for each box, held against drawing it.</summary>
public class MixTests(ITestOutputHelper output)
{
    private const int Draws = 200_000;

    // Measured below and printed: 0.001 where the make-up is known from 30 pupae, 0.019 from 2; the error of drawing itself is about 0.002.
    private const double Error = 0.02;

    [Theory]
    [InlineData(20, 5.0, 0.5, 0.3)]
    [InlineData(40, 30.0, 0.4, 0.2)]
    [InlineData(12, 2.0, 0.6, 0.1)]
    public void Odds_ofAMix_areCloseToDrawingItsMakeUp(int pupae, double certainty, double blue, double other)
    {
        var (day, wanted) = (9, 6);
        var rate = new EmergenceRate(0.8, 20, 30);
        var problem = new PlanProblem
        {
            OrderDay = Tiny.Day,
            HorizonDays = 14,
            Currency = "GBP",
            Taxa = [Tiny.Plain("Morpho helenor", "blue") with { UsualRate = rate }, Tiny.Plain("Papilio memnon", "blue") with { UsualRate = rate }, Tiny.Plain("Idea leuconoe")],
            Suppliers = [new() { Name = "A", Currency = "GBP", Arrives = [Tiny.Day] }],
            Offers = [new() { Id = "m", Supplier = "A", Price = 1, Mix = [new("Morpho helenor", blue), new("Papilio memnon", other), new("Idea leuconoe", 0.1)], MixCertainty = certainty }],
        };
        var aim = new DisplayAim { Id = "b", Words = "blue", Of = AimOf.Tag("blue"), AtLeast = wanted };
        PlanLine line = new() { Offer = "m", Supplier = "A", Arrives = Tiny.Day, Pupae = pupae, Packs = pupae, UnitPrice = 1, Goods = pupae, Landed = pupae };
        var said = new Planning.Report.Odds(problem, [line]).CountOn(aim, day);

        var flies = Lepidary.Science.Flying.PupaOdds.Flying(1, problem.Taxa[0].Timing, problem.Taxa[0].Stock.Survival, 15)[day];
        var random = new Random(77);
        var counts = new double[pupae + 1];
        for (var draw = 0; draw < Draws; draw++)
        {
            var (a, b, rest) = (Gamma(random, blue * certainty), Gamma(random, other * certainty), Gamma(random, (1 - blue - other) * certainty));
            double Lot()
            {
                var mean = Beta(random, 0.8 * 20, 0.2 * 20);
                return Beta(random, mean * 30, (1 - mean) * 30);
            }

            var (rateA, rateB) = (Lot(), Lot());
            var chance = flies * (((a * rateA) + (b * rateB)) / (a + b + rest));
            var flying = 0;
            for (var p = 0; p < pupae; p++)
                flying += random.NextDouble() < chance ? 1 : 0;
            counts[flying] += 1.0 / Draws;
        }

        Assert.Equal(counts.Select((c, k) => c * k).Sum(), said.Mean, 0.03);
        var (below, worst) = (0.0, 0.0);
        for (var k = 0; k <= pupae; k++)
        {
            below += counts[k];
            worst = Math.Max(worst, Math.Abs(below - said.AtMost(k)));
        }

        var shortfall = counts.Select((c, k) => c * Math.Max(0, wanted - k)).Sum();
        output.WriteLine($"{pupae} pupae, make-up known from {certainty}: largest error of a chance {worst:0.0000}, of the shortfall of {wanted} {Math.Abs(shortfall - said.Shortfall(wanted)):0.0000} butterflies");
        Assert.True(worst < Error, $"{worst}");
        Assert.Equal(shortfall, said.Shortfall(wanted), 0.05);
    }

    private static double Beta(Random random, double a, double b)
    {
        var (x, y) = (Gamma(random, a), Gamma(random, b));
        return x / (x + y);
    }

    // Marsaglia and Tsang 2000, "A simple method for generating gamma variables"; below 1 by their boost.
    private static double Gamma(Random random, double shape)
    {
        if (shape < 1)
            return Gamma(random, shape + 1) * Math.Pow(random.NextDouble(), 1 / shape);
        var d = shape - (1 / 3.0);
        var c = 1 / Math.Sqrt(9 * d);
        while (true)
        {
            var x = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            var v = Math.Pow(1 + (c * x), 3);
            if (v > 0 && Math.Log(1 - random.NextDouble()) < (0.5 * x * x) + d - (d * v) + (d * Math.Log(v)))
                return d * v;
        }
    }
}

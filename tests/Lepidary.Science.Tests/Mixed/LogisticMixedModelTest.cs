using Lepidary.Science.Mixed;

namespace Lepidary.Science.Tests.Mixed;

public class LogisticMixedModelTest
{
    /// <summary>
    /// Contagious bovine pleuropneumonia: new cases of the animals at risk, by herd and period. Lesnoff and others 2004, Prev. Vet. Med. 64, 91-105; read in the data
    /// set cbpp of lme4 1.1-31.
    /// </summary>
    private static readonly int[] Herd = [1, 1, 1, 1, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 6, 6, 6, 6, 7, 7, 7, 7, 8, 9, 9, 9, 9, 10, 10, 10, 10, 11, 11, 11, 11, 12, 12, 12, 12, 13, 13, 13, 13, 14, 14, 14, 14, 15, 15, 15, 15];
    private static readonly int[] Period = [1, 2, 3, 4, 1, 2, 3, 1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4, 1, 1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4];
    private static readonly double[] Cases = [2, 3, 4, 0, 3, 1, 1, 8, 2, 0, 2, 2, 0, 2, 0, 5, 0, 0, 1, 3, 0, 0, 1, 8, 1, 3, 0, 12, 2, 0, 0, 0, 1, 1, 0, 2, 0, 5, 3, 1, 2, 1, 0, 0, 1, 2, 0, 0, 11, 0, 0, 0, 1, 1, 1, 0];
    private static readonly double[] Animals = [14, 12, 9, 5, 22, 18, 21, 22, 16, 16, 20, 10, 10, 9, 6, 18, 25, 24, 4, 17, 17, 18, 20, 16, 10, 9, 5, 34, 9, 6, 8, 6, 22, 22, 18, 22, 25, 27, 22, 22, 10, 8, 6, 5, 21, 24, 19, 23, 19, 2, 3, 2, 19, 15, 15, 15];

    /// <summary>Simulated once with R (seed 7): 105 lots of 12 species from 5 suppliers, crossed, not every pair there; days in transit less two.</summary>
    private static readonly int[] Species = [1, 1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 3, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 5, 5, 5, 5, 5, 5, 5, 5, 6, 6, 6, 6, 6, 6, 6, 6, 7, 7, 7, 7, 7, 7, 7, 8, 8, 8, 8, 8, 8, 8, 8, 8, 8, 9, 9, 9, 9, 9, 9, 9, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 11, 11, 11, 11, 11, 11, 11, 11, 11, 11, 12, 12, 12, 12, 12, 12, 12];
    private static readonly int[] Supplier = [1, 2, 2, 2, 3, 3, 4, 5, 5, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 1, 1, 2, 3, 4, 1, 1, 1, 2, 2, 3, 3, 3, 4, 4, 4, 5, 5, 5, 1, 1, 2, 2, 2, 3, 4, 4, 1, 2, 2, 3, 3, 4, 4, 4, 1, 1, 2, 4, 4, 4, 5, 1, 2, 2, 2, 3, 3, 3, 5, 5, 5, 1, 2, 2, 3, 3, 4, 4, 1, 1, 1, 2, 2, 2, 3, 4, 5, 5, 1, 1, 1, 2, 2, 2, 3, 4, 4, 4, 1, 1, 2, 3, 3, 5, 5];
    private static readonly double[] Days = [1, 0, 1, 2, 1, -1, 1, 0, 2, 0, 2, -1, 0, 2, -1, 0, -1, 2, 0, 1, 1, 2, -1, 1, 2, 0, 1, 2, 0, -1, 1, 0, 0, 2, 0, 0, -1, 0, 1, -1, 2, -1, 1, 0, 0, 2, 1, 2, 2, 1, -1, 0, 1, 2, 0, -1, 1, 1, 0, -1, -1, 0, 0, 2, 2, 1, 2, 1, 0, 1, 2, 1, 1, 2, 0, -1, 2, -1, 1, 0, 2, -1, 1, 1, 0, -1, -1, 2, 0, 2, -1, -1, 0, 2, 0, 2, 2, 1, 2, 1, -1, -1, 1, -1, 2];
    private static readonly double[] Hung = [6, 20, 16, 9, 12, 14, 19, 12, 14, 18, 14, 12, 15, 20, 6, 11, 9, 20, 10, 7, 9, 13, 20, 20, 18, 11, 12, 16, 20, 6, 6, 12, 17, 10, 14, 17, 20, 18, 12, 11, 13, 13, 12, 10, 16, 10, 8, 20, 5, 15, 17, 16, 11, 16, 11, 6, 5, 5, 5, 16, 15, 20, 20, 6, 13, 14, 5, 12, 13, 15, 13, 10, 8, 18, 15, 12, 8, 17, 16, 10, 12, 12, 13, 6, 7, 6, 17, 19, 6, 9, 15, 11, 19, 6, 19, 8, 6, 6, 12, 9, 5, 9, 20, 13, 16];
    private static readonly double[] Emerged = [1, 16, 11, 3, 4, 9, 14, 7, 12, 17, 6, 12, 12, 13, 4, 7, 7, 12, 7, 6, 8, 9, 19, 16, 12, 10, 9, 12, 18, 6, 5, 7, 16, 8, 12, 15, 12, 16, 8, 10, 10, 13, 9, 10, 11, 9, 7, 10, 2, 8, 5, 11, 7, 5, 7, 5, 2, 2, 3, 6, 11, 16, 16, 6, 8, 7, 2, 7, 9, 12, 12, 7, 6, 14, 14, 8, 5, 12, 15, 9, 11, 9, 13, 3, 6, 5, 15, 17, 5, 5, 12, 10, 16, 5, 13, 1, 1, 5, 8, 5, 3, 5, 6, 10, 7];

    private static RandomTerm Term(string name, int[] level) => new(name, [.. level.Select(one => one - 1)], level.Max());

    private static MixedDesign Herds() => new(
        Cases, Animals, [.. Period.Select(period => new[] { 1, period == 2 ? 1.0 : 0, period == 3 ? 1 : 0, period == 4 ? 1 : 0 })], [Term("herd", Herd)]);

    private static MixedDesign Crossed(IEnumerable<int>? order = null)
    {
        int[] rows = [.. order ?? Enumerable.Range(0, Hung.Length)];
        T[] In<T>(IReadOnlyList<T> values) => [.. rows.Select(row => values[row])];
        return new(
            In(Emerged), In(Hung), In([.. Days.Select(day => new[] { 1, day })]),
            [Term("species", In(Species)), Term("supplier", In(Supplier)), new("lot", rows, rows.Length)]);
    }

    /// <summary>One lot, 1 of 2 emerged, σ = 1: by symmetry û = 0, H = 1 + 2·¼, and -2 ln L = 2·2·ln 2 - 2·ln 2 + ln 1.5 = ln 6.</summary>
    [Fact]
    public void One_lot_by_hand()
    {
        var surface = new LaplaceSurface(new([1], [2], [[1.0]], [new("lot", [0], 1)]), null);
        Close.To(Math.Log(6), surface.At([0, 0], null), Close.Rounding);
        Close.To(0, surface.Effects[0], Close.Rounding);
    }

    /// <summary>
    /// The fit that lme4's documentation prints (help page of glmer and of cbpp; Bates and others 2015, J. Stat. Softw. 67(1)): deviation of herds 0.6421, -1.3983
    /// (0.2312), -0.9919 (0.3032), -1.1282 (0.3228), -1.5797 (0.4220), log likelihood -92.0. More digits computed with R 4.2.2 and lme4 1.1-31, 2026-11-30; recipe in bench/peers/mixed.R.
    /// </summary>
    [Fact]
    public void Bovine_pleuropneumonia_equals_the_published_fit()
    {
        var fit = LogisticMixedModel.Fit(Herds());
        Assert.True(fit.Converged);
        // Published digits; lme4 ends its inner steps early as it comes.
        Close.To(-92.0, -fit.Deviance / 2, 0.05);
        Close.To([0.6421], [.. fit.Deviations], 5e-4);
        Close.To([-1.3983, -0.9919, -1.1282, -1.5797], [.. fit.FixedEffects], 1e-3);
        // The same with lme4's inner steps to 1e-13.
        Close.To(184.052563743, fit.Deviance, 1e-6);
        Close.To([0.6422614], [.. fit.Deviations], 5e-5);
        Close.To([-1.3985321, -0.9923327, -1.1286720, -1.5803139], [.. fit.FixedEffects], 5e-5);
        // Both errors come from differences of the likelihood.
        Close.To([0.232472, 0.306642, 0.326637, 0.427436], [.. fit.FixedErrors], 2e-3);
        Close.To([0.59002, -0.29890, 0.40626, 0.03928, -0.19002, -0.40027, 0.88939, 0.59937, -0.23765, -0.54094, -0.08464, -0.06482, -0.68992, 0.97072, -0.53048], [.. fit.Effects[0]], 3e-5);
    }

    /// <summary>
    /// Salamander matings of summer 1986: twenty females, ten of each population, each put to a male on six days; both cross. McCullagh and Nelder 1989, Generalized Linear Models, 2nd ed.,
    /// section 14.5; the 120 pairings read in a public sample program of a statistics package that names the book. By cross 22, 20, 7 and 21 of 30.
    /// </summary>
    private static readonly int[] Males = [1, 5, 2, 4, 3, 19, 18, 16, 20, 17, 9, 7, 8, 10, 6, 15, 14, 11, 13, 12, 14, 15, 11, 12, 13, 9, 8, 6, 7, 10, 19, 16, 17, 20, 18, 2, 1, 4, 3, 5, 5, 3, 1, 2, 4, 20, 19, 17, 18, 16, 7, 9, 6, 8, 10, 13, 15, 12, 11, 14, 11, 13, 14, 15, 12, 7, 9, 10, 6, 8, 20, 17, 19, 18, 16, 4, 2, 5, 1, 3, 4, 1, 3, 5, 2, 16, 17, 20, 19, 18, 10, 6, 7, 9, 8, 12, 11, 15, 14, 13, 15, 12, 13, 14, 11, 8, 6, 9, 10, 7, 18, 20, 16, 19, 17, 1, 5, 3, 4, 2];
    private static readonly double[] Mated = [1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 0, 1, 1, 1, 0, 1, 0, 0, 1, 0, 0, 1, 1, 0, 1, 0, 1, 0, 1, 1, 1, 1, 1, 1, 0, 0, 1, 1, 1, 0, 0, 1, 0, 1, 1, 1, 1, 0, 0, 1, 1, 0, 1, 0, 1, 0, 1, 0, 1, 1, 0, 1, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 0, 1, 1, 1, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 0, 1, 1, 0, 1, 0, 1, 1, 0, 0, 1, 0, 0, 0];

    /// <summary>Females and males cross, and the males' spread is small. Computed with R 4.2.2, lme4 1.1-31 (Laplace), 2026-11-30; recipe in bench/peers/salamander.R.</summary>
    [Fact]
    public void Salamander_matings_equal_lme4()
    {
        int[] females = [.. Enumerable.Range(0, 120).Select(i => (i % 20) + 1)];
        double W(int animal) => animal > 10 ? 1 : 0;
        Assert.Equal([22, 20, 7, 21], new[] { (0, 0), (0, 1), (1, 0), (1, 1) }.Select(cross => (int)Enumerable.Range(0, 120).Where(i => (W(females[i]), W(Males[i])) == cross).Sum(i => Mated[i])));

        var fit = LogisticMixedModel.Fit(new(
            Mated, [.. Enumerable.Repeat(1.0, 120)], [.. females.Zip(Males, (female, male) => new[] { 1, W(female), W(male), W(female) * W(male) })], [Term("female", females), Term("male", Males)]));

        Assert.True(fit.Converged);
        Close.To(132.8817199630, fit.Deviance, 1e-5);
        Close.To([1.3352530, -2.9403800, -0.4221208, 3.1812394], [.. fit.FixedEffects], 5e-4);
        Close.To([1.2549435, 0.2685222], [.. fit.Deviations], 1e-3);
        Close.To([0.29342844, 0.99067414, 0.27369493, 0.29214117, 1.00515152, 0.30278315, -1.74431983], [.. fit.Effects[0].Take(7)], 1e-3);
        // lme4's own errors of the fixed effects; ours let the deviations move too.
        Close.To([0.6575, 0.9851, 0.6643, 1.0608], [.. fit.FixedErrors], 0.08);
    }

    /// <summary>Computed with R 4.2.2, lme4 1.1-31 (glmer, Laplace, bobyqa to 1e-9, inner steps to 1e-13), 2026-11-30; recipe in bench/peers/mixed.R.</summary>
    [Fact]
    public void Crossed_lots_equal_lme4()
    {
        var fit = LogisticMixedModel.Fit(Crossed());
        Close.To(430.485680022, fit.Deviance, 1e-6);
        Close.To([1.1328758, -0.2831596], [.. fit.FixedEffects], 3e-5);
        Close.To([0.212840, 0.078208], [.. fit.FixedErrors], 2e-3);
        Close.To([0.5212581, 0.2584079, 0.4384556], [.. fit.Deviations], 3e-5);
        Close.To([-0.37510, 0.01472, 0.51836, 0.35794, 0.44774, -0.55945, -0.69059, 0.07557, 0.13130, 0.61713, -0.15107, -0.60717], [.. fit.Effects[0]], 5e-5);
        Close.To([0.13438, 0.16322, -0.32807, -0.15357, 0.12982], [.. fit.Effects[1]], 5e-5);
    }

    [Fact]
    public void Gradient_equals_differences()
    {
        var prior = new MixedPrior([1, 0], [2, double.PositiveInfinity], [0.4, 0.3, 0.5], 0.7);
        foreach (var surface in new[] { new LaplaceSurface(Crossed(), null), new LaplaceSurface(Crossed(), prior) })
        {
            double[] at = [-0.3, -1.2, -0.8, 1.4, -0.2];
            var gradient = new double[at.Length];
            surface.At(at, gradient);
            for (var k = 0; k < at.Length; k++)
            {
                const double step = 1e-5;
                double Value(double move) => surface.At([.. at.Select((value, l) => l == k ? value + move : value)], null);
                Close.To((Value(step) - Value(-step)) / (2 * step), gradient[k], 1e-4);
            }
        }
    }

    /// <summary>A slow second implementation: every matrix dense, u found by plain Newton steps, determinants by elimination.</summary>
    [Fact]
    public void Surface_equals_the_dense_reckoning()
    {
        var design = Crossed();
        var surface = new LaplaceSurface(design, null);
        foreach (var at in new[] { [-0.3, -1.2, -0.8, 1.4, -0.2], [0.4, -0.1, -2.5, 0.2, 0.3], new[] { -6, 0, -1, 1.0, -0.4 } })
            Close.To(Dense(design, at), surface.At(at, null), 1e-8);
    }

    [Fact]
    public void Inverse_entries_equal_the_dense_inverse()
    {
        var design = Crossed();
        var surface = new LaplaceSurface(design, null);
        double[] at = [-0.3, -1.2, -0.8, 1.4, -0.2];
        surface.At(at, new double[at.Length]);
        var (h, _) = Curvature(design, at, Newton(design, at), out _);
        for (var i = 0; i < design.Rows; i += 7)
        {
            int[] mine = [Species[i] - 1, 12 + Supplier[i] - 1, 17 + i];
            int[] theirs = [surface.Offset(0) + Species[i] - 1, surface.Offset(1) + Supplier[i] - 1, surface.Offset(2) + i];
            for (var a = 0; a < 3; a++)
            {
                var unit = new double[h.GetLength(0)];
                unit[mine[a]] = 1;
                var column = Solve(h, unit);
                for (var b = 0; b < 3; b++)
                {
                    var (low, high) = (Math.Min(theirs[a], theirs[b]), Math.Max(theirs[a], theirs[b]));
                    Close.To(column[mine[b]], surface.Matrix.Inverse[surface.Matrix.Position(low, high)], 1e-9);
                }
            }
        }
    }

    [Fact]
    public void Fit_is_the_same_in_any_order_of_rows() => Gen.Int[1, 1_000_000].Holds(
        seed =>
        {
            var fit = LogisticMixedModel.Fit(Crossed());
            var other = LogisticMixedModel.Fit(Crossed(Enumerable.Range(0, Hung.Length).OrderBy(row => (row * 7919L + seed) * 104729 % 1_000_003)));
            Close.To(fit.Deviance, other.Deviance, 1e-6);
            Close.To([.. fit.Effects[1]], [.. other.Effects[1]], 1e-4);
        },
        times: 5);

    [Fact]
    public void Fit_from_a_model_nearby_is_the_same_and_quicker()
    {
        var before = LogisticMixedModel.Fit(Crossed(Enumerable.Range(0, 100)));
        var (cold, warm) = (LogisticMixedModel.Fit(Crossed()), LogisticMixedModel.Fit(Crossed(), near: before));
        Close.To(cold.Deviance, warm.Deviance, 1e-6);
        Close.To([.. cold.FixedEffects], [.. warm.FixedEffects], 1e-4);
        Assert.True(warm.Evaluations < cold.Evaluations);
    }

    [Fact]
    public void Groups_that_do_not_differ_have_no_deviation()
    {
        var fit = LogisticMixedModel.Fit(new([8, 8, 8, 8, 8, 8], [10, 10, 10, 10, 10, 10], [.. Enumerable.Repeat(new[] { 1.0 }, 6)], [Term("lot", [1, 2, 3, 4, 5, 6])]));
        Assert.InRange(fit.Deviations[0], 0, 0.02);
        Close.To(Math.Log(4), fit.FixedEffects[0], 1e-3);
    }

    [Fact]
    public void Prior_alone_is_the_forecast_of_a_new_level()
    {
        // One pupa tells next to nothing.
        var prior = new MixedPrior([1.4], [0.2], [0.4, 0.5], 0.5);
        var fit = LogisticMixedModel.Fit(new([0.8], [1], [[1.0]], [Term("supplier", [1]), Term("lot", [1])]), prior);
        var forecast = fit.Forecast([1], [null, null]);
        Close.To(1.4, forecast.Logit, 0.02);
        Close.To(0.04 + 0.16 + 0.25, forecast.Variance, 0.05);
    }

    [Fact]
    public void Forecast_of_a_known_level_draws_nearer_as_lots_come()
    {
        var last = double.PositiveInfinity;
        for (var lots = 1; lots <= 64; lots *= 4)
        {
            int[] all = [.. Enumerable.Range(1, lots)];
            var fit = LogisticMixedModel.Fit(
                new([.. all.Select(_ => 5.0)], [.. all.Select(_ => 10.0)], [.. all.Select(_ => new[] { 1.0 })], [Term("species", [.. all.Select(_ => 1)]), Term("lot", all)]),
                new MixedPrior([1.4], [0.2], [0.4, 0.4], 0.5));
            var forecast = fit.Forecast([1], [0, null]);
            // A new lot of this species still varies as lots do.
            var mean = forecast.Variance - fit.Deviations[1] * fit.Deviations[1];
            Assert.True(mean < last);
            Assert.InRange(forecast.Logit, -0.05, 1.4);
            last = mean;
        }
    }

    /// <summary>Books with a known truth: 8 of 10 true rates of a species at a supplier lie within the 80 % interval.</summary>
    [Fact]
    public void Intervals_cover_as_they_say()
    {
        var random = new Random(20261130);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var (inside, asked) = (0, 0);
        for (var book = 0; book < 60; book++)
        {
            var (species, supplier) = (Enumerable.Range(0, 15).Select(_ => 0.6 * Normal()).ToArray(), Enumerable.Range(0, 6).Select(_ => 0.4 * Normal()).ToArray());
            var (s, j, y, n) = (new List<int>(), new List<int>(), new List<double>(), new List<double>());
            for (var lot = 0; lot < 120; lot++)
            {
                s.Add(random.Next(15) + 1);
                j.Add(random.Next(6) + 1);
                var logit = 1.4 + species[s[^1] - 1] + supplier[j[^1] - 1] + 0.4 * Normal();
                n.Add(random.Next(5, 21));
                y.Add(Enumerable.Range(0, (int)n[^1]).Count(_ => random.NextDouble() < 1 / (1 + Math.Exp(-logit))));
            }
            var fit = LogisticMixedModel.Fit(new(y, n, [.. y.Select(_ => new[] { 1.0 })], [new("species", [.. s.Select(one => one - 1)], 15), new("supplier", [.. j.Select(one => one - 1)], 6), Term("lot", [.. Enumerable.Range(1, 120)])]));
            for (var one = 0; one < 15; one++)
            {
                var forecast = fit.Forecast([1], [one, one % 6, null]);
                var spread = Math.Sqrt(forecast.Variance);
                var truth = 1.4 + species[one] + supplier[one % 6] + 0.4 * Normal();
                asked++;
                inside += Math.Abs(truth - forecast.Logit) <= 1.2815515655446004 * spread ? 1 : 0;
            }
        }
        TestContext.Current.TestOutputHelper?.WriteLine($"{inside} of {asked}");
        // 900 rates, the 15 of a book not independent: three standard errors of independent ones are 0.04.
        Assert.InRange(inside / (double)asked, 0.75, 0.85);
    }

    [Fact]
    public void Wrong_designs_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new MixedDesign([], [], [], []));
        Assert.Throws<ArgumentException>(() => new MixedDesign([3], [2], [[1.0]], []));
        Assert.Throws<ArgumentException>(() => new MixedDesign([1], [2], [[1.0]], [new("lot", [1], 1)]));
        Assert.Throws<ArgumentException>(() => new MixedDesign([1, 1], [2, 2], [[1.0], [1.0, 2]], []));
        Assert.Throws<ArgumentException>(() => LogisticMixedModel.Fit(Herds(), new MixedPrior([0], [1], [1], 1)));
    }

    private static double Dense(MixedDesign design, double[] at)
    {
        var u = Newton(design, at);
        var (h, value) = Curvature(design, at, u, out _);
        return value + LogDeterminant(h);
    }

    private static double[] Newton(MixedDesign design, double[] at)
    {
        var u = new double[design.Terms.Sum(term => term.Levels)];
        for (var step = 0; step < 100; step++)
        {
            var (h, _) = Curvature(design, at, u, out var slope);
            var move = Solve(h, slope);
            for (var c = 0; c < u.Length; c++) u[c] -= 0.7 * move[c];
        }
        return u;
    }

    private static (double[,] H, double Value) Curvature(MixedDesign design, double[] at, double[] u, out double[] slope)
    {
        var (size, terms) = (u.Length, design.Terms.Count);
        var (h, value) = (new double[size, size], u.Sum(x => x * x));
        slope = [.. u];
        for (var c = 0; c < size; c++) h[c, c] = 1;
        for (var i = 0; i < design.Rows; i++)
        {
            var row = new double[size];
            var (logit, offset) = (0.0, 0);
            for (var t = 0; t < terms; t++)
            {
                row[offset + design.Terms[t].Level[i]] = Math.Exp(at[t]);
                offset += design.Terms[t].Levels;
            }
            for (var k = 0; k < design.FixedEffects; k++) logit += design.X[i][k] * at[terms + k];
            for (var c = 0; c < size; c++) logit += row[c] * u[c];
            var (y, n, p) = (design.Successes[i], design.Trials[i], 1 / (1 + Math.Exp(-logit)));
            var choose = 0.0;
            for (var k = 1; k <= y; k++) choose += Math.Log((n - y + k) / k);
            value -= 2 * (choose + y * Math.Log(p) + (n - y) * Math.Log(1 - p));
            for (var c = 0; c < size; c++)
            {
                if (row[c] == 0) continue;
                slope[c] -= (y - n * p) * row[c];
                for (var d = 0; d < size; d++) h[c, d] += n * p * (1 - p) * row[c] * row[d];
            }
        }
        return (h, value);
    }

    private static double[] Solve(double[,] matrix, double[] right) =>
        MathNet.Numerics.LinearAlgebra.Double.DenseMatrix.OfArray(matrix).Solve(MathNet.Numerics.LinearAlgebra.Double.DenseVector.OfArray(right)).ToArray();

    private static double LogDeterminant(double[,] matrix) => MathNet.Numerics.LinearAlgebra.Double.DenseMatrix.OfArray(matrix).Cholesky().DeterminantLn;
}

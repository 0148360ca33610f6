using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Tests.Flying;

public class FlyingForecastTest
{
    private static readonly AdultSurvival Fortnight = AdultSurvival.FromLife(12, 28);
    private static readonly EmergenceTiming Window = EmergenceTiming.FromWindow(4, 10);
    private static readonly EmergenceRate Rate = new(0.8, 20, 30);

    private static HangingLot Lot(int hanging, int daysHanging, string source = "a", int emerged = 0, int lost = 0) =>
        new(hanging, daysHanging, Rate, Window, source, emerged, lost);

    [Fact]
    public void Of_what_flies_is_binomial()
    {
        var forecast = FlyingForecast.Of(new(AdultSurvival.FromDaily(0.9), [], [new(10, 3), new(5, 0)]), 4);
        Close.To(CountDistribution.Certain(15), forecast[0], 1e-15);
        Close.To(CountDistribution.Binomial(15, 0.729), forecast[3], 1e-14);
    }

    /// <summary>
    /// By hand: 8 of 10 emerge, half on day 1, half on day 2; one pupa still hangs on day 2. It is alive with 0.8·½/(0.8·½+0.2) = 2/3,
    /// so it flies today with 2/3 and tomorrow with 2/3·0.9.
    /// </summary>
    [Fact]
    public void Of_by_hand()
    {
        var lot = new HangingLot(1, 2, EmergenceRate.Known(0.8), EmergenceTiming.FromChances([0, 0.5, 0.5]), "a");
        var forecast = FlyingForecast.Of(new(AdultSurvival.FromDaily(0.9), [lot], []), 2);
        Close.To([1.0 / 3, 2.0 / 3], forecast[0].Masses, 1e-15);
        Close.To([0.4, 0.6], forecast[1].Masses, 1e-15);
    }

    /// <summary>
    /// By hand: two pupae that surely emerge, today with a half that rests on w pupae: beta-binomial, both (w/2)(w/2+1)/(w(w+1)) = (w+2)/(4(w+1)).
    /// </summary>
    [Fact]
    public void EmergingOf_by_hand()
    {
        var timing = EmergenceTiming.FromChances([0.5, 0.5]).KnownFrom(8);
        var w = timing.Watched(0);
        var both = (w + 2) / (4 * (w + 1));
        var today = FlyingForecast.EmergingOf(new(2, 0, EmergenceRate.Known(1), timing, "a"), 1)[0];
        Close.To([both, 1 - (2 * both), both], today.Masses, Close.Rounding);
    }

    [Fact]
    public void EmergingOf_is_wider_where_the_days_are_not_known_and_the_same_where_they_are()
    {
        var lot = Lot(14, 3, emerged: 1, lost: 1);
        var (known, unknown) = (FlyingForecast.EmergingOf(lot, 4), FlyingForecast.EmergingOf(lot with { Timing = Window.KnownFrom(10) }, 4));
        var plain = FlyingForecast.Emerging([lot], 4);
        for (var day = 0; day < 4; day++)
        {
            Close.To(plain[day], known[day], 1e-12);
            Close.To(known[day].Mean, unknown[day].Mean, 1e-9);
            Assert.True(unknown[day].Variance > known[day].Variance);
        }
    }

    /// <summary>By hand: two surely emerge, each on day 1 or 2 with a half: the first on day 1 unless both wait, 3/4.</summary>
    [Fact]
    public void First_by_hand()
    {
        var first = FlyingForecast.First(new(2, 0, EmergenceRate.Known(1), EmergenceTiming.FromChances([0, 0.5, 0.5]), "a"))!;
        Close.To([0, 0.75, 0.25], first.Masses, 1e-15);
        Assert.Null(FlyingForecast.First(new(2, 3, EmergenceRate.Known(1), EmergenceTiming.FromChances([0, 0.5, 0.5]), "a")));
    }

    /// <summary>
    /// By hand: two pupae that emerge surely, half on day 1, known from w pupae. None on day 1 with ½·(w/2+1)/(w+1), which is more than the quarter of two that know nothing of each other: they
    /// come early or late together.
    /// </summary>
    [Fact]
    public void First_of_days_that_are_not_known_by_hand()
    {
        var timing = EmergenceTiming.FromChances([0, 0.5, 0.5]).KnownFrom(10);
        var known = timing.Watched(1);
        var first = FlyingForecast.First(new(2, 0, EmergenceRate.Known(1), timing, "a"))!;
        Close.To(0.5 * (known / 2 + 1) / (known + 1), first[2], 1e-12);
        Close.To(0.288, first[2], 5e-4);
    }

    /// <summary>A slow second implementation: every day of every pupa that lives, one by one.</summary>
    [Fact]
    public void First_equals_the_sum_over_all_days_of_all_pupae()
    {
        double[] days = [0.1, 0.2, 0.3, 0.4];
        var lot = new HangingLot(4, 1, Rate, EmergenceTiming.FromChances(days), "a");
        var alive = FlyingForecast.Alive(lot);
        var masses = new double[4];
        for (var k = 1; k <= 4; k++)
            for (var code = 0; code < (int)Math.Pow(3, k); code++)
            {
                var (chance, first) = (alive[k] / alive.AtLeast(1), 4);
                for (var (pupa, rest) = (0, code); pupa < k; pupa++, rest /= 3)
                {
                    chance *= days[1 + (rest % 3)] / 0.9;
                    first = Math.Min(first, 1 + (rest % 3));
                }
                masses[first] += chance;
            }
        Close.To(masses, FlyingForecast.First(lot)!.Masses, 1e-12);
    }

    [Fact]
    public void Of_nothing_is_nothing()
    {
        Assert.All(FlyingForecast.Of(new(Fortnight, [], []), 5), day => Assert.Equal(1, day[0]));
        Assert.All(FlyingForecast.Of(new(Fortnight, [Lot(0, 3)], [new(0, 2)]), 5), day => Assert.Equal(1, day[0]));
        Assert.Empty(FlyingForecast.Of(new(Fortnight, [], []), 0));
    }

    [Fact]
    public void Of_new_lot_with_known_rate_is_binomial_with_phi()
    {
        var lot = new HangingLot(30, -2, EmergenceRate.Known(0.8), Window, "a");
        var forecast = FlyingForecast.Of(new(Fortnight, [lot], []), 30);
        var phi = PupaOdds.Flying(0.8, Window, Fortnight, 28);
        Assert.Equal(1, forecast[1][0]);
        for (var day = 2; day < 30; day++) Close.To(CountDistribution.Binomial(30, phi[day - 2]), forecast[day], 1e-14);
    }

    [Fact]
    public void Of_new_lots_of_one_source_thins_their_joint_forecast()
    {
        // Two halves that arrive together differ from one whole box: each has its own lot rate, the mean they share.
        var phi = PupaOdds.Flying(1, Window, Fortnight, 15)[14];
        var whole = FlyingForecast.Of(new(Fortnight, [Lot(40, 0)], []), 15)[14];
        Close.To(Rate.Forecast(40).Thin(phi), whole, 1e-13);
        var halves = FlyingForecast.Of(new(Fortnight, [Lot(20, 0), Lot(20, 0)], []), 15)[14];
        var strangers = FlyingForecast.Of(new(Fortnight, [Lot(20, 0), Lot(20, 0, "b")], []), 15)[14];
        Close.To(Rate.Forecast(20).Thin(phi).Plus(Rate.Forecast(20).Thin(phi)), strangers, 1e-13);
        Close.To(whole.Mean, halves.Mean, 1e-10);
        Assert.True(whole.Variance > halves.Variance + 0.1);
        Assert.True(halves.Variance > strangers.Variance + 0.1);
    }

    /// <summary>
    /// A second way: sums over fine grids of the mean and of each lot's rate, each pupa by its own chance given that it still
    /// hangs, every history by its own likelihood. No beta function, no thinning, no nodes.
    /// </summary>
    [Fact]
    public void Of_equals_slow_second_implementation()
    {
        HangingLot[] lots =
        [
            Lot(9, 8, emerged: 14, lost: 2),
            Lot(25, 2),
            Lot(12, -4),
            Lot(5, 13, emerged: 3),
        ];
        var stock = new SpeciesStock(Fortnight, lots, [new(4, 6)]);
        var forecast = FlyingForecast.Of(stock, 25);
        foreach (var day in new[] { 0, 6, 24 }) Close.To(Slow(stock, day), forecast[day], 3e-6);
    }

    /// <summary>An overdue box speaks so loudly against the table that the weight lies where the table had next to none.</summary>
    [Fact]
    public void Of_when_history_contradicts_the_table_equals_slow_second_implementation()
    {
        var stock = new SpeciesStock(Fortnight, [Lot(40, 15), Lot(12, 0)], []);
        Close.To(Slow(stock, 12), FlyingForecast.Of(stock, 13)[12], 3e-6);
    }

    private static CountDistribution Slow(SpeciesStock stock, int day)
    {
        const int Means = 200, Rates = 300;
        var mixed = new double[stock.Lots.Sum(lot => lot.Hanging) + 1];
        var total = 0.0;
        for (var j = 0; j < Means; j++)
        {
            // Means and rates by equal steps, with their beta densities as weights.
            var mean = (j + 0.5) / Means;
            var (weight, sum) = (Density(mean, 16, 4), CountDistribution.Certain(0));
            foreach (var lot in stock.Lots)
            {
                var masses = new double[lot.Hanging + 1];
                var likelihood = 0.0;
                for (var i = 0; i < Rates; i++)
                {
                    var rate = (i + 0.5) / Rates;
                    var density = Density(rate, 30 * mean, 30 * (1 - mean)) / Rates;
                    var emergedBefore = 1 - lot.Timing.NotBefore(lot.DaysHanging);
                    var stillHangs = 1 - rate * emergedBefore;
                    var seen = 0.0;
                    for (var t = Math.Max(0, lot.DaysHanging); t <= lot.DaysHanging + day; t++)
                        seen += rate * lot.Timing[t] * stock.Survival[lot.DaysHanging + day - t];
                    var history = density * Math.Pow(rate, lot.Emerged) * Math.Pow(1 - rate, lot.Lost) * Math.Pow(stillHangs, lot.Hanging);
                    likelihood += history;
                    var counts = CountDistribution.Binomial(lot.Hanging, Math.Min(1, seen / stillHangs));
                    for (var k = 0; k <= counts.Max; k++) masses[k] += history * counts[k];
                }
                for (var k = 0; k < masses.Length; k++) masses[k] /= likelihood;
                weight *= likelihood;
                sum = sum.Plus(CountDistribution.FromMasses(masses));
            }
            total += weight;
            for (var k = 0; k <= sum.Max; k++) mixed[k] += weight * sum[k];
        }
        for (var k = 0; k < mixed.Length; k++) mixed[k] /= total;
        var flying = CountDistribution.Certain(0);
        foreach (var group in stock.Flying)
            flying = flying.Plus(CountDistribution.Binomial(group.Count, stock.Survival.GivenAlive(group.DaysOnWing, day)));
        return CountDistribution.FromMasses(mixed).Plus(flying);
    }

    private static double Density(double x, double a, double b) =>
        Math.Exp((a - 1) * Math.Log(x) + (b - 1) * Math.Log(1 - x) - SpecialFunctions.LogBeta(a, b));

    /// <summary>Each pupa drawn on its own: rates, fate, day of emergence, life. Seeded; four standard errors.</summary>
    [Fact]
    public void Of_agrees_with_simulated_pupae()
    {
        const int Runs = 20_000;
        HangingLot[] lots = [Lot(10, 5), Lot(20, -3), Lot(8, -3, "b")];
        const int Day = 11;
        var random = new Random(11);
        var seen = new int[39];
        var kept = 0;
        while (kept < Runs)
        {
            var means = new Dictionary<string, double> { ["a"] = Beta(random, 16, 4), ["b"] = Beta(random, 16, 4) };
            var flying = 0;
            var possible = true;
            foreach (var lot in lots)
            {
                var rate = Beta(random, 30 * means[lot.RateSource], 30 * (1 - means[lot.RateSource]));
                for (var i = 0; i < lot.Hanging && possible; i++)
                {
                    if (random.NextDouble() >= rate) continue;
                    var emerges = Window.Quantile(random.NextDouble());
                    // The history: none has emerged before today. A run in which one has is not this house.
                    if (emerges < lot.DaysHanging) possible = false;
                    var age = lot.DaysHanging + Day - emerges;
                    if (age >= 0 && random.NextDouble() < Fortnight[age]) flying++;
                }
            }
            if (!possible) continue;
            kept++;
            seen[flying]++;
        }
        var forecast = FlyingForecast.Of(new(Fortnight, lots, []), Day + 1)[Day];
        for (var k = 0; k < seen.Length; k++)
            Close.To(forecast[k], seen[k] / (double)Runs, 4 * Math.Sqrt(forecast[k] * (1 - forecast[k]) / Runs) + 1e-4);
    }

    private static double Beta(Random random, double a, double b)
    {
        var (x, y) = (Gamma(random, a), Gamma(random, b));
        return x / (x + y);
    }

    /// <summary>Marsaglia and Tsang's rejection, with the boost for shapes below 1.</summary>
    private static double Gamma(Random random, double shape)
    {
        if (shape < 1) return Gamma(random, shape + 1) * Math.Pow(random.NextDouble(), 1 / shape);
        var d = shape - 1.0 / 3;
        while (true)
        {
            var z = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            var v = Math.Pow(1 + z / Math.Sqrt(9 * d), 3);
            if (v > 0 && Math.Log(1 - random.NextDouble()) < z * z / 2 + d - d * v + d * Math.Log(v)) return d * v;
        }
    }

    [Fact]
    public void Of_more_pupae_never_lower_the_odds()
    {
        Gen.Select(Gen.Int[1, 30], Gen.Int[-10, 0], Gen.Int[0, 20], Gen.Int[1, 20]).Holds((pupae, arrives, day, target) =>
        {
            var less = FlyingForecast.Of(new(Fortnight, [Lot(12, 6), Lot(pupae, arrives)], []), 21)[day];
            var more = FlyingForecast.Of(new(Fortnight, [Lot(12, 6), Lot(pupae + 1, arrives)], []), 21)[day];
            Assert.True(more.AtLeast(target) >= less.AtLeast(target) - 1e-12);
        }, times: 100, seed: 1);
    }

    [Fact]
    public void Of_good_news_of_one_lot_lifts_another_of_its_source()
    {
        double Mean(params HangingLot[] history) =>
            FlyingForecast.Of(new(Fortnight, [.. history, Lot(20, 0)], []), 15)[14].Mean;
        var (good, none, bad) = (Mean(Lot(0, 20, emerged: 40)), Mean(), Mean(Lot(0, 20, emerged: 5, lost: 35)));
        Assert.True(good > none + 0.5 && none > bad + 2);
        Close.To(none, Mean(Lot(0, 20, "b", emerged: 40)), 1e-12);
    }

    [Fact]
    public void Emerging_sums_to_those_alive()
    {
        var lot = Lot(18, 6, emerged: 9, lost: 1);
        var byDay = FlyingForecast.Emerging([lot], 40);
        Close.To(FlyingForecast.Alive(lot).Mean, byDay.Sum(day => day.Mean), 1e-9);
    }

    [Fact]
    public void Alive_of_an_overdue_lot_is_almost_none()
    {
        Assert.InRange(FlyingForecast.Alive(Lot(10, 0)).Mean, 7.99, 8.01);
        Assert.InRange(FlyingForecast.Alive(Lot(10, 14)).Mean, 0, 1);
        Assert.Equal(0, FlyingForecast.Alive(Lot(10, 500)).Mean);
    }

    /// <summary>
    /// Alive of one pupa of a lot with a known rate is Bayes' rule for that pupa: <see cref="EmergenceTiming.Alive"/>.
    /// </summary>
    [Fact]
    public void Alive_with_known_rate_is_binomial()
    {
        var lot = new HangingLot(7, 8, EmergenceRate.Known(0.8), Window, "a", 3, 1);
        Close.To(CountDistribution.Binomial(7, Window.Alive(0.8, 8)), FlyingForecast.Alive(lot), 1e-14);
    }

    [Fact]
    public void Total_adds_species()
    {
        var one = FlyingForecast.Of(new(Fortnight, [Lot(12, 0)], []), 9)[8];
        Close.To(one.Plus(one).Plus(one), FlyingForecast.Total([one, one, one]), 1e-15);
    }

    [Fact]
    public void Five_to_fly_common_practice()
    {
        // "Five of each to fly": common practice, no source. It nearly always gives one in the air at the best time, and rarely five.
        var best = FlyingForecast.Of(new(Fortnight, [Lot(5, 0)], []), 20).MaxBy(day => day.Mean)!;
        Assert.InRange(best.AtLeast(1), 0.97, 1);
        Assert.InRange(best.AtLeast(5), 0, 0.3);
    }

    [Fact]
    public void Counts_below_zero_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => FlyingForecast.Of(new(Fortnight, [Lot(-1, 0)], []), 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => FlyingForecast.Of(new(Fortnight, [], [new(-1, 0)]), 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => FlyingForecast.Of(new(Fortnight, [], []), -1));
    }

    // By hand: each of 10 released 5 days ago lives with .9^5 today and .9^6 tomorrow.
    [Fact]
    public void Of_released_and_not_seen_since_is_binomial_in_survival()
    {
        var survival = AdultSurvival.FromDaily(0.9);
        var stock = new SpeciesStock(survival, [], [new FlyingGroup(10, 5, survival[5])]);

        var days = FlyingForecast.Of(stock, 2);

        Assert.Equal(10 * Math.Pow(0.9, 5), days[0].Mean, 1e-12);
        Assert.Equal(10 * Math.Pow(0.9, 6), days[1].Mean, 1e-12);
        Assert.Equal(Math.Pow(1 - Math.Pow(0.9, 6), 10), days[1][0], 1e-12);
    }
}

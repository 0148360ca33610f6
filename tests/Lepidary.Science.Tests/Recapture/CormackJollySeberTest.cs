using Lepidary.Science.Recapture;

namespace Lepidary.Science.Tests.Recapture;

public class CormackJollySeberTest
{
    /// <summary>European dippers (Lebreton et al. 1992, Ecol. Monogr. 62:67-118), 294 birds, 7 years; histories read in R's marked package.</summary>
    private static readonly (string, int)[] Dippers =
    [
        ("0000001", 39), ("0000010", 23), ("0000011", 23), ("0000100", 16), ("0000110", 9), ("0000111", 16), ("0001000", 16), ("0001001", 2),
        ("0001011", 1), ("0001100", 11), ("0001110", 7), ("0001111", 8), ("0010000", 29), ("0010110", 1), ("0011000", 12), ("0011100", 6),
        ("0011110", 2), ("0011111", 2), ("0100000", 29), ("0110000", 11), ("0110110", 1), ("0111000", 2), ("0111100", 3), ("0111110", 1),
        ("0111111", 2), ("1000000", 9), ("1010000", 2), ("1100000", 6), ("1101110", 1), ("1111000", 2), ("1111100", 1), ("1111110", 1),
    ];

    /// <summary>The m-array of the same birds, as read.</summary>
    private static readonly ReleaseTable Table = new(
        [22, 60, 78, 80, 88, 98],
        [[11, 2, 0, 0, 0, 0], [24, 1, 0, 0, 0], [34, 2, 0, 0], [45, 1, 2], [51, 0], [52]]);

    [Fact]
    public void FromHistories_gives_the_printed_table()
    {
        var table = ReleaseTable.FromHistories(Dippers);
        Assert.Equal(Table.Released, table.Released);
        for (var i = 0; i < 6; i++) Assert.Equal(Table.NextSeen(i), table.NextSeen(i));
    }

    /// <summary>One survival, one detection. Computed with R 4.2.2, 2026-11-30, recipe in bench/peers/dippers.R; published 0.5602 and 0.9026, AICc 670.866 (from memory).</summary>
    [Fact]
    public void FitConstant_of_dippers_equals_R()
    {
        var fit = CormackJollySeber.FitConstant(Table);
        var (survival, detection) = (fit.Survival[0], fit.Detection[0]);
        Close.To(0.5602429, survival.Value, 1e-6);
        // R's errors come from second differences with steps of 0.001 and carry their error, a few units of the sixth digit.
        Close.To([0.0251332, 0.5105496, 0.6087573], [survival.Error, survival.From, survival.To], 2e-5);
        Close.To(0.9025835, detection.Value, 1e-6);
        Close.To([0.0285890, 0.8304740, 0.9460144], [detection.Error, detection.From, detection.To], 2e-5);
        Close.To(666.8376626, fit.Deviance, 5.1e-8);
        Close.To(670.8660314, fit.Aicc, 5.1e-8);
    }

    [Fact]
    public void Fit_of_intervals_of_two_days_by_hand()
    {
        var fit = CormackJollySeber.FitConstant(Table, [2, 2, 2, 2, 2, 2]);
        Close.To(Math.Sqrt(0.5602429), fit.Survival[0].Value, 1e-6);
        Close.To(0.9025835, fit.Detection[0].Value, 1e-6);
        Close.To(666.8376626, fit.Deviance, 5.1e-8);
        Assert.Throws<ArgumentException>(() => CormackJollySeber.FitConstant(Table, [2, 2]));
    }

    /// <summary>A slow second implementation: the likelihood of unlike intervals on a fine grid.</summary>
    [Fact]
    public void Fit_of_unlike_intervals_equals_a_grid()
    {
        int[] days = [1, 3, 1, 2, 5, 1];
        var fit = CormackJollySeber.FitConstant(Table, days);
        var best = (from a in Enumerable.Range(250, 249)
                    from b in Enumerable.Range(30, 69)
                    let daily = a / 500.0
                    let seen = b / 100.0
                    select (Log: CormackJollySeber.LogLikelihood(Table, [.. days.Select(length => Math.Pow(daily, length))], [seen, seen, seen, seen, seen, seen]), Daily: daily)).Max();
        Close.To(best.Daily, fit.Survival[0].Value, 0.004);
        Assert.True(-2 * best.Log >= fit.Deviance - 1e-9);
    }

    /// <summary>Flood in years 2 and 3. Computed with R 4.2.2; published 0.607 and 0.469 (from memory).</summary>
    [Fact]
    public void Fit_with_flood_equals_R()
    {
        var fit = CormackJollySeber.Fit(Table, [0, 1, 1, 0, 0, 0], [0, 0, 0, 0, 0, 0]);
        Close.To([0.6070957, 0.4688271], [.. fit.Survival.Select(one => one.Value)], 1e-6);
        Close.To(0.8997888, fit.Detection[0].Value, 1e-6);
        Close.To(660.1027746, fit.Deviance, 5.1e-8);
    }

    /// <summary>Every year its own; the last survival and detection are told apart by nothing, only their product. Computed with R 4.2.2.</summary>
    [Fact]
    public void Fit_by_year_equals_R()
    {
        var fit = CormackJollySeber.Fit(Table, [0, 1, 2, 3, 4, 5], [0, 1, 2, 3, 4, 5]);
        Close.To([0.7181818, 0.4346707, 0.4781704, 0.6261176, 0.5985331], [.. fit.Survival.Take(5).Select(one => one.Value)], 3e-6);
        Close.To([0.6962024, 0.9230768, 0.9130434, 0.9007891, 0.9324137], [.. fit.Detection.Take(5).Select(one => one.Value)], 3e-6);
        Close.To(0.5306121, fit.Survival[5].Value * fit.Detection[5].Value, 1e-6);
        Close.To(656.9502119, fit.Deviance, 1e-7);
    }

    /// <summary>A second way: the likelihood of each bird's own history.</summary>
    [Fact]
    public void LogLikelihood_equals_that_of_single_histories()
    {
        var random = new Random(37);
        for (var run = 0; run < 20; run++)
        {
            var phi = Enumerable.Range(0, 6).Select(_ => 0.2 + 0.7 * random.NextDouble()).ToArray();
            var p = Enumerable.Range(0, 6).Select(_ => 0.2 + 0.7 * random.NextDouble()).ToArray();
            // Chance never to be seen after occasion i, from the end.
            var gone = new double[7];
            gone[6] = 1;
            for (var i = 5; i >= 0; i--) gone[i] = 1 - phi[i] + phi[i] * (1 - p[i]) * gone[i + 1];
            var log = 0.0;
            foreach (var (history, birds) in Dippers)
            {
                var (first, last) = (history.IndexOf('1', StringComparison.Ordinal), history.LastIndexOf('1'));
                var chance = gone[last];
                for (var i = first; i < last; i++) chance *= phi[i] * (history[i + 1] == '1' ? p[i] : 1 - p[i]);
                log += birds * Math.Log(chance);
            }
            Close.To(log, CormackJollySeber.LogLikelihood(Table, phi, p), 1e-9);
        }
    }

    /// <summary>By hand: 10 released, 6 seen next time: φ·p = 0.6, and nothing tells them apart.</summary>
    [Fact]
    public void Fit_by_hand()
    {
        var fit = CormackJollySeber.FitConstant(new([10], [[6]]));
        Close.To(0.6, fit.Survival[0].Value * fit.Detection[0].Value, 1e-6);
        Assert.Equal(double.PositiveInfinity, fit.Survival[0].Error);
        Close.To(-2 * (6 * Math.Log(0.6) + 4 * Math.Log(0.4)), fit.Deviance, 1e-9);
    }

    [Fact]
    public void Impossible_tables_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new ReleaseTable([10], [[11]]));
        Assert.Throws<ArgumentException>(() => new ReleaseTable([10], [[1, 2]]));
        Assert.Throws<ArgumentException>(() => new ReleaseTable([], []));
        Assert.Throws<ArgumentException>(() => ReleaseTable.FromHistories([("01x", 1)]));
        Assert.Throws<ArgumentException>(() => ReleaseTable.FromHistories([("011", 1), ("01", 1)]));
        Assert.Throws<ArgumentException>(() => CormackJollySeber.Fit(Table, [0, 0], [0, 0, 0, 0, 0, 0]));
        Assert.Throws<ArgumentException>(() => CormackJollySeber.Fit(Table, [0, 2, 2, 0, 0, 0], [0, 0, 0, 0, 0, 0]));
    }
}

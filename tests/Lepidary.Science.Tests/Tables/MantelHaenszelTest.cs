using Lepidary.Science.Tables;

namespace Lepidary.Science.Tests.Tables;

public class MantelHaenszelTest
{
    /// <summary>Bickel et al. 1975, R's UCBAdmissions: admitted and rejected men, admitted and rejected women, departments A to F; read in R.</summary>
    internal static readonly TwoByTwo[] Admissions =
    [
        new(512, 313, 89, 19), new(353, 207, 17, 8), new(120, 205, 202, 391), new(138, 279, 131, 244), new(53, 138, 94, 299), new(22, 351, 24, 317),
    ];

    /// <summary>Mantel and Haenszel; R's mantelhaen.test help page, Agresti 1990 p. 230 (typed from memory, results as R documents them).</summary>
    internal static readonly TwoByTwo[] Rabbits =
    [
        new(0, 6, 0, 5), new(3, 3, 0, 6), new(6, 0, 2, 4), new(5, 1, 6, 0), new(2, 0, 5, 0),
    ];

    /// <summary>By department. Computed with R 4.2.2.</summary>
    [Fact]
    public void Admissions_by_department_equal_R()
    {
        double[] expected = [531.43086817, 354.18803419, 113.99782135, 141.63257580, 48.07705479, 24.03081232];
        double[] variance = [21.91346527, 5.57241741, 47.86140988, 44.33987300, 24.25104404, 10.75255200];
        double[] ratio = [0.3492120, 0.8025007, 1.1330596, 0.9212838, 1.2216312, 0.8278727];
        // The values were printed with ten digits.
        Close.To(expected, Admissions.Select(table => table.Expected).ToArray(), 5.1e-8);
        Close.To(variance, Admissions.Select(table => table.Variance).ToArray(), 5.1e-9);
        Close.To(ratio, Admissions.Select(table => table.OddsRatio).ToArray(), 5.1e-8);
    }

    /// <summary>Computed with R 4.2.2.</summary>
    [Fact]
    public void Admissions_equal_R()
    {
        var result = MantelHaenszel.Of(Admissions);
        Assert.Equal(1198, result.Observed);
        Close.To(1213.357167, result.Expected, 5.1e-7);
        Close.To(154.6907616, result.Variance, 5.1e-8);
        Close.To(1.426946229, result.ChiSquared(), 5.1e-10);
        Close.To(0.2322634628, result.P(), 5.1e-11);
        Close.To(1.524606660, result.ChiSquared(corrected: false), 5.1e-10);
        Close.To(0.2169236971, result.P(corrected: false), 5.1e-11);
        Close.To(0.9046968283, result.OddsRatio, 5.1e-11);
        var (from, to) = result.Interval();
        Close.To(0.7719073618, from, 5.1e-11);
        Close.To(1.0603297644, to, 5.1e-11);
    }

    /// <summary>Simpson: all departments together say the opposite. Computed with R 4.2.2.</summary>
    [Fact]
    public void Admissions_together_reverse()
    {
        var together = new TwoByTwo(1198, 1493, 557, 1278);
        Close.To(1.841080037, together.OddsRatio, 5.1e-10);
        Close.To(92.20528, together.PearsonChiSquared, 5.1e-6);
        Assert.True(MantelHaenszel.Of(Admissions).OddsRatio < 1);
    }

    /// <summary>Computed with R 4.2.2; mostly department A.</summary>
    [Fact]
    public void BreslowDay_of_admissions_equals_R()
    {
        var result = BreslowDay.Of(Admissions);
        Close.To(18.82551371, result.ChiSquared, 5.1e-9);
        Assert.Equal(5, result.Degrees);
        Close.To(0.00207139, result.P, 5.1e-9);
    }

    /// <summary>Computed with R 4.2.2; the last stratum carries no information.</summary>
    [Fact]
    public void Rabbits_equal_R()
    {
        var result = MantelHaenszel.Of(Rabbits);
        Close.To(3.9285714, result.ChiSquared(), 5.1e-8);
        Close.To(0.04747226, result.P(), 5.1e-9);
        Close.To(7, result.OddsRatio, 1e-12);
        var (from, to) = result.Interval();
        Close.To(1.026712688, from, 5.1e-10);
        Close.To(47.725133380, to, 5.1e-9);
        Close.To(result.ChiSquared(), MantelHaenszel.Of(Rabbits[..4]).ChiSquared(), 1e-12);
    }

    /// <summary>By hand: 3, 1 / 1, 3: E = 2, V = 4·4·4·4/(64·7) = 4/7, χ² without correction 7/4, odds ratio 9.</summary>
    [Fact]
    public void Of_by_hand()
    {
        var result = MantelHaenszel.Of([new(3, 1, 1, 3)]);
        Close.To(2, result.Expected, 1e-15);
        Close.To(4.0 / 7, result.Variance, 1e-15);
        Close.To(7.0 / 4, result.ChiSquared(corrected: false), 1e-14);
        Close.To(7.0 / 16, result.ChiSquared(), 1e-14);
        Close.To(9, result.OddsRatio, 1e-14);
    }

    [Fact]
    public void Swapping_rows_inverts_the_odds_ratio()
    {
        var cell = Gen.Int[0, 20];
        Gen.Select(cell, cell, cell, cell).Array[1, 6].Holds(cases =>
        {
            var tables = cases.Select(c => new TwoByTwo(c.Item1, c.Item2, c.Item3, c.Item4)).ToList();
            var (one, other) = (MantelHaenszel.Of(tables), MantelHaenszel.Of(tables.Select(t => new TwoByTwo(t.C, t.D, t.A, t.B))));
            if (one.Variance == 0 || !double.IsFinite(one.OddsRatio) || one.OddsRatio == 0) return;
            Close.To(one.ChiSquared(), other.ChiSquared(), 1e-8);
            Close.To(1, one.OddsRatio * other.OddsRatio, 1e-10);
            Close.To(one.LogOddsError, other.LogOddsError, 1e-10);
        });
    }

    [Fact]
    public void Nothing_to_compare()
    {
        Assert.Equal(1, MantelHaenszel.Of([]).P());
        Assert.Equal(1, MantelHaenszel.Of([new(2, 0, 5, 0)]).P());
        Assert.Throws<ArgumentException>(() => BreslowDay.Of([new(3, 1, 1, 3)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => MantelHaenszel.Of([new(-1, 0, 5, 0)]));
    }
}

using Lepidary.Science.Tables;

namespace Lepidary.Science.Tests.Tables;

public class GeneralMantelHaenszelTest
{
    /// <summary>
    /// Agresti's job satisfaction, 4×4×2: R's help page of mantelhaen.test, typed from memory; the result is the one that R documents: 10.200089, 9 df, 0.3345312.
    /// </summary>
    [Fact]
    public void Job_satisfaction_equals_R()
    {
        int[] women = [1, 2, 0, 0, 3, 3, 1, 2, 11, 17, 8, 4, 2, 3, 5, 2];
        int[] men = [1, 0, 0, 0, 1, 3, 0, 1, 2, 5, 7, 9, 1, 1, 3, 6];
        var result = GeneralMantelHaenszel.Of([ByColumn(women), ByColumn(men)]);
        Close.To(10.200089, result.ChiSquared, 5.1e-7);
        Assert.Equal(9, result.Degrees);
        Close.To(0.3345312, result.P, 5.1e-8);
    }

    private static int[,] ByColumn(int[] counts)
    {
        var table = new int[4, 4];
        for (var i = 0; i < 16; i++) table[i % 4, i / 4] = counts[i];
        return table;
    }

    /// <summary>On two rows and two columns it is the plain test without correction.</summary>
    [Fact]
    public void Two_by_two_equals_MantelHaenszel()
    {
        var tables = MantelHaenszelTest.Admissions.Select(t => new[,] { { t.A, t.B }, { t.C, t.D } }).ToList();
        Close.To(MantelHaenszel.Of(MantelHaenszelTest.Admissions).ChiSquared(corrected: false), GeneralMantelHaenszel.Of(tables).ChiSquared, 1e-10);
    }

    /// <summary>One stratum of 3, 1 / 1, 3 by hand: 7/4, as in the plain test.</summary>
    [Fact]
    public void Of_by_hand() => Close.To(7.0 / 4, GeneralMantelHaenszel.Of([new[,] { { 3, 1 }, { 1, 3 } }]).ChiSquared, 1e-14);

    [Fact]
    public void Impossible_tables_are_refused()
    {
        Assert.Throws<ArgumentException>(() => GeneralMantelHaenszel.Of([]));
        Assert.Throws<ArgumentException>(() => GeneralMantelHaenszel.Of([new int[1, 2]]));
        Assert.Throws<ArgumentException>(() => GeneralMantelHaenszel.Of([new int[2, 2], new int[2, 3]]));
        Assert.Throws<ArgumentException>(() => GeneralMantelHaenszel.Of([new[,] { { -1, 2 }, { 3, 4 } }]));
        Assert.Throws<ArgumentException>(() => GeneralMantelHaenszel.Of([new[,] { { 0, 0 }, { 3, 4 } }]));
    }
}

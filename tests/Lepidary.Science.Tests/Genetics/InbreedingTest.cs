using Lepidary.Science.Genetics;

namespace Lepidary.Science.Tests.Genetics;

public class InbreedingTest
{
    /// <summary>Holsinger's lecture notes, UConn EEB 310 (read): 1 and 10 give 3.6, 10 and 100 give 36.3; one male never gives 4. The others computed with R 4.2.2.</summary>
    [Theory]
    [InlineData(1, 10, 40.0 / 11)]
    [InlineData(10, 100, 4000.0 / 110)]
    [InlineData(10, 90, 36)]
    [InlineData(54, 54, 108)]
    [InlineData(5, 20, 16)]
    [InlineData(2, 8, 6.4)]
    public void EffectiveSize_published(double males, double females, double expected)
    {
        Close.To(expected, Inbreeding.EffectiveSize(males, females), 1e-12);
        Assert.True(Inbreeding.EffectiveSize(1, 1e9) < 4);
    }

    /// <summary>Harmonic means. Computed with R 4.2.2.</summary>
    [Fact]
    public void EffectiveSizeOver_equals_R()
    {
        Close.To(25, Inbreeding.EffectiveSizeOver([100, 10, 100]), 1e-12);
        Close.To(35.71428571, Inbreeding.EffectiveSizeOver([100, 100, 10, 100, 100]), 5.1e-9);
        Close.To(29.41176471, Inbreeding.EffectiveSizeOver([1000, 10, 1000]), 5.1e-9);
        Close.To(48.97959184, Inbreeding.EffectiveSizeOver([20, 100, 800, 20, 100, 800]), 5.1e-9);
        Close.To(21.33333333, Inbreeding.EffectiveSizeOver([10, 20, 40, 80]), 5.1e-9);
    }

    /// <summary>Inbreeding after 1, 2, 5, 10, 20 generations. Computed with R 4.2.2.</summary>
    [Theory]
    [InlineData(5, new[] { 0.1, 0.19, 0.409510, 0.651322, 0.878423 })]
    [InlineData(10, new[] { 0.05, 0.0975, 0.226219, 0.401263, 0.641514 })]
    [InlineData(25, new[] { 0.02, 0.0396, 0.096079, 0.182927, 0.332392 })]
    [InlineData(50, new[] { 0.01, 0.0199, 0.049010, 0.095618, 0.182093 })]
    public void After_equals_R(double size, double[] expected) =>
        Close.To(expected, [.. new[] { 1, 2, 5, 10, 20 }.Select(t => Inbreeding.After(size, t))], 5.1e-7);

    /// <summary>Sizes 10, 20, 40, 80 in turn. Computed with R 4.2.2.</summary>
    [Fact]
    public void After_varying_sizes_equals_R()
    {
        Close.To(0.09104482, Inbreeding.After([10, 20, 40, 80]), 5.1e-9);
        Close.To(Inbreeding.After(7, 4), Inbreeding.After([7, 7, 7, 7]), 1e-15);
    }

    /// <summary>Full sibs: the standard series, for example Falconer and Mackay; recurrence computed with R 4.2.2.</summary>
    [Fact]
    public void AfterFullSibs_equals_standard_series() =>
        Close.To(
            [0, 0.25, 0.375, 0.5, 0.59375, 0.671875, 0.734375, 0.78515625, 0.826171875, 0.859375],
            [.. Enumerable.Range(0, 10).Select(Inbreeding.AfterFullSibs)],
            1e-15);

    /// <summary>N = 100 with family variance 2, 4 and 0. Computed with R 4.2.2.</summary>
    [Fact]
    public void EffectiveSizeByFamilies_equals_R() =>
        Close.To(
            [99.5, 66.3333, 199],
            [Inbreeding.EffectiveSizeByFamilies(100, 2), Inbreeding.EffectiveSizeByFamilies(100, 4), Inbreeding.EffectiveSizeByFamilies(100, 0)],
            5.1e-5);

    /// <summary>
    /// Heliconius erato phyllis, 0.71 lethal equivalents for survival from hatching to adult (De Nardin et al. 2016, abstract read): 16 of 100 lost at F = 0.25 (arithmetic). Cressida cressida and Papilio
    /// aegeus, sib matings hatch about 40 and 70 of 100 (Orr 1994, abstract read): B of 3.665 and 1.427, taking outbred hatch as 1 (arithmetic).
    /// </summary>
    [Fact]
    public void Depression_of_butterflies()
    {
        Close.To(0.16264, Inbreeding.Depression(0.71, 0.25), 5.1e-6);
        Close.To(3.665, Inbreeding.LethalEquivalents(0.40, 1, 0.25), 5.1e-4);
        Close.To(1.427, Inbreeding.LethalEquivalents(0.70, 1, 0.25), 5.1e-4);
        Close.To(0.6, Inbreeding.Depression(Inbreeding.LethalEquivalents(0.40, 1, 0.25), 0.25), 1e-12);
    }

    /// <summary>Bicyclus anynana cages of 54 + 54 had Ne:N close to 0.60 (Brakefield et al. 2001, abstract read): 65, which stays below F = 0.1 for 13 generations.</summary>
    [Fact]
    public void GenerationsBelow_is_the_last_one_below()
    {
        Assert.Equal(13, Inbreeding.GenerationsBelow(0.6 * 108, 0.1));
        Gen.Select(Gen.Double[0.6, 200], Gen.Double[0.01, 0.9]).Holds((size, limit) =>
        {
            var generations = Inbreeding.GenerationsBelow(size, limit);
            Assert.True(Inbreeding.After(size, generations) < limit);
            Assert.True(Inbreeding.After(size, generations + 1) >= limit);
        });
    }

    [Fact]
    public void Impossible_stocks_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Inbreeding.EffectiveSize(0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Inbreeding.EffectiveSize(-1, 2));
        Assert.Throws<ArgumentException>(() => Inbreeding.EffectiveSizeOver([]));
        Assert.Throws<ArgumentOutOfRangeException>(() => Inbreeding.After([0.4]));
        Assert.Throws<ArgumentOutOfRangeException>(() => Inbreeding.After(5, -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Inbreeding.Depression(-1, 0.2));
        Assert.Throws<ArgumentOutOfRangeException>(() => Inbreeding.LethalEquivalents(1, 1, 0));
    }
}

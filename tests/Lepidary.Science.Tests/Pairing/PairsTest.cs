using Lepidary.Science.Emergence;
using Lepidary.Science.Pairing;

namespace Lepidary.Science.Tests.Pairing;

public class PairsTest
{
    /// <summary>P = 1-(1-sr)^n-(1-s(1-r))^n+(1-s)^n; values computed with R 4.2.2.</summary>
    [Theory]
    [InlineData(2, 1, 0.5, 0.5)]
    [InlineData(4, 1, 0.5, 0.875)]
    [InlineData(10, 1, 0.5, 0.998046875)]
    [InlineData(4, 0.8, 0.5, 0.7424)]
    [InlineData(6, 0.8, 0.5, 0.906752)]
    [InlineData(10, 0.6, 0.5, 0.9436098078)]
    [InlineData(10, 0.6, 0.4, 0.9242867532)]
    [InlineData(20, 0.9, 0.55, 0.9999679092)]
    public void Chance_of_one_pair_equals_R(int pupae, double emergence, double maleShare, double expected) =>
        Close.To(expected, Pairs.Chance(pupae, emergence, 1, 1 - maleShare), 6e-11);

    /// <summary>Least numbers at an even sex ratio, computed with R 4.2.2.</summary>
    [Theory]
    [InlineData(0.95, 1, 6)]
    [InlineData(0.95, 0.8, 8)]
    [InlineData(0.95, 0.6, 11)]
    [InlineData(0.99, 1, 8)]
    [InlineData(0.99, 0.8, 11)]
    [InlineData(0.99, 0.6, 15)]
    public void Least_equals_R(double sure, double emergence, int expected)
    {
        var least = Pairs.Least(sure, emergence).Value;
        Assert.Equal(expected, least.Pupae);
        Assert.True(least.Chance >= sure);
        Assert.True(Pairs.Chance(expected - 1, emergence) < sure);
    }

    /// <summary>Beta(18, 2), n = 6, and its fixed rival; computed with R 4.2.2.</summary>
    [Fact]
    public void Chance_with_uncertain_rate_equals_R()
    {
        Close.To(0.9414273363, Pairs.Chance(6, new EmergenceRate(0.9, 20, double.PositiveInfinity)), 6e-11);
        Close.To(0.9414273363, Pairs.Chance(6, new EmergenceRate(0.9, double.PositiveInfinity, 20)), 6e-11);
        Close.To(0.9446397187, Pairs.Chance(6, 0.9), 6e-11);
    }

    /// <summary>At least two of each; computed with R 4.2.2.</summary>
    [Fact]
    public void Chance_of_two_pairs_equals_R() => Close.To(0.9073262592, Pairs.Chance(10, 0.8, 2), 6e-11);

    /// <summary>
    /// Hypolimnas bolina under male-killing Wolbachia, 1 male in 100 (Dyson and Hurst 2004, abstract read); the chance computed
    /// with R 4.2.2.
    /// </summary>
    [Fact]
    public void Chance_when_males_are_rare_equals_R() => Close.To(0.165410, Pairs.Chance(20, 0.9, 1, 0.99), 5e-7);

    /// <summary>Six to ten pupae to breed: 91-99 % for a pair at 8 of 10. Common practice, no source; the chances are arithmetic.</summary>
    [Fact]
    public void Six_to_ten_to_breed_common_practice()
    {
        Assert.InRange(Pairs.Chance(6, 0.8), 0.905, 0.915);
        Assert.InRange(Pairs.Chance(8, 0.8), 0.965, 0.975);
        Assert.InRange(Pairs.Chance(10, 0.8), 0.985, 0.995);
    }

    [Fact]
    public void Chance_equals_enumeration()
    {
        // Each pupa: nothing, male, female. All 3^n fates of up to 7 pupae.
        foreach (var (n, s, f, pairs) in new[] { (4, 0.8, 0.5, 1), (7, 0.7, 0.4, 2), (6, 0.9, 0.7, 3) })
        {
            double[] fate = [1 - s, s * (1 - f), s * f];
            var chance = 0.0;
            for (var code = 0; code < Math.Pow(3, n); code++)
            {
                var (weight, rest, counts) = (1.0, code, new int[3]);
                for (var i = 0; i < n; i++, rest /= 3)
                {
                    weight *= fate[rest % 3];
                    counts[rest % 3]++;
                }
                if (counts[1] >= pairs && counts[2] >= pairs) chance += weight;
            }
            Close.To(chance, Pairs.Chance(n, s, pairs, f), 1e-14);
        }
    }

    [Fact]
    public void More_pupae_are_never_worse()
    {
        Gen.Select(Gen.Int[0, 40], Gen.Double[0.05, 0.95], Gen.Double[0.5, 60], Gen.Int[1, 4], Gen.Double[0, 1]).Holds(
            (n, mean, certainty, pairs, share) =>
            {
                var rate = new EmergenceRate(mean, certainty, 2 * certainty);
                Assert.True(Pairs.Chance(n + 1, rate, pairs, share) >= Pairs.Chance(n, rate, pairs, share) - 1e-12);
                Assert.True(Pairs.Chance(n + 1, mean, pairs, share) >= Pairs.Chance(n, mean, pairs, share) - 1e-12);
            }, times: 60, seed: 1);
    }

    [Fact]
    public void Least_out_of_reach_is_a_problem_not_an_exception()
    {
        Assert.False(Pairs.Least(0.95, 0.8, 1, 0).IsGood);
        Assert.False(Pairs.Least(0.95, 0.0).IsGood);
        Assert.Contains("2000", Pairs.Least(0.999999, new EmergenceRate(0.5, 1, 1)).Problems[0].ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Arguments_out_of_range_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Pairs.Chance(-1, 0.8));
        Assert.Throws<ArgumentOutOfRangeException>(() => Pairs.Chance(1, 0.8, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Pairs.Chance(1, 0.8, 1, 1.2));
        Assert.Throws<ArgumentOutOfRangeException>(() => Pairs.Least(1, 0.8));
    }
}

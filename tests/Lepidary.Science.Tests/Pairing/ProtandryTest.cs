using Lepidary.Science.Emergence;
using Lepidary.Science.Pairing;

namespace Lepidary.Science.Tests.Pairing;

public class ProtandryTest
{
    /// <summary>
    /// By hand: one lot, males on days 4 and 6, females on 7 and 9: 3 days apart; squares 2 + 2 with 2 degrees, and the prior's 1 for one: s² = 5/3; weight 1/(½+½) = 1, precision 3/5.
    /// Joined to 1 ± 1: (1 + 3·3/5)/(1 + 3/5) = 1.75, deviation 1/√1.6.
    /// </summary>
    [Fact]
    public void Learn_by_hand()
    {
        var learnt = Protandry.Usual.Learn([new([0, 0, 0, 0, 1, 0, 1], [0, 0, 0, 0, 0, 0, 0, 1, 0, 1])]);
        Close.To(1.75, learnt.DaysAhead, Close.Rounding);
        Close.To(1 / Math.Sqrt(1.6), learnt.Deviation, Close.Rounding);
    }

    [Fact]
    public void Learn_from_one_sex_alone_is_nothing() =>
        Assert.Equal(Protandry.Usual, Protandry.Usual.Learn([new([0, 2, 1], []), new([], [0, 0, 4]), new([], [])]));

    /// <summary>Lots differ by days in when they come, all together; the difference within them is found, and the range holds it 8 times of 10.</summary>
    [Fact]
    public void Learn_finds_the_difference_within_lots_and_covers_as_it_says()
    {
        var (random, held, sum) = (new Random(9), 0, 0.0);
        const int books = 400;
        for (var book = 0; book < books; book++)
        {
            var truth = Normal(random, 1, 1);
            var lots = Enumerable.Range(0, 12).Select(_ =>
            {
                var (males, females, start) = (new int[80], new int[80], 20 + random.Next(20));
                for (var adult = 0; adult < 10; adult++)
                {
                    var isFemale = random.NextDouble() < 0.5;
                    var day = (int)Math.Round(Normal(random, start + (isFemale ? truth : 0), 2));
                    (isFemale ? females : males)[Math.Clamp(day, 0, 79)]++;
                }
                return new SexedLot(males, females);
            }).ToList();
            var learnt = Protandry.Usual.Learn(lots);
            held += Math.Abs(learnt.DaysAhead - truth) <= 1.2816 * learnt.Deviation ? 1 : 0;
            sum += learnt.DaysAhead - truth;
        }
        Close.To(0.8, (double)held / books, 0.06);
        Close.To(0, sum / books, 0.06);
    }

    [Fact]
    public void Apart_keeps_the_mean_of_both()
    {
        var both = EmergenceTiming.FromWindow(20, 26);
        var (males, females) = new Protandry(1.6, 0.3).Apart(both, 0.25);
        Close.To(1.6, females.MeanDays - males.MeanDays, 1e-6);
        Close.To(both.MeanDays, (0.75 * males.MeanDays) + (0.25 * females.MeanDays), 1e-6);
    }

    /// <summary>Half a day later shares each day out between two; earlier than arrival is on arrival.</summary>
    [Fact]
    public void Shifted_by_hand()
    {
        var timing = EmergenceTiming.FromChances([0, 0.4, 0.6]);
        Close.To([0, 0.2, 0.5, 0.3], timing.Shifted(0.5).Chances, 1e-15);
        Close.To([1.0], timing.Shifted(-4).Chances, 1e-15);
        Close.To([0.4, 0.6], timing.Shifted(-1).Chances, 1e-15);
        Close.To(timing.Chances, timing.Shifted(0).Chances, 1e-15);
    }

    private static double Normal(Random random, double mean, double deviation) =>
        mean + (deviation * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble()));
}

using Lepidary.Planning.Seasons;
using Lepidary.Science.Counts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Xunit;

namespace Lepidary.Planning.Tests.Seasons;

public class FateTableTests
{
    private static readonly EmergenceTiming Timing = EmergenceTiming.FromWindow(4, 11);
    private static readonly AdultSurvival Survival = AdultSurvival.FromLife(9, 21);

    [Fact]
    public void Add_andDraw_giveThePupaeTheSameFates()
    {
        var table = new FateTable(Timing, Survival);
        for (var pupae = 0; pupae < 200; pupae += 37)
        {
            var change = new int[table.Reach];
            var fates = new Fate[pupae];
            var emerged = table.Add(new(3), pupae, 0.7, change);
            table.Draw(new(3), 0.7, fates);

            var slow = new int[table.Reach];
            foreach (var fate in fates.Where(f => f.EmergesOn >= 0))
            {
                slow[fate.EmergesOn]++;
                slow[fate.EmergesOn + fate.Flies]--;
            }

            Assert.Equal(slow, change);
            Assert.Equal(fates.Count(f => f.EmergesOn >= 0), emerged);
            Assert.Equal(0, change.Sum());
        }
    }

    [Fact]
    public void Draw_ofMore_beginsWithTheSamePupae()
    {
        var table = new FateTable(Timing, Survival);
        var (few, many) = (new Fate[9], new Fate[90]);
        table.Draw(new(3), 0.7, few);
        table.Draw(new(3), 0.7, many);
        Assert.Equal(few, many[..9]);
    }

    /// <summary>How many of 12 pupae fly on each day, against the exact binomial: chi-squared over the counts, five of its deviations.</summary>
    [Fact]
    public void Add_manyLots_agreesWithTheExactDistributionOnEveryDay()
    {
        const int lots = 40_000, pupae = 12;
        var table = new FateTable(Timing, Survival);
        var random = new SeasonRandom(20261130);
        var exact = PupaOdds.Flying(0.7, Timing, Survival, table.Reach);
        var seen = new int[table.Reach][];
        for (var day = 0; day < seen.Length; day++)
            seen[day] = new int[pupae + 1];
        var change = new int[table.Reach];
        for (var lot = 0; lot < lots; lot++)
        {
            Array.Clear(change);
            table.Add(random, pupae, 0.7, change);
            var flying = 0;
            for (var day = 0; day < change.Length; day++)
                seen[day][flying += change[day]]++;
        }

        for (var day = 0; day < 40; day++)
        {
            var masses = CountDistribution.Binomial(pupae, exact[day]).Masses;
            var (chi, cells) = (0.0, 0);
            var (restSeen, restExpected) = (0.0, 0.0);
            for (var count = 0; count <= pupae; count++)
            {
                var expected = lots * (count < masses.Length ? masses[count] : 0);
                if (expected < 5)
                {
                    (restSeen, restExpected) = (restSeen + seen[day][count], restExpected + expected);
                    continue;
                }

                chi += (seen[day][count] - expected) * (seen[day][count] - expected) / expected;
                cells++;
            }

            Assert.True(chi <= cells + (5 * Math.Sqrt(2 * cells)), $"day {day}: {chi} over {cells} cells");
            Assert.True(Math.Abs(restSeen - restExpected) <= 5 * Math.Sqrt(restExpected + 1), $"day {day}: {restSeen} beside {restExpected}");
        }
    }

    /// <summary>A second way: days by walking along the cumulated chances, one uniform number a step.</summary>
    [Fact]
    public void Draw_besideAnInversionByHand_hasTheSameMeans()
    {
        const int pupae = 200_000;
        var table = new FateTable(Timing, Survival);
        var fates = new Fate[pupae];
        table.Draw(new(5), 0.85, fates);
        var random = new SeasonRandom(6);
        var byHand = Enumerable.Range(0, pupae).Select(_ =>
        {
            if (random.NextShare() >= 0.85)
                return Fate.Never;
            var (u, day) = (random.NextShare(), 0);
            while (u >= Timing[day] && day < Timing.LastDay)
                u -= Timing[day++];
            var (v, age) = (random.NextShare(), 1);
            while (Survival[age] > v)
                age++;
            return new Fate(day, age);
        }).ToArray();

        void Alike(Func<Fate, double> of)
        {
            var (a, b) = (fates.Select(of).ToList(), byHand.Select(of).ToList());
            var spread = Math.Sqrt((a.Sum(x => x * x) / pupae) - Math.Pow(a.Average(), 2));
            Assert.Equal(b.Average(), a.Average(), 5 * spread * Math.Sqrt(2.0 / pupae));
        }

        Alike(f => f.EmergesOn >= 0 ? 1 : 0);
        Alike(f => f.EmergesOn);
        Alike(f => f.EmergesOn * f.EmergesOn);
        Alike(f => f.Flies);
        Alike(f => f.Flies * f.Flies);
        Alike(f => f.Flies * f.EmergesOn);
    }

    /// <summary>What the table's cells add up to, against day and life multiplied: no draw is needed to see it.</summary>
    [Fact]
    public void Chances_ofTheTable_areThoseOfTheDistributions()
    {
        var chances = new FateTable(Timing, Survival).Chances();
        Assert.Equal(1, chances.Values.Sum(), 1e-12);
        for (var day = 0; day <= Timing.LastDay; day++)
        {
            for (var life = 1; life <= 30; life++)
                Assert.Equal(Timing[day] * (Survival[life - 1] - Survival[life]), chances.GetValueOrDefault(new(day, life)), 1e-9);
        }
    }

    /// <summary>Every 4099th of all numbers that there are, in order: what lies beyond the rate never emerges, and nothing else.</summary>
    [Theory]
    [InlineData(0.37)]
    [InlineData(0.0001)]
    [InlineData(1)]
    public void Scale_overAllNumbers_emergesAsOftenAsTheRate(double rate)
    {
        var table = new FateTable(Timing, Survival);
        var (emerged, all) = (0L, 0L);
        for (ulong number = 0; number <= uint.MaxValue; number += 4099)
        {
            all++;
            emerged += table.FateOf((uint)number, rate).EmergesOn >= 0 ? 1 : 0;
        }

        Assert.Equal(rate, emerged / (double)all, 2.0 / all);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Add_rateAtItsEnds_isCertain(int rate)
    {
        var table = new FateTable(Timing, Survival);
        var change = new int[table.Reach];
        Assert.Equal(rate * 500, table.Add(new(1), 500, rate, change));
    }

    [Fact]
    public void OfFlying_seenAlive_liveOnAsTheCurveSays()
    {
        var fates = new Fate[100_000];
        FateTable.OfFlying(Survival, 6).Draw(new(9), 1, fates);
        Assert.All(fates, f => Assert.Equal(0, f.EmergesOn));
        foreach (var more in (int[])[1, 4, 9])
        {
            var chance = Survival.GivenAlive(6, more);
            Assert.Equal(chance, fates.Count(f => f.Flies > more) / (double)fates.Length, 5 * Math.Sqrt(chance / fates.Length));
        }
    }

    [Fact]
    public void LaidTables_sameCurves_areLaidOnceAndDrawAsNewOnes()
    {
        static Fate[] Drawn(FateTable table)
        {
            var fates = new Fate[300];
            table.Draw(new(11), 0.8, fates);
            return fates;
        }

        foreach (var since in (int[])[0, 5, 8])
        {
            Assert.Same(LaidTables.OfPupae(Timing, Survival, since), LaidTables.OfPupae(Timing, Survival, since));
            Assert.Equal(Drawn(new(Timing.GivenNotYet(since), Survival)), Drawn(LaidTables.OfPupae(Timing, Survival, since)));
        }

        foreach (var age in (int[])[0, 6])
        {
            Assert.Same(LaidTables.OfFlying(Survival, age), LaidTables.OfFlying(Survival, age));
            Assert.Equal(Drawn(FateTable.OfFlying(Survival, age)), Drawn(LaidTables.OfFlying(Survival, age)));
        }

        var other = AdultSurvival.FromLife(4, 9);
        Assert.Equal(Drawn(new(Timing, other)), Drawn(LaidTables.OfPupae(Timing, other)));
    }
}

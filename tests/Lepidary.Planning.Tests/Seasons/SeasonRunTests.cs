using Lepidary.Planning.Seasons;
using Lepidary.Planning.Tests.Instances;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Xunit;

namespace Lepidary.Planning.Tests.Seasons;

public class SeasonRunTests
{
    private static readonly PlanSettings Quick = new() { Gap = 0.02, Nodes = 2, Seconds = 600 };

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static IEnumerable<SeasonPolicy> Rules =>
        [new OrderNothing(), OrderByRule.Naive, OrderByRule.Tuned(), new OrderUpTo(), new OrderUpTo(1, 0.5)];

    [Fact]
    public void Play_everyPolicy_accountsForEveryPupa()
    {
        foreach (var policy in Rules.Append(OrderByPlan.LookAhead(Quick)).Append(OrderByPlan.Myopic(Quick)))
        {
            var score = SeasonRun.Play(SmallHouse.Make(), policy, 4, Cancel);
            Assert.Equal(score.Pupae, score.Flown + score.FlyOn + score.EmergeLater + score.NeverEmerge + score.UnknownPupae);
            Assert.Equal(policy is OrderNothing, score.Pupae == 0);
            Assert.InRange(score.Wasted, score.NeverEmerge, score.Pupae);
            Assert.Equal(score.Total, score.Landed + score.Shortage);
        }
    }

    [Fact]
    public void Play_sameSeed_isTheSameSeason_andAnotherSeedAnother()
    {
        foreach (var policy in Rules.Skip(1).Append(OrderByPlan.LookAhead(Quick)))
        {
            var (one, again, other) = (SeasonRun.Play(SmallHouse.Make(), policy, 4, Cancel), SeasonRun.Play(SmallHouse.Make(), policy, 4, Cancel), SeasonRun.Play(SmallHouse.Make(), policy, 5, Cancel));
            Assert.Equal(one.Flying, again.Flying);
            Assert.Equal((one.Landed, one.Shortage, one.Pupae), (again.Landed, again.Shortage, again.Pupae));
            Assert.NotEqual(one.Flying, other.Flying);
        }
    }

    /// <summary>A line more in the setting, or a policy that orders more, moves nothing else: the draws of a line are its own.</summary>
    [Fact]
    public void Play_oneTaxonOrderedMore_leavesTheOthersAsTheyWere()
    {
        var setting = SmallHouse.Make();
        int Short(SeasonSetting s, SeasonPolicy policy) => SeasonRun.Play(s, policy, 9, Cancel).Aims.Single(a => a.Aim == "p").Short;
        var plain = Short(setting, OrderByRule.Naive);
        var without = setting with
        {
            House = setting.House with { Aims = [.. setting.House.Aims.Where(a => a.Id is "p")], CagePlaces = null },
            Lines = [.. setting.Lines.Where(l => l.Taxon == "Papilio memnon")],
        };
        var roomy = setting with { House = setting.House with { Aims = [.. setting.House.Aims.Where(a => a.Id is "m" or "p")], CagePlaces = null } };
        Assert.Equal(Short(without, OrderByRule.Naive), Short(roomy, OrderByRule.Naive));
        Assert.True(plain >= 0);
    }

    /// <summary>More of the same line on the same week can only add butterflies, day by day.</summary>
    [Fact]
    public void Play_moreOfALine_neverFewerFlyingOnAnyDay()
    {
        var setting = SmallHouse.Make();
        for (ulong seed = 1; seed <= 20; seed++)
        {
            var lists = SeasonRun.Lists(setting, seed);
            OrderAsTold Told(int pupae) => new("told", [.. lists.Select(week => (IReadOnlyList<OrderedLine>)[.. week.Where(o => o.Supplier == "Quillfeather Pupae" && o.Pack == 1).Select(o => new OrderedLine(o.Id, pupae))])]);
            var (few, many) = (SeasonRun.Play(setting, Told(3), seed, Cancel), SeasonRun.Play(setting, Told(12), seed, Cancel));
            Assert.All(few.Flying.Zip(many.Flying), day => Assert.True(day.First <= day.Second));
            Assert.True(few.Shortage >= many.Shortage);
            Assert.True(few.Landed <= many.Landed);
        }
    }

    /// <summary>The slow second way: every fate looked at on every day, every wish counted anew.</summary>
    [Fact]
    public void Play_anyPolicy_scoresAsCountedDayByDay()
    {
        var setting = SmallHouse.Make();
        foreach (var policy in Rules.Append(OrderByPlan.LookAhead(Quick)))
        {
            for (ulong seed = 1; seed <= 3; seed++)
            {
                var score = SeasonRun.Play(setting, policy, seed, Cancel);
                var slow = SlowSeason.Play(setting, [.. score.Ordered.Select(week => week.Lines)], seed);
                Assert.Equal(slow.Flying, score.Flying);
                Assert.Equal((double)slow.Landed, score.Landed, 1e-9);
                Assert.Equal(slow.Shortage, score.Shortage, 1e-9);
                Assert.Equal(slow.WishDaysShort, score.WishDaysShort);
                Assert.Equal(slow.DaysShort, score.DaysShort);
            }
        }
    }

    [Fact]
    public void Play_inputInAnotherOrder_isTheSameSeason()
    {
        var setting = SmallHouse.Make();
        var turned = setting with
        {
            Lines = [.. setting.Lines.Reverse()],
            House = setting.House with
            {
                Suppliers = [.. setting.House.Suppliers.Reverse()],
                Taxa = [.. setting.House.Taxa.Reverse()],
                Aims = [.. setting.House.Aims.Reverse()],
                OpenDays = [.. setting.House.OpenDays!.Reverse()],
            },
        };
        foreach (var policy in (SeasonPolicy[])[OrderByPlan.LookAhead(Quick), OrderByPlan.Myopic(Quick), new OrderNothing()])
        {
            var (one, other) = (SeasonRun.Play(setting, policy, 6, Cancel), SeasonRun.Play(turned, policy, 6, Cancel));
            Assert.Equal(one.Flying, other.Flying);
            Assert.Equal(one.Landed, other.Landed, 1e-9);
            Assert.Equal(one.Shortage, other.Shortage, 1e-9);
        }
    }

    /// <summary>What a policy is told in a week must hold nothing that is drawn for a later one: lists, prices and fates of later weeks may be anything.</summary>
    [Fact]
    public void Order_laterWeeksOtherwise_changesNothingBefore()
    {
        var setting = SmallHouse.Make();
        var lists = SeasonRun.Lists(setting, 3);
        PlanProblem Then(int week, IReadOnlyList<PlanOffer> offers) => setting.House with
        {
            Offers = offers,
            OrderDay = Tiny.Day.AddDays(7 * week),
            Suppliers = [.. setting.House.Suppliers.Select(s => s with { Arrives = [.. s.Arrives.Select(a => a.AddDays(7 * week))] })],
        };
        SeasonSetting Replay(Func<int, PlanOffer, PlanOffer> change) =>
            setting with { Lines = [], Replayed = [.. Enumerable.Range(0, setting.Weeks).Select(w => Then(w, [.. lists[w].Select(o => change(w, o))]))] };
        const int changed = 4;
        foreach (var policy in Rules.Append(OrderByPlan.LookAhead(Quick)))
        {
            var before = SeasonRun.Play(Replay((_, offer) => offer), policy, 3, Cancel).Ordered;
            var otherwise = SeasonRun.Play(Replay((week, offer) => week < changed ? offer : offer with { Price = offer.Price * 9, Available = 5 }), policy, 3, Cancel).Ordered;
            for (var week = 0; week < changed; week++)
                Assert.Equal(before[week].Lines, otherwise[week].Lines);
        }
    }

    /// <summary>What is known by now of a taxon draws its fates, and is not told to the keeper of a week that is replayed.</summary>
    [Fact]
    public void Order_replayed_isToldOfLotsOnlyWhatWasKnownThen()
    {
        var setting = SmallHouse.Make();
        var lists = SeasonRun.Lists(setting, 3);
        var replay = setting with
        {
            Lines = [],
            Replayed = [.. Enumerable.Range(0, setting.Weeks).Select(w => setting.House with { Offers = lists[w], OrderDay = Tiny.Day.AddDays(7 * w), Suppliers = [.. setting.House.Suppliers.Select(s => s with { Arrives = [.. s.Arrives.Select(a => a.AddDays(7 * w))] })] })],
            House = setting.House with { Taxa = [.. setting.House.Taxa.Select(t => t with { UsualRate = EmergenceRate.Known(0.123), Timing = EmergenceTiming.FromWindow(6, 8), Stock = t.Stock with { Survival = AdultSurvival.FromLife(5, 9) } })] },
        };
        var probe = new Probe();
        SeasonRun.Play(replay, probe, 3, Cancel);
        Assert.Contains(probe.Told.SelectMany(p => p.Taxa), t => t.Stock.Lots.Any(lot => lot.Rate.Mean > 0.5));
        foreach (var taxon in probe.Told.SelectMany(p => p.Taxa))
        {
            var known = setting.House.Taxa.Single(t => t.Name == taxon.Name);
            Assert.Same(known.Stock.Survival, taxon.Stock.Survival);
            Assert.All(taxon.Stock.Lots.Where(lot => lot.DaysHanging < 7 && lot.RateSource.Length > 0 && lot.Emerged + lot.Lost == 0), lot =>
            {
                Assert.Equal(known.RateFrom(lot.RateSource).Mean, lot.Rate.Mean);
                Assert.Equal(known.Timing.MeanDays, lot.Timing.MeanDays);
            });
        }
    }

    private sealed class Probe : SeasonPolicy
    {
        public List<PlanProblem> Told { get; } = [];

        public override string Name => "probe";

        public override IReadOnlyList<OrderedLine> Order(SeasonWeek week, CancellationToken cancel)
        {
            Told.Add(week.Problem);
            return OrderByRule.Naive.Order(week, cancel);
        }
    }

    [Fact]
    public void Play_noOrders_costsWhatIsWishedOnEveryDayAtLeast()
    {
        var setting = SmallHouse.Make();
        setting = setting with { House = setting.House with { Taxa = [.. setting.House.Taxa.Select(t => t with { Stock = t.Stock with { Lots = [], Flying = [] } })] } };
        var score = SeasonRun.Play(setting, new OrderNothing(), 1, Cancel);
        // 8 weeks less 10 days, Mondays closed: 40 open days; a day is worth 6 · 3 + 4 + 9 + 4.
        Assert.Equal(40, score.OpenDays);
        Assert.Equal(40 * 35, score.Shortage);
        Assert.Equal((40, 160), (score.DaysShort, score.WishDaysShort));
    }

    [Fact]
    public void Play_budget_isKeptByWeekAndSeason()
    {
        var setting = SmallHouse.Make().WithWeeklyBudget(60) with { Budget = 200 };
        foreach (var policy in Rules.Append(OrderByPlan.LookAhead(Quick)))
            Assert.True(SeasonRun.Play(setting, policy, 2, Cancel).Landed <= 200.01);
    }

    /// <summary>What the house says of suppliers and days holds in every week, for plans and for rules.</summary>
    [Fact]
    public void Play_termsOfTheHouse_areKeptInEveryWeek()
    {
        var setting = SmallHouse.Make();
        var (closed, noBoxes) = (Tiny.Day.AddDays(15), Tiny.Day.AddDays(22));
        DateOnly[] few = [.. Enumerable.Range(35, 5).Select(Tiny.Day.AddDays)];
        setting = setting with
        {
            House = setting.House with
            {
                NoBoxesOn = [noBoxes],
                CagePlacesOn = few.ToDictionary(day => day, _ => 12),
                Suppliers =
                [
                    setting.House.Suppliers[0] with { ClosedDays = [closed], LastOrderDay = Tiny.Day },
                    setting.House.Suppliers[1] with { Avoided = true },
                ],
            },
        };
        foreach (var policy in Rules.Skip(1).Append(OrderByPlan.LookAhead(Quick)).Append(OrderByPlan.Myopic(Quick)))
        {
            var score = SeasonRun.Play(setting, policy, 6, Cancel);
            Assert.All(score.Ordered.SelectMany(week => week.Lines), line => Assert.StartsWith("q", line.Offer, StringComparison.Ordinal));
            Assert.All(score.Ordered.SelectMany(week => week.Lines), line => Assert.DoesNotContain(line.Arrives, new DateOnly?[] { closed, noBoxes }));
            // A supplier's last day for orders is that of each week, not of the first alone.
            Assert.Contains(score.Ordered.Skip(4), week => week.Pupae > 0);
            Assert.True(score.Ordered[5].Pupae <= 12);
        }

        var late = setting with { House = setting.House with { Suppliers = [setting.House.Suppliers[0] with { LastOrderDay = Tiny.Day.AddDays(-1) }, setting.House.Suppliers[1]] } };
        Assert.All(Rules.Append(OrderByPlan.LookAhead(Quick)), policy => Assert.Equal(0, SeasonRun.Play(late, policy, 6, Cancel).Pupae));
    }

    /// <summary>Who is favoured is ordered from more often, though it costs the same.</summary>
    [Fact]
    public void Play_aSupplierFavoured_isOrderedFromAtLeastAsMuch()
    {
        var setting = SmallHouse.Make();
        int FromAmberwing(double favour) => SeasonRun.Play(
            setting with { House = setting.House with { Suppliers = [setting.House.Suppliers[0], setting.House.Suppliers[1] with { FavouredBy = favour }] } },
            OrderByPlan.Myopic(Quick), 6, Cancel).Ordered.SelectMany(week => week.Lines).Where(line => line.Offer.StartsWith('a')).Sum(line => line.Pupae);
        Assert.True(FromAmberwing(1) > FromAmberwing(0));
    }

    [Fact]
    public void Cost_ofTheClairvoyant_moreBudgetNeverMore_lessListedNeverLess_andBelowOrdersFixedAhead()
    {
        var setting = SmallHouse.Make();
        setting = setting with
        {
            House = setting.House with
            {
                Aims = [.. setting.House.Aims.OfType<DisplayAim>()],
                Taxa = [.. setting.House.Taxa.Select(t => t with { UsualRate = EmergenceRate.Known(t.UsualRate.Mean) })],
            },
        };
        double Cost(SeasonSetting s) => ListClairvoyant.Cost(s, 3, cancel: Cancel);
        var free = Cost(setting);
        var before = double.PositiveInfinity;
        foreach (var budget in (decimal[])[0, 20, 50, 100, 200])
        {
            var cost = Cost(setting.WithWeeklyBudget(budget));
            Assert.True(cost <= before + 1e-6);
            Assert.True(cost >= free - 1e-6);
            before = cost;
        }

        Assert.True(Cost(setting.Without("Amberwing Farm")) >= free - 1e-6);
        Assert.True(Cost(setting.WithAims(1.5)) >= free);

        // The mean cost of one set of fixed orders over many fates, lists held: not below the program by more than five standard errors.
        var lists = SeasonRun.Lists(setting, 3);
        var replay = setting with { Replayed = [.. Enumerable.Range(0, setting.Weeks).Select(w => setting.House with { Offers = lists[w], OrderDay = Tiny.Day.AddDays(7 * w), Suppliers = [.. setting.House.Suppliers.Select(s => s with { Arrives = [.. s.Arrives.Select(a => a.AddDays(7 * w))] })] })] };
        var orders = SeasonRun.Play(replay, new OrderUpTo(), 3, Cancel).Ordered.Select(week => week.Lines).ToList();
        var costs = SeasonComparison.Play(replay, [new OrderAsTold("fixed", orders)], 200, 8, cancel: Cancel).Mean(0, s => s.Total);
        Assert.True(costs.Mean + (5 * (costs.To - costs.Mean) / 1.97) >= free, $"{costs.Mean} beside {free}");
    }

    [Fact]
    public void Order_ofRules_isWithinListsAndTerms()
    {
        var setting = SmallHouse.Make();
        for (ulong seed = 1; seed <= 30; seed++)
        {
            foreach (var policy in Rules)
            {
                var orders = SeasonRun.Play(setting, policy, seed, Cancel).Ordered.Select(week => week.Lines).ToList();
                var lists = SeasonRun.Lists(setting, seed);
                for (var week = 0; week < orders.Count; week++)
                {
                    foreach (var line in orders[week])
                    {
                        var offer = lists[week].Single(o => o.Id == line.Offer);
                        Assert.Equal(0, line.Pupae % offer.Pack);
                        Assert.InRange(line.Pupae, Math.Max(1, offer.Minimum), offer.Available!.Value);
                    }

                    var amberwing = orders[week].Where(l => l.Offer.StartsWith('a')).Sum(l => l.Pupae);
                    Assert.True(amberwing is 0 or >= 10);
                }
            }
        }
    }

    [Fact]
    public void Order_naive_byHand_isFiveOfTheCheapestOfEachThatIsShort()
    {
        var house = SmallHouse.Make().House with
        {
            Aims = [new DisplayAim { Id = "m", Words = "6", Of = AimOf.Taxon("Morpho helenor"), AtLeast = 6 }, new DisplayAim { Id = "p", Words = "4", Of = AimOf.Taxon("Papilio memnon"), AtLeast = 4 }, new BreedingAim { Id = "b", Words = "a pair", Taxon = "Heliconius melpomene", Pairs = 1 }],
            OpenDays = null,
            Offers =
            [
                new() { Id = "1", Supplier = "Quillfeather Pupae", Taxon = "Morpho helenor", Price = 4 },
                new() { Id = "2", Supplier = "Quillfeather Pupae", Taxon = "Papilio memnon", Price = 3 },
                new() { Id = "3", Supplier = "Quillfeather Pupae", Taxon = "Papilio memnon", Price = 2.5m },
                new() { Id = "4", Supplier = "Quillfeather Pupae", Taxon = "Heliconius melpomene", Price = 2 },
            ],
        };
        var lines = OrderByRule.Naive.Order(new(house, 0, Tiny.Day.AddDays(50)), Cancel).OrderBy(l => l.Offer).Select(l => (l.Offer, l.Pupae));
        // Five fly with a chance of 0.8 each: 4 of 6 wanted.
        Assert.Equal([("1", 5), ("3", 5), ("4", 8)], lines);
    }

    [Fact]
    public void Stretched_byAFactor_movesTheMean()
    {
        var timing = Lepidary.Science.Emergence.EmergenceTiming.FromWindow(4, 9);
        Assert.Equal(timing.MeanDays * 1.3, SeasonSetting.Stretched(timing, 1.3).MeanDays, 1e-9);
        Assert.Equal(timing.MeanDays, SeasonSetting.Stretched(timing, 1).MeanDays, 1e-12);
        Assert.Equal(timing.MeanDays / 2, SeasonSetting.Stretched(timing, 0.5).MeanDays, 1e-9);
    }

    [Fact]
    public void Faults_ofASettingThatIsWrong_nameEach()
    {
        var setting = SmallHouse.Make();
        Assert.Empty(setting.Faults());
        var wrong = setting with { Weeks = 0, DaysBefore = 0, Lines = [setting.Lines[0] with { Chance = 2 }, setting.Lines[0] with { Supplier = "Nobody" }] };
        var faults = wrong.Faults();
        Assert.Contains(faults, f => f.Contains("season of 0 weeks", StringComparison.Ordinal));
        Assert.Contains(faults, f => f.Contains("chance of 2", StringComparison.Ordinal));
        Assert.Contains(faults, f => f.Contains("of Nobody", StringComparison.Ordinal));
        Assert.Contains(faults, f => f.Contains("there 2 times", StringComparison.Ordinal));
        Assert.Throws<ArgumentException>(() => SeasonRun.Play(wrong, new OrderNothing(), 1, Cancel));
    }
}

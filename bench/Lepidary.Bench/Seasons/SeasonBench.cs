using System.Diagnostics;
using System.Globalization;
using Lepidary.Planning;
using Lepidary.Planning.Seasons;

namespace Lepidary.Bench.Seasons;

/// <summary>Does ordering by the planner pay over a season? Every policy on the same draws, each draw another house.</summary>
internal static class SeasonBench
{
    // The steps of the search bound it, not the clock: what else the machine does must not change an order.
    private const double Gap = 0.01, Limit = 300;
    private const int Nodes = 2, LookAhead = 0, Myopic = 1, UpTo = 2, Tuned = 3, Naive = 4, Nothing = 5;

    // The best of what Tune tries, for this house.
    private const double UpToDeviations = 0.25, UpToShare = 0.75, RuleTrigger = 5;
    private const int RuleEach = 5;

    // What is tried when the rules and plans are tuned.
    private static readonly double[] Triggers = [1, 1.5, 2, 2.5, 3, 3.5, 4, 5];
    private static readonly int[] Eachs = [5, 8];
    private static readonly double[] Deviations = [0, 0.25, 0.5, 1];
    private static readonly double[] Shares = [0.25, 0.5, 0.75, 0.9];
    private static readonly int[] MyopicDays = [16, 18, 20, 22, 25];
    private static readonly (int Days, int Weeks)[] Reaches = [(21, 3), (25, 3), (28, 4), (35, 5)];

    /// <summary>Arguments: seasons, seed of the first, what a missing butterfly is worth, hanging places for each butterfly wished for by name, minutes after which no other season begins.</summary>
    public static int Run(string[] args)
    {
        Figures.Head("season");
        var seasons = Whole(args, 0, 20);
        var first = Whole(args, 1, 1);
        var worth = args.Length > 2 ? decimal.Parse(args[2], CultureInfo.InvariantCulture) : SeasonGenerator.UsualWorth;
        var places = args.Length > 3 ? double.Parse(args[3], CultureInfo.InvariantCulture) : SeasonGenerator.UsualPlaces;
        var minutes = Whole(args, 4, int.MaxValue);
        var clock = Stopwatch.StartNew();
        var searches = new List<PlanOutcome>();
        var settings = new PlanSettings { Gap = Gap, Nodes = Nodes, Seconds = Limit };
        var ahead = OrderByPlan.LookAhead(settings);
        ahead.Planned = searches.Add;
        SeasonPolicy[] policies = [ahead, OrderByPlan.Myopic(settings), new OrderUpTo(UpToDeviations, UpToShare), OrderByRule.Tuned(RuleTrigger, RuleEach), OrderByRule.Naive, new OrderNothing()];
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seeds {first} to {first + seasons - 1}; a butterfly missing for a day is worth {worth}, {places} places for each wished for by name; each week is searched to {Gap:0%}, at most {Nodes - 1} node"));
        var draws = new List<IReadOnlyList<SeasonScore>>();
        var clairvoyant = new List<double>();
        for (var season = first; season < first + seasons && clock.Elapsed.TotalMinutes < minutes; season++)
        {
            var setting = SeasonGenerator.Make(season, worth, places);
            var watch = Stopwatch.StartNew();
            draws.Add(SeasonComparison.Play(setting, policies, 1, (ulong)season).Draws[0]);
            var played = watch.Elapsed.TotalSeconds;
            clairvoyant.Add(ListClairvoyant.Cost(setting, SeasonComparison.SeedOf((ulong)season, 0), every: 2));
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"season {season,3}: {string.Join("  ", draws[^1].Select(s => $"{s.Policy} {s.Total:0}"))}  clairvoyant {clairvoyant[^1]:0}  played {played:0} s, clairvoyant {watch.Elapsed.TotalSeconds - played:0} s"));
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"a week's search that looks ahead: {searches.Average(o => o.Seconds):0.00} s, longest {searches.Max(o => o.Seconds):0.00} s; gap at its end {searches.Average(o => (o.Objective - o.Bound) / o.Objective):0.00%}, largest {searches.Max(o => (o.Objective - o.Bound) / o.Objective):0.00%}"));
        Print(draws, clairvoyant);
        return 0;
    }

    /// <summary>Chooses the parameters of the rules and the reach of the plans, on other seasons than those that are scored.</summary>
    public static int Tune(string[] args)
    {
        Figures.Head("season tune");
        var settings = new PlanSettings { Gap = Gap, Nodes = Nodes, Seconds = Limit };
        List<(string Name, SeasonPolicy Policy)> tried = [];
        if (args.Contains("rules"))
        {
            tried.AddRange(Triggers.SelectMany(trigger => Eachs.Select(each => ($"rule {trigger} {each}", (SeasonPolicy)OrderByRule.Tuned(trigger, each)))));
            tried.AddRange(Deviations.SelectMany(z => Shares.Select(share => ($"up to {z} {share}", (SeasonPolicy)new OrderUpTo(z, share)))));
        }

        if (args.Contains("plans"))
        {
            tried.AddRange(MyopicDays.Select(days => ($"myopic {days}", (SeasonPolicy)new OrderByPlan("m", days, 0, settings))));
            tried.AddRange(Reaches.Select(reach => ($"ahead {reach}", (SeasonPolicy)new OrderByPlan("l", reach.Days, reach.Weeks, settings))));
        }

        foreach (var (name, policy) in tried)
        {
            var scores = Enumerable.Range(101, Whole(args, 1, 4)).Select(seed => SeasonComparison.Play(SeasonGenerator.Make(seed), [policy], 1, (ulong)seed).Draws[0][0]).ToList();
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name,-16} total {scores.Average(s => s.Total),8:0} landed {scores.Average(s => s.Landed),8:0} short {scores.Average(s => s.Shortage),8:0} pupae {scores.Average(s => s.Pupae):0}"));
        }

        return 0;
    }

    private static void Print(List<IReadOnlyList<SeasonScore>> draws, List<double> clairvoyant)
    {
        double[] Totals(int policy) => [.. draws.Select(d => d[policy].Total)];
        Console.WriteLine("policy                          total   landed  shortage  boxes  pupae  wishes met  days full  days over  wasted");
        for (var p = 0; p < draws[0].Count; p++)
        {
            double Mean(Func<SeasonScore, double> of) => draws.Average(d => of(d[p]));
            Console.WriteLine($"{draws[0][p].Policy,-28} {Mean(s => s.Total),8:0} {Mean(s => s.Landed),8:0} {Mean(s => s.Shortage),9:0} {Mean(s => s.Deliveries),6:0} {Mean(s => s.Pupae),6:0} {1 - Mean(s => (double)s.WishDaysShort / s.WishDays),11:0.0%} {Mean(s => s.DaysFull),10:0.0} {Mean(s => s.DaysOver),10:0.0} {Mean(s => s.Pupae == 0 ? 0 : (double)s.Wasted / s.Pupae),7:0.0%}");
        }

        Console.WriteLine($"{"list-clairvoyant (reference)",-28} {clairvoyant.Average(),8:0}");
        var ahead = Totals(LookAhead);
        foreach (var other in new[] { Naive, Tuned, UpTo, Myopic })
        {
            var ratio = SeasonComparison.Ratio(ahead, Totals(other));
            Console.WriteLine($"look-ahead against {draws[0][other].Policy,-28} {ratio.Mean,7:0.0%}  95 % from {ratio.From:0.0%} to {ratio.To:0.0%}");
        }

        var over = SeasonComparison.Ratio(ahead, clairvoyant);
        Console.WriteLine($"look-ahead over {"the list-clairvoyant",-31} {over.Mean,7:0.0%}  95 % from {over.From:0.0%} to {over.To:0.0%}");
        // Without the constant: what each gains over ordering nothing.
        double[] Gain(IReadOnlyList<double> totals) => [.. Totals(Nothing).Zip(totals, (nothing, total) => nothing - total)];
        var best = Gain(clairvoyant);
        foreach (var policy in new[] { LookAhead, Myopic, UpTo, Tuned, Naive })
        {
            var share = SeasonComparison.Ratio(Gain(Totals(policy)), best);
            Console.WriteLine($"of the clairvoyant's gain over nothing: {draws[0][policy].Policy,-28} {1 + share.Mean,6:0.0%}  95 % from {1 + share.From:0.0%} to {1 + share.To:0.0%}");
        }

        foreach (var other in new[] { Naive, Tuned, UpTo, Myopic })
        {
            var ratio = SeasonComparison.Ratio(Gain(ahead), Gain(Totals(other)));
            Console.WriteLine($"look-ahead's gain over nothing against that of {draws[0][other].Policy,-28} {ratio.Mean,7:+0.0%;-0.0%}  95 % from {ratio.From:+0.0%;-0.0%} to {ratio.To:+0.0%;-0.0%}");
        }
    }

    private static int Whole(string[] args, int place, int otherwise) => args.Length > place ? int.Parse(args[place], CultureInfo.InvariantCulture) : otherwise;
}

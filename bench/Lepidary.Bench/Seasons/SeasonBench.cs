using System.Collections.Concurrent;
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
    private const int Nodes = 2;
    private const string Clairvoyant = "list-clairvoyant (reference)";

    // The best of what Tune tries on seasons that are not scored.
    private const double UpToDeviations = 0.25, UpToShare = 0.75, RuleTrigger = 7;
    private const int RuleEach = 5;

    // As they are plainly told: what is wished by name brought up to its number in the mean, and pupae counted up to twice the number. Common practice, no source.
    private const double PlainDeviations = 0, PlainShare = 0.5, PlainTrigger = 2;

    // What is tried when the rules and plans are tuned.
    private static readonly double[] Triggers = [1, 1.5, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8];
    private static readonly int[] Eachs = [5, 8];
    private static readonly double[] Deviations = [0, 0.25, 0.5, 1];
    private static readonly double[] Shares = [0.25, 0.5, 0.75, 0.9];
    private static readonly int[] MyopicDays = [16, 18, 20, 22, 25];
    private static readonly (int Days, int Weeks)[] Reaches = [(21, 3), (25, 3), (28, 4), (35, 5)];

    private static PlanSettings Settings { get; } = new() { Gap = Gap, Nodes = Nodes, Seconds = Limit };

    /// <summary>Arguments: seasons, seed of the first, file of the rows (gone on with where it is there), seasons that are played at once, minutes after which no other season begins.</summary>
    public static int Run(string[] args)
    {
        Figures.Head("season");
        var (seasons, first) = (Whole(args, 0, 20), Whole(args, 1, 201));
        var (atOnce, minutes) = (Whole(args, 3, 1), Whole(args, 4, int.MaxValue));
        var clock = Stopwatch.StartNew();
        var head = string.Create(CultureInfo.InvariantCulture, $"a butterfly missing for a day {SeasonGenerator.UsualWorth}, places for each wished for by name {SeasonGenerator.UsualPlaces}, each week searched to {Gap:0.0%} and {Nodes} nodes");
        var file = new SeasonFile(args.Length > 2 && args[2] != "-" ? args[2] : null, head);
        Console.WriteLine($"seeds {first} to {first + seasons - 1}; {head}");
        var searches = new ConcurrentBag<PlanOutcome>();
        Parallel.ForEach(Enumerable.Range(first, seasons), new ParallelOptions { MaxDegreeOfParallelism = atOnce }, season =>
        {
            if (clock.Elapsed.TotalMinutes < minutes)
                Season(season, file, searches);
        });
        // Of the reference a season may take longer, and gigabytes, than all policies together: it comes last, one at a time, and what is not there is left out.
        foreach (var season in Enumerable.Range(first, seasons).Where(season => clock.Elapsed.TotalMinutes < minutes && !file.Has(season, Clairvoyant)))
        {
            var watch = Stopwatch.StartNew();
            var cost = ListClairvoyant.Cost(SeasonGenerator.Make(season), SeasonComparison.SeedOf((ulong)season, 0), every: 2);
            if (!double.IsNaN(cost))
                file.Add(new(season, Clairvoyant, cost, 0, 0, 0, 0, 0, 0, 0, 0, 0, watch.Elapsed.TotalSeconds));
        }

        if (!searches.IsEmpty)
        {
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"a week's search that looks ahead: {searches.Average(o => o.Seconds):0.00} s, longest {searches.Max(o => o.Seconds):0.00} s; gap at its end {searches.Average(o => (o.Objective - o.Bound) / o.Objective):0.00%}, largest {searches.Max(o => (o.Objective - o.Bound) / o.Objective):0.00%}"));
            foreach (var step in searches.SelectMany(o => o.TimeSpent).GroupBy(t => t.Step).OrderByDescending(g => g.Sum(t => t.Seconds)))
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {step.Key,-26} {step.Sum(t => t.Seconds) / searches.Count:0.000} s a week"));
        }

        Print(file);
        return 0;
    }

    /// <summary>Chooses the parameters of the rules and the reach of the plans, on other seasons than those that are scored.</summary>
    public static int Tune(string[] args)
    {
        Figures.Head("season tune");
        List<(string Name, SeasonPolicy Policy)> tried = [];
        if (args.Contains("rules"))
        {
            foreach (var named in new[] { false, true })
            {
                var whom = named ? " named" : "";
                tried.AddRange(Triggers.SelectMany(trigger => Eachs.Select(each => ($"rule {trigger} {each}{whom}", (SeasonPolicy)new OrderByRule("r", trigger, true, each, each + 3, named)))));
                tried.AddRange(Deviations.SelectMany(z => Shares.Select(share => ($"up to {z} {share}{whom}", (SeasonPolicy)new OrderUpTo(z, share, named)))));
                tried.Add(("rule of thumb" + whom, new OrderByRule("n", 1, false, namedOnly: named)));
            }
        }

        if (args.Contains("plans"))
        {
            tried.AddRange(MyopicDays.Select(days => ($"myopic {days}", (SeasonPolicy)new OrderByPlan("m", days, 0, Settings))));
            tried.AddRange(Reaches.Select(reach => ($"ahead {reach}", (SeasonPolicy)new OrderByPlan("l", reach.Days, reach.Weeks, Settings))));
        }

        if (args.Contains("ahead"))
            tried.Add(("look-ahead", OrderByPlan.LookAhead(Settings)));
        foreach (var (name, policy) in tried)
        {
            var rows = Enumerable.Range(101, Whole(args, 1, 4)).Select(seed =>
            {
                var (setting, watch) = (SeasonGenerator.Make(seed), Stopwatch.StartNew());
                return SeasonRow.Of(seed, setting, Play(setting, policy, seed), watch.Elapsed.TotalSeconds);
            }).ToList();
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name,-20} total {rows.Average(s => s.Total),8:0} landed {rows.Average(s => s.Landed),8:0} short by name {rows.Average(s => s.Named),8:0} groups {rows.Average(s => s.Groups),8:0} pupae {rows.Average(s => s.Pupae):0}, {rows.Average(s => s.Seconds):0.0} s; {string.Join(" ", rows.Select(r => r.Total.ToString("0", CultureInfo.InvariantCulture)))}"));
        }

        return 0;
    }

    // Each rule twice: as it is plainly told, and with the settings that are best for this house, all wishes looked at.
    private static SeasonPolicy[] Policies(Action<PlanOutcome>? planned)
    {
        var ahead = OrderByPlan.LookAhead(Settings);
        ahead.Planned = planned;
        return
        [
            ahead, OrderByPlan.Myopic(Settings), OrderByRule.Naive,
            new OrderByRule("the rule, twice the number", PlainTrigger, true), OrderByRule.Tuned(RuleTrigger, RuleEach),
            new OrderUpTo(PlainDeviations, PlainShare, true, "up to the mean, by name"), new OrderUpTo(UpToDeviations, UpToShare), new OrderNothing(),
        ];
    }

    private static SeasonScore Play(SeasonSetting setting, SeasonPolicy policy, int seed) => SeasonComparison.Play(setting, [policy], 1, (ulong)seed).Draws[0][0];

    private static void Season(int season, SeasonFile file, ConcurrentBag<PlanOutcome> searches)
    {
        var setting = SeasonGenerator.Make(season);
        foreach (var policy in Policies(searches.Add).Where(p => !file.Has(season, p.Name)))
        {
            var watch = Stopwatch.StartNew();
            var score = Play(setting, policy, season);
            file.Add(SeasonRow.Of(season, setting, score, watch.Elapsed.TotalSeconds));
        }

        Console.WriteLine($"season {season} played");
    }

    private static void Print(SeasonFile file)
    {
        string[] names = [.. Policies(null).Select(p => p.Name)];
        var (seasons, of) = file.Whole(names);
        if (seasons.Length == 0)
            return;
        var (known, ofKnown) = file.Whole([.. names, Clairvoyant]);
        double[] Totals(string policy) => [.. of(policy).Select(r => r.Total)];
        Console.WriteLine($"{seasons.Length} seasons: {string.Join(" ", seasons)}");
        Console.WriteLine("policy                          total   landed  by name   groups  boxes  pupae  wishes met  days full  days over  wasted  seconds");
        foreach (var name in names)
        {
            var rows = of(name);
            Console.WriteLine($"{name,-28} {rows.Average(s => s.Total),8:0} {rows.Average(s => s.Landed),8:0} {rows.Average(s => s.Named),8:0} {rows.Average(s => s.Groups),8:0} {rows.Average(s => s.Boxes),6:0} {rows.Average(s => s.Pupae),6:0} {rows.Average(s => s.Met),11:0.0%} {rows.Average(s => s.DaysFull),10:0.0} {rows.Average(s => s.DaysOver),10:0.0} {rows.Average(s => s.Wasted),7:0.0%} {rows.Average(s => s.Seconds),8:0.0}");
        }

        var ahead = Totals(names[0]);
        void Line(string what, MeanOf ratio) => Console.WriteLine($"{what,-58} {ratio.Mean,7:+0.0%;-0.0%}  95 % from {ratio.From:+0.0%;-0.0%} to {ratio.To:+0.0%;-0.0%}");
        foreach (var other in names[1..^1])
            Line("look-ahead against " + other, SeasonComparison.Ratio(ahead, Totals(other)));
        // Without the constant: what each gains over ordering nothing.
        double[] Gain(Func<string, SeasonRow[]> rows, string policy) => [.. rows(names[^1]).Zip(rows(policy), (none, some) => none.Total - some.Total)];
        foreach (var other in names[1..^1])
            Line("look-ahead's gain over nothing against " + other, SeasonComparison.Ratio(Gain(of, names[0]), Gain(of, other)));
        if (known.Length == 0)
            return;
        double[] reference = [.. ofKnown(Clairvoyant).Select(r => r.Total)];
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Clairvoyant}: mean {reference.Average():0} over {known.Length} seasons: {string.Join(" ", known)}"));
        foreach (var name in names[..^1])
            Line(name + " over the list-clairvoyant", SeasonComparison.Ratio([.. ofKnown(name).Select(r => r.Total)], reference));
        foreach (var name in names[..^1])
            Line("of its gain over nothing short: " + name, SeasonComparison.Ratio(Gain(ofKnown, name), Gain(ofKnown, Clairvoyant)));
    }

    private static int Whole(string[] args, int place, int otherwise) => args.Length > place ? int.Parse(args[place], CultureInfo.InvariantCulture) : otherwise;
}

using Lepidary.Bench.Book;
using Lepidary.Bench.Coverage;
using Lepidary.Bench.Forecast;
using Lepidary.Bench.Lists;
using Lepidary.Bench.Mixed;
using Lepidary.Bench.Odds;
using Lepidary.Bench.Pages;
using Lepidary.Bench.Planning;
using Lepidary.Bench.Pocket;
using Lepidary.Bench.Seasons;
using Lepidary.Bench.Survival;

return args switch
{
    ["planning", "error", .. var rest] => ErrorBench.Run(rest),
    ["planning", "peers", .. var rest] => PeerBench.Run(rest),
    ["planning", .. var rest] => PlanningBench.Run(rest),
    ["book", .. var rest] => await BookBench.RunAsync(rest),
    ["mixed", .. var rest] => MixedBench.Run(rest),
    ["survival", .. var rest] => SurvivalBench.Run(rest),
    ["coverage", .. var rest] => CoverageBench.Run(rest),
    ["odds", .. var rest] => await OddsBench.RunAsync(rest),
    ["forecast"] => ForecastBench.Run(),
    ["season", "tune", .. var rest] => SeasonBench.Tune(rest),
    ["season", "kernel"] => KernelBench.Run(),
    ["season", .. var rest] => SeasonBench.Run(rest),
    ["lists", .. var rest] => ListsBench.Run(rest),
    ["fuzz", .. var rest] => FuzzBench.Run(rest),
    ["today", _, _, _, ..] => await PagesBench.TodayAsync(args[1..]),
    ["pocket", .. var rest] => await PocketBench.RunAsync(rest),
    ["start", _, _] => await PagesBench.StartAsync(args[1..]),
    _ => Usage(),
};

static int Usage()
{
    Console.Error.WriteLine("usage: bench planning [a|b|b-sure|c] [SEEDS] [SECONDS] [FIRST] [GAP]");
    Console.Error.WriteLine("       bench planning peers [a|b|c] [SEEDS] [SECONDS] [FIRST]");
    Console.Error.WriteLine("       bench planning error [a|b|b-sure|c] [SEEDS] [SECONDS]");
    Console.Error.WriteLine("       bench book [FILE]");
    Console.Error.WriteLine("       bench forecast");
    Console.Error.WriteLine("       bench season [SEASONS] [FIRST] [FILE] [AT-ONCE] [MINUTES]");
    Console.Error.WriteLine("       bench season tune rules|plans|ahead [SEASONS]");
    Console.Error.WriteLine("       bench season kernel");
    Console.Error.WriteLine("       bench mixed [LOTS] [SEED]");
    Console.Error.WriteLine("       bench survival [PUPAE] [SEED]");
    Console.Error.WriteLine("       bench odds [FILE]");
    Console.Error.WriteLine("       bench lists [FORMAT]");
    Console.Error.WriteLine("       bench fuzz FOLDER [EXECUTIONS] [SEED] [KEEP]");
    Console.Error.WriteLine("       bench coverage [BOOKS] [SEED]");
    Console.Error.WriteLine("       bench today PROGRAM TEN-YEAR-BOOK DEMO-BOOK [TIMES]");
    Console.Error.WriteLine("       bench start PROGRAM BOOK");
    Console.Error.WriteLine("       bench pocket [faults [COUNT] [SEED] | week [COUNTS-A-DAY] | round [LOTS] | load]");
    return 2;
}

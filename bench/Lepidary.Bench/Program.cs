using Lepidary.Bench.Book;
using Lepidary.Bench.Planning;

return args switch
{
    ["planning", "peers", .. var rest] => PeerBench.Run(rest),
    ["planning", .. var rest] => PlanningBench.Run(rest),
    ["book", .. var rest] => await BookBench.RunAsync(rest),
    _ => Usage(),
};

static int Usage()
{
    Console.Error.WriteLine("usage: bench planning [a|b|c] [SEEDS] [SECONDS] [FIRST] [GAP]");
    Console.Error.WriteLine("       bench planning peers [a|b] [SEEDS] [SECONDS]");
    Console.Error.WriteLine("       bench book [FILE]");
    return 2;
}

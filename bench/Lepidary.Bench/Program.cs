using Lepidary.Bench.Planning;

return args switch
{
    ["planning", .. var rest] => PlanningBench.Run(rest),
    _ => Usage(),
};

static int Usage()
{
    Console.Error.WriteLine("usage: bench planning [a|b|c] [SEEDS] [SECONDS] [FIRST] [GAP]");
    return 2;
}

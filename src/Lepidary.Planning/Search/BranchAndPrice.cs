using System.Diagnostics;
using Lepidary.Planning.Model;
using Lepidary.Planning.Solver;

namespace Lepidary.Planning.Search;

/// <summary>What a search found.</summary>
internal sealed class Found
{
    /// <summary>Pupae by item, or null when no order keeps every limit.</summary>
    public int[]? Pupae { get; set; }

    /// <summary>Objective of the order.</summary>
    public double Objective { get; set; } = double.PositiveInfinity;

    /// <summary>No order is below this.</summary>
    public double Bound { get; set; } = double.NegativeInfinity;

    /// <summary>True when there is proof that no order keeps every limit.</summary>
    public bool Infeasible { get; set; }

    /// <summary>True when the clock ended the search.</summary>
    public bool TimeRanOut { get; set; }

    /// <summary>True when the keeper or the limit of steps ended the search.</summary>
    public bool Stopped { get; set; }

    /// <summary>Nodes looked at.</summary>
    public int Nodes { get; set; }
}

/// <summary>
/// Branch and price. The linear program runs over complete choices of blocks; new choices come from exact pricing over every
/// combination of numbers. Branches on deliveries and carriage steps first; where few enough choices can still be in a better
/// order, all of them are listed and the rest is settled as one whole-numbered program; otherwise branches on numbers of a line.
/// </summary>
internal sealed class BranchAndPrice : IDisposable
{
    // Choices that a whole-numbered program settles more quickly than branching does; with some more of them it takes minutes.
    private const int FewListed = 300;

    private const int NodesADive = 8;
    private const int DeepestRound = 2;

    // Nodes after which a whole-numbered program is given up and its node is branched on instead. Counted in nodes, not in seconds: one
    // seed goes one way on every machine, however busy, until the clock or the keeper ends the search.
    private const int LongestProgram = 200;
    private const int MostTried = 12;
    private const int MostExchanged = 300;
    private const int MostCombined = 5;
    private const int LongestCombined = 20;
    private const double Small = 1e-6;

    // A limit is broken in earnest by more than this, in pupae or money; below it is rounding.
    private const double BreachMeant = 1e-5;

    private readonly PlanModel model;
    private readonly PlanSettings settings;
    private readonly CancellationToken cancel;
    private readonly Action<int[], double, double>? better;
    private readonly int[]? start;
    private readonly Stopwatch clock;
    private readonly Dictionary<string, double> spent = [];
    private readonly Master master;
    private readonly LocalSearch local;
    private readonly double breachPrice;
    private readonly int mostListed;
    private readonly double reserve;
    private readonly Found found = new();
    private int dives;
    private double toldBound = double.NegativeInfinity;
    private List<Column> exchanged = [];

    /// <summary>A search.</summary>
    /// <param name="model">The problem.</param>
    /// <param name="clock">Running since the start of the proposal.</param>
    /// <param name="better">Told of each better order, its objective and the bound so far.</param>
    /// <param name="mostListed">Most choices that are handed to one whole-numbered program; 0 branches to the end.</param>
    /// <param name="start">Pupae by item of an order to begin from, as far as it is still allowed, or null.</param>
    /// <param name="reserve">Seconds of the limit that are kept for what comes after the search.</param>
    /// <param name="cancel">Ends the search.</param>
    public BranchAndPrice(
        PlanModel model, Stopwatch clock, Action<int[], double, double>? better = null, int mostListed = FewListed, int[]? start = null,
        double reserve = 0, CancellationToken cancel = default)
    {
        this.reserve = reserve;
        this.start = start;
        this.mostListed = mostListed;
        this.model = model;
        this.clock = clock;
        this.better = better;
        this.cancel = cancel;
        settings = model.Problem.Settings;
        breachPrice = 100 * Math.Max(1, model.Worth) * Math.Max(1, model.Problem.Aims.Select(a => Math.Pow(3, a.Importance - 1)).DefaultIfEmpty(1).Max());
        master = new(model, settings.Seed, breachPrice);
        local = new(model, settings.Seed, breachPrice * 100, () => OutOfTime || cancel.IsCancellationRequested);
    }

    /// <summary>Seconds by step.</summary>
    public IReadOnlyDictionary<string, double> Spent => spent;

    private double TimeLeft => settings.Seconds - reserve - clock.Elapsed.TotalSeconds;

    private bool OutOfTime => TimeLeft <= 0;

    // Parts of the search that cannot be below this need no look.
    private double Cutoff => found.Pupae is null
        ? double.PositiveInfinity
        : found.Objective - (settings.Gap * Math.Abs(found.Objective)) - (1e-9 * (1 + Math.Abs(found.Objective)));

    /// <summary>Runs until proof, or a limit.</summary>
    public Found Run()
    {
        var open = new PriorityQueue<Node, (double Bound, int Depth, int Turn)>();
        FirstOrder();
        var turn = 0;
        // Bounds that differ by less than a little count as equal, so that the deeper node goes first and leaves are reached.
        void Push(Node node)
        {
            var step = Math.Max(1e-9, 0.1 * settings.Gap * Math.Abs(found.Objective));
            var rounded = found.Pupae is null || double.IsInfinity(node.Bound) ? node.Bound : Math.Floor(node.Bound / step) * step;
            open.Enqueue(node, (rounded, -node.Depth, turn++));
        }

        Push(new() { Bound = double.NegativeInfinity, Switches = [], Ranges = [.. model.Items.Select(i => (0, i.Choices.Length - 1))] });
        var settledAt = double.PositiveInfinity;
        while (open.TryDequeue(out var node, out _))
        {
            if (node.Bound >= Cutoff)
            {
                settledAt = Math.Min(settledAt, node.Bound);
                continue;
            }

            if (Interrupted())
            {
                settledAt = Math.Min(settledAt, node.Bound);
                break;
            }

            found.Nodes++;
            var children = Look(node);
            if (children.Count == 0)
                settledAt = Math.Min(settledAt, node.Bound);
            foreach (var child in children)
                Push(child);
            Raise(Lowest());
        }

        found.Bound = Lowest();
        found.Infeasible = found.Pupae is null && open.Count == 0 && !found.TimeRanOut && !found.Stopped;
        return found;

        double Lowest() => Math.Min(found.Objective, open.UnorderedItems.Select(n => n.Element.Bound).Append(settledAt).Min());
    }

    /// <inheritdoc/>
    public void Dispose() => master.Dispose();

    private bool Interrupted()
    {
        if (cancel.IsCancellationRequested || found.Nodes >= settings.Nodes)
            return found.Stopped = true;
        return OutOfTime && (found.TimeRanOut = true);
    }

    private T Timed<T>(string step, Func<T> work)
    {
        var from = clock.Elapsed.TotalSeconds;
        try
        {
            return work();
        }
        finally
        {
            spent[step] = spent.GetValueOrDefault(step) + clock.Elapsed.TotalSeconds - from;
        }
    }

    private void Offer(Order order)
    {
        if (!order.Holds)
            return;
        var pupae = order.PupaeByItem();
        order.Recompute();
        if (order.Cost < found.Objective - 1e-9)
        {
            (found.Pupae, found.Objective) = (pupae, order.Cost);
            better?.Invoke(pupae, order.Cost, found.Bound);
        }
    }

    // The bound tells how much better an order could still be: worth telling when a twentieth of that has gone.
    private void Raise(double bound)
    {
        var told = found.Bound;
        found.Bound = Math.Max(told, Math.Min(bound, found.Objective));
        if (found.Pupae is null || double.IsInfinity(found.Bound))
            return;
        if (double.IsInfinity(toldBound) || found.Objective - found.Bound < 0.95 * (found.Objective - toldBound))
        {
            toldBound = found.Bound;
            better?.Invoke(found.Pupae, found.Objective, found.Bound);
        }
    }

    // Nothing, or as little as the rules allow: there is an order from the first moment on.
    private void FirstOrder()
    {
        var columns = new Column[model.Blocks.Count];
        foreach (var block in model.Blocks)
        {
            var least = LeastAllowed(block);
            columns[block.Index] = local.ColumnOf(block, least);
            master.Add([(block, least)]);
        }

        Offer(new(model, columns, breachPrice * 100));
        if (start is null)
        {
            Timed("first order", () =>
            {
                Greedy(columns);
                return 0;
            });
            return;
        }

        foreach (var block in model.Blocks)
        {
            var wanted = block.Items.Select(i => i.Choices.LastOrDefault(c => c <= start[i.Index], i.Choices[0])).ToArray();
            if (!block.Allows(wanted))
                continue;
            columns[block.Index] = local.ColumnOf(block, wanted);
            master.Add([(block, wanted)]);
        }

        var begun = new Order(model, columns, breachPrice * 100);
        Offer(begun);
        local.Descend(begun);
        Offer(begun);
    }

    // Every block as it would be ordered alone, then cut back to the limits and filled up for the groups: a good order before the first
    // linear program is solved, which may take long where much else runs.
    private void Greedy(Column[] columns)
    {
        var (free, anywhere) = (new Prices(model), model.Items.Select(i => (0, i.Choices.Length - 1)).ToArray());
        foreach (var block in model.Blocks)
        {
            if (OutOfTime || cancel.IsCancellationRequested)
                return;
            if (new Pricer(model, block, free, anywhere).Best(0) is not [var best, ..])
                continue;
            columns[block.Index] = local.ColumnOf(block, best.Pupae);
            master.Add([(block, best.Pupae)]);
        }

        var order = new Order(model, columns, breachPrice * 100);
        Offer(order);
        local.Descend(order);
        Offer(order);
    }

    private static int[] LeastAllowed(Block block)
    {
        var pupae = block.Items.Select(i => i.Choices[0]).ToArray();
        foreach (var rule in block.Rules)
        {
            foreach (var place in rule.Places)
            {
                if (rule.Sum(pupae) >= rule.Least)
                    break;
                var wanted = pupae[place] + rule.Least - rule.Sum(pupae);
                pupae[place] = block.Items[place].Choices.FirstOrDefault(c => c >= wanted, block.Items[place].Choices[^1]);
            }
        }

        return pupae;
    }

    // Prices a node out; returns its children, none when it is settled. Raises its bound.
    private List<Node> Look(Node node)
    {
        if (!PriceOut(node))
            return [];
        if (node.Depth == 0)
            Raise(node.Bound);
        if (node.Bound >= Cutoff)
            return [];
        if (Interrupted())
            return [node];

        // All that is needed of the linear optimum, before heuristics use the program for their own ends.
        var whole = IsWhole();
        var prices = master.Prices();
        var onSwitch = BranchOnSwitch(node);
        var onItem = BranchOnItem(node);
        // A little below the root nearly the same order comes out again: dives look further away.
        if (whole || node.Depth < DeepestRound)
        {
            Timed("local search", () =>
            {
                Round(node.Depth > 0);
                return 0;
            });
        }

        if (whole)
        {
            // Every face of every shortage holds, so a whole-numbered optimum of the linear program is the node's best order.
            return [];
        }

        if (node.Bound < Cutoff && !Interrupted() && DiveIsDue())
        {
            Timed("diving", () =>
            {
                Dive(node);
                return 0;
            });
            Timed("local search", () =>
            {
                if (node.Depth == 0)
                    Thoroughly();
                Shake(node);
                return 0;
            });
            if (dives % 6 == 0)
                Combine(node, prices);
        }

        if (node.Bound >= Cutoff || Interrupted())
            return node.Bound >= Cutoff ? [] : [node];
        if (Finish(node, prices, mostListed))
            return [];
        if (Interrupted())
            return [node];
        return onSwitch.Count > 0 ? onSwitch : onItem;
    }

    // Dives find most good orders but prove nothing: they get at most a share of the time.
    private bool DiveIsDue() => found.Nodes == 1 || dives < (found.Nodes / NodesADive) + 1;

    // Fixes deliveries, then blocks, a share at a time, to what the linear optimum likes best, and solves again in between.
    private void Dive(Node node)
    {
        dives++;
        var values = master.SwitchValues.ToArray();
        var fixedSwitches = node.Switches.ToList();
        var ranges = ((int Lowest, int Highest)[])node.Ranges.Clone();
        var settled = node.Switches.Select(s => s.Switch).ToHashSet();
        foreach (var group in Enumerable.Range(0, values.Length).GroupBy(s => (master.Switches[s].Slot, master.Switches[s].Ladder)))
        {
            var delivery = Enumerable.Range(0, values.Length).First(s => master.Switches[s].Slot == group.Key.Slot && master.Switches[s].Ladder < 0);
            var opened = values[delivery] >= 0.5;
            var best = group.MaxBy(s => values[s]);
            foreach (var s in group.Where(s => !settled.Contains(s)))
                fixedSwitches.Add((s, opened && s == best ? 1 : 0));
            if (opened)
                continue;
            foreach (var item in model.Items.Where(i => i.Slot.Index == group.Key.Slot))
            {
                if (item.Choices[ranges[item.Index].Lowest] == 0)
                    ranges[item.Index] = (0, 0);
            }
        }

        var path = new Node { Bound = node.Bound, Switches = fixedSwitches, Ranges = ranges };
        if (!StartBlocks(path))
            return;
        master.LetBreach(true);
        master.Enter(path);
        var chosen = new Column?[model.Blocks.Count];
        for (var step = 0; ; step++)
        {
            if (master.Solve(Math.Max(0.01, TimeLeft), cancel) != SolveEnd.Optimal || Interrupted())
                break;
            if (master.Breach <= Small && master.Objective >= found.Objective - Small)
                return;
            if (step < 3)
            {
                PriceAgain(path, chosen);
                if (master.Solve(Math.Max(0.01, TimeLeft), cancel) != SolveEnd.Optimal)
                    break;
            }

            var open = Likeliest(chosen);
            if (open.Count == 0)
                break;
            var share = Math.Max(1, open.Count / 6);
            foreach (var (column, weight) in open)
            {
                if (weight < 0.95 && share-- <= 0)
                    break;
                chosen[column.Block.Index] = column;
                master.FixBlock(column);
            }
        }

        if (chosen.Any(c => c is null))
        {
            foreach (var (column, _) in Likeliest(chosen))
                chosen[column.Block.Index] = column;
        }

        var order = new Order(model, chosen!, breachPrice * 100);
        Offer(order);
        local.Descend(order);
        Offer(order);
        Pair(order);
    }

    private void Shake(Node node)
    {
        if (node.Bound >= Cutoff || found.Pupae is null)
            return;
        var order = new Order(model, Best(), breachPrice * 100);
        Offer(local.Shake(order, exchanged, node.Depth == 0 ? 10 : 4));
    }

    private Column[] Best() => [.. model.Blocks.Select(b => local.ColumnOf(b, [.. b.Items.Select(i => found.Pupae![i.Index])]))];

    // A whole-numbered program over the few choices that the linear optimum, the best order and the prices favour.
    private void Combine(Node node, Prices prices)
    {
        if (node.Bound >= Cutoff || found.Pupae is null || Interrupted())
            return;
        var best = Best();
        var columns = new HashSet<Column>(best);
        (int Lowest, int Highest)[] anywhere = [.. model.Items.Select(i => (0, i.Choices.Length - 1))];
        foreach (var block in model.Blocks)
        {
            var good = new Pricer(model, block, prices, anywhere).Best(MostCombined).Where(c => c.ReducedCost < found.Objective - node.Bound);
            columns.UnionWith(good.Select(c => local.ColumnOf(block, c.Pupae)));
        }

        if (columns.Count == best.Length)
            return;
        var seconds = Math.Max(0.01, TimeLeft);
        var free = new Node { Bound = node.Bound, Switches = [], Ranges = anywhere };
        var (_, _, choice) = Timed("whole-numbered programs", () => master.SolveWhole(
            free, [.. columns], settings.Gap / 4, seconds, LongestCombined, double.PositiveInfinity, settings.Seed, best, cancel));
        OfferChoice(choice);
    }

    private void OfferChoice(int[][]? choice)
    {
        if (choice is null)
            return;
        var order = new Order(model, [.. choice.Select((p, b) => local.ColumnOf(model.Blocks[b], p))], breachPrice * 100);
        Offer(order);
        var polished = local.Copy(order);
        local.Descend(polished);
        Offer(polished);
        Pair(polished);
    }

    // The choice with the largest weight in each block that is still open, surest first.
    private List<(Column Column, double Weight)> Likeliest(Column?[] chosen)
    {
        var best = new (Column? Column, double Weight)[model.Blocks.Count];
        var weights = master.Weights;
        for (var c = 0; c < master.Columns.Count; c++)
        {
            var column = master.Columns[c];
            if (chosen[column.Block.Index] is null && (best[column.Block.Index].Column is null || weights[c] > best[column.Block.Index].Weight + 1e-9))
                best[column.Block.Index] = (column, weights[c]);
        }

        return [.. best.Where(b => b.Column is not null).Select(b => (b.Column!, b.Weight)).OrderByDescending(b => b.Item2)];
    }

    private void PriceAgain(Node path, Column?[] chosen)
    {
        var prices = master.Prices();
        var fresh = new List<(Block, int[])>();
        foreach (var block in model.Blocks.Where(b => chosen[b.Index] is null))
            fresh.AddRange(new Pricer(model, block, prices, path.Ranges).Best(2).Where(b => b.ReducedCost < -Small).Select(b => (block, b.Pupae)));
        master.Add(fresh);
    }

    // Every block needs a choice that the node allows, or the linear program has no solution. False when one has none.
    private bool StartBlocks(Node node)
    {
        var has = new bool[model.Blocks.Count];
        foreach (var column in master.Columns)
            has[column.Block.Index] |= Master.Within(column, node);
        var free = new Prices(model);
        foreach (var block in model.Blocks)
        {
            if (has[block.Index])
                continue;
            var best = new Pricer(model, block, free, node.Ranges).Best(0);
            if (best.Count == 0)
                return false;
            master.Add([(block, best[0].Pupae)]);
        }

        return true;
    }

    // Column generation with exact pricing. False when the node is proven useless.
    private bool PriceOut(Node node)
    {
        if (!StartBlocks(node))
        {
            node.Bound = double.PositiveInfinity;
            return false;
        }

        master.LetBreach(true);
        master.Enter(node);
        if (!Generate(node, bound => bound < Cutoff))
            return false;
        // A program whose first solve was stopped has no values to look at.
        if (node.Bound >= Cutoff || Interrupted() || master.Breach <= Small)
            return true;

        // Limits are broken because that is cheaper than keeping them, or because they cannot be kept. Which of the two?
        master.CountOnlyBreaches(true);
        var breach = 0.0;
        var known = Generate(node, _ => true, least => breach = least);
        master.CountOnlyBreaches(false);
        if (known && breach > BreachMeant)
        {
            node.Bound = double.PositiveInfinity;
            return false;
        }

        if (Interrupted())
            return true;
        master.LetBreach(false);
        return Generate(node, bound => bound < Cutoff);
    }

    // Adds choices until none would help, or until the bound says that it no longer matters.
    private bool Generate(Node node, Func<double, bool> goOn, Action<double>? counted = null)
    {
        while (true)
        {
            var end = Timed("linear programs", () => master.Solve(Math.Max(0.01, TimeLeft), cancel));
            if (end == SolveEnd.Infeasible)
            {
                node.Bound = double.PositiveInfinity;
                return false;
            }

            if (end != SolveEnd.Optimal)
                return true;
            var prices = master.Prices();
            var bound = master.Objective;
            var fresh = new List<(Block, int[])>();
            Timed("pricing", () =>
            {
                foreach (var block in model.Blocks)
                {
                    var best = new Pricer(model, block, prices, node.Ranges).Best(3);
                    if (best.Count == 0)
                    {
                        bound = double.PositiveInfinity;
                        continue;
                    }

                    bound += Math.Min(0, best[0].ReducedCost);
                    fresh.AddRange(best.Where(b => b.ReducedCost < -Small).Select(b => (block, b.Pupae)));
                }

                return 0;
            });
            if (double.IsPositiveInfinity(bound))
            {
                node.Bound = bound;
                return false;
            }

            if (counted is null)
                node.Bound = Math.Max(node.Bound, bound);
            else
                counted(bound);
            if (!goOn(node.Bound) || !master.Add(fresh))
                return true;
            master.Enter(node);
            if (Interrupted())
                return true;
        }
    }

    // The choice with the largest weight in each block, mended and improved.
    private void Round(bool pair)
    {
        var columns = new Column[model.Blocks.Count];
        var weight = new double[columns.Length];
        var weights = master.Weights;
        for (var c = 0; c < master.Columns.Count; c++)
        {
            var column = master.Columns[c];
            if (weights[c] > weight[column.Block.Index] + 1e-9)
                (columns[column.Block.Index], weight[column.Block.Index]) = (column, weights[c]);
        }

        var costs = master.ReducedCosts;
        var byBlock = new List<(double Cost, Column Column)>[columns.Length];
        for (var c = 0; c < master.Columns.Count; c++)
        {
            var column = master.Columns[c];
            columns[column.Block.Index] ??= column;
            (byBlock[column.Block.Index] ??= []).Add((costs[c], column));
        }

        var tried = byBlock.SelectMany(b => b.OrderBy(x => x.Cost).Take(MostTried)).OrderBy(x => x.Cost).ToList();
        local.Learn(tried.Select(x => x.Column));
        exchanged = [.. tried.Take(MostExchanged).Select(x => x.Column)];
        var order = new Order(model, columns, breachPrice * 100);
        local.Descend(order);
        Offer(order);
        if (pair)
            Pair(order);
    }

    // What takes longer and seldom finds as much as the first dive: after it.
    private void Thoroughly()
    {
        if (found.Pupae is null || Interrupted())
            return;
        var order = local.GiveUpDeliveries(new(model, Best(), breachPrice * 100));
        Offer(order);
        Pair(order);
    }

    // Pairs of changes cost more time than single ones, so only an order near the best is worth it.
    private void Pair(Order order)
    {
        if (!order.Holds || order.Cost > found.Objective * 1.003)
            return;
        local.Exchange(order, exchanged);
        local.Descend(order);
        Offer(order);
    }

    private bool IsWhole()
    {
        foreach (var weight in master.Weights)
        {
            if (weight > Small && weight < 1 - Small)
                return false;
        }

        foreach (var value in master.SwitchValues)
        {
            if (value > Small && value < 1 - Small)
                return false;
        }

        return true;
    }

    // Lists every choice that an order better than the best known could contain, and settles the node with them if they are few.
    private bool Finish(Node node, Prices prices, int most)
    {
        if (double.IsPositiveInfinity(found.Objective))
            return false;
        var slack = Cutoff - node.Bound;
        var ranges = node.Ranges;
        var listed = Timed("listing", () =>
        {
            var all = new List<(Block Block, int[] Pupae)>();
            foreach (var block in model.Blocks)
            {
                var some = new Pricer(model, block, prices, ranges).All(slack + Small, most - all.Count);
                if (some is null)
                    return null;
                all.AddRange(some.Select(s => (block, s.Pupae)));
            }

            return all;
        });
        if (listed is null)
            return false;
        var columns = listed.Select(l => local.ColumnOf(l.Block, l.Pupae)).ToList();
        while (true)
        {
            var seconds = Math.Max(0.01, TimeLeft);
            var (end, bound, choice) = Timed("whole-numbered programs", () => master.SolveWhole(
                node, columns, settings.Gap / 2, seconds, LongestProgram, Cutoff, settings.Seed, null, cancel));
            OfferChoice(choice);
            var proven = Math.Min(bound, Cutoff);
            if (end is SolveEnd.Optimal or SolveEnd.Infeasible)
            {
                // An order with a choice that is not listed costs at least the cutoff at the time of listing.
                node.Bound = Math.Max(node.Bound, end == SolveEnd.Infeasible ? node.Bound + slack : Math.Min(bound, node.Bound + slack));
                if (node.Bound >= Cutoff)
                    return true;
                // The faces that were left out made the program too hopeful: add those that its answer cuts off and solve again.
                if (choice is not null && master.AddPlanesAt([.. choice.Select((p, b) => local.ColumnOf(model.Blocks[b], p))]))
                    continue;
                return node.Bound >= Cutoff;
            }

            node.Bound = Math.Max(node.Bound, Math.Min(proven, node.Bound + slack));
            return node.Bound >= Cutoff;
        }
    }

    private List<Node> BranchOnSwitch(Node node)
    {
        var values = master.SwitchValues;
        var (at, most) = (-1, 1e-5);
        for (var s = 0; s < values.Length; s++)
        {
            // Whole deliveries first, they carry the most money.
            var off = Math.Min(values[s], 1 - values[s]) + (master.Switches[s].Ladder < 0 && values[s] > 1e-5 && values[s] < 1 - 1e-5 ? 1 : 0);
            if (off > most)
                (at, most) = (s, off);
        }

        if (at < 0)
            return [];
        return WithClosed(node, at) is { } closed ? [With(node, at, 1, node.Ranges), closed] : [With(node, at, 1, node.Ranges)];
    }

    private static Node With(Node node, int at, int value, (int Lowest, int Highest)[] ranges) => new()
    {
        Bound = node.Bound,
        Depth = node.Depth + 1,
        Ranges = ranges,
        Switches = [.. node.Switches, (at, value)],
    };

    // A closed delivery has no numbers to price; a forced line keeps it open.
    private Node? WithClosed(Node node, int at)
    {
        var ranges = ((int Lowest, int Highest)[])node.Ranges.Clone();
        if (master.Switches[at].Ladder < 0)
        {
            foreach (var item in model.Items.Where(i => i.Slot.Index == master.Switches[at].Slot))
            {
                if (item.Choices[node.Ranges[item.Index].Lowest] > 0)
                    return null;
                ranges[item.Index] = (0, 0);
            }
        }

        return With(node, at, 0, ranges);
    }

    private List<Node> BranchOnItem(Node node)
    {
        var (low, high) = (new int[model.Items.Count], new int[model.Items.Count]);
        var (mean, split) = (new double[low.Length], new double[low.Length]);
        Array.Fill(low, int.MaxValue);
        var weights = master.Weights;
        for (var c = 0; c < master.Columns.Count; c++)
        {
            if (weights[c] <= Small)
                continue;
            var column = master.Columns[c];
            for (var place = 0; place < column.Pupae.Length; place++)
            {
                var item = column.Block.Items[place];
                low[item.Index] = Math.Min(low[item.Index], column.Pupae[place]);
                high[item.Index] = Math.Max(high[item.Index], column.Pupae[place]);
                mean[item.Index] += weights[c] * column.Pupae[place];
                split[item.Index] += weights[c] * (1 - weights[c]) * item.Landed[Array.BinarySearch(item.Choices, column.Pupae[place])];
            }
        }

        var at = -1;
        for (var i = 0; i < low.Length; i++)
        {
            if (low[i] < high[i] && (at < 0 || split[i] > split[at] + 1e-12))
                at = i;
        }

        if (at < 0)
            return [];
        var choices = model.Items[at].Choices;
        var below = Array.FindLastIndex(choices, c => c <= mean[at] && c < high[at]);
        below = Math.Max(below, Array.BinarySearch(choices, low[at]));
        return [Ranged(node, at, node.Ranges[at].Lowest, below), Ranged(node, at, below + 1, node.Ranges[at].Highest)];
    }

    private static Node Ranged(Node node, int item, int lowest, int highest)
    {
        var ranges = ((int Lowest, int Highest)[])node.Ranges.Clone();
        ranges[item] = (lowest, highest);
        return new() { Bound = node.Bound, Depth = node.Depth + 1, Ranges = ranges, Switches = node.Switches };
    }
}

using Lepidary.Planning.Model;
using Lepidary.Planning.Solver;

namespace Lepidary.Planning.Search;

/// <summary>Bounds that a node of the search sets: on switches of slots and steps of ladders, and on items.</summary>
internal sealed class Node
{
    /// <summary>No order in this part is below this.</summary>
    public required double Bound { get; set; }

    /// <summary>Columns of the linear program that are switches, and their fixed value.</summary>
    public required IReadOnlyList<(int Switch, int Value)> Switches { get; init; }

    /// <summary>By item: lowest and highest place in its choices.</summary>
    public required (int Lowest, int Highest)[] Ranges { get; init; }

    /// <summary>Steps from the root.</summary>
    public int Depth { get; init; }
}

/// <summary>What a switch is.</summary>
/// <param name="Slot">Its delivery.</param>
/// <param name="Ladder">Its ladder, or -1 for the delivery as a whole.</param>
/// <param name="Step">Its step.</param>
internal readonly record struct Switch(int Slot, int Ladder, int Step);

/// <summary>
/// The linear program over complete choices of blocks: one column a choice, rows for everything that blocks share. Rows of
/// limits can be broken at a price, so that it always has a solution; a bound found with prices is a bound without.
/// </summary>
internal sealed class Master : IDisposable
{
    private const double Infinity = double.PositiveInfinity;

    private readonly PlanModel model;
    private readonly LinearProgram program;
    private readonly List<Row> rows = [];
    private readonly List<Column> columns = [];
    private readonly HashSet<int[]>[] known;
    private readonly int[] shortColumn;
    private readonly List<int> breaches = [];
    private readonly bool[][] planeIn;
    private readonly int firstChoice;
    private readonly double breachPrice;
    private readonly double[] switchCosts;
    private readonly List<(int Row, double Value)>[] switchEntries;
    private readonly bool[] lowRows;
    private bool onlyBreaches;

    private enum Kind
    {
        Block,
        Use,
        Pupae,
        Goods,
        Budget,
        Room,
        Plane,
        Steps,
    }

    // At: block, item, slot, room or group day; Plane: which face.
    private readonly record struct Row(Kind Kind, int At, int Plane = 0);

    public Master(PlanModel model, int seed, double breachPrice)
    {
        this.model = model;
        this.breachPrice = breachPrice;
        program = new(seed);
        known = [.. model.Blocks.Select(_ => new HashSet<int[]>(new ChoiceComparer()))];
        planeIn = [.. model.GroupDays.Select(g => new bool[g.Planes.Length])];
        shortColumn = new int[model.GroupDays.Count];

        var structure = new Structure(model);
        structure.Build();
        rows.AddRange(structure.Rows.Select(r => r.Row));
        Switches = structure.Switches;
        switchCosts = [.. structure.SwitchColumns.Select(c => c.Cost)];
        switchEntries = [.. structure.SwitchColumns.Select(c => c.Entries)];
        lowRows = [.. structure.Rows.Select(r => double.IsPositiveInfinity(r.Upper))];
        var rowLines = new SparseLines();
        foreach (var (_, lower, upper) in structure.Rows)
            rowLines.Begin(lower, upper);
        program.AddRows(rowLines);

        var lines = new SparseLines();
        foreach (var (cost, entries) in structure.SwitchColumns)
        {
            lines.Begin(0, 1, cost);
            foreach (var (row, value) in entries)
                lines.Add(row, value);
        }

        for (var i = 0; i < model.GroupDays.Count; i++)
        {
            shortColumn[i] = lines.Count;
            lines.Begin(0, Infinity, model.GroupDays[i].Worth);
        }

        for (var row = 0; row < structure.Rows.Count; row++)
        {
            var (what, lower, upper) = structure.Rows[row];
            if (what.Kind is Kind.Block or Kind.Use or Kind.Steps)
                continue;
            breaches.Add(lines.Count);
            lines.Begin(0, Infinity, breachPrice);
            lines.Add(row, double.IsInfinity(upper) ? 1 : -1);
        }

        firstChoice = lines.Count;
        program.AddColumns(lines);
        for (var i = 0; i < model.GroupDays.Count; i++)
            AddWorstPlane(i, 0, 0);
    }

    /// <summary>The switches, in the order of the first columns.</summary>
    public IReadOnlyList<Switch> Switches { get; }

    /// <summary>The choices so far.</summary>
    public IReadOnlyList<Column> Columns => columns;

    /// <summary>Objective of the last solve.</summary>
    public double Objective => program.Objective + (onlyBreaches ? 0 : model.Constant);

    /// <summary>Weight of each choice at the last solve.</summary>
    public ReadOnlySpan<double> Weights => program.Columns[firstChoice..];

    /// <summary>Reduced cost of each choice at the last solve.</summary>
    public ReadOnlySpan<double> ReducedCosts => program.ReducedCosts[firstChoice..];

    /// <summary>Value of each switch at the last solve.</summary>
    public ReadOnlySpan<double> SwitchValues => program.Columns[..Switches.Count];

    /// <summary>How far limits are broken at the last solve, all together.</summary>
    public double Breach
    {
        get
        {
            var sum = 0.0;
            foreach (var column in breaches)
                sum += program.Columns[column];
            return sum;
        }
    }

    /// <summary>Counts only broken limits, or real costs again.</summary>
    public void CountOnlyBreaches(bool only)
    {
        onlyBreaches = only;
        for (var s = 0; s < Switches.Count; s++)
            program.Cost(s, only ? 0 : switchCosts[s]);
        for (var i = 0; i < shortColumn.Length; i++)
            program.Cost(shortColumn[i], only ? 0 : model.GroupDays[i].Worth);
        foreach (var column in breaches)
            program.Cost(column, only ? 1 : breachPrice);
        for (var c = 0; c < columns.Count; c++)
            program.Cost(firstChoice + c, only ? 0 : columns[c].Cost);
    }

    /// <summary>Lets limits be broken at a price, or not at all.</summary>
    public void LetBreach(bool let)
    {
        foreach (var column in breaches)
            program.Bound(column, 0, let ? Infinity : 0);
    }

    /// <summary>Adds choices that are not there yet; true when any was new.</summary>
    public bool Add(IEnumerable<(Block Block, int[] Pupae)> choices)
    {
        var lines = new SparseLines();
        foreach (var (block, pupae) in choices)
        {
            if (!known[block.Index].Add(pupae))
                continue;
            var column = new Column(block, pupae, model.GroupDays);
            columns.Add(column);
            lines.Begin(0, Infinity, onlyBreaches ? 0 : column.Cost);
            Entries(column, lines);
        }

        program.AddColumns(lines);
        return lines.Count > 0;
    }

    /// <summary>Sets the bounds of a node.</summary>
    public void Enter(Node node)
    {
        var (lower, upper) = (new double[Switches.Count], new double[Switches.Count]);
        Array.Fill(upper, 1);
        foreach (var (at, value) in node.Switches)
            (lower[at], upper[at]) = (value, value);
        program.Bound(0, lower, upper);
        var (least, most) = (new double[columns.Count], new double[columns.Count]);
        for (var c = 0; c < columns.Count; c++)
            most[c] = Within(columns[c], node) ? Infinity : 0;
        program.Bound(firstChoice, least, most);
    }

    /// <summary>Leaves a block no choice but this one, until a node is entered.</summary>
    public void FixBlock(Column only)
    {
        for (var c = 0; c < columns.Count; c++)
        {
            if (columns[c].Block == only.Block && columns[c] != only)
                program.Bound(firstChoice + c, 0, 0);
        }
    }

    /// <summary>True when a choice keeps a node's ranges.</summary>
    public static bool Within(Column column, Node node)
    {
        for (var place = 0; place < column.Pupae.Length; place++)
        {
            var item = column.Block.Items[place];
            var (lowest, highest) = node.Ranges[item.Index];
            if (column.Pupae[place] < item.Choices[lowest] || column.Pupae[place] > item.Choices[highest])
                return false;
        }

        return true;
    }

    /// <summary>Solves, adding faces of shortages that the solution cuts off, until none does.</summary>
    public SolveEnd Solve(double seconds, CancellationToken cancel)
    {
        while (true)
        {
            var end = program.SolveLinear(seconds, cancel);
            if (end != SolveEnd.Optimal || !AddCutOffPlanes())
                return end;
        }
    }

    /// <summary>Prices at the last solve.</summary>
    public Prices Prices()
    {
        var prices = new Prices(model) { Real = onlyBreaches ? 0 : 1 };
        var duals = program.RowDuals;
        for (var row = 0; row < rows.Count; row++)
        {
            var dual = duals[row];
            if (dual == 0)
                continue;
            var (kind, at, plane) = rows[row];
            switch (kind)
            {
                case Kind.Block:
                    prices.Block[at] = dual;
                    break;
                case Kind.Use:
                    prices.Use[at] = dual;
                    break;
                case Kind.Pupae:
                    foreach (var item in model.Items)
                    {
                        if (item.Slot.Index == at)
                            prices.Pupa[item.Index] += dual;
                    }

                    break;
                case Kind.Goods:
                    prices.Goods[at] += dual;
                    break;
                case Kind.Budget:
                    prices.Budget = dual;
                    break;
                case Kind.Room:
                    foreach (var item in model.Items)
                        prices.Pupa[item.Index] += dual * model.Rooms[at].Takes(item);
                    break;
                case Kind.Plane:
                    prices.Mean[at] += dual * model.GroupDays[at].Planes[plane].MeanFactor;
                    prices.Variance[at] += dual * model.GroupDays[at].Planes[plane].VarianceFactor;
                    break;
                default:
                    break;
            }
        }

        return prices;
    }

    /// <summary>Adds the faces that the shortages of an order touch; true when any was new.</summary>
    public bool AddPlanesAt(IReadOnlyList<Column> order)
    {
        var (mean, variance) = (new double[model.GroupDays.Count], new double[model.GroupDays.Count]);
        foreach (var column in order)
        {
            for (var i = 0; i < column.Mean.Length; i++)
            {
                mean[column.Block.GroupDays[i]] += column.Mean[i];
                variance[column.Block.GroupDays[i]] += column.Variance[i];
            }
        }

        var any = false;
        for (var i = 0; i < mean.Length; i++)
            any |= AddWorstPlane(i, mean[i], variance[i]);
        return any;
    }

    /// <summary>Solves over whole choices, of these columns only.</summary>
    /// <param name="node">Bounds to keep.</param>
    /// <param name="among">The columns.</param>
    /// <param name="gap">Relative gap at which to stop.</param>
    /// <param name="seconds">Time limit.</param>
    /// <param name="nodes">Limit of nodes, or null.</param>
    /// <param name="cutoff">Only orders below this are of interest, or infinity.</param>
    /// <param name="seed">Seed of the solver.</param>
    /// <param name="start">An order to begin from, of these columns, or null.</param>
    /// <param name="cancel">Stops the solve.</param>
    public (SolveEnd End, double Bound, int[][]? Choice) SolveWhole(
        Node node, IReadOnlyList<Column> among, double gap, double seconds, int? nodes, double cutoff, int seed, Column[]? start,
        CancellationToken cancel)
    {
        using var whole = new Master(model, seed, breachPrice);
        foreach (var (row, taken) in planeIn.Select((t, i) => (i, t)))
        {
            for (var p = 0; p < taken.Length; p++)
            {
                if (taken[p])
                    whole.AddPlane(row, p);
            }
        }

        whole.Add(among.Select(c => (c.Block, c.Pupae)));
        whole.Enter(node);
        foreach (var column in breaches)
            whole.program.Bound(column, 0, 0);
        var giveUp = double.IsInfinity(cutoff) ? -1 : whole.AddGiveUp(node, cutoff - model.Constant);
        whole.program.MakeWhole(0, Switches.Count);
        whole.program.MakeWhole(firstChoice, whole.program.ColumnCount - firstChoice);
        if (giveUp >= 0)
            whole.program.StartFrom(whole.GivenUp(node, giveUp));
        else if (start is not null)
            whole.StartFrom(start);
        var end = whole.program.SolveWhole(gap, seconds, nodes, cancel);
        int[][]? choice = null;
        if (whole.program.HasSolution && (giveUp < 0 || whole.program.Columns[giveUp] < 0.5))
        {
            choice = new int[model.Blocks.Count][];
            for (var c = 0; c < whole.columns.Count; c++)
            {
                if (whole.Weights[c] > 0.5)
                    choice[whole.columns[c].Block.Index] = whole.columns[c].Pupae;
            }

            if (choice.Any(c => c is null))
                choice = null;
        }

        return (end, whole.program.WholeBound + model.Constant, choice);
    }

    // A column that stands for every order at or above the cutoff: taken alone it keeps every row and costs the cutoff. With it as the
    // first solution the solver looks only below. (The solver's own cutoff option cuts off too much in whole-numbered programs.)
    private int AddGiveUp(Node node, double cutoff)
    {
        var at = program.ColumnCount;
        var forced = node.Switches.Where(s => s.Value == 1).Select(s => s.Switch).ToHashSet();
        var lines = new SparseLines();
        lines.Begin(0, 1, cutoff - forced.Sum(s => switchCosts[s]));
        for (var row = 0; row < rows.Count; row++)
        {
            var (kind, of, plane) = rows[row];
            if (kind == Kind.Block)
                lines.Add(row, 1);
            else if (kind == Kind.Plane)
                lines.Add(row, model.GroupDays[of].Planes[plane].At(model.GroupDays[of].OwnMean, model.GroupDays[of].OwnVariance));
            else if (kind is Kind.Pupae or Kind.Goods && lowRows[row])
                lines.Add(row, -forced.Sum(s => switchEntries[s].Where(e => e.Row == row).Sum(e => e.Value)));
        }

        program.AddColumns(lines);
        return at;
    }

    private double[] GivenUp(Node node, int giveUp)
    {
        var values = new double[program.ColumnCount];
        values[giveUp] = 1;
        foreach (var (at, value) in node.Switches)
            values[at] = value;
        return values;
    }

    private void StartFrom(Column[] order)
    {
        var values = new double[program.ColumnCount];
        var (pupae, goods) = (new double[model.Slots.Count], new double[model.Slots.Count]);
        var (mean, variance) = (new double[model.GroupDays.Count], new double[model.GroupDays.Count]);
        foreach (var column in order)
        {
            values[firstChoice + columns.FindIndex(c => c.Block == column.Block && c.Pupae.AsSpan().SequenceEqual(column.Pupae))] = 1;
            for (var i = 0; i < column.Mean.Length; i++)
            {
                mean[column.Block.GroupDays[i]] += column.Mean[i];
                variance[column.Block.GroupDays[i]] += column.Variance[i];
            }

            for (var place = 0; place < column.Pupae.Length; place++)
            {
                var slot = column.Block.Items[place].Slot.Index;
                pupae[slot] += column.Pupae[place];
                goods[slot] += column.GoodsAt(place);
            }
        }

        for (var i = 0; i < shortColumn.Length; i++)
            values[shortColumn[i]] = model.GroupDays[i].Short(mean[i], variance[i]);
        for (var s = 0; s < Switches.Count; s++)
        {
            var (slot, ladder, step) = Switches[s];
            if (pupae[slot] > 0)
                values[s] = ladder < 0 || model.Slots[slot].Ladders[ladder].StepAt(model.Slots[slot].Ladders[ladder].ByGoods ? goods[slot] : pupae[slot]) == step ? 1 : 0;
        }

        program.StartFrom(values);
    }

    /// <summary>
    /// Writes the whole problem, every choice of every block and every face of every shortage, for other solvers. Only for
    /// small problems. The objective leaves out <see cref="PlanModel.Constant"/>.
    /// </summary>
    /// <param name="model">The problem.</param>
    /// <param name="file">Ends in <c>.mps</c>.</param>
    public static void WriteWhole(PlanModel model, string file)
    {
        using var whole = new Master(model, 1, 1);
        var free = new Prices(model);
        var ranges = model.Items.Select(i => (0, i.Choices.Length - 1)).ToArray();
        const int mostChoices = 100_000;
        foreach (var block in model.Blocks)
        {
            var every = new Pricer(model, block, free, ranges).All(double.MaxValue, mostChoices)
                ?? throw new InvalidOperationException($"Too many choices to write them all: {block.Taxon?.Name}.");
            whole.Add(every.Select(e => (block, e.Pupae)));
        }

        for (var i = 0; i < model.GroupDays.Count; i++)
        {
            for (var p = 0; p < model.GroupDays[i].Planes.Length; p++)
                whole.AddPlane(i, p);
        }

        foreach (var column in whole.breaches)
            whole.program.Bound(column, 0, 0);
        whole.program.MakeWhole(0, whole.Switches.Count);
        whole.program.MakeWhole(whole.firstChoice, whole.columns.Count);
        whole.program.Write(file);
    }

    /// <inheritdoc/>
    public void Dispose() => program.Dispose();

    private void Entries(Column column, SparseLines lines)
    {
        var groupPlace = new Dictionary<int, int>();
        for (var i = 0; i < column.Block.GroupDays.Length; i++)
            groupPlace[column.Block.GroupDays[i]] = i;
        for (var row = 0; row < rows.Count; row++)
            lines.Add(row, Coefficient(rows[row], column, groupPlace));
    }

    private double Coefficient(Row row, Column column, Dictionary<int, int> groupPlace)
    {
        var sum = 0.0;
        switch (row.Kind)
        {
            case Kind.Block:
                return column.Block.Index == row.At ? 1 : 0;
            case Kind.Use:
                var item = model.Items[row.At];
                return item.Block == column.Block.Index && column.Pupae[item.PlaceInBlock] > 0 ? 1 : 0;
            case Kind.Budget:
                return column.Landed;
            case Kind.Plane:
                if (!groupPlace.TryGetValue(row.At, out var place))
                    return 0;
                var plane = model.GroupDays[row.At].Planes[row.Plane];
                return (plane.MeanFactor * column.Mean[place]) - (plane.VarianceFactor * column.Variance[place]);
            case Kind.Steps:
                return 0;
            default:
                for (var p = 0; p < column.Pupae.Length; p++)
                {
                    var n = column.Pupae[p];
                    if (n == 0)
                        continue;
                    var of = column.Block.Items[p];
                    sum += row.Kind switch
                    {
                        Kind.Pupae => of.Slot.Index == row.At ? n : 0,
                        Kind.Goods => of.Slot.Index == row.At ? (double)Item.GoodsOf(of.Offer, n) : 0,
                        _ => n * model.Rooms[row.At].Takes(of),
                    };
                }

                return sum;
        }
    }

    private bool AddCutOffPlanes()
    {
        const double tolerance = 1e-7;
        var (mean, variance) = (new double[model.GroupDays.Count], new double[model.GroupDays.Count]);
        var weights = Weights;
        for (var c = 0; c < columns.Count; c++)
        {
            if (weights[c] <= 0)
                continue;
            var column = columns[c];
            for (var i = 0; i < column.Mean.Length; i++)
            {
                mean[column.Block.GroupDays[i]] += weights[c] * column.Mean[i];
                variance[column.Block.GroupDays[i]] += weights[c] * column.Variance[i];
            }
        }

        var any = false;
        for (var i = 0; i < mean.Length; i++)
        {
            if (program.Columns[shortColumn[i]] < model.GroupDays[i].Short(mean[i], variance[i]) - tolerance)
                any |= AddWorstPlane(i, mean[i], variance[i]);
        }

        return any;
    }

    private bool AddWorstPlane(int groupDay, double mean, double variance)
    {
        var day = model.GroupDays[groupDay];
        var (worst, height) = (-1, 0.0);
        for (var p = 0; p < day.Planes.Length; p++)
        {
            var at = day.Planes[p].At(day.OwnMean + mean, day.OwnVariance + variance);
            if (at > height)
                (worst, height) = (p, at);
        }

        return worst >= 0 && AddPlane(groupDay, worst);
    }

    private bool AddPlane(int groupDay, int plane)
    {
        if (planeIn[groupDay][plane])
            return false;
        planeIn[groupDay][plane] = true;
        var day = model.GroupDays[groupDay];
        var lines = new SparseLines();
        lines.Begin(day.Planes[plane].At(day.OwnMean, day.OwnVariance), Infinity);
        lines.Add(shortColumn[groupDay], 1);
        for (var c = 0; c < columns.Count; c++)
        {
            var place = Array.BinarySearch(columns[c].Block.GroupDays, groupDay);
            if (place >= 0)
            {
                lines.Add(
                    firstChoice + c,
                    (day.Planes[plane].MeanFactor * columns[c].Mean[place]) - (day.Planes[plane].VarianceFactor * columns[c].Variance[place]));
            }
        }

        rows.Add(new(Kind.Plane, groupDay, plane));
        program.AddRows(lines);
        return true;
    }

    /// <summary>The rows and switches that do not change during the search.</summary>
    private sealed class Structure(PlanModel model)
    {
        public List<(Row Row, double Lower, double Upper)> Rows { get; } = [];

        public List<Switch> Switches { get; } = [];

        public List<(double Cost, List<(int Row, double Value)> Entries)> SwitchColumns { get; } = [];

        public void Build()
        {
            foreach (var block in model.Blocks)
                Rows.Add((new(Kind.Block, block.Index), 1, 1));
            var budget = -1;
            if (!double.IsInfinity(model.Budget))
            {
                budget = Rows.Count;
                Rows.Add((new(Kind.Budget, 0), double.NegativeInfinity, model.Budget));
            }

            for (var i = 0; i < model.Rooms.Count; i++)
                Rows.Add((new(Kind.Room, i), double.NegativeInfinity, model.Rooms[i].Room));
            foreach (var slot in model.Slots.Where(s => !s.IsFree))
                Of(slot, budget);
        }

        private void Of(Slot slot, int budget)
        {
            var items = model.Items.Where(i => i.Slot == slot).ToList();
            var mostPupae = (double)items.Sum(i => i.Choices[^1]);
            var mostGoods = items.Sum(i => i.Goods.Max());
            foreach (var room in model.Rooms.Where(r => r.OfCages && r.Day == slot.ArrivalDay))
                mostPupae = Math.Min(mostPupae, Math.Floor(room.Room + PlanModel.Tolerance));
            if (budget >= 0)
                mostGoods = Math.Min(mostGoods, model.Budget / slot.GoodsFactor);

            var opened = AddSwitch(new(slot.Index, -1, 0), slot.OrderCharge, slot, budget);
            foreach (var item in items)
            {
                SwitchColumns[opened].Entries.Add((Rows.Count, -1));
                Rows.Add((new(Kind.Use, item.Index), double.NegativeInfinity, 0));
            }

            if (slot.Supplier.MinimumPupae > 1)
            {
                SwitchColumns[opened].Entries.Add((Rows.Count, -slot.Supplier.MinimumPupae));
                Rows.Add((new(Kind.Pupae, slot.Index), 0, Infinity));
            }

            if (slot.Supplier.MinimumGoods > 0)
            {
                SwitchColumns[opened].Entries.Add((Rows.Count, -(double)slot.Supplier.MinimumGoods));
                Rows.Add((new(Kind.Goods, slot.Index), 0, Infinity));
            }

            for (var l = 0; l < slot.Ladders.Count; l++)
            {
                var ladder = slot.Ladders[l];
                var kind = ladder.ByGoods ? Kind.Goods : Kind.Pupae;
                var most = ladder.ByGoods ? mostGoods : mostPupae;
                var least = ladder.ByGoods ? (double)slot.Supplier.MinimumGoods : Math.Max(1, slot.Supplier.MinimumPupae);
                var (sum, low, high) = (Rows.Count, Rows.Count + 1, Rows.Count + 2);
                Rows.Add((new(Kind.Steps, slot.Index), 0, 0));
                Rows.Add((new(kind, slot.Index), 0, Infinity));
                Rows.Add((new(kind, slot.Index), double.NegativeInfinity, 0));
                SwitchColumns[opened].Entries.Add((sum, -1));
                for (var step = 0; step < ladder.From.Length; step++)
                {
                    var from = Math.Max(least, ladder.From[step]);
                    var top = ladder.Top(step, most);
                    if (ladder.From[step] > most || top < from)
                        continue;
                    var at = AddSwitch(new(slot.Index, l, step), ladder.Cost[step], slot, budget);
                    SwitchColumns[at].Entries.AddRange([(sum, 1), (low, -from), (high, -top)]);
                }
            }
        }

        private int AddSwitch(Switch what, double landed, Slot slot, int budget)
        {
            Switches.Add(what);
            SwitchColumns.Add((landed * slot.Weight, budget >= 0 ? [(budget, landed)] : []));
            return Switches.Count - 1;
        }
    }
}

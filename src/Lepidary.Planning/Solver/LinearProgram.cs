using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Lepidary.Planning.Solver;

/// <summary>How a solve ended.</summary>
internal enum SolveEnd
{
    /// <summary>Optimal within the tolerance asked for.</summary>
    Optimal,

    /// <summary>Proven to have no solution.</summary>
    Infeasible,

    /// <summary>Stopped by a limit or by the caller; there may be a solution.</summary>
    Stopped,

    /// <summary>Anything else: numerical trouble, unbounded.</summary>
    Failed,
}

/// <summary>Rows or columns to add, in compressed form.</summary>
internal sealed class SparseLines
{
    private readonly List<int> starts = [];
    private readonly List<int> index = [];
    private readonly List<double> value = [];
    private readonly List<double> lower = [];
    private readonly List<double> upper = [];
    private readonly List<double> costs = [];

    /// <summary>Lines begun.</summary>
    public int Count => starts.Count;

    internal ReadOnlySpan<int> Starts => CollectionsMarshal.AsSpan(starts);

    internal ReadOnlySpan<int> Index => CollectionsMarshal.AsSpan(index);

    internal ReadOnlySpan<double> Value => CollectionsMarshal.AsSpan(value);

    internal ReadOnlySpan<double> Lower => CollectionsMarshal.AsSpan(lower);

    internal ReadOnlySpan<double> Upper => CollectionsMarshal.AsSpan(upper);

    internal ReadOnlySpan<double> Costs => CollectionsMarshal.AsSpan(costs);

    /// <summary>Begins a line; entries follow.</summary>
    public void Begin(double lowest, double highest, double cost = 0)
    {
        starts.Add(index.Count);
        lower.Add(lowest);
        upper.Add(highest);
        costs.Add(cost);
    }

    /// <summary>An entry of the line begun last.</summary>
    public void Add(int at, double coefficient)
    {
        if (coefficient == 0)
            return;
        index.Add(at);
        value.Add(coefficient);
    }
}

/// <summary>
/// A minimisation that is kept warm while rows and columns are added: linear, or with whole-numbered columns. One thread.
/// </summary>
internal sealed unsafe class LinearProgram : IDisposable
{
    private const int InterruptSimplex = 1;
    private const int InterruptMip = 6;
    private const int StatusEmpty = 6;
    private const int StatusOptimal = 7;
    private const int StatusInfeasible = 8;
    private const int StatusBoundReached = 11;
    private const int StatusInterrupt = 17;

    private readonly nint highs;
    private GCHandle stop;
    private double[] columns = [];
    private double[] rows = [];
    private double[] rowDuals = [];
    private double[] columnDuals = [];

    /// <summary>An empty minimisation.</summary>
    /// <param name="seed">Seed of the solver's own choices.</param>
    public LinearProgram(int seed)
    {
        highs = HighsLibrary.Create();
        if (HighsLibrary.GetSizeofHighsInt(highs) != sizeof(int))
            throw new InvalidOperationException("The HiGHS library was built with another integer size than this door expects.");
        Ok(HighsLibrary.SetBool(highs, "output_flag", 0));
        Ok(HighsLibrary.SetInt(highs, "threads", 1));
        Ok(HighsLibrary.SetString(highs, "parallel", "off"));
        Ok(HighsLibrary.SetInt(highs, "random_seed", seed));
    }

    /// <summary>Columns so far.</summary>
    public int ColumnCount { get; private set; }

    /// <summary>Rows so far.</summary>
    public int RowCount { get; private set; }

    /// <summary>Values of the columns at the last solve.</summary>
    public ReadOnlySpan<double> Columns => columns.AsSpan(0, ColumnCount);

    /// <summary>Duals of the rows at the last linear solve: change of the objective for one more of the right-hand side.</summary>
    public ReadOnlySpan<double> RowDuals => rowDuals.AsSpan(0, RowCount);

    /// <summary>Reduced costs at the last linear solve.</summary>
    public ReadOnlySpan<double> ReducedCosts => columnDuals.AsSpan(0, ColumnCount);

    /// <summary>Objective at the last solve.</summary>
    public double Objective { get; private set; }

    /// <summary>No whole-numbered solution is below this, after <see cref="SolveWhole"/>.</summary>
    public double WholeBound { get; private set; }

    /// <summary>True when the last solve left a solution.</summary>
    public bool HasSolution { get; private set; }

    /// <summary>Adds columns; their entries name rows.</summary>
    public void AddColumns(SparseLines lines)
    {
        if (lines.Count == 0)
            return;
        fixed (double* cost = lines.Costs, lower = lines.Lower, upper = lines.Upper, value = lines.Value)
        fixed (int* starts = lines.Starts, index = lines.Index)
            Ok(HighsLibrary.AddCols(highs, lines.Count, cost, lower, upper, lines.Index.Length, starts, index, value));
        ColumnCount += lines.Count;
        // What was never solved has values too, all 0.
        Grow(ref columns, ColumnCount);
        Grow(ref columnDuals, ColumnCount);
    }

    /// <summary>Adds rows; their entries name columns.</summary>
    public void AddRows(SparseLines lines)
    {
        if (lines.Count == 0)
            return;
        fixed (double* lower = lines.Lower, upper = lines.Upper, value = lines.Value)
        fixed (int* starts = lines.Starts, index = lines.Index)
            Ok(HighsLibrary.AddRows(highs, lines.Count, lower, upper, lines.Index.Length, starts, index, value));
        RowCount += lines.Count;
        Grow(ref rows, RowCount);
        Grow(ref rowDuals, RowCount);
    }

    /// <summary>Changes the bounds of a column.</summary>
    public void Bound(int column, double lower, double upper) =>
        Ok(HighsLibrary.ChangeColBounds(highs, column, lower, upper));

    /// <summary>Changes the bounds of a run of columns.</summary>
    public void Bound(int from, ReadOnlySpan<double> lower, ReadOnlySpan<double> upper)
    {
        if (lower.IsEmpty)
            return;
        fixed (double* l = lower, u = upper)
            Ok(HighsLibrary.ChangeColsBounds(highs, from, from + lower.Length - 1, l, u));
    }

    /// <summary>Changes the cost of a column.</summary>
    public void Cost(int column, double cost) => Ok(HighsLibrary.ChangeColCost(highs, column, cost));

    /// <summary>Changes the bounds of a row.</summary>
    public void BoundRow(int row, double lower, double upper) =>
        Ok(HighsLibrary.ChangeRowBounds(highs, row, lower, upper));

    /// <summary>Marks columns that must be whole; to be called before the first solve of a whole-numbered program.</summary>
    public void MakeWhole(int from, int count)
    {
        var kinds = new int[count];
        Array.Fill(kinds, 1);
        fixed (int* k = kinds)
            Ok(HighsLibrary.ChangeIntegrality(highs, from, from + count - 1, k));
    }

    /// <summary>Solves the linear program from where the last solve ended.</summary>
    public SolveEnd SolveLinear(double seconds, CancellationToken cancel)
    {
        Limit(seconds);
        var end = Run(InterruptSimplex, cancel);
        if (end != SolveEnd.Failed)
            return end;
        // Numerical trouble on the way from the last basis: start afresh.
        Ok(HighsLibrary.ClearSolver(highs));
        return Run(InterruptSimplex, cancel);
    }

    /// <summary>Solves with whole-numbered columns.</summary>
    /// <param name="gap">Relative gap at which to stop.</param>
    /// <param name="seconds">Time limit.</param>
    /// <param name="nodes">Limit of nodes, or null.</param>
    /// <param name="cancel">Stops the solve; the best solution is kept.</param>
    public SolveEnd SolveWhole(double gap, double seconds, int? nodes, CancellationToken cancel)
    {
        Limit(seconds);
        Ok(HighsLibrary.SetDouble(highs, "mip_rel_gap", gap));
        Ok(HighsLibrary.SetDouble(highs, "mip_abs_gap", 1e-9));
        Ok(HighsLibrary.SetInt(highs, "mip_max_nodes", nodes ?? int.MaxValue));
        var end = Run(InterruptMip, cancel);
        Ok(HighsLibrary.GetDoubleInfo(highs, "mip_dual_bound", out var bound));
        WholeBound = end == SolveEnd.Infeasible ? double.PositiveInfinity : bound;
        return end;
    }

    /// <summary>Hands a first solution to the next whole-numbered solve.</summary>
    public void StartFrom(ReadOnlySpan<double> solution)
    {
        fixed (double* c = solution)
            Ok(HighsLibrary.SetSolution(highs, c, null, null, null));
    }

    /// <summary>Solves linear programs by an interior point, without a corner at the end: for a large one of which only the objective is asked.</summary>
    public void UseInteriorPoint()
    {
        Ok(HighsLibrary.SetString(highs, "solver", "ipm"));
        Ok(HighsLibrary.SetString(highs, "run_crossover", "off"));
        Ok(HighsLibrary.SetDouble(highs, "ipm_optimality_tolerance", 1e-6));
    }

    /// <summary>Writes the program for other solvers.</summary>
    /// <param name="file">Ends in <c>.mps</c>.</param>
    public void Write(string file) => Ok(HighsLibrary.WriteModel(highs, file));

    /// <inheritdoc/>
    public void Dispose()
    {
        HighsLibrary.Destroy(highs);
        if (stop.IsAllocated)
            stop.Free();
    }

    // The solver's clock runs over all solves of one instance.
    private void Limit(double seconds)
    {
        Ok(HighsLibrary.SetDouble(highs, "time_limit", HighsLibrary.GetRunTime(highs) + Math.Max(0, seconds)));
    }

    private SolveEnd Run(int interrupt, CancellationToken cancel)
    {
        if (cancel.CanBeCanceled)
        {
            if (stop.IsAllocated)
                stop.Free();
            stop = GCHandle.Alloc(cancel);
            Ok(HighsLibrary.SetCallback(highs, &AskedToStop, GCHandle.ToIntPtr(stop)));
            Ok(HighsLibrary.StartCallback(highs, interrupt));
        }

        // A warning is a limit that was met; the status says which.
        Ok(HighsLibrary.Run(highs));
        var status = HighsLibrary.GetModelStatus(highs);
        Grow(ref columns, ColumnCount);
        Grow(ref columnDuals, ColumnCount);
        Grow(ref rows, RowCount);
        Grow(ref rowDuals, RowCount);
        Ok(HighsLibrary.GetIntInfo(highs, "primal_solution_status", out var primal));
        HasSolution = primal == 2;
        if (HasSolution)
        {
            fixed (double* c = columns, cd = columnDuals, r = rows, rd = rowDuals)
                Ok(HighsLibrary.GetSolution(highs, c, cd, r, rd));
            Ok(HighsLibrary.GetDoubleInfo(highs, "objective_function_value", out var objective));
            Objective = objective;
        }

        return status switch
        {
            StatusEmpty or StatusOptimal => SolveEnd.Optimal,
            StatusInfeasible => SolveEnd.Infeasible,
            >= StatusBoundReached and <= StatusInterrupt => SolveEnd.Stopped,
            _ => SolveEnd.Failed,
        };
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void AskedToStop(int type, nint message, nint dataOut, int* dataIn, nint data)
    {
        if (dataIn != null && GCHandle.FromIntPtr(data).Target is CancellationToken { IsCancellationRequested: true })
            *dataIn = 1;
    }

    private static void Grow(ref double[] array, int size)
    {
        if (array.Length < size)
            Array.Resize(ref array, Math.Max(size, array.Length * 2));
    }

    private static void Ok(int status)
    {
        if (status < 0)
            throw new InvalidOperationException("HiGHS refused a call; the model handed to it is malformed.");
    }
}

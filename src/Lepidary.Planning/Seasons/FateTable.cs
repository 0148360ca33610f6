using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Planning.Seasons;

/// <summary>
/// Draws what becomes of pupae: on which day since arrival each emerges, if at all, and on how many days it then flies. One number for both together, by one
/// alias table (Walker 1977) over all pairs of days that can be.
/// </summary>
/// <remarks>
/// A pupa takes one number of 32 bits whatever becomes of it, so the first n pupae of a stream are the same whether n or more are bought. The whole part of the number
/// times cells through rate is a cell, the 32 bits behind the point choose between the cell's two fates, and what lies beyond the last cell never emerges. A number stands for
/// 2^-32, so the chance of a cell is met to within that, a table of a thousand cells to within a millionth part of each.
/// </remarks>
public sealed class FateTable
{
    private const double Cut = 1e-10;
    private const int MostLife = 1000;
    private const double Span32 = 4294967296.0;
    private const int Chunk = 128;

    // One more than there are: what never emerges begins and ceases to fly on one day.
    private readonly Cell[] cells;

    /// <summary>Lays the table.</summary>
    /// <param name="timing">Day of emergence, given that it emerges.</param>
    /// <param name="survival">Life on the wing.</param>
    public FateTable(EmergenceTiming timing, AdultSurvival survival)
    {
        ArgumentNullException.ThrowIfNull(timing);
        ArgumentNullException.ThrowIfNull(survival);
        var lives = Lives(survival, 0);
        cells = Cells(timing.Chances.ToArray(), lives);
        Reach = timing.LastDay + lives.Length + 1;
    }

    private FateTable(double[] lives)
    {
        cells = Cells([1], lives);
        Reach = lives.Length + 1;
    }

    /// <summary>Adults that already fly and are of an age, seen on day 0; draw them with a rate of 1.</summary>
    /// <param name="survival">Life on the wing.</param>
    /// <param name="daysOnWing">Age in whole days.</param>
    public static FateTable OfFlying(AdultSurvival survival, int daysOnWing)
    {
        ArgumentNullException.ThrowIfNull(survival);
        return new(Lives(survival, daysOnWing));
    }

    /// <summary>Days from arrival after which nothing of a lot can change.</summary>
    public int Reach { get; }

    // Of 2^32 parts of a cell: how many are its own fate's, and the two fates: the day on which it begins to fly in the low half, that on which it has ceased in the high.
    private readonly record struct Cell(uint Own, uint Fate, uint Other);

    /// <summary>Chance of each fate that the cells add up to, for whoever emerges at all: what a draw is held against.</summary>
    internal Dictionary<Fate, double> Chances()
    {
        var chances = new Dictionary<Fate, double>();
        foreach (var cell in cells[..^1])
        {
            foreach (var (code, parts) in new[] { (cell.Fate, cell.Own / Span32), (cell.Other, 1 - (cell.Own / Span32)) })
            {
                var fate = FateOf(code);
                chances[fate] = chances.GetValueOrDefault(fate) + (parts / (cells.Length - 1));
            }
        }

        return chances;
    }

    /// <summary>Draws a lot and adds it up by day.</summary>
    /// <param name="random">The stream.</param>
    /// <param name="pupae">At least 0.</param>
    /// <param name="rate">The lot's own emergence rate, 0 … 1.</param>
    /// <param name="flyingChange">By day since arrival: one more for each that begins to fly, one fewer for each that has ceased to; at least <see cref="Reach"/> long.</param>
    /// <returns>How many emerged.</returns>
    public int Add(SeasonRandom random, int pupae, double rate, Span<int> flyingChange)
    {
        ArgumentNullException.ThrowIfNull(random);
        ArgumentOutOfRangeException.ThrowIfLessThan(flyingChange.Length, Reach);
        var scale = Scale(rate);
        var most = (uint)cells.Length - 1;
        if (rate <= 0)
        {
            // The stream moves on all the same.
            for (; pupae > 0; pupae--)
                random.Next();
            return 0;
        }

        var emerged = 0;
        ref var change = ref MemoryMarshal.GetReference(flyingChange);
        ref var table = ref MemoryMarshal.GetArrayDataReference(cells);
        while (pupae > 0)
        {
            var here = Math.Min(pupae, Chunk);
            pupae -= here;
            foreach (var number in random.Take(here))
            {
                // No branch: which of the cases it is nobody can foresee.
                var at = Math.BigMul((ulong)number << 32, scale, out _);
                var cell = Math.Min((uint)(at >> 32), most);
                ref readonly var found = ref Unsafe.Add(ref table, cell);
                var code = (uint)at < found.Own ? found.Fate : found.Other;
                Unsafe.Add(ref change, code & 0xFFFF)++;
                Unsafe.Add(ref change, code >> 16)--;
                emerged += cell < most ? 1 : 0;
            }
        }

        return emerged;
    }

    /// <summary>Draws a lot pupa by pupa, with the same numbers and so the same fates as <see cref="Add"/>.</summary>
    /// <param name="random">The stream.</param>
    /// <param name="rate">The lot's own emergence rate, 0 … 1.</param>
    /// <param name="fates">One for each pupa.</param>
    public void Draw(SeasonRandom random, double rate, Span<Fate> fates)
    {
        ArgumentNullException.ThrowIfNull(random);
        var scale = Scale(rate);
        foreach (ref var fate in fates)
            fate = Of(random.Next(), rate, scale);
    }

    /// <summary>The fate that a number stands for.</summary>
    internal Fate FateOf(uint number, double rate) => Of(number, rate, Scale(rate));

    private Fate Of(uint number, double rate, ulong scale)
    {
        var at = Math.BigMul((ulong)number << 32, scale, out _);
        var cell = (uint)(at >> 32);
        return rate <= 0 || cell >= cells.Length - 1 ? Fate.Never : FateOf((uint)at < cells[cell].Own ? cells[cell].Fate : cells[cell].Other);
    }

    // Cells through rate, times 2^32.
    private ulong Scale(double rate)
    {
        var scale = (cells.Length - 1) / Math.Max(rate, double.Epsilon) * Span32;
        return rate >= 1 ? (ulong)(cells.Length - 1) << 32 : scale >= ulong.MaxValue ? ulong.MaxValue : (ulong)scale;
    }

    private static Fate FateOf(uint code) => new((int)(code & 0xFFFF), (int)(code >> 16) - (int)(code & 0xFFFF));

    // By place i: chance to fly on exactly i+1 days.
    private static double[] Lives(AdultSurvival survival, int age)
    {
        var chances = new List<double>();
        var left = 1.0;
        for (var more = 1; left > Cut && more <= MostLife; more++)
        {
            var next = survival.GivenAlive(age, more);
            chances.Add(left - next);
            left = next;
        }

        chances[^1] += left;
        return [.. chances];
    }

    private static Cell[] Cells(double[] waits, double[] lives)
    {
        var fates = new List<(uint Code, double Chance)>();
        for (var day = 0; day < waits.Length; day++)
        {
            for (var life = 0; life < lives.Length; life++)
            {
                if (waits[day] * lives[life] > 0)
                    fates.Add((checked((ushort)day | ((uint)checked((ushort)(day + life + 1)) << 16)), waits[day] * lives[life]));
            }
        }

        var count = fates.Count;
        var sum = fates.Sum(f => f.Chance);
        var scaled = fates.ConvertAll(f => f.Chance * count / sum);
        // The last stays empty.
        var cells = new Cell[count + 1];
        var (small, large) = (new Stack<int>(), new Stack<int>());
        for (var i = count - 1; i >= 0; i--)
            (scaled[i] < 1 ? small : large).Push(i);
        while (small.Count > 0 && large.Count > 0)
        {
            var (less, more) = (small.Pop(), large.Pop());
            cells[less] = new((uint)Math.Min(Span32 - 1, Math.Round(scaled[less] * Span32)), fates[less].Code, fates[more].Code);
            scaled[more] -= 1 - scaled[less];
            (scaled[more] < 1 ? small : large).Push(more);
        }

        foreach (var i in small.Concat(large))
            cells[i] = new(0, fates[i].Code, fates[i].Code);
        return cells;
    }
}

/// <summary>What becomes of one pupa.</summary>
/// <param name="EmergesOn">Day since arrival, or below 0 when it never does.</param>
/// <param name="Flies">Days on which it is counted flying, that of emergence included; 0 when it never emerges.</param>
public readonly record struct Fate(int EmergesOn, int Flies)
{
    /// <summary>It does not emerge.</summary>
    public static Fate Never { get; } = new(-1, 0);
}

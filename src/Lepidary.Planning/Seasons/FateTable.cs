using System.Runtime.InteropServices;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Planning.Seasons;

/// <summary>
/// Draws what becomes of pupae: on which day since arrival each emerges, if at all, and on how many days it then flies. One number for each of the two
/// draws, both by alias tables (Walker 1977): a table of 30 and one of 60 cells stay in the nearest cache, where one joint table would not.
/// </summary>
/// <remarks>
/// A pupa takes two numbers of 32 bits whatever becomes of it, so the first n pupae of a stream are the same whether n or more are bought.
/// With 32 bits a chance is met to within 2^-32 times the number of cells.
/// </remarks>
public sealed class FateTable
{
    private const double Cut = 1e-10;
    private const int MostLife = 1000;
    private const double Span32 = 4294967296.0;
    private const int Chunk = 64;

    private readonly Cell[] emergence;
    private readonly Cell[] life;

    /// <summary>Lays the tables.</summary>
    /// <param name="timing">Day of emergence, given that it emerges.</param>
    /// <param name="survival">Life on the wing.</param>
    public FateTable(EmergenceTiming timing, AdultSurvival survival)
    {
        ArgumentNullException.ThrowIfNull(timing);
        ArgumentNullException.ThrowIfNull(survival);
        emergence = Cells(timing.Chances.ToArray());
        life = Cells(Lives(survival, 0));
        Reach = timing.LastDay + life.Length + 1;
    }

    private FateTable(Cell[] life)
    {
        (this.life, emergence) = (life, [new(1, 0)]);
        Reach = life.Length + 1;
    }

    /// <summary>Adults that already fly and are of an age, seen on day 0; draw them with a rate of 1.</summary>
    /// <param name="survival">Life on the wing.</param>
    /// <param name="daysOnWing">Age in whole days.</param>
    public static FateTable OfFlying(AdultSurvival survival, int daysOnWing)
    {
        ArgumentNullException.ThrowIfNull(survival);
        return new(Cells(Lives(survival, daysOnWing)));
    }

    /// <summary>Days from arrival after which nothing of a lot can change.</summary>
    public int Reach { get; }

    private readonly record struct Cell(double Own, int Other);

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
        if (rate <= 0)
            rate = double.Epsilon;
        var scale = emergence.Length / (Math.Min(1, rate) * Span32);
        var emerged = 0;
        ref var change = ref MemoryMarshal.GetReference(flyingChange);
        ref var waits = ref MemoryMarshal.GetArrayDataReference(emergence);
        ref var lives = ref MemoryMarshal.GetArrayDataReference(life);
        var (cells, ages) = (emergence.Length, (uint)life.Length);
        while (pupae > 0)
        {
            var here = Math.Min(pupae, Chunk);
            pupae -= here;
            var numbers = random.Take(2 * here);
            for (var i = 0; i + 1 < numbers.Length; i += 2)
            {
                var x = numbers[i] * scale;
                if (!(x < cells))
                    continue;
                var day = (int)x;
                var wait = System.Runtime.CompilerServices.Unsafe.Add(ref waits, day);
                day = x - day < wait.Own ? day : wait.Other;
                var y = (ulong)numbers[i + 1] * ages;
                var age = (int)(y >> 32);
                var old = System.Runtime.CompilerServices.Unsafe.Add(ref lives, age);
                age = (uint)y < old.Own * Span32 ? age : old.Other;
                System.Runtime.CompilerServices.Unsafe.Add(ref change, day)++;
                System.Runtime.CompilerServices.Unsafe.Add(ref change, day + age + 1)--;
                emerged++;
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
        var scale = emergence.Length / (Math.Clamp(rate, double.Epsilon, 1) * Span32);
        foreach (ref var fate in fates)
        {
            var x = random.Next() * scale;
            var number = random.Next();
            if (!(x < emergence.Length))
            {
                fate = Fate.Never;
                continue;
            }

            var day = (int)x;
            day = x - day < emergence[day].Own ? day : emergence[day].Other;
            var y = (ulong)number * (uint)life.Length;
            var age = (int)(y >> 32);
            age = (uint)y < life[age].Own * Span32 ? age : life[age].Other;
            fate = new(day, age + 1);
        }
    }

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

    private static Cell[] Cells(double[] chances)
    {
        var count = chances.Length;
        var sum = chances.Sum();
        var scaled = Array.ConvertAll(chances, c => c * count / sum);
        var cells = new Cell[count];
        var (small, large) = (new Stack<int>(), new Stack<int>());
        for (var i = count - 1; i >= 0; i--)
            (scaled[i] < 1 ? small : large).Push(i);
        while (small.Count > 0 && large.Count > 0)
        {
            var (less, more) = (small.Pop(), large.Pop());
            cells[less] = new(scaled[less], more);
            scaled[more] -= 1 - scaled[less];
            (scaled[more] < 1 ? small : large).Push(more);
        }

        foreach (var i in small.Concat(large))
            cells[i] = new(1, i);
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

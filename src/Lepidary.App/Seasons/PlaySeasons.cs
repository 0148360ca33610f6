using System.Collections.Concurrent;
using Lepidary.Planning;
using Lepidary.Planning.Seasons;

namespace Lepidary.App.Seasons;

/// <summary>Seasons that are playing or played, for the page. Losing one costs only the time to play it again.</summary>
internal sealed class SeasonRuns : IDisposable
{
    private const int MostKept = 8;

    private readonly ConcurrentDictionary<Guid, SeasonRunning> runs = new();

    private int started;

    // One at a time: a season takes a processor, and the pages need the other.
    private readonly SemaphoreSlim turn = new(1);

    /// <summary>Begins to play.</summary>
    public SeasonRunning Start(LaidSeason laid, SeasonAsked asked)
    {
        foreach (var old in runs.Values.Where(run => run.IsDone).OrderBy(run => run.Number).Take(Math.Max(0, runs.Count - MostKept)).ToList())
        {
            runs.TryRemove(old.Id, out _);
        }

        var run = new SeasonRunning(Guid.CreateVersion7(), Interlocked.Increment(ref started), laid, asked);
        runs[run.Id] = run;
        _ = Task.Run(async () =>
        {
            await turn.WaitAsync(CancellationToken.None);
            try
            {
                run.Play();
            }
            finally
            {
                turn.Release();
            }
        });
        return run;
    }

    /// <summary>One of them, or null.</summary>
    public SeasonRunning? Find(Guid id) => runs.GetValueOrDefault(id);

    public void Dispose()
    {
        foreach (var run in runs.Values)
        {
            run.Stop();
        }
    }
}

/// <summary>One set of seasons on the way.</summary>
#pragma warning disable CA1001 // The source has no timer and no handle to give back; who asks a run to stop may do so at any time.
internal sealed class SeasonRunning(Guid id, int number, LaidSeason laid, SeasonAsked asked) : IProgress<SeasonProgress>
#pragma warning restore CA1001
{
    private readonly CancellationTokenSource stop = new();
    private readonly TaskCompletionSource ended = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Near enough for a whole season: steps bound the search, so that one seed gives one season on every machine.</summary>
    public static PlanSettings Near { get; } = new() { Gap = 0.01, Nodes = 2, Seconds = 120 };

    /// <summary>The ways of ordering that are compared; the first is Lepidary's.</summary>
    public static IReadOnlyList<SeasonPolicy> Policies { get; } = [OrderByPlan.LookAhead(Near), new OrderUpTo(), OrderByRule.Tuned(), OrderByRule.Naive];

    public Guid Id => id;

    public int Number => number;

    public SeasonAsked Asked => asked;

    public SeasonProgress? Progress { get; private set; }

    public SeasonReport? Report { get; private set; }

    public string? Failed { get; private set; }

    public bool IsDone => Report is not null || Failed is not null;

    void IProgress<SeasonProgress>.Report(SeasonProgress value) => Progress = value;

    public void Stop() => stop.Cancel();

    /// <summary>Waits for the end, but not for long.</summary>
    public async Task Ended(TimeSpan atMost, CancellationToken cancellation)
    {
        try
        {
            await ended.Task.WaitAsync(atMost, cancellation);
        }
        catch (TimeoutException)
        {
            // It goes on, and the page says how far it is.
        }
    }

    public void Play()
    {
        try
        {
            Report = SeasonReport.Of(laid, SeasonComparison.Play(laid.Setting, Policies, asked.Draws, (ulong)asked.Seed, this, stop.Token), asked.Draws);
        }
#pragma warning disable CA1031 // Whatever it was, the page must say that it ended.
        catch (Exception error)
#pragma warning restore CA1031
        {
            Failed = error.Message;
        }
        finally
        {
            ended.SetResult();
        }
    }
}

using System.Threading.Channels;
using Lepidary.App.Host;

namespace Lepidary.App.Honesty;

/// <summary>Scores what was foretold a while after somebody asked for it, one house after the other: no page waits for it.</summary>
internal sealed partial class ScoreInBackground(IServiceScopeFactory scopes, ILogger<ScoreInBackground> log) : BackgroundService
{
    private readonly Channel<string?> asked = Channel.CreateBounded<string?>(new BoundedChannelOptions(16) { FullMode = BoundedChannelFullMode.DropWrite });

    /// <summary>The page of the scores was shown; never waits.</summary>
    /// <param name="house">Name of the house, or null for the book's first.</param>
    public void Asked(string? house) => asked.Writer.TryWrite(house);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await foreach (var house in asked.Reader.ReadAllAsync(stoppingToken))
            {
                try
                {
                    await Score(house, stoppingToken);
                }
                catch (Exception wrong) when (wrong is not OperationCanceledException)
                {
                    // What is not scored is scored when it is asked for again; the house goes on.
                    Failed(log, wrong);
                }
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The program ends.
        }
    }

    private async Task Score(string? house, CancellationToken cancellation)
    {
        await using var scope = scopes.CreateAsyncScope();
        var day = scope.ServiceProvider.GetRequiredService<HouseDay>();
        if (await day.Load(house, cancellation) && !scope.ServiceProvider.GetRequiredService<ScoredDay>().IsGood(day.HouseId, day.Today))
        {
            await scope.ServiceProvider.GetRequiredService<ReckonAfterwards>().Do(cancellation);
            await scope.ServiceProvider.GetRequiredService<ShowHonesty>().Score(cancellation);
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "Forecasts were not scored this time.")]
    private static partial void Failed(ILogger log, Exception wrong);
}

using System.Threading.Channels;
using Lepidary.App.Host;

namespace Lepidary.App.Honesty;

/// <summary>
/// Keeps what pages foretell a while after they have gone out, one house after the other: no page waits for it, and neither does the next. What is not kept when the program ends
/// is kept with the next page.
/// </summary>
internal sealed partial class KeepInBackground(IServiceScopeFactory scopes, TimeProvider clock, ILogger<KeepInBackground> log) : BackgroundService
{
    /// <summary>A reader's first pages come one after the other: they go first.</summary>
    public static readonly TimeSpan Rest = TimeSpan.FromSeconds(10);

    private readonly Channel<(string? House, bool Asked)> shown = Channel.CreateBounded<(string?, bool)>(new BoundedChannelOptions(64) { FullMode = BoundedChannelFullMode.DropWrite });

    /// <summary>A page of the house was shown; never waits.</summary>
    /// <param name="house">Its name, or null for the book's first.</param>
    /// <param name="asked">True where the page was that of the scores: these are reckoned too, and at once.</param>
    public void Shown(string? house, bool asked) => shown.Writer.TryWrite((house, asked));

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await foreach (var (house, asked) in shown.Reader.ReadAllAsync(stoppingToken))
            {
                try
                {
                    await Keep(house, asked, stoppingToken);
                }
                catch (Exception wrong) when (wrong is not OperationCanceledException)
                {
                    // A forecast that is not kept is not scored; the house goes on. What fails because the program ends is no failure.
                    if (!stoppingToken.IsCancellationRequested)
                    {
                        Failed(log, wrong);
                    }
                }
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The program ends.
        }
    }

    private async Task Keep(string? house, bool asked, CancellationToken cancellation)
    {
        await using var scope = scopes.CreateAsyncScope();
        if (!await scope.ServiceProvider.GetRequiredService<HouseDay>().Load(house, cancellation))
        {
            return;
        }

        if (asked)
        {
            await Score(scope.ServiceProvider, cancellation);
        }

        if (scope.ServiceProvider.GetRequiredService<KeepForecasts>().IsDue())
        {
            if (!asked)
            {
                await Task.Delay(Rest, clock, cancellation);
            }

            await scope.ServiceProvider.GetRequiredService<KeepForecasts>().Today(cancellation);
        }
    }

    private static async Task Score(IServiceProvider services, CancellationToken cancellation)
    {
        var day = services.GetRequiredService<HouseDay>();
        if (services.GetRequiredService<ScoredDays>().IsGood(day.HouseId, day.Today))
        {
            return;
        }

        await services.GetRequiredService<ReckonAfterwards>().Do(cancellation);
        await services.GetRequiredService<ShowHonesty>().Score(cancellation);
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "Forecasts were not kept this time.")]
    private static partial void Failed(ILogger log, Exception wrong);
}

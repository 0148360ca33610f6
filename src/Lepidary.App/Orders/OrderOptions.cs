using System.Collections.Concurrent;
using Lepidary.Planning;

namespace Lepidary.App.Orders;

/// <summary>What is reckoned beside a proposal, one search after the other; what is there can be shown while the rest is still reckoned.</summary>
internal sealed class OrderOptions : IDisposable
{
    private readonly CancellationTokenSource stop = new();
    private readonly ConcurrentQueue<WishPrice> prices = new();
    private readonly ConcurrentDictionary<string, WishPrice> lastUnits = new(StringComparer.Ordinal);

    public OrderOptions(OrderSearch search)
    {
        Search = search;
        Work = Task.Run(Reckon, CancellationToken.None);
    }

    /// <summary>How much more money is asked about, house currency.</summary>
    public const decimal More = 10;

    public OrderSearch Search { get; }

    public Task Work { get; }

    /// <summary>Orders beside the proposal; null while they are reckoned.</summary>
    public IReadOnlyList<PlanOption>? Others { get; private set; }

    /// <summary>What some more money would bring; null while it is reckoned, and where there is no budget.</summary>
    public MoneyWorth? Money { get; private set; }

    /// <summary>What one third more of each wish would cost, as far as reckoned.</summary>
    public IReadOnlyList<WishPrice> Prices => [.. prices];

    /// <summary>What the last unit of a wish costs; null where it is not reckoned.</summary>
    public WishPrice? LastUnit(string aim) => lastUnits.GetValueOrDefault(aim);

    public void Stop() => stop.Cancel();

    public void Dispose() => stop.Dispose();

    /// <summary>The number that a wish is asked about: a third more, at least one.</summary>
    public static int Raised(int number) => number + Math.Max(1, (int)Math.Round(number / 3.0));

    private async Task Reckon()
    {
        var (problem, proposal) = (Search.Problem, await Search.Outcome);
        if (proposal.Plan is null)
        {
            return;
        }

        Others = PlanOptions.Of(problem, proposal, stop.Token);
        Money = stop.IsCancellationRequested ? null : PlanOptions.WorthOf(problem, proposal, More, stop.Token);
        foreach (var aim in problem.Aims.TakeWhile(_ => !stop.IsCancellationRequested))
        {
            if (PlanOptions.LastUnitOf(problem, proposal, aim.Id, stop.Token) is { } last && !stop.IsCancellationRequested)
            {
                lastUnits[aim.Id] = last;
            }

            var now = aim is BreedingAim breeding ? breeding.Pairs : ((DayAim)aim).AtLeast;
            if (PlanOptions.PriceOf(problem, proposal, aim.Id, Raised(now), stop.Token) is { } price && !stop.IsCancellationRequested)
            {
                prices.Enqueue(price);
            }
        }
    }
}

/// <summary>Keeps the last of them, one for all who ask the same.</summary>
internal sealed class OptionsMemory : IDisposable
{
    private readonly Lock gate = new();
    private OrderOptions? last;

    public OrderOptions Begin(OrderSearch search)
    {
        lock (gate)
        {
            if (last is { } known && known.Search == search)
            {
                return known;
            }

            last?.Stop();
            return last = new OrderOptions(search);
        }
    }

    public void Dispose()
    {
        last?.Stop();
        last?.Dispose();
    }
}

using System.Collections.Concurrent;
using System.Diagnostics;
using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using Lepidary.Planning;

namespace Lepidary.App.Orders;

/// <summary>A search for an order, running or done.</summary>
internal sealed class OrderSearch : IProgress<PlanProgress>, IDisposable
{
    private readonly CancellationTokenSource stop = new();
    private readonly Stopwatch clock = Stopwatch.StartNew();
    private readonly Lazy<PlanCheck?> check;
    private readonly Lazy<IReadOnlyList<NowOrLater>> nowOrLater;

    public OrderSearch(string key, PlanProblem problem)
    {
        Key = key;
        Problem = problem;
        Outcome = Task.Run(() => Planner.Propose(problem, this, stop.Token), CancellationToken.None);
        nowOrLater = new(() => Outcome.Result.Plan is { } plan ? Planning.NowOrLater.Of(problem, plan) : []);
        check = new(() => Outcome.Result.Plan is { } plan ? PlanChecker.Compare(problem, plan) : null);
    }

    /// <summary>Names it among all searches: one question, one key.</summary>
    public string Key { get; }

    public PlanProblem Problem { get; }

    public Task<PlanOutcome> Outcome { get; }

    /// <summary>The best order so far, or null while there is none.</summary>
    public PlanProgress? Best { get; private set; }

    public double Seconds => clock.Elapsed.TotalSeconds;

    /// <summary>The finished plan judged by arithmetic of its own; null where there is no plan.</summary>
    public PlanCheck? Check => check.Value;

    /// <summary>Of the finished plan, what to order now and what can wait; without a search of its own.</summary>
    public IReadOnlyList<NowOrLater> NowOrLater => nowOrLater.Value;

    /// <summary>Ends it with the best order so far.</summary>
    public void Stop() => stop.Cancel();

    public void Report(PlanProgress value) => Best = value;

    public void Dispose() => stop.Dispose();
}

/// <summary>
/// Remembers the last searches by what was asked, so that a page shown again is not planned again. Forgetting one costs only the time to
/// plan it anew, so several processes need not share it.
/// </summary>
internal sealed class ProposalMemory
{
    private const int Most = 32;

    private readonly ConcurrentDictionary<string, Lazy<OrderSearch>> searches = new();

    /// <summary>The search for an answer to this question: one for all who ask the same, so a reader who leaves doesn't end it for the others.</summary>
    public OrderSearch Begin(PlanProblem problem)
    {
        var key = KeyOf(problem);
        if (searches.Count > Most)
        {
            searches.Clear();
        }

        return searches.GetOrAdd(key, _ => new Lazy<OrderSearch>(() => new OrderSearch(key, problem))).Value;
    }

    /// <summary>A search by its key, or null.</summary>
    public OrderSearch? Find(string key) => searches.TryGetValue(key, out var search) ? search.Value : null;

    /// <summary>Everything that the outcome depends on, in few words: what is derived from the same facts is left out.</summary>
    public static string KeyOf(PlanProblem problem)
    {
        var said = JsonSerializer.SerializeToUtf8Bytes(new
        {
            Problem = problem,
            Aims = problem.Aims.Cast<object>(),
            Taxa = problem.Taxa.Select(taxon => new
            {
                taxon.Name,
                Taxon = taxon,
                Timing = taxon.Timing.Chances.ToArray(),
                Lots = taxon.Stock.Lots.Select(lot => new { lot.Hanging, lot.DaysHanging, lot.Rate, lot.RateSource, lot.Emerged, lot.Lost, Timing = lot.Timing.MeanDays }),
                taxon.Stock.Flying,
                Life = taxon.Stock.Survival.MeanDaysCounted,
            }),
        }, Format);
        return Convert.ToHexString(SHA256.HashData(said));
    }

    // What is said apart, in fewer words, or by its kind. All else that a problem may come to hold is in the key by itself.
    private static readonly Dictionary<Type, string[]> SaidApart = new()
    {
        [typeof(PlanProblem)] = [nameof(PlanProblem.Taxa), nameof(PlanProblem.Aims)],
        [typeof(PlanTaxon)] = [nameof(PlanTaxon.Taxon), nameof(PlanTaxon.Timing), nameof(PlanTaxon.Stock)],
    };

    private static readonly JsonSerializerOptions Format = new()
    {
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        TypeInfoResolver = new DefaultJsonTypeInfoResolver
        {
            Modifiers =
            {
                type =>
                {
                    foreach (var name in SaidApart.GetValueOrDefault(type.Type) ?? [])
                    {
                        type.Properties.Remove(type.Properties.Single(property => property.Name == name));
                    }
                },
            },
        },
    };
}

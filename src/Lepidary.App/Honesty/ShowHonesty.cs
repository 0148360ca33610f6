using System.Collections.Concurrent;
using System.Globalization;
using Lepidary.App.Host;
using Lepidary.Science.Flying;
using Lepidary.Science.Verification;

namespace Lepidary.App.Honesty;

/// <summary>How the forecasts of one kind came out.</summary>
/// <param name="Kind">What they are about.</param>
/// <param name="Name">In words.</param>
/// <param name="Verdict">The verdict, worded.</param>
/// <param name="IsOverSure">True where Lepidary is over-sure.</param>
/// <param name="Rival">Who the rival is, and how it fares, in a sentence.</param>
/// <param name="ChanceOf">Of what the chance is given whose Brier score stands in the table.</param>
/// <param name="Waiting">Not to be judged yet.</param>
/// <param name="Untold">Past, and no count tells what came.</param>
public sealed record KindScore(ForecastKind Kind, string Name, string Sentence, string Verdict, bool IsOverSure, string Rival, string ChanceOf, int Waiting, int Untold, Scorecard? Card);

/// <summary>Does it come as Lepidary says?</summary>
/// <param name="Scores">By kind.</param>
/// <param name="IsBeingScored">True while the days that are past are still reckoned again.</param>
internal sealed record HonestyView(string Headline, string Lead, IReadOnlyList<KindScore> Scores, bool IsBeingScored = false);

/// <summary>Scores the forecasts whose day is past.</summary>
internal sealed class ShowHonesty(HouseDay day, ReadOutcomes outcomes, Hindsight hindsight, ScoredDay scored)
{
    /// <summary>What a page shows: the scores as they were reckoned last today.</summary>
    public HonestyView Page() =>
        day.HouseName is null ? Nothing : scored.Of(day.HouseId, day.Today) ?? new("Does it come as Lepidary says?", "The days that are past are being scored, each from what was known then.", [], IsBeingScored: true);

    /// <summary>Scores all that was reckoned again.</summary>
    public async Task<HonestyView> Score(CancellationToken cancellation)
    {
        if (day.HouseName is null || hindsight.Of(day.HouseId, day.Today) is not { } foretold)
        {
            return Nothing;
        }

        var house = await day.House(cancellation);
        var since = foretold.Count == 0 ? day.Today : foretold.Min(forecast => forecast.MadeOn);
        var scores = Scores(foretold, await outcomes.Of(house, since.AddDays(-DaysBefore), day.Today, cancellation));
        var over = scores.Where(score => score.IsOverSure).Select(score => score.Name).ToList();
        var judged = scores.Exists(score => score.Card is { } card && card.Groups >= Scorecard.FewestTogether);
        var view = new HonestyView(
            over.Count > 0 ? "Lepidary is over-sure" : judged ? "It comes as Lepidary says, as far as the counts can tell" : "Too little has come to judge by",
            over.Count > 0 ? $"Over-sure of: {string.Join("; ", over)}. Take its ranges there as too narrow."
                : judged ? "Nothing that was counted speaks against what was foretold." : "Forecasts are scored when their day is past.",
            scores);
        scored.Keep(house.Id, day.Today, view);
        return view;
    }

    /// <summary>Lots that were hung so long before are still spoken of.</summary>
    private const int DaysBefore = 120;

    private static HonestyView Nothing => new("Nothing is foretold yet", "", []);

    private static List<KindScore> Scores(IReadOnlyList<Foretold> said, Outcomes truth) =>
    [
        .. said.GroupBy(forecast => forecast.Kind).OrderBy(kind => kind.Key).Select(kind =>
        {
            var came = kind.OrderBy(forecast => forecast.MadeOn).ThenBy(forecast => forecast.Id).Select(forecast => (Forecast: forecast, Came: truth.Of(forecast))).Where(item => item.Came is not null)
                .Select(item => (item.Forecast, Came: item.Came!.Value)).ToList();
            var past = came.Select(item => Past(item.Forecast, item.Came)).ToList();
            // The same book gives the same page: what the randomised transform draws goes by the order of the days and keys.
            var random = new Random(1);
            var card = past.Count == 0 ? null : Scorecard.Of(past, random.NextDouble);
            var waiting = kind.Count(truth.Waits);
            return new KindScore(
                kind.Key, Name(kind.Key), Sentence(kind.Key, card), Verdict(kind.Key, card), card?.Verdict == Sureness.OverSure, Rival(kind.Key, card), ChanceOf(kind.Key),
                waiting, kind.Count() - waiting - past.Count, card);
        }),
    ];

    private static PastForecast Past(Foretold forecast, int came)
    {
        var (said, rival) = (forecast.Said, forecast.Rival);
        if (forecast is { Kind: ForecastKind.Flying, Seen: { } seen })
        {
            (said, rival) = (WingLifeFit.Walked(said, seen), WingLifeFit.Walked(rival, seen));
        }

        var together = forecast.Kind is ForecastKind.Flying or ForecastKind.FoundDead ? forecast.Subject : forecast.AboutId.ToString();
        // The chance that is judged beside the ranges: of the table's middle or more, where at least one is no question.
        return new(said, rival, came, together, HasMiddle(forecast.Kind) ? Math.Max(1, rival.Quantile(0.5)) : 1);
    }

    private static bool HasMiddle(ForecastKind kind) => kind is ForecastKind.Lot or ForecastKind.Due or ForecastKind.Flying;

    private static string ChanceOf(ForecastKind kind) => kind switch
    {
        ForecastKind.Due => "that it comes no earlier than the table's middle",
        ForecastKind.Listing => "that it is listed",
        _ when HasMiddle(kind) => "of the table's middle or more",
        _ => "of at least one",
    };

    private static string Name(ForecastKind kind) => kind switch
    {
        ForecastKind.Emerging => "how many of a lot emerge today",
        ForecastKind.Lot => "how many of a new lot emerge in all",
        ForecastKind.Due => "when the first of a new lot emerges",
        ForecastKind.Flying => "how many fly, as walks count them",
        ForecastKind.FoundDead => "how long they live, as the found dead tell",
        ForecastKind.Listing => "what is on the next list",
        _ => throw new InvalidOperationException($"Kind {kind}."),
    };

    private static string Sentence(ForecastKind kind, Scorecard? card) => card switch
    {
        null => "None can be judged yet.",
        { Coverage: [_, var eighty, _] } => $"Of {card.Forecasts} forecasts {Percent(eighty.Covered)} lay in the range that promised {Percent(eighty.Promised)}.",
        _ => $"{card.Forecasts} chances were given for {Groups(kind, card.Groups)}.",
    };

    private static string Groups(ForecastKind kind, int count) => (kind, count) switch
    {
        (ForecastKind.Listing, 1) => "1 list",
        (ForecastKind.Listing, _) => $"{count} lists",
        (ForecastKind.Flying or ForecastKind.FoundDead, _) => $"{count} species",
        (_, 1) => "1 lot",
        _ => $"{count} lots",
    };

    private static string Verdict(ForecastKind kind, Scorecard? card) => card?.Verdict switch
    {
        null => "not judged yet",
        Sureness.TooFewToTell => $"too few to tell: {Groups(kind, card.Groups)}",
        Sureness.AsSaid => "it comes as said",
        Sureness.OverSure => "over-sure",
        Sureness.OverCautious => "over-cautious",
        _ => throw new InvalidOperationException($"Verdict {card.Verdict}."),
    };

    private static string Rival(ForecastKind kind, Scorecard? card)
    {
        if (card?.Skill is not { } skill)
        {
            return "";
        }

        var rival = kind switch
        {
            ForecastKind.Listing => "the plain share of the lists so far",
            _ => "the table alone",
        };
        return Math.Abs(skill) < 0.005 ? $"No better and no worse than {rival}." : string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(skill) * 100:0} % {(skill > 0 ? "nearer to what came" : "farther from what came")} than {rival}.");
    }

    private static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{share * 100:0} %");
}

/// <summary>The scores of a house as they were reckoned last on a day; reckoned again after a while, since counts come in late.</summary>
internal sealed class ScoredDay(TimeProvider clock)
{
    private static readonly TimeSpan Good = TimeSpan.FromMinutes(10);

    private readonly ConcurrentDictionary<Guid, (DateOnly Day, DateTimeOffset At, HonestyView View)> last = [];

    /// <summary>Null where none was reckoned today.</summary>
    public HonestyView? Of(Guid house, DateOnly day) => last.TryGetValue(house, out var scored) && scored.Day == day ? scored.View : null;

    /// <summary>False where they are to be reckoned again.</summary>
    public bool IsGood(Guid house, DateOnly day) => last.TryGetValue(house, out var scored) && scored.Day == day && clock.GetUtcNow() - scored.At < Good;

    public void Keep(Guid house, DateOnly day, HonestyView view) => last[house] = (day, clock.GetUtcNow(), view);
}

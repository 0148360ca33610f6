using System.Collections.Concurrent;
using System.Globalization;
using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Science.Counts;
using Lepidary.Science.Flying;
using Lepidary.Science.Verification;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Honesty;

/// <summary>How the forecasts of one kind came out.</summary>
/// <param name="Kind">What they are about.</param>
/// <param name="Name">In words.</param>
/// <param name="Verdict">The verdict, worded.</param>
/// <param name="IsOverSure">True where Lepidary is over-sure.</param>
/// <param name="Rival">Who the rival is, and how it fares, in a sentence.</param>
/// <param name="ChanceOf">Of what the chance is given whose Brier score stands in the table.</param>
/// <param name="Waiting">Kept, and not to be judged yet.</param>
/// <param name="Untold">Past, and no count tells what came.</param>
public sealed record KindScore(ForecastKind Kind, string Name, string Sentence, string Verdict, bool IsOverSure, string Rival, string ChanceOf, int Waiting, int Untold, Scorecard? Card);

/// <summary>Does it come as Lepidary says?</summary>
/// <param name="Kept">By kind: the forecasts that were kept when they were shown.</param>
/// <param name="Afterwards">By kind: reckoned afterwards for days on which none was kept, from what was known then.</param>
/// <param name="ToCome">What is still being reckoned, in a sentence; else empty.</param>
internal sealed record HonestyView(string Headline, string Lead, IReadOnlyList<KindScore> Kept, IReadOnlyList<KindScore> Afterwards, string ToCome);

/// <summary>Scores the forecasts whose day is past.</summary>
internal sealed class ShowHonesty(BookContext book, HouseDay day, ReadOutcomes outcomes, Hindsight hindsight, ScoredDays scored)
{
    /// <summary>So far back are forecasts looked at: an older one says little of today's.</summary>
    private const int DaysBack = 183;

    /// <summary>A page scores so many at once; more are scored while it is not waited for.</summary>
    private const int AtOnce = 2000;

    /// <summary>What a page shows: the scores as they were reckoned last today, or reckoned now where there are few.</summary>
    public async Task<HonestyView> Page(CancellationToken cancellation)
    {
        if (day.HouseName is null)
        {
            return Nothing;
        }

        if (scored.Of(day.HouseId, day.Today) is { } view)
        {
            return view;
        }

        var since = Since;
        return await book.Forecasts.CountAsync(forecast => forecast.HouseId == day.HouseId && forecast.MadeOn >= since, cancellation) > AtOnce
            ? new("Does it come as Lepidary says?", "", [], [], "What was foretold is being scored: look again in a minute.")
            : await Score(cancellation);
    }

    /// <summary>Scores all that is kept, and what was reckoned afterwards so far.</summary>
    public async Task<HonestyView> Score(CancellationToken cancellation)
    {
        if (day.HouseName is null)
        {
            return Nothing;
        }

        var house = await day.House(cancellation);
        var since = Since;
        var kept = await book.Forecasts.AsNoTracking().Where(forecast => forecast.HouseId == house.Id && forecast.MadeOn >= since).ToListAsync(cancellation);
        var truth = await outcomes.Of(house, since, day.Today, cancellation);
        var scores = Scores(kept, truth);
        var there = kept.Select(forecast => forecast.Id).ToHashSet();
        var reckoned = hindsight.Of(house.Id, day.Today);
        var after = Scores([.. (reckoned ?? []).Where(forecast => !there.Contains(forecast.Id))], truth);
        var over = scores.Concat(after).Where(score => score.IsOverSure).Select(score => score.Name).Distinct().ToList();
        var judged = scores.Concat(after).Any(score => score.Card is { } card && card.Groups >= Scorecard.FewestTogether);
        var view = new HonestyView(
            over.Count > 0 ? "Lepidary is over-sure" : judged ? "It comes as Lepidary says, as far as the counts can tell" : reckoned is null ? "The days past are being reckoned" : "Too little has come to judge by",
            over.Count > 0 ? $"Over-sure of: {string.Join("; ", over)}. Take its ranges there as too narrow."
                : judged ? "Nothing that was counted speaks against what was foretold." : "Forecasts are kept from the day on which they are shown, and scored when their day is past.",
            scores, after, reckoned is null ? "The days before are being reckoned from what was known then: look again in a minute." : "");
        if (reckoned is not null)
        {
            scored.Keep(house.Id, day.Today, view);
        }

        return view;
    }

    private static HonestyView Nothing => new("Nothing is foretold yet", "", [], [], "");

    private DateOnly Since => day.Today.AddDays(-DaysBack);

    private static List<KindScore> Scores(IReadOnlyList<KeptForecast> said, Outcomes truth) =>
    [
        .. said.GroupBy(forecast => forecast.Kind).OrderBy(kind => kind.Key).Select(kind =>
        {
            var came = kind.OrderBy(forecast => forecast.MadeOn).ThenBy(forecast => forecast.Id).Select(forecast => (Forecast: forecast, Came: truth.Of(forecast))).Where(item => item.Came is not null)
                .Select(item => (item.Forecast, Came: item.Came!.Value)).ToList();
            var past = (kind.Key == ForecastKind.Aim ? LastYears(came) : came.Select(item => Past(item.Forecast, item.Came, Count(item.Forecast.Rival)))).ToList();
            // The same book gives the same page: what the randomised transform draws goes by the order of the days and keys.
            var random = new Random(1);
            var card = past.Count == 0 ? null : Scorecard.Of(past, random.NextDouble);
            var waiting = kind.Count(truth.Waits);
            return new KindScore(
                kind.Key, Name(kind.Key), Sentence(kind.Key, card), Verdict(kind.Key, card), card?.Verdict == Sureness.OverSure, Rival(kind.Key, card), ChanceOf(kind.Key),
                waiting, kind.Count() - waiting - past.Count, card);
        }),
    ];

    private static PastForecast Past(KeptForecast forecast, int came, CountDistribution rival)
    {
        var said = Count(forecast.Said);
        if (forecast is { Kind: ForecastKind.Flying, Seen: { } seen })
        {
            (said, rival) = (WingLifeFit.Walked(said, seen), WingLifeFit.Walked(rival, seen));
        }

        var together = forecast.Kind is ForecastKind.Flying or ForecastKind.FoundDead ? forecast.Subject : forecast.AboutId.ToString();
        // The chance that is judged beside the ranges: of the table's middle or more, where at least one is no question.
        return new(said, rival, came, together, HasMiddle(forecast.Kind) ? Math.Max(1, rival.Quantile(0.5)) : 1);
    }

    /// <summary>Wishes beside a rival who says each time how often wishes were met in the year before.</summary>
    private static IEnumerable<PastForecast> LastYears(IReadOnlyList<(KeptForecast Forecast, int Came)> wishes) => wishes.Select(wish =>
    {
        var before = wishes.Where(other => other.Forecast.ForDay < wish.Forecast.MadeOn && other.Forecast.ForDay >= wish.Forecast.MadeOn.AddDays(-365)).ToList();
        return Past(wish.Forecast, wish.Came, ForecastsOfDay.Chance((before.Sum(other => other.Came) + 1.0) / (before.Count + 2)));
    });

    private static bool HasMiddle(ForecastKind kind) => kind is ForecastKind.Lot or ForecastKind.Due or ForecastKind.Flying;

    private static string ChanceOf(ForecastKind kind) => kind switch
    {
        ForecastKind.Due => "that it comes no earlier than the table's middle",
        ForecastKind.Aim => "that the wish is met",
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
        ForecastKind.Aim => "whether a wish is met with the order",
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
        (ForecastKind.Aim, 1) => "1 wish",
        (ForecastKind.Aim, _) => $"{count} wishes",
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
            ForecastKind.Aim => "last year's rate",
            _ => "the table alone",
        };
        return Math.Abs(skill) < 0.005 ? $"No better and no worse than {rival}." : string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(skill) * 100:0} % {(skill > 0 ? "nearer to what came" : "farther from what came")} than {rival}.");
    }

    private static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{share * 100:0} %");

    // They were rounded to be kept.
    private static CountDistribution Count(List<double> masses)
    {
        var sum = masses.Sum();
        return CountDistribution.FromMasses([.. masses.Select(mass => mass / sum)]);
    }
}

/// <summary>The scores of a house as they were reckoned last on a day; reckoned again after a while, since counts come in late.</summary>
internal sealed class ScoredDays(TimeProvider clock)
{
    private static readonly TimeSpan Good = TimeSpan.FromMinutes(10);

    private readonly ConcurrentDictionary<Guid, (DateOnly Day, DateTimeOffset At, HonestyView View)> last = [];

    /// <summary>Null where none was reckoned today.</summary>
    public HonestyView? Of(Guid house, DateOnly day) => last.TryGetValue(house, out var scored) && scored.Day == day ? scored.View : null;

    /// <summary>False where they are to be reckoned again.</summary>
    public bool IsGood(Guid house, DateOnly day) => last.TryGetValue(house, out var scored) && scored.Day == day && clock.GetUtcNow() - scored.At < Good;

    public void Keep(Guid house, DateOnly day, HonestyView view) => last[house] = (day, clock.GetUtcNow(), view);
}

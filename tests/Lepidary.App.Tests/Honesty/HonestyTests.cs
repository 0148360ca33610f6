using Lepidary.App.Honesty;
using Lepidary.App.Tests.Support;
using Lepidary.Science.Counts;
using Lepidary.Science.Verification;

namespace Lepidary.App.Tests.Honesty;

public sealed class HonestyTests
{
    private static readonly DateOnly Today = new(2026, 11, 27);

    [Fact]
    public void Outcome_waits_for_rounds_that_tell_it()
    {
        var lot = Guid.NewGuid();
        var said = Said(ForecastKind.Emerging, lot, Today.AddDays(-2));
        Outcomes Of(params int[] rounds) => new()
        {
            Today = Today,
            Rounds = rounds.Select(ago => Today.AddDays(-ago)).ToHashSet(),
            Emerged = new Dictionary<(Guid, DateOnly), int> { [(lot, Today.AddDays(-2))] = 3 },
            Sums = new Dictionary<Guid, (int, int, int)> { [lot] = (3, 1, 0) },
            First = new Dictionary<Guid, DateOnly> { [lot] = Today.AddDays(-2) },
            Lots = new Dictionary<Guid, HungLot> { [lot] = new(Today.AddDays(-8), 5) },
        };

        Assert.Equal(3, Of(2, 3).Of(said));
        Assert.Null(Of(2).Of(said));
        Assert.Null(Of(3, 1).Of(said));
        Assert.Equal(6, Of(2, 3).Of(Said(ForecastKind.Due, lot, Today.AddDays(-7))));
        Assert.Null(Of(2).Of(Said(ForecastKind.Due, lot, Today.AddDays(-7))));
        Assert.Null(Of(2, 3).Of(Said(ForecastKind.Lot, lot, Today.AddDays(-7))));
        Assert.True(Of(2, 3).Waits(Said(ForecastKind.Lot, lot, Today.AddDays(-7))));
    }

    [Fact]
    public void Outcome_of_what_flies_is_told_by_walks_and_of_the_dead_in_weeks_in_which_some_were_found()
    {
        var on = Today.AddDays(-1);
        var came = new Outcomes
        {
            Today = Today,
            Rounds = new HashSet<DateOnly> { on },
            Walks = new Dictionary<DateOnly, IReadOnlyDictionary<string, int>> { [on] = new Dictionary<string, int> { ["Morpho helenor"] = 4, ["Idea leuconoe"] = 2 } },
            FoundDead = new Dictionary<(DateOnly, string), int> { [(on.AddDays(-3), "Morpho helenor")] = 1 },
        };

        Assert.Equal(4, came.Of(Said(ForecastKind.Flying, Guid.Empty, on, seen: 0.4)));
        Assert.Equal(0, came.Of(Said(ForecastKind.Flying, Guid.Empty, on, "Dryas iulia", 0.4)));
        Assert.Equal(6, came.Of(Said(ForecastKind.Flying, Guid.Empty, on, "all", 0.4)));
        Assert.Null(came.Of(Said(ForecastKind.Flying, Guid.Empty, on)));
        Assert.Null(came.Of(Said(ForecastKind.Flying, Guid.Empty, on.AddDays(-1), seen: 0.4)));
        Assert.Equal(0, came.Of(Said(ForecastKind.FoundDead, Guid.Empty, on)));
        Assert.Null(came.Of(Said(ForecastKind.FoundDead, Guid.Empty, on.AddDays(-1))));
        Assert.Null(came.Of(Said(ForecastKind.FoundDead, Guid.Empty, Today)));
    }

    [Fact]
    public async Task Demo_is_judged_from_what_was_known_then()
    {
        await using var book = await TestBook.Demo();

        var view = (await book.Done("honesty", "--json")).Json;

        var scores = view.GetProperty("scores").EnumerateArray().ToDictionary(score => score.GetProperty("kind").GetString()!);
        foreach (var kind in (string[])["emerging", "lot", "due", "flying", "foundDead", "listing"])
        {
            Assert.True(scores[kind].GetProperty("card").GetProperty("groups").GetInt32() >= Scorecard.FewestTogether);
            Assert.NotEmpty(scores[kind].GetProperty("rival").GetString()!);
        }

        // The demo's lists are drawn anew each week: chances that are learnt from them come as said.
        Assert.False(scores["listing"].GetProperty("isOverSure").GetBoolean());
    }

    private static Foretold Said(ForecastKind kind, Guid about, DateOnly on, string subject = "Morpho helenor", double? seen = null) =>
        new() { Id = Guid.NewGuid(), Kind = kind, MadeOn = on, ForDay = on, AboutId = about, Subject = subject, Seen = seen, Said = CountDistribution.Binomial(1, 0.5), Rival = CountDistribution.Certain(0) };
}

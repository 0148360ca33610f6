using Lepidary.App.Honesty;
using Lepidary.App.Host;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Lepidary.Science.Counts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Numerics;
using Lepidary.Science.Verification;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Lepidary.App.Tests.Honesty;

public sealed class HonestyTests
{
    private static readonly string[] Species = ["Morpho helenor", "Papilio palinurus", "Heliconius melpomene", "Idea leuconoe"];

    /// <summary>
    /// A house with known truth: rates drawn from the table's own uncertainty, days from its windows. Forecasts are kept day by day by the clock; the rounds go on until nothing hangs,
    /// so that every lot is judged, not only the quick ones. Ranges hold what they promise.
    /// </summary>
    [Theory]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    public async Task Simulated_book_is_covered_as_said(int seed)
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);

        var view = await book.Serve<IServiceScopeFactory, HonestyView>(scopes => KeptFor(26, 10, book, house, scopes, new Random(seed)));

        var emerging = Card(view, ForecastKind.Emerging);
        Assert.True(emerging.Forecasts > 200);
        // Some 60 lots of one truth: a standard error near 0.02.
        Assert.InRange(emerging.Coverage[1].Covered - emerging.Coverage[1].Promised, -0.06, 0.06);
        Assert.NotEqual(Sureness.OverSure, emerging.Verdict);
        Assert.Equal(1, emerging.Pit.Sum(), 9);
        var lots = Card(view, ForecastKind.Lot);
        Assert.True(lots.Forecasts >= 20);
        Assert.NotEqual(Sureness.OverSure, lots.Verdict);
    }

    private static Scorecard Card(HonestyView view, ForecastKind kind) => view.Kept.Single(score => score.Kind == kind).Card!;

    /// <summary>Forecasts are kept on so many days, boxes are hung until some days before; what then still hangs is counted to the end, and all is scored.</summary>
    private static async Task<HonestyView> KeptFor(int days, int without, TestBook book, Book.House house, IServiceScopeFactory scopes, Random random)
    {
        var stop = TestContext.Current.CancellationToken;
        var rates = Species.ToDictionary(species => species, species =>
        {
            var table = EmergenceRate.FromTable(TaxonTable.Shipped.Of(species).Life.EmergenceRate.Value);
            return SpecialFunctions.BetaQuantile(random.NextDouble(), table.Mean * table.Certainty, (1 - table.Mean) * table.Certainty);
        }, StringComparer.Ordinal);
        var truth = new List<(Lot Lot, int[] ByDay, int Fail)>();
        for (var day = 0; day < days; day++)
        {
            var today = Turn(book, day);
            await OnHouse(scopes, async services => await services.GetRequiredService<KeepForecasts>().Today(stop));
            await book.Receive([.. Round(book, house, truth, today)]);
            if (day < days - without)
            {
                foreach (var species in Species)
                {
                    truth.Add(Hang(await HungHouse.Hang(book, house, species, 6 + random.Next(6), -day), rates[species], random));
                }
            }
        }

        var longest = truth.Max(lot => lot.ByDay.Length);
        Turn(book, days + longest);
        await book.Receive([.. Enumerable.Range(days, longest).SelectMany(day => Round(book, house, truth, HungHouse.Today.AddDays(day)))]);
        return await OnHouse(scopes, services => services.GetRequiredService<ShowHonesty>().Score(stop));
    }

    private static DateOnly Turn(TestBook book, int day)
    {
        var today = HungHouse.Today.AddDays(day);
        book.Clock.SetUtcNow(new DateTimeOffset(today.ToDateTime(new TimeOnly(11, 0)), TimeSpan.Zero));
        return today;
    }

    private static async Task<T> OnHouse<T>(IServiceScopeFactory scopes, Func<IServiceProvider, Task<T>> use)
    {
        await using var scope = scopes.CreateAsyncScope();
        await scope.ServiceProvider.GetRequiredService<HouseDay>().Load(null, TestContext.Current.CancellationToken);
        return await use(scope.ServiceProvider);
    }

    /// <summary>The round of a day: what emerged that day, and what failed when its time is over.</summary>
    private static IEnumerable<Fact> Round(TestBook book, Book.House house, IEnumerable<(Lot Lot, int[] ByDay, int Fail)> truth, DateOnly today)
    {
        foreach (var (lot, byDay, fail) in truth)
        {
            var age = today.DayNumber - lot.HungOn.DayNumber;
            var (emerged, dead) = (age < byDay.Length ? byDay[age] : 0, age == byDay.Length ? fail : 0);
            if (emerged + dead > 0)
            {
                yield return new Entry { HouseId = house.Id, OnDay = today, DeviceTime = book.Clock.GetUtcNow(), LotId = lot.Id, EmergedUnsexed = emerged, Dead = dead };
            }
        }
    }

    [Fact]
    public async Task Forecast_once_kept_stands_whatever_is_counted_later()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 10, 8);
        using (var browser = await book.Serve())
        {
            await browser.Page("/round");
            await Until(async () =>
            {
                // The keeping begins a while after the page.
                book.Clock.Advance(KeepInBackground.Rest);
                return await book.Look(context => context.Forecasts.AnyAsync(TestContext.Current.CancellationToken));
            });
        }

        var before = await Said(book);
        await book.Receive(new Entry { HouseId = house.Id, OnDay = HungHouse.Today.AddDays(-1), DeviceTime = book.Clock.GetUtcNow(), LotId = lot.Id, EmergedUnsexed = 6 });
        var said = (await book.Done("honesty", "--json")).Json;

        Assert.Equal(before, await Said(book));
        Assert.Contains(before, forecast => forecast.StartsWith("Emerging", StringComparison.Ordinal));
        Assert.Equal(1, said.GetProperty("kept").EnumerateArray().Single(score => score.GetProperty("kind").GetString() == "emerging").GetProperty("waiting").GetInt32());
    }

    [Theory]
    [InlineData("today")]
    [InlineData("flying")]
    [InlineData("round", "show")]
    [InlineData("species", "Morpho helenor")]
    public async Task Command_keeps_what_it_foretells(params string[] command)
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        await HungHouse.Hang(book, house, "Morpho helenor", 10, 2);

        await book.Done(command);

        var kinds = (await Said(book)).Select(forecast => forecast.Split(' ')[0]).Distinct();
        Assert.Equal(["Due", "Emerging", "Flying", "Lot"], kinds);
    }

    [Fact]
    public async Task Written_order_keeps_the_chances_of_its_wishes()
    {
        await using var book = await TestBook.DemoOfFewWishes();

        await book.Done("orders", "write", "--who", "Marit");

        var wishes = await book.Look(context => context.Forecasts.Where(forecast => forecast.Kind == ForecastKind.Aim).ToListAsync(TestContext.Current.CancellationToken));
        var aims = await book.Look(context => context.Houses.SelectMany(house => house.Aims).Where(aim => aim.EndedOn == null).ToListAsync(TestContext.Current.CancellationToken));
        Assert.NotEmpty(wishes);
        Assert.All(wishes, wish =>
        {
            var aim = aims.Single(aim => aim.Id == wish.AboutId);
            Assert.Equal((aim.Kind, aim.AtLeast, aim.Selector), (wish.Wish, wish.AtLeast, wish.Subject));
            Assert.Equal(1, wish.Said.Sum(), 6);
        });
    }

    [Fact]
    public void Outcome_waits_for_rounds_that_tell_it()
    {
        var (lot, today) = (Guid.NewGuid(), HungHouse.Today);
        var said = Kept(ForecastKind.Emerging, lot, today.AddDays(-2));
        Outcomes Of(params int[] rounds) => new()
        {
            Today = today,
            Rounds = rounds.Select(ago => today.AddDays(-ago)).ToHashSet(),
            Emerged = new Dictionary<(Guid, DateOnly), int> { [(lot, today.AddDays(-2))] = 3 },
            Sums = new Dictionary<Guid, (int, int, int)> { [lot] = (3, 1, 0) },
            First = new Dictionary<Guid, DateOnly> { [lot] = today.AddDays(-2) },
            Lots = new Dictionary<Guid, HungLot> { [lot] = new(today.AddDays(-8), 5) },
        };

        Assert.Equal(3, Of(2, 3).Of(said));
        Assert.Null(Of(2).Of(said));
        Assert.Null(Of(3, 1).Of(said));
        Assert.Equal(6, Of(2, 3).Of(Kept(ForecastKind.Due, lot, today.AddDays(-7))));
        Assert.Null(Of(2).Of(Kept(ForecastKind.Due, lot, today.AddDays(-7))));
        Assert.Null(Of(2, 3).Of(Kept(ForecastKind.Lot, lot, today.AddDays(-7))));
        Assert.True(Of(2, 3).Waits(Kept(ForecastKind.Lot, lot, today.AddDays(-7))));
    }

    [Fact]
    public void Outcome_of_what_flies_is_told_by_walks_and_of_wishes_by_what_was_let_go()
    {
        var (today, on) = (HungHouse.Today, HungHouse.Today.AddDays(-1));
        var came = new Outcomes
        {
            Today = today,
            Rounds = new HashSet<DateOnly> { on },
            Walks = new Dictionary<DateOnly, IReadOnlyDictionary<string, int>> { [on] = new Dictionary<string, int> { ["Morpho helenor"] = 4, ["Idea leuconoe"] = 2 } },
            FoundDead = new Dictionary<(DateOnly, string), int> { [(on.AddDays(-3), "Morpho helenor")] = 1 },
            Released = new Dictionary<string, IReadOnlyList<(DateOnly, int)>> { ["Morpho helenor"] = [(on, 9)], ["Idea leuconoe"] = [(on, 3), (today, 50)] },
        };

        Assert.Equal(4, came.Of(Kept(ForecastKind.Flying, Guid.Empty, on, "Morpho helenor", seen: 0.4)));
        Assert.Equal(0, came.Of(Kept(ForecastKind.Flying, Guid.Empty, on, "Dryas iulia", seen: 0.4)));
        Assert.Equal(6, came.Of(Kept(ForecastKind.Flying, Guid.Empty, on, "all", seen: 0.4)));
        Assert.Null(came.Of(Kept(ForecastKind.Flying, Guid.Empty, on, "Morpho helenor")));
        Assert.Null(came.Of(Kept(ForecastKind.Flying, Guid.Empty, on.AddDays(-1), "Morpho helenor", seen: 0.4)));
        Assert.Equal(0, came.Of(Kept(ForecastKind.FoundDead, Guid.Empty, on, "Morpho helenor")));
        Assert.Null(came.Of(Kept(ForecastKind.FoundDead, Guid.Empty, on.AddDays(-1), "Morpho helenor")));
        Assert.Equal(1, came.Of(Kept(ForecastKind.Aim, Guid.Empty, on, "all", wish: AimKind.Display, atLeast: 12)));
        Assert.Equal(0, came.Of(Kept(ForecastKind.Aim, Guid.Empty, on, "all", wish: AimKind.Display, atLeast: 13)));
        Assert.Equal(1, came.Of(Kept(ForecastKind.Aim, Guid.Empty, on, "all", wish: AimKind.Variety, atLeast: 2)));
        Assert.Null(came.Of(Kept(ForecastKind.Aim, Guid.Empty, on, "Morpho helenor", wish: AimKind.Breeding, atLeast: 1)));
        Assert.Null(came.Of(Kept(ForecastKind.Aim, Guid.Empty, today, "all", wish: AimKind.Display, atLeast: 12)));
    }

    private static KeptForecast Kept(ForecastKind kind, Guid about, DateOnly on, string subject = "Morpho helenor", double? seen = null, AimKind? wish = null, int? atLeast = null) =>
        new() { Kind = kind, MadeOn = on, ForDay = on, AboutId = about, Subject = subject, Seen = seen, Wish = wish, AtLeast = atLeast, Said = [0.5, 0.5], Rival = [1] };

    [Fact]
    public async Task Demo_is_judged_from_what_was_known_then()
    {
        await using var book = await TestBook.Demo();
        using var browser = await book.Serve();

        Assert.Contains("look again in a minute", await browser.Page("/honesty"), StringComparison.Ordinal);
        // The page has asked for the scores: they are reckoned once, behind it.
        HonestyView? view = null;
        await Until(async () => (view = await book.Hosted(services => OnHouse(services.GetRequiredService<IServiceScopeFactory>(), house =>
            Task.FromResult(house.GetRequiredService<HouseDay>() is var day ? house.GetRequiredService<ScoredDays>().Of(day.HouseId, day.Today) : null)))) is not null);
        var page = await browser.Page("/honesty");

        foreach (var kind in (ForecastKind[])[ForecastKind.Emerging, ForecastKind.Lot, ForecastKind.Due, ForecastKind.Flying, ForecastKind.FoundDead, ForecastKind.Listing])
        {
            var score = view!.Afterwards.Single(score => score.Kind == kind);
            Assert.True(score.Card!.Groups >= Scorecard.FewestTogether);
            Assert.NotEmpty(score.Rival);
        }

        // The demo's lists are drawn anew each week: chances that are learnt from them come as said.
        Assert.False(view!.Afterwards.Single(score => score.Kind == ForecastKind.Listing).IsOverSure);
        Assert.Contains("Reckoned afterwards", page, StringComparison.Ordinal);
        Assert.DoesNotContain("look again in a minute", page, StringComparison.Ordinal);
    }

    private static (Lot Lot, int[] ByDay, int Fail) Hang(Lot lot, double rate, Random random)
    {
        var taxon = TaxonTable.Shipped.Of(lot.Taxon);
        var window = taxon.Life.DaysToEmergence.Value;
        var timing = EmergenceTiming.FromWindow(window.From, window.To);
        var emerge = CountDistribution.BetaBinomial(lot.Received, rate * EmergenceRate.TableLotConcentration, (1 - rate) * EmergenceRate.TableLotConcentration).Quantile(random.NextDouble());
        var byDay = new int[timing.LastDay + 1];
        for (var pupa = 0; pupa < emerge; pupa++)
        {
            var (u, day) = (random.NextDouble(), 0);
            while (day < timing.LastDay && timing.NotBefore(day + 1) > 1 - u)
            {
                day++;
            }

            byDay[day]++;
        }

        return (lot, byDay, lot.Received - emerge);
    }

    private static Task<List<string>> Said(TestBook book) => book.Look(async context =>
        (await context.Forecasts.AsNoTracking().ToListAsync(TestContext.Current.CancellationToken)).Select(forecast => $"{forecast.Kind} {forecast.Id} {string.Join(' ', forecast.Said)}").Order(StringComparer.Ordinal).ToList());

    private static async Task Until(Func<Task<bool>> come)
    {
        for (var look = 0; !await come(); look++)
        {
            Assert.True(look < 1200, "It does not come.");
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }
    }
}

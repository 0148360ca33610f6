using System.Text.Json;
using Lepidary.App.Host;
using Lepidary.App.Seasons;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Lepidary.App.Tests.Seasons;

/// <summary>Seasons of the demo's house, by command, by page and past ones.</summary>
public sealed class SeasonTests
{
    private static readonly DateOnly Today = HungHouse.Today;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Simulate_plays_every_way_on_the_same_draws_and_one_seed_gives_one_answer()
    {
        await using var book = await TestBook.Demo();
        string[] command = ["season", "simulate", "--weeks", "4", "--draws", "2", "--policy", "plan", "--policy", "upto", "--policy", "naive", "--policy", "nothing", "--json"];

        var said = await book.Done(command);

        var report = said.Json;
        var rows = report.GetProperty("rows").EnumerateArray().ToDictionary(row => row.GetProperty("policy").GetString()!);
        Assert.Equal(4, rows.Count);
        Assert.Equal(2, report.GetProperty("draws").GetInt32());
        Assert.All(rows.Values, row =>
        {
            Assert.Equal(row.GetProperty("landed").GetDouble() + row.GetProperty("shortage").GetDouble(), row.GetProperty("total").GetDouble(), 1e-6);
            Assert.Equal(row.GetProperty("landed").GetDouble(), row.GetProperty("byWeek").EnumerateArray().Sum(week => week.GetProperty("landed").GetDouble()), 1e-6);
            Assert.InRange(row.GetProperty("wishesMet").GetDouble(), 0, 1);
        });
        Assert.Equal(0, rows["nothing"].GetProperty("pupae").GetDouble());
        Assert.True(rows.Values.First().GetProperty("total").GetDouble() < rows["nothing"].GetProperty("total").GetDouble());
        Assert.Contains("week 32 of 32", said.Error, StringComparison.Ordinal);
        Assert.Equal(said.Output, (await book.Done(command)).Output);
    }

    [Fact]
    public async Task Simulate_what_if_changes_what_it_says()
    {
        await using var book = await TestBook.Demo();
        async Task<JsonElement> Row(params string[] what) =>
            (await book.Done(["season", "simulate", "--weeks", "5", "--draws", "2", "--policy", "upto", "--json", .. what])).Json.GetProperty("rows")[0];

        var (free, poor, lost, cold, modest) = (await Row(), await Row("--budget", "40"), await Row("--without", "Kessom Farm"), await Row("--slower", "60"), await Row("--aims", "50"));

        Assert.All(poor.GetProperty("byWeek").EnumerateArray(), week => Assert.InRange(week.GetProperty("landed").GetDouble(), 0, 40.03));
        Assert.DoesNotContain("Kessom Farm", lost.GetProperty("byWeek").GetRawText(), StringComparison.Ordinal);
        Assert.Contains("Kessom Farm", free.GetProperty("byWeek").GetRawText(), StringComparison.Ordinal);
        Assert.NotEqual(free.GetProperty("shortage").GetDouble(), cold.GetProperty("shortage").GetDouble());
        Assert.True(modest.GetProperty("shortage").GetDouble() < free.GetProperty("shortage").GetDouble());
    }

    [Theory]
    [InlineData("--weeks", "1")]
    [InlineData("--draws", "0")]
    [InlineData("--without", "Nobody at all")]
    [InlineData("--policy", "clever")]
    [InlineData("--aims", "0")]
    public async Task Simulate_what_cannot_be_is_refused(string option, string value)
    {
        await using var book = await TestBook.Demo();

        Assert.Equal(ExitCodes.BadInput, (await book.Run("season", "simulate", option, value)).Code);
    }

    [Fact]
    public async Task Replay_lays_what_would_have_been_ordered_beside_what_was()
    {
        await using var book = await TestBook.Demo();

        var report = (await book.Done("season", "replay", "--from", "2026-10-30", "--weeks", "4", "--draws", "1", "--policy", "plan", "--policy", "naive", "--json")).Json;

        Assert.Equal(4, report.GetProperty("really").GetArrayLength());
        Assert.Contains(report.GetProperty("really").EnumerateArray(), week => week.GetProperty("pupae").GetInt32() > 0);
        Assert.Contains(report.GetProperty("rows")[0].GetProperty("byWeek").EnumerateArray(), week => week.GetProperty("pupae").GetDouble() > 0);
        Assert.Equal(ExitCodes.BadInput, (await book.Run("season", "replay", "--from", "2026-11-20", "--weeks", "4")).Code);
    }

    /// <summary>
    /// Counts, releases, dead and a list of a later day are planted; nothing that a keeper of an earlier day would have been told may move. A correction of an earlier count is
    /// no later fact: it says what was there then.
    /// </summary>
    [Fact]
    public async Task Replay_knows_nothing_later_than_its_day()
    {
        await using var book = await TestBook.Demo();
        var from = Today.AddDays(-21);
        var before = await Told(book, from);

        var house = await book.Look(context => context.Houses.FirstAsync(Stop));
        var lots = await book.Look(context => context.Lots.Where(lot => lot.HungOn < from).OrderByDescending(lot => lot.HungOn).Take(30).ToListAsync(Stop));
        Fact[] planted =
        [
            .. lots.Select(lot => new FoundDead { HouseId = house.Id, OnDay = Today, DeviceTime = book.Clock.GetUtcNow(), Taxon = lot.Taxon, Count = 5 }),
            .. lots.Select(lot => new Entry { HouseId = house.Id, OnDay = Today, DeviceTime = book.Clock.GetUtcNow(), LotId = lot.Id, Dead = 30 }),
            .. lots.Select(lot => new Release { HouseId = house.Id, OnDay = Today, DeviceTime = book.Clock.GetUtcNow(), Taxon = lot.Taxon, Unsexed = 9 }),
        ];
        await book.Serve<FactInbox, IReadOnlyList<FactReceipt>>(inbox => inbox.ReceiveAsync(planted, Stop));
        await book.Done("lists", "take", book.File("late.csv", "Species,Price\nMorpho helenor,99.00\nCaligo memnon,88.00\n"), "--supplier", "Kessom Farm");

        // The last of the weeks begins on the day of what was planted: there it must be told.
        var after = await Told(book, from);
        Assert.Equal(before.Take(3), after.Take(3));
        Assert.NotEqual(before[3], after[3]);
    }

    // All that a policy is told in each week, but for what its own orders have become.
    private static async Task<IReadOnlyList<string>> Told(TestBook book, DateOnly from) => await book.Serve<IServiceProvider, IReadOnlyList<string>>(async services =>
    {
        await services.GetRequiredService<HouseDay>().Load(null, Stop);
        var laid = await services.GetRequiredService<SeasonFromBook>().Lay(new() { From = from, Weeks = 4 }, Stop);
        Assert.True(laid.IsGood, string.Join(' ', laid.Problems));
        return
        [
            .. laid.Value.Setting.Replayed!.Select(week => JsonSerializer.Serialize(new
            {
                week.OrderDay,
                Offers = week.Offers.Select(o => (object[])[o.Id, o.Price, o.Available ?? -1, o.Pack, o.Minimum, o.SoldOut]),
                Suppliers = week.Suppliers.Select(s => (object[])[s.Name, s.Arrives[0], s.Carriage.Select(c => c.Cost).ToArray()]),
                week.LaterArrivals,
                week.Budget,
                Taxa = week.Taxa.Select(t => (object[])
                [
                    t.Name, t.Timing.Chances.ToArray(), t.UsualRate.Mean, t.Rates.OrderBy(r => r.Key, StringComparer.Ordinal).Select(r => (object[])[r.Key, r.Value.Mean, r.Value.Certainty.ToString(System.Globalization.CultureInfo.InvariantCulture)]).ToArray(),
                    t.Later is { } later ? (object[])[later.WeeklyChance, later.LandedPrice] : [], t.Stock.Survival.MeanDaysCounted,
                    t.Stock.Lots.Select(lot => (object[])[lot.Hanging, lot.DaysHanging, lot.Rate.Mean, lot.Emerged, lot.Lost]).ToArray(),
                    t.Stock.Flying.Select(group => (object[])[group.Count, group.DaysOnWing, group.Alive]).ToArray(),
                ]),
            })),
        ];
    });

    [Fact]
    public async Task Page_plays_seasons_and_shows_every_way_of_ordering()
    {
        await using var book = await TestBook.Demo();
        using var browser = await book.Serve();
        var fresh = await browser.Page("/season");
        Assert.Contains("Does ordering this way pay?", fresh, StringComparison.Ordinal);

        var (_, page, address) = await PageForm.Of(fresh, "action=\"/season\"").Send(browser, ("weeks", "3"), ("draws", "1"), ("budget", "120"), ("seed", "3"));
        while (page.Contains("<progress", StringComparison.Ordinal))
        {
            await Task.Delay(200, Stop);
            page = await browser.Page(address);
        }

        foreach (var policy in SeasonRunning.Policies)
        {
            Assert.Contains(policy.Name, page, StringComparison.Ordinal);
        }

        Assert.Contains("1 of 1 seasons of 3 weeks", page, StringComparison.Ordinal);
        Assert.Contains("value=\"120\"", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Page_what_cannot_be_is_shown_again_with_why()
    {
        await using var book = await TestBook.Demo();
        using var browser = await book.Serve();

        var (status, page, _) = await PageForm.Of(await browser.Page("/season"), "action=\"/season\"").Send(browser, ("weeks", "99"), ("budget", "much"));

        Assert.Equal(System.Net.HttpStatusCode.BadRequest, status);
        Assert.Contains("found much", page, StringComparison.Ordinal);
        Assert.Contains("value=\"99\"", page, StringComparison.Ordinal);
    }
}

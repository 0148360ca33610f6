using System.Net;
using CsCheck;
using Lepidary.App.HangingPlaces;
using Lepidary.App.Rounds;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.HangingPlaces;

public sealed class HangingPlacesTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("3", "3")]
    [InlineData("A3", "3")]
    [InlineData("3-5", "3 4 5")]
    [InlineData("A3–A5, 8", "3 4 5 8")]
    [InlineData("upper shelf", "")]
    [InlineData("5-3", "")]
    [InlineData(null, "")]
    public void Rows_are_read_as_labels_write_them(string? text, string rows) => Assert.Equal(rows, string.Join(' ', HangingRows.Read(text)));

    [Fact]
    public void Rows_written_are_read_back() =>
        Gen.Int[1, 60].HashSet[1, 12].Sample(rows => Assert.Equal(rows.Order(), HangingRows.Read(HangingRows.Write(rows))));

    [Fact]
    public async Task Plan_page_hangs_what_has_no_row_and_sent_twice_moves_each_lot_once()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        await SayRows(book);
        await HungHouse.Hang(book, house, "Papilio memnon", 4, 3, row: "1");
        var owls = await HungHouse.Hang(book, house, "Caligo memnon", 9, 1);
        var longwings = await HungHouse.Hang(book, house, "Heliconius melpomene", 6, 4);
        using var browser = await book.Serve();
        var page = await browser.Page("/hanging");

        Assert.Contains("<h1>2 lots to hang</h1>", page, StringComparison.Ordinal);
        var form = PageForm.Of(page, "class=\"entry hanging\"");
        var (status, after, _) = await form.Send(browser, ("h0-hung", "on"), ("h1-hung", "on"), ("who", "Ann"));
        await form.Send(browser, ("h0-hung", "on"), ("h1-hung", "on"));

        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("Everything hangs in a row", after, StringComparison.Ordinal);
        var moves = await book.Look(context => context.Set<Move>().OrderBy(move => move.Row).ToListAsync(Stop));
        Assert.Equal([(longwings.Id, "2"), (owls.Id, "3-4")], moves.Select(move => (move.LotId, move.Row!)));
        Assert.All(moves, move => Assert.Equal(1, move.Position));
    }

    /// <summary>Owls come out last of the two by the species table; coloured up, they come out first.</summary>
    [Fact]
    public async Task Plan_hangs_what_has_coloured_up_nearest_at_hand()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        await SayRows(book);
        await book.Done("deliveries", "take", "--supplier", "Quillfeather Pupae", "--line", "Caligo memnon=5,coloured=2", "Heliconius melpomene=6");

        var rows = (await book.Done("hanging", "--json")).Json.GetProperty("rows").EnumerateArray().Select(row => (row.GetProperty("taxon").GetString(), row.GetProperty("row").GetString(), row.GetProperty("firstOut").GetString())).ToList();

        Assert.Equal(("Caligo memnon", "1", "today"), rows[0]);
        Assert.Equal(("Heliconius melpomene", "1"), (rows[1].Item1, rows[1].Item2));
    }

    [Fact]
    public async Task Plan_page_refuses_two_lots_in_one_row_and_warns_of_a_cage_over_its_places()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        await SayRows(book);
        await HungHouse.Hang(book, house, "Papilio memnon", 24, 3, "Cage B", "1");
        await HungHouse.Hang(book, house, "Caligo memnon", 9, 1);
        await HungHouse.Hang(book, house, "Heliconius melpomene", 6, 4);
        using var browser = await book.Serve();
        var page = await browser.Page("/hanging");

        var (status, again, _) = await PageForm.Of(page, "class=\"entry hanging\"").Send(browser, ("h0-hung", "on"), ("h1-hung", "on"), ("h0-row", "2"), ("h1-row", "2-3"));

        Assert.Contains("Cage B has 20 places, and 24 pupae hang in it now", page, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.BadRequest, status);
        Assert.Contains("Cage A, row 2", again, StringComparison.Ordinal);
        Assert.Contains("one lot a row", again, StringComparison.Ordinal);
        Assert.Empty(await book.Look(context => context.Set<Move>().ToListAsync(Stop)));
    }

    [Fact]
    public async Task Split_and_merge_keep_the_sum_of_pupae_on_every_day_and_undo_together()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9, row: "1");
        await book.Receive(new Entry { HouseId = house.Id, OnDay = HungHouse.Today.AddDays(-2), DeviceTime = book.Clock.GetUtcNow(), LotId = lot.Id, EmergedMale = 3 });
        var key = BookId.New();
        var code = LotCode.Of(lot.Id);

        var split = await book.Done("split", "--lot", code, "--pupae", "4", "--row", "2", "--id", key.ToString(), "--json");
        await book.Run("split", "--lot", code, "--pupae", "4", "--row", "2", "--id", key.ToString());
        var created = split.Json.GetProperty("new").GetString()!;
        Assert.Equal(5, split.Json.GetProperty("left").GetInt32());
        await Sums(book, house, 12, 2);

        var merged = await book.Done("merge", "--lot", created, "--into", code, "--json");
        Assert.Equal((4, 9), (merged.Json.GetProperty("pupae").GetInt32(), merged.Json.GetProperty("hanging").GetInt32()));
        await Sums(book, house, 12, 1);

        var recount = await book.Look(context => context.Set<Recount>().SingleAsync(Stop));
        await book.Done("void", recount.Id.ToString());
        await Sums(book, house, 12, 2);
        await book.Done("void", key.ToString());
        await Sums(book, house, 12, 1);
    }

    [Fact]
    public async Task Split_and_merge_refuse_what_would_mix_counts_up()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = LotCode.Of((await HungHouse.Hang(book, house, "Morpho helenor", 12, 9)).Id);
        var other = LotCode.Of((await HungHouse.Hang(book, house, "Morpho helenor", 6, 2)).Id);

        Assert.Contains("1 to 11", (await book.Run("split", "--lot", lot, "--pupae", "12")).Error, StringComparison.Ordinal);
        Assert.Contains("a cage", (await book.Run("split", "--lot", lot, "--pupae", "2", "--cage", "Palm hall")).Error, StringComparison.Ordinal);
        Assert.Contains("same species, supplier and day", (await book.Run("merge", "--lot", lot, "--into", other)).Error, StringComparison.Ordinal);
        Assert.Contains("another lot", (await book.Run("merge", "--lot", lot, "--into", lot)).Error, StringComparison.Ordinal);
        await Sums(book, house, 18, 2);
    }

    [Fact]
    public async Task Split_form_of_a_lot_leads_to_the_new_one()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9, row: "1");
        using var browser = await book.Serve();
        var cage = house.Cages.Single(cage => cage.Name == "Cage B").Id.ToString();

        var (status, page, address) = await PageForm.Of(await browser.Page($"/round/{LotCode.Of(lot.Id)}"), "/split\"").Send(browser, ("split-pupae", "5"), ("split-cage", cage), ("split-row", "7"));

        Assert.Equal(HttpStatusCode.OK, status);
        Assert.DoesNotContain(LotCode.Of(lot.Id), address, StringComparison.Ordinal);
        Assert.Contains("Cage B, row 7", page, StringComparison.Ordinal);
        Assert.Contains("Hang it with another", page, StringComparison.Ordinal);
    }

    private static async Task SayRows(TestBook book) => await book.Look(async context =>
    {
        foreach (var cage in await context.Cages.Where(cage => cage.Use == CageUse.Emergence).ToListAsync(Stop))
        {
            (cage.Rows, cage.RowCm, cage.ReachRows) = (10, 60, 5);
        }

        return await context.SaveChangesAsync(Stop);
    });

    /// <summary>Pupae known on each day since the first, by the ledger's own sums; lots in which something hangs today.</summary>
    private static async Task Sums(TestBook book, Book.House house, int pupae, int lots)
    {
        for (var ago = 0; ago < 2; ago++)
        {
            var open = await book.Serve<OpenLots, IReadOnlyList<LotBalance>>(reader => reader.ReadAsync(house.Id, HungHouse.Today.AddDays(-ago), Stop));
            Assert.Equal(pupae, open.Sum(balance => balance.Hanging + balance.Emerged));
            Assert.All(open, balance => Assert.Equal(0, balance.Excess));
            if (ago == 0)
            {
                Assert.Equal(lots, open.Count(balance => balance.Hanging > 0));
            }
        }

        Assert.Empty(await book.Serve<DiscrepancyReader, IReadOnlyList<Discrepancy>>(reader => reader.ReadAsync(house.Id, Stop)));
    }
}

using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Rounds;

public sealed class RoundCommandsTests
{
    [Fact]
    public async Task Show_lots_stand_in_the_order_in_which_they_hang()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        await HungHouse.Hang(book, house, "Idea leuconoe", 5, 2, "Cage B", "1");
        await HungHouse.Hang(book, house, "Morpho helenor", 12, 4, "Cage A", "10");
        await HungHouse.Hang(book, house, "Papilio memnon", 8, 4, "Cage A", "2");

        var said = await book.Done("round", "show", "--json");

        Assert.Equal(
            ["Papilio memnon", "Morpho helenor", "Idea leuconoe"],
            said.Json.GetProperty("lots").EnumerateArray().Select(lot => lot.GetProperty("taxon").GetString()));
        Assert.Equal("3 lots to look at", said.Json.GetProperty("headline").GetString());
    }

    [Fact]
    public async Task Show_a_lot_in_its_window_expects_what_the_forecast_says()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        await HungHouse.Hang(book, house, "Morpho helenor", 30, 9);
        await HungHouse.Hang(book, house, "Papilio memnon", 30, 0);

        var lots = (await book.Done("round", "show", "--json")).Json.GetProperty("lots").EnumerateArray().ToDictionary(lot => lot.GetProperty("taxon").GetString()!);

        var due = lots["Morpho helenor"].GetProperty("expected");
        Assert.InRange(due.GetProperty("likely").GetInt32(), 1, 15);
        Assert.True(due.GetProperty("from").GetInt32() <= due.GetProperty("likely").GetInt32());
        Assert.Equal(30, lots["Morpho helenor"].GetProperty("hungYesterday").GetInt32());
        Assert.Equal(0, lots["Papilio memnon"].GetProperty("expected").GetProperty("likely").GetInt32());
        Assert.Equal(30, lots["Papilio memnon"].GetProperty("hungYesterday").GetInt32());
    }

    [Fact]
    public async Task Show_an_overdue_lot_is_marked_and_a_resting_one_is_not()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        await HungHouse.Hang(book, house, "Morpho helenor", 4, 60);
        await HungHouse.Hang(book, house, "Actias luna", 4, 200);

        var lots = (await book.Done("round", "show", "--json")).Json.GetProperty("lots").EnumerateArray().ToDictionary(lot => lot.GetProperty("taxon").GetString()!);

        Assert.True(lots["Morpho helenor"].GetProperty("overdue").GetBoolean());
        Assert.Contains("overdue", lots["Morpho helenor"].GetProperty("mark").GetString(), StringComparison.Ordinal);
        Assert.False(lots["Actias luna"].GetProperty("overdue").GetBoolean());
        Assert.Equal("may rest", lots["Actias luna"].GetProperty("mark").GetString());
    }

    [Fact]
    public async Task Enter_counts_balance_the_lot()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);

        var said = await book.Done("round", "enter", "--lot", LotCode.Of(lot.Id), "--emerged-male", "2", "--emerged-female", "1", "--dead", "1", "--who", "Ann", "--json");

        var balance = said.Json.GetProperty("balance");
        Assert.Equal("accepted", said.Json.GetProperty("receipt").GetString());
        Assert.Equal(8, balance.GetProperty("hanging").GetInt32());
        Assert.Equal(3, balance.GetProperty("emerged").GetInt32());
        Assert.Equal(3, balance.GetProperty("toRelease").GetInt32());
        var entry = await book.Look(context => context.Entries.SingleAsync(TestContext.Current.CancellationToken));
        Assert.Equal(("Ann", HungHouse.Today), (entry.Who, entry.OnDay));
    }

    [Fact]
    public async Task Enter_sent_twice_under_one_key_is_one_entry()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        string[] command = ["round", "enter", "--lot", lot.Id.ToString(), "--emerged", "3", "--released", "--id", "01976f3a-5c20-7f00-8000-000000000001", "--who", "Ann", "--json"];

        await book.Done(command);
        var again = await book.Done(command);

        Assert.Equal("duplicate", again.Json.GetProperty("receipt").GetString());
        Assert.Equal(9, again.Json.GetProperty("balance").GetProperty("hanging").GetInt32());
        Assert.Equal(3, again.Json.GetProperty("balance").GetProperty("released").GetInt32());
        Assert.Equal(1, await book.Look(context => context.Entries.CountAsync(TestContext.Current.CancellationToken)));
    }

    [Fact]
    public async Task Enter_more_than_hangs_is_kept_and_settled_by_a_recount()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 4, 9);

        var said = await book.Run("round", "enter", "--lot", LotCode.Of(lot.Id), "--emerged", "5", "--released", "--json");

        Assert.Equal(ExitCodes.Discrepancy, said.Code);
        Assert.Equal(1, said.Json.GetProperty("balance").GetProperty("excess").GetInt32());
        Assert.Contains("4 received, 5 accounted for", said.Json.GetProperty("discrepancies")[0].GetString(), StringComparison.Ordinal);
        var open = (await book.Done("discrepancies", "--json")).Json.GetProperty("open");
        Assert.Equal(1, open.GetArrayLength());

        var settled = await book.Done("discrepancies", "--more-received", open[0].GetProperty("subjectId").GetString()!, "--json");

        Assert.Equal(0, settled.Json.GetProperty("open").GetArrayLength());
        Assert.Equal(0, (await book.Done("lots", "--json")).Json.GetProperty("lots").GetArrayLength());
    }

    [Fact]
    public async Task Enter_discrepancy_left_as_it_is_shows_again_when_it_grows()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 4, 9);
        await book.Run("round", "enter", "--lot", LotCode.Of(lot.Id), "--dead", "5");

        Assert.Equal(0, (await book.Done("discrepancies", "--settle", lot.Id.ToString(), "--json")).Json.GetProperty("open").GetArrayLength());
        await book.Run("round", "enter", "--lot", LotCode.Of(lot.Id), "--dead", "1");

        Assert.Equal(1, (await book.Done("discrepancies", "--json")).Json.GetProperty("open").GetArrayLength());
    }

    [Fact]
    public async Task Enter_several_wrong_values_are_named_all_at_once_and_nothing_is_written()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);

        var said = await book.Run("round", "enter", "--lot", "AAA-AAAB", "--on", "2026-11-28", "--released");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Contains("K7Q-2M9D", said.Error, StringComparison.Ordinal);
        Assert.Contains("nobody has seen tomorrow", said.Error, StringComparison.Ordinal);
        Assert.Contains("no adults out", said.Error, StringComparison.Ordinal);
        Assert.Equal(0, await book.Look(context => context.Entries.CountAsync(TestContext.Current.CancellationToken)));
    }

    [Fact]
    public async Task Enter_negative_count_is_refused()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 4, 9);

        var said = await book.Run("round", "enter", "--lot", LotCode.Of(lot.Id), "--dead", "-1");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Contains("dead: found -1; expected a whole number from 0", said.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Enter_parasitised_shows_the_hygiene_steps()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 4, 9);

        var said = await book.Done("round", "enter", "--lot", LotCode.Of(lot.Id), "--parasitised", "1");

        Assert.Contains("Keep the cage closed.", said.Output, StringComparison.Ordinal);
        Assert.Contains("Ask them.", said.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Enter_a_correction_voids_the_old_entry_and_its_release()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        var old = (await book.Done("round", "enter", "--lot", LotCode.Of(lot.Id), "--emerged", "5", "--released", "--json")).Json.GetProperty("entry").GetString()!;

        var said = await book.Done("round", "enter", "--lot", LotCode.Of(lot.Id), "--emerged", "3", "--corrects", old, "--json");

        var balance = said.Json.GetProperty("balance");
        Assert.Equal((9, 3, 0, 3), (balance.GetProperty("hanging").GetInt32(), balance.GetProperty("emerged").GetInt32(), balance.GetProperty("released").GetInt32(), balance.GetProperty("toRelease").GetInt32()));
        Assert.Empty(said.Json.GetProperty("discrepancies").EnumerateArray());
    }

    [Fact]
    public async Task Void_an_entry_takes_its_release_back_with_it_and_once_is_enough()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        var entry = (await book.Done("round", "enter", "--lot", LotCode.Of(lot.Id), "--emerged", "5", "--released", "--json")).Json.GetProperty("entry").GetString()!;

        var first = await book.Done("void", entry, "--json");
        var second = await book.Done("void", entry, "--json");

        Assert.False(first.Json.GetProperty("already").GetBoolean());
        Assert.True(second.Json.GetProperty("already").GetBoolean());
        var line = (await book.Done("lots", "--json")).Json.GetProperty("lots")[0];
        Assert.Equal((12, 0, 0), (line.GetProperty("hanging").GetInt32(), line.GetProperty("emerged").GetInt32(), line.GetProperty("released").GetInt32()));
        Assert.Equal(ExitCodes.BadInput, (await book.Run("void", Guid.Empty.ToString())).Code);
    }

    [Fact]
    public async Task Release_into_the_pair_cage_and_beyond_what_emerged()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        await book.Done("round", "enter", "--lot", LotCode.Of(lot.Id), "--emerged-male", "1", "--emerged-female", "1");

        var pair = await book.Done("release", "--lot", LotCode.Of(lot.Id), "--male", "1", "--female", "1", "--to", "pair cage", "--json");
        var beyond = await book.Run("release", "--lot", LotCode.Of(lot.Id), "--unsexed", "2");
        var nowhere = await book.Run("release", "--lot", LotCode.Of(lot.Id), "--unsexed", "1", "--to", "Orchard");

        Assert.Equal("Pair cage", pair.Json.GetProperty("to").GetString());
        Assert.Equal(ExitCodes.Discrepancy, beyond.Code);
        Assert.Equal(ExitCodes.BadInput, nowhere.Code);
        Assert.Contains("one of Palm hall, Walkway", nowhere.Error, StringComparison.Ordinal);
        var releases = await book.Look(context => context.Set<Release>().ToListAsync(TestContext.Current.CancellationToken));
        Assert.Equal(house.Cages.Single(cage => cage.Name == "Pair cage").Id, releases.Single(release => release.Male == 1).CageId);
    }

    [Fact]
    public async Task Lots_every_day_of_entries_in_any_order_balance()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 40, 9);
        var random = new Random(41);
        var counts = Enumerable.Range(0, 8).Select(_ => (Out: random.Next(4), Dead: random.Next(2), Missing: random.Next(2))).ToList();
        foreach (var (at, count) in counts.Index().OrderBy(_ => random.Next()))
        {
            await book.Done("round", "enter", "--lot", LotCode.Of(lot.Id), "--on", HungHouse.Today.AddDays(-at).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), "--emerged", $"{count.Out}", "--dead", $"{count.Dead}", "--missing", $"{count.Missing}");
        }

        var line = (await book.Done("lots", "--json")).Json.GetProperty("lots")[0];

        Assert.Equal(counts.Sum(count => count.Out), line.GetProperty("emerged").GetInt32());
        Assert.Equal(
            40,
            line.GetProperty("hanging").GetInt32() + line.GetProperty("emerged").GetInt32() + line.GetProperty("crippled").GetInt32() + line.GetProperty("dead").GetInt32()
                + line.GetProperty("parasitised").GetInt32() + line.GetProperty("missing").GetInt32() + line.GetProperty("transferred").GetInt32());
    }
}

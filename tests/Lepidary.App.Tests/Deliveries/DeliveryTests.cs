using System.Net;
using Lepidary.App.Host;
using Lepidary.App.Odds;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Deliveries;

public sealed class DeliveryTests
{
    private const string Key = "01976f3a-5c20-7f00-8000-0000000000b1";

    [Fact]
    public async Task Deliveries_list_says_what_is_due_today()
    {
        await using var book = new TestBook();
        await Ordered(book, HungHouse.Today);
        await Ordered(book, HungHouse.Today.AddDays(4));
        using var browser = await book.Serve();

        var said = await book.Done("deliveries", "--json");
        var page = await browser.Page("/deliveries");

        Assert.Equal("One box is due", said.Json.GetProperty("headline").GetString());
        Assert.Equal(["today", "Tue 1 Dec"], said.Json.GetProperty("due").EnumerateArray().Select(box => box.GetProperty("when").GetString()));
        Assert.Contains("<h1>One box is due</h1>", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Take_as_ordered_hangs_every_line_at_its_landed_cost()
    {
        await using var book = new TestBook();
        await Ordered(book, HungHouse.Today);

        var said = await book.Done("deliveries", "take", "--order", "quillfeather pupae", "--as-ordered", "--box", "Q-4411", "--json");

        Assert.Equal("all as noted", said.Json.GetProperty("differences").GetString());
        var lots = said.Json.GetProperty("lots").EnumerateArray().ToList();
        Assert.Equal(["Morpho helenor", "Papilio memnon"], lots.Select(lot => lot.GetProperty("taxon").GetString()));
        Assert.Equal(3.10m, lots[0].GetProperty("unitLanded").GetDecimal());
        Assert.Equal("No box is on its way", (await book.Done("deliveries", "--json")).Json.GetProperty("headline").GetString());
        Assert.Equal(38, (await book.Done("lots", "--json")).Json.GetProperty("lots").EnumerateArray().Sum(lot => lot.GetProperty("hanging").GetInt32()));
    }

    [Fact]
    public async Task Take_with_differences_says_them_and_drafts_the_claim()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);

        var said = await book.Done(
            "deliveries", "take", "--order", order.ToString(), "--box", "Q-4411",
            "--line", "Morpho helenor=18,noted=24,dead=2,damaged=1,cage=Cage A,row=3", "--line", "Great Mormon=14,noted=14,cage=Cage B", "--json");

        Assert.Equal("3 short, 2 dead, 1 damaged", said.Json.GetProperty("differences").GetString());
        var id = said.Json.GetProperty("delivery").GetString()!;
        var shown = (await book.Done("deliveries", "show", id, "--json")).Json;
        Assert.Equal("6 to claim until Sun 29 Nov 10:40", shown.GetProperty("claim").GetProperty("words").GetString());
        var letter = shown.GetProperty("letter").GetString()!;
        Assert.Contains("To: Quillfeather Pupae", letter, StringComparison.Ordinal);
        Assert.Matches(@"Morpho helenor\s+3\s+2\s+1\s+0\s+0\s+2\.50\s+15\.00", letter);
        Assert.DoesNotContain("Papilio memnon", letter, StringComparison.Ordinal);
        Assert.Contains("In all 6 pupae, EUR 15.00", letter, StringComparison.Ordinal);

        await book.Done("deliveries", "claim", id, "--state", "sent", "--amount", "15.00", "--who", "Ann");
        await book.Done("deliveries", "claim", id, "--state", "credited", "--amount", "12.50");

        Assert.StartsWith("credited", (await book.Done("deliveries", "--json")).Json.GetProperty("came")[0].GetProperty("claim").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Posting_day_is_kept_and_teaches_the_days_on_the_way()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        await book.Done("deliveries", "take", "--supplier", "Quillfeather Pupae", "--line", "Morpho helenor=18", "--on", "2026-11-20", "--posted", "2026-11-17");

        var learned = await book.Serve<OddsBook, Learned>(async odds =>
            await odds.Learned(await book.Look(context => context.Houses.Select(house => house.Id).SingleAsync(TestContext.Current.CancellationToken)), HungHouse.Today, TestContext.Current.CancellationToken));
        var late = await book.Run("deliveries", "take", "--supplier", "Quillfeather Pupae", "--line", "Morpho helenor=18", "--on", "2026-11-20", "--posted", "2026-11-21", "--box", "b");

        Assert.Equal(3, Assert.Single(learned.Records).DaysInTransit);
        Assert.Equal(ExitCodes.BadInput, late.Code);
        Assert.Contains("posted: found 2026-11-21", late.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Claim_after_the_window_says_when_it_closed()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);
        await book.Done("deliveries", "take", "--order", order.ToString(), "--line", "Morpho helenor=20,noted=24", "--line", "Papilio memnon=14");

        book.Clock.Advance(TimeSpan.FromHours(49));

        var came = (await book.Done("deliveries", "--json")).Json.GetProperty("came")[0];
        Assert.Equal("4 not claimed; the window closed today 10:40", came.GetProperty("claim").GetString());
        Assert.False(came.GetProperty("claimOpen").GetBoolean());
    }

    [Fact]
    public async Task Take_the_same_box_again_is_refused_and_nothing_is_doubled()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);
        string[] command = ["deliveries", "take", "--order", order.ToString(), "--as-ordered", "--box", "Q-4411", "--who", "Ann", "--json"];

        await book.Done([.. command, "--id", Key]);
        var retried = await book.Done([.. command, "--id", Key]);
        var again = await book.Run(command);
        var otherMark = await book.Run("deliveries", "take", "--order", order.ToString(), "--line", "Morpho helenor=2", "--box", "Q-4412");
        var noMark = await book.Run("deliveries", "take", "--order", order.ToString(), "--line", "Morpho helenor=2");

        Assert.Equal("duplicate", retried.Json.GetProperty("receipt").GetString());
        Assert.Equal(ExitCodes.BadInput, again.Code);
        Assert.Contains("Q-4411, taken in on Fri 27 Nov by Ann", again.Error, StringComparison.Ordinal);
        Assert.Contains("Q-4411 b", again.Error, StringComparison.Ordinal);
        Assert.Equal(ExitCodes.Done, otherMark.Code);
        Assert.Equal(ExitCodes.BadInput, noMark.Code);
        Assert.Equal(2, await book.Look(context => context.Deliveries.CountAsync(TestContext.Current.CancellationToken)));
        Assert.Equal(40, await book.Look(context => context.Lots.SumAsync(lot => lot.Received, TestContext.Current.CancellationToken)));
    }

    [Fact]
    public async Task Take_a_file_without_an_order()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        var file = book.File("box.json", """
            { "supplier": "Quillfeather Pupae", "box": "Q-9", "on": "2026-11-26", "condition": "dry", "asNoted": true,
              "lines": [ { "taxon": "Morpho peleides", "noted": 12, "dead": 2, "cage": "Cage B", "row": "4" }, { "taxon": "Idea leuconoe", "alive": 5 } ] }
            """);

        var said = await book.Done("deliveries", "take", file, "--json");

        var lots = await book.Look(context => context.Lots.OrderBy(lot => lot.Taxon).ToListAsync(TestContext.Current.CancellationToken));
        Assert.Equal("2 dead", said.Json.GetProperty("differences").GetString());
        Assert.Equal(["Idea leuconoe", "Morpho helenor"], lots.Select(lot => lot.Taxon));
        Assert.Equal((10, "4", new DateOnly(2026, 11, 26), (decimal?)null), (lots[1].Received, lots[1].Row, lots[1].HungOn, lots[1].UnitLanded));
    }

    [Fact]
    public async Task Take_wrong_values_are_named_all_at_once_and_nothing_is_written()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);

        var said = await book.Run(
            "deliveries", "take", "--supplier", "Quillfeather Pupae", "--on", "2026-11-28",
            "--line", "Xyzzy=3", "--line", "Idea leuconoe=0,dead=2");
        var cage = await book.Run("deliveries", "take", "--supplier", "Nobody", "--line", "Idea leuconoe=2,cage=Cage Z");
        var lines = await book.Run("deliveries", "take", "--supplier", "Quillfeather Pupae", "--line", "Idea leuconoe=two,colour=blue");
        var file = await book.Run("deliveries", "take", book.File("bad.json", "{ \"supplier\": \"Quillfeather Pupae\",\n \"linse\": [] }"));

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Contains("nobody has seen tomorrow", said.Error, StringComparison.Ordinal);
        Assert.Contains("line 1, species: found Xyzzy", said.Error, StringComparison.Ordinal);
        Assert.Contains("line 1, cage: found Cage Z; expected one of", cage.Error, StringComparison.Ordinal);
        Assert.Contains("supplier: found Nobody", cage.Error, StringComparison.Ordinal);
        Assert.Contains("found two; expected a whole number", lines.Error, StringComparison.Ordinal);
        Assert.Contains("found colour=blue", lines.Error, StringComparison.Ordinal);
        Assert.Contains("bad.json, line 2: found something else at $.linse", file.Error, StringComparison.Ordinal);
        Assert.Equal(0, await book.Look(context => context.Facts.CountAsync(TestContext.Current.CancellationToken)));
    }

    [Fact]
    public async Task Take_more_than_a_cage_holds_is_kept_with_a_warning()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        await HungHouse.Hang(book, house, "Papilio memnon", 15, 2, "Cage B");

        var said = await book.Done("deliveries", "take", "--supplier", "Quillfeather Pupae", "--line", "Idea leuconoe=8,cage=Cage B", "--json");

        Assert.Equal("Cage B has 20 places, and 23 pupae hang in it now. Move 3 before they crowd each other's wings.", said.Json.GetProperty("warnings")[0].GetString());
    }

    [Fact]
    public async Task Delivery_form_takes_in_the_order_and_shows_the_box()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);
        using var browser = await book.Serve();
        var page = await browser.Page($"/deliveries/new?order={order}");
        var form = PageForm.Of(page, "box-form");

        Assert.Contains("Open the box behind closed doors", page, StringComparison.Ordinal);
        Assert.Equal("24", form.Fields["l0-noted"]);
        var (status, shown, address) = await form.Send(
            browser, ("box", "Q-4411"), ("l0-alive", "20"), ("l0-dead", "2"), ("l0-emerged", "1"), ("l1-alive", "14"), ("l2-taxon", "Idea leuconoe"), ("l2-alive", "3"), ("who", "Ann"), ("do", "counted"));
        var twice = await form.Send(browser);

        Assert.Equal(HttpStatusCode.OK, status);
        Assert.StartsWith("/deliveries/", address, StringComparison.Ordinal);
        Assert.Contains("<h1>37 pupae alive; 1 short, 2 dead, 1 emerged in the box</h1>", shown, StringComparison.Ordinal);
        Assert.Contains("one species that nobody ordered", shown, StringComparison.Ordinal);
        Assert.Equal(address, twice.Address);
        Assert.Equal(1, await book.Look(context => context.Deliveries.CountAsync(TestContext.Current.CancellationToken)));
        Assert.Equal(0, await book.Look(context => context.Conflicts.CountAsync(TestContext.Current.CancellationToken)));
        var letter = await browser.GetStringAsync(new Uri(address.Split('?')[0] + "/claim.txt", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Contains("Morpho helenor", letter, StringComparison.Ordinal);

        var claimed = await PageForm.Of(await browser.Page(address), "class=\"entry screen-only\"").Send(browser, ("state", "Sent"), ("amount", "10,00"));

        Assert.Contains("Claim sent today", claimed.Page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Delivery_keeps_what_coloured_up_what_was_substituted_its_photos_its_packing_and_the_claim_to_its_end()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page($"/deliveries/new?order={order}"), "box-form");
        var tooMany = await form.Send(browser, ("l0-alive", "20"), ("l0-coloured", "21"), ("l1-alive", "14"), ("l2-taxon", "Morpho menelaus"), ("l2-alive", "4"), ("l2-instead", "no such thing"), ("do", "counted"));
        var (_, shown, address) = await form.Send(browser, ("l0-coloured", "3"), ("l2-instead", "Morpho helenor"));
        var box = address.Split('?')[0];

        Assert.Contains("line 1, coloured up: found 21; expected at most the 20 alive", tooMany.Page, StringComparison.Ordinal);
        Assert.Contains("line 3, in place of: found no such thing", tooMany.Page, StringComparison.Ordinal);
        Assert.Contains("data-name=\"Coloured up\">3</td>", shown, StringComparison.Ordinal);
        Assert.Contains("in place of <i lang=\"la\" class=\"latin\">Morpho helenor</i>", shown, StringComparison.Ordinal);

        var photo = PageForm.Of(await browser.Page(box), "/photo\"");
        using var picture = new MultipartFormDataContent { { new ByteArrayContent([0xFF, 0xD8, 0xFF, 0xE0, 1, 2, 3]), "photo", "crushed.jpg" }, { new StringContent("a crushed corner"), "photo-note" } };
        foreach (var (name, value) in photo.Fields.Where(field => field.Key is not ("photo" or "photo-note")))
        {
            picture.Add(new StringContent(value), name);
        }

        Assert.Equal(HttpStatusCode.OK, (await browser.PostAsync(new Uri(box + "/photo", UriKind.Relative), picture, TestContext.Current.CancellationToken)).StatusCode);
        var kept = await book.Look(context => context.Set<Photo>().SingleAsync(TestContext.Current.CancellationToken));
        Assert.Equal((7, "image/jpeg"), ((await browser.GetByteArrayAsync(new Uri($"/photos/{kept.Id}", UriKind.Relative), TestContext.Current.CancellationToken)).Length, kept.MediaType));
        var letter = await browser.GetStringAsync(new Uri(box + "/claim.txt", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Contains("4 Morpho menelaus came in place of Morpho helenor", letter, StringComparison.Ordinal);
        Assert.Contains("Photographs: 1, enclosed; a crushed corner.", letter, StringComparison.Ordinal);

        await PageForm.Of(await browser.Page(box), "/packing\"").Send(browser, ("packing", "Sealed"), ("who", "Ann"));
        book.Clock.Advance(TimeSpan.FromMinutes(5));
        var packed = await PageForm.Of(await browser.Page(box), "/packing\"").Send(browser, ("packing", "Destroyed"), ("packing-note", "burnt"));
        Assert.Contains("Destroyed today by Ann: burnt. Before: sealed today by Ann.", packed.Page, StringComparison.Ordinal);

        foreach (var (state, words) in new[] { ("Sent", "Claim sent today"), ("Answered", "Claim answered today"), ("Credited", "Credited today") })
        {
            book.Clock.Advance(TimeSpan.FromMinutes(5));
            Assert.Contains(words, (await PageForm.Of(await browser.Page(box), "class=\"entry screen-only\"").Send(browser, ("state", state))).Page, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Claim_is_followed_from_Today_to_its_credit()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);
        using var browser = await book.Serve();
        var (_, _, address) = await PageForm.Of(await browser.Page($"/deliveries/new?order={order}"), "box-form").Send(browser, ("box", "Q-4411"), ("l0-alive", "20"), ("l0-dead", "4"), ("l1-alive", "14"), ("do", "counted"));
        var box = address.Split('?')[0];

        var due = await browser.Page("/");
        Assert.Contains("Claim 4 pupae from Quillfeather Pupae", due, StringComparison.Ordinal);
        Assert.Contains("The supplier takes claims until Sun 29 Nov 10:40.", due, StringComparison.Ordinal);
        Assert.Contains($"href=\"{box}\"", due, StringComparison.Ordinal);

        var form = PageForm.Of(await browser.Page(box), "class=\"entry screen-only\"");
        Assert.Equal("10.00", form.Fields["amount"]);
        await form.Send(browser, ("state", "Sent"), ("who", "Ann"), ("claim-note", "with two photos"));
        Assert.DoesNotContain("Claim 4 pupae", await browser.Page("/"), StringComparison.Ordinal);
        book.Clock.Advance(TimeSpan.FromDays(3));
        Assert.Contains("Ask Quillfeather Pupae about the claim", await browser.Page("/"), StringComparison.Ordinal);

        await PageForm.Of(await browser.Page(box), "class=\"entry screen-only\"").Send(browser, ("state", "Answered"));
        Assert.DoesNotContain("Ask Quillfeather", await browser.Page("/"), StringComparison.Ordinal);
        book.Clock.Advance(TimeSpan.FromDays(14));
        Assert.Contains("Ask Quillfeather Pupae for the credit", await browser.Page("/"), StringComparison.Ordinal);

        var (_, credited, _) = await PageForm.Of(await browser.Page(box), "class=\"entry screen-only\"").Send(browser, ("state", "Credited"), ("amount", "7.50"));
        Assert.Contains("€7.50 of €10.00 credited: €2.50 open.", credited, StringComparison.Ordinal);
        Assert.Contains("sent Fri 27 Nov by Ann, €10.00: with two photos", credited, StringComparison.Ordinal);
        Assert.DoesNotContain("Ask Quillfeather", await browser.Page("/"), StringComparison.Ordinal);

        var (_, undone, _) = await PageForm.Of(await browser.Page(box), "/claim/undo\"").Send(browser);
        Assert.DoesNotContain("€7.50", undone, StringComparison.Ordinal);
        Assert.Contains("Claim answered", undone, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Claim_that_was_not_sent_in_its_window_is_not_on_Today()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);
        await book.Done("deliveries", "take", "--order", order.ToString(), "--line", "Morpho helenor=20,dead=4", "Papilio memnon=14");

        book.Clock.Advance(TimeSpan.FromHours(47));
        var before = (await book.Done("today")).Output;
        book.Clock.Advance(TimeSpan.FromHours(2));
        var after = (await book.Done("today")).Output;

        Assert.Contains("Claim 4 pupae from Quillfeather Pupae", before, StringComparison.Ordinal);
        Assert.DoesNotContain("Claim 4 pupae", after, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Claim_letter_is_a_page_and_a_mail_with_table_and_photos()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);
        using var browser = await book.Serve();
        var id = (await book.Done("deliveries", "take", "--order", order.ToString(), "--line", "Morpho helenor=12+8,dead=0+4,coloured=2", "Papilio memnon=14", "--who", "Ann", "--json")).Json.GetProperty("delivery").GetGuid();
        byte[] picture = [0xFF, 0xD8, 0xFF, 0xE0, 1, 2, 3];
        var photo = new Photo
        {
            HouseId = await book.Look(context => context.Houses.Select(house => house.Id).SingleAsync(TestContext.Current.CancellationToken)),
            OnDay = HungHouse.Today,
            DeviceTime = book.Clock.GetUtcNow(),
            AboutId = id,
            Note = "the lower layer",
            MediaType = "image/jpeg",
            Sha256 = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(picture)),
        };
        await book.Receive(photo);
        await book.Serve<PhotoShelf, Checked<Receipt>>(shelf => shelf.KeepAsync(photo.Id, picture, TestContext.Current.CancellationToken));

        var page = WebUtility.HtmlDecode(await browser.Page($"/deliveries/{id}/claim"));
        var mail = await MimeKit.MimeMessage.LoadAsync(await browser.GetStreamAsync(new Uri($"/deliveries/{id}/claim.eml", UriKind.Relative), TestContext.Current.CancellationToken), TestContext.Current.CancellationToken);

        Assert.Contains("data-name=\"Dead\">4</td>", page, StringComparison.Ordinal);
        Assert.Contains("<i lang=\"la\" class=\"latin\">Morpho helenor</i>: from the top layer down: alive 12+8, dead 0+4.", page, StringComparison.Ordinal);
        Assert.Contains($"<img src=\"/photos/{photo.Id}\" alt=\"the lower layer\"", page, StringComparison.Ordinal);
        Assert.Equal("claims@quillfeather.example", Assert.Single(mail.To.Mailboxes).Address);
        Assert.Empty(mail.From);
        Assert.StartsWith("Claim on the box received Friday 27 November 2026", mail.Subject, StringComparison.Ordinal);
        Assert.Contains("In all 4 pupae, EUR 10.00 at the prices of the order", mail.TextBody, StringComparison.Ordinal);
        Assert.Contains("<td>Morpho helenor</td><td>0</td><td>4</td>", mail.HtmlBody, StringComparison.Ordinal);
        using var enclosed = new MemoryStream();
        await Assert.IsType<MimeKit.MimePart>(Assert.Single(mail.Attachments), exactMatch: false).Content!.DecodeToAsync(enclosed, TestContext.Current.CancellationToken);
        Assert.Equal(picture, enclosed.ToArray());
    }

    [Fact]
    public async Task Box_counted_layer_by_layer_keeps_the_layers_beside_the_sum()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page($"/deliveries/new?order={order}"), "box-form");

        var wrong = await form.Send(browser, ("l0-alive", "12+8+x"), ("l1-alive", "14"), ("do", "counted"));
        var unlike = await form.Send(browser, ("l0-alive", "12 + 8"), ("l0-dead", "0+0+4"));
        var (_, shown, _) = await form.Send(browser, ("l0-dead", "0+4"), ("l0-remark", "damp"), ("l0-coloured", "3"), ("l0-row", "3"), ("l0-place", "12"));

        Assert.Contains("line 1, alive: found 12+8+x; expected a whole number, or its parts as 12+9+3", wrong.Page, StringComparison.Ordinal);
        Assert.Contains("line 1, alive: found 12+8; expected 3 layers as in the other counts", unlike.Page, StringComparison.Ordinal);
        Assert.Contains("<h1>34 pupae alive; 4 dead</h1>", shown, StringComparison.Ordinal);
        Assert.Contains("data-name=\"Remark\">damp; from the top layer down: alive 12+8, dead 0+4</td>", shown, StringComparison.Ordinal);
        var line = await book.Look(context => context.DeliveryLines.SingleAsync(line => line.Taxon == "Morpho helenor", TestContext.Current.CancellationToken));
        Assert.Equal((20, 4, 3, "damp"), (line.Alive, line.Dead, line.ColouredUp, line.Remark));
        Assert.Equal([(12, 0, (int?)null), (8, 4, null)], line.Layers.Select(layer => (layer.Alive!.Value, layer.Dead!.Value, layer.ColouredUp)));
        Assert.Equal(12, await book.Look(context => context.Lots.Where(lot => lot.Taxon == "Morpho helenor").Select(lot => lot.Position).SingleAsync(TestContext.Current.CancellationToken)));
    }

    /// <summary>The limits are those of the two pages that only reckon: 0 to 2 of the 2 not looked at; 480 to 522 of about 500 by weight.</summary>
    [Fact]
    public async Task Line_that_was_not_counted_whole_keeps_its_limits_and_the_claim_quotes_them()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var browser = await book.Serve();
        var supplier = await book.Look(context => context.Suppliers.Select(one => one.Id).SingleAsync(TestContext.Current.CancellationToken));
        var form = PageForm.Of(await browser.Page("/deliveries/new"), "box-form");

        var wrong = await form.Send(browser, ("supplier", supplier.ToString()), ("l0-taxon", "Morpho helenor"), ("l0-noted", "4"), ("l0-dead", "1"), ("l0-looked", "9"), ("do", "counted"));
        var unread = await form.Send(browser, ("l0-looked", "2"), ("l1-taxon", "Idea leuconoe"), ("l1-portions", "10"));
        var (_, shown, address) = await form.Send(browser, ("l1-portions", "10:12,3 10:11.9 10:12.6 10=12"), ("l1-rest", "610"), ("l1-dead", "3"));
        var letter = await browser.GetStringAsync(new Uri(address.Split('?')[0] + "/claim.txt", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Contains("line 1, looked at: found 9; expected 1 to all in the lot", wrong.Page, StringComparison.Ordinal);
        Assert.Contains("line 2, portions: found 10; expected portions as pupae:grams", unread.Page, StringComparison.Ordinal);
        Assert.Contains("2 of 4 were looked at, taken by chance, 1 of them bad: 1 to 3 of all (exact 95 % limits)", shown, StringComparison.Ordinal);
        Assert.Contains("counted by weight: 520 to 562 in the box (exact 95 % limits), 40 of them counted", letter, StringComparison.Ordinal);
        var lines = await book.Look(context => context.DeliveryLines.OrderBy(line => line.Taxon).ToListAsync(TestContext.Current.CancellationToken));
        Assert.Equal([(537, EstimateBy.Weight, 40, 520, 562), (3, EstimateBy.Part, 2, 1, 3)], lines.Select(line => (line.Alive, line.Estimate!.By, line.Estimate.Counted, line.Estimate.From, line.Estimate.To)));
    }

    [Fact]
    public async Task Claim_without_an_order_has_its_prices_from_the_note_or_the_last_list()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        var list = book.File("list.csv", "Species;Price EUR\nMorpho helenor;2.40\nIdea leuconoe;3.10\n");
        await book.Done("lists", "take", list, "--supplier", "Quillfeather Pupae");

        var taken = await book.Done("deliveries", "take", "--supplier", "Quillfeather Pupae", "--line", "Morpho helenor=8,dead=2", "Idea leuconoe=5,dead=1,price=2.90", "Attacus atlas=1,dead=1", "--json");
        var letter = (await book.Done("deliveries", "show", taken.Json.GetProperty("delivery").GetString()!)).Output;

        Assert.Contains("2.40      4.80", letter, StringComparison.Ordinal);
        Assert.Contains("2.90      2.90", letter, StringComparison.Ordinal);
        Assert.Contains("In all 4 pupae, EUR 7.70 at the prices of your note and your list of Fri 27 Nov, without tax and carriage; for 1 no price is known.", letter, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Command_takes_layers_a_part_weights_and_a_place()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);

        var wrong = await book.Run("deliveries", "take", "--supplier", "Quillfeather Pupae", "--line", "Morpho helenor=4,place=3", "Idea leuconoe=5,portions=ten");
        await book.Done("deliveries", "take", "--supplier", "Quillfeather Pupae", "--line", "Morpho helenor=2+1,dead=0+1,looked=2,row=3,place=7", "Idea leuconoe=537,portions=10:12.3/10:11.9/10:12.6/10:12,rest=610");

        Assert.Contains("found ten; expected portions as pupae:grams", wrong.Error, StringComparison.Ordinal);
        var lines = await book.Look(context => context.DeliveryLines.OrderBy(line => line.Taxon).ToListAsync(TestContext.Current.CancellationToken));
        Assert.Equal([(537, 0, 520), (3, 2, 1)], lines.Select(line => (line.Alive, line.Layers.Count, line.Estimate!.From)));
        Assert.Equal(7, await book.Look(context => context.Lots.Where(lot => lot.Taxon == "Morpho helenor").Select(lot => lot.Position).SingleAsync(TestContext.Current.CancellationToken)));
    }

    [Fact]
    public async Task Command_takes_what_coloured_up_and_what_was_substituted()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);

        await book.Done("deliveries", "take", "--order", order.ToString(), "--line", "Morpho menelaus=4,coloured=1,instead=Morpho helenor", "Papilio memnon=14");

        var line = await book.Look(context => context.DeliveryLines.SingleAsync(line => line.Taxon == "Morpho menelaus", TestContext.Current.CancellationToken));
        Assert.Equal((1, "Morpho helenor"), (line.ColouredUp, line.SubstituteFor));
    }

    /// <summary>The figures are those of R in the tests of the science: about 500, 480 to 522.</summary>
    [Fact]
    public async Task Heap_is_counted_by_weight()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var browser = await book.Serve();

        Assert.Contains("The rest is about 500, 480 to 522; with the 40 counted 520 to 562.", await browser.Page("/deliveries/weigh?pupae-1=10&grams-1=12,3&pupae-2=10&grams-2=11.9&pupae-3=10&grams-3=12.6&pupae-5=10&grams-5=12&rest=610"), StringComparison.Ordinal);
        Assert.Equal(480, (await book.Done("deliveries", "weigh", "--portion", "10=12.3", "10=11.9", "10=12.6", "10=12.0", "--rest", "610", "--json")).Json.GetProperty("from").GetInt32());
        Assert.Equal(HttpStatusCode.BadRequest, (await browser.GetAsync(new Uri("/deliveries/weigh?pupae-1=10&grams-1=12&rest=610", UriKind.Relative), TestContext.Current.CancellationToken)).StatusCode);
        Assert.Contains("two or more", (await book.Run("deliveries", "weigh", "--portion", "10=12.3", "--rest", "610")).Error, StringComparison.Ordinal);
        Assert.Contains("1 to 3 in the whole lot", (await book.Done("deliveries", "part", "--lot", "4", "--looked", "2", "--bad", "1")).Output, StringComparison.Ordinal);
    }

    /// <summary>By hand: of 4, 2 looked at and 1 bad, the whole holds 1 to 3 bad ones: with 0 or 4 that could not have been seen.</summary>
    [Fact]
    public async Task Part_of_a_lot_gives_limits_for_the_whole()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var browser = await book.Serve();

        Assert.Contains("Of the 2 not looked at, 0 to 2 are bad: 1 to 3 in the whole lot.", await browser.Page("/deliveries/part?lot=4&looked=2&bad=1"), StringComparison.Ordinal);
        Assert.Contains("All were looked at: 3 are bad.", await browser.Page("/deliveries/part?lot=40&looked=40&bad=3"), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.BadRequest, (await browser.GetAsync(new Uri("/deliveries/part?lot=40&looked=41&bad=3", UriKind.Relative), TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public async Task Delivery_form_left_uncounted_comes_back_with_what_was_typed()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page($"/deliveries/new?order={order}"), "box-form");

        var (status, page, _) = await form.Send(browser, ("l0-alive", "20"), ("l0-remark", "two soft"), ("do", "counted"));
        var asNoted = await form.Send(browser, ("do", "as-noted"));

        Assert.Equal(HttpStatusCode.BadRequest, status);
        Assert.Contains("line 2, alive: found not counted", page, StringComparison.Ordinal);
        Assert.Contains("value=\"two soft\"", page, StringComparison.Ordinal);
        Assert.Contains("<h1>34 pupae alive; 4 short</h1>", asNoted.Page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Delivery_taken_back_leaves_no_lots_to_look_at()
    {
        await using var book = new TestBook();
        var order = await Ordered(book, HungHouse.Today);
        using var browser = await book.Serve();
        var id = (await book.Done("deliveries", "take", "--order", order.ToString(), "--as-ordered", "--json")).Json.GetProperty("delivery").GetString();

        var (_, page, _) = await PageForm.Of(await browser.Page($"/deliveries/{id}"), "/undo").Send(browser);

        Assert.Contains("Taken back.", page, StringComparison.Ordinal);
        Assert.Contains("<h1>Nothing hangs</h1>", await browser.Page("/round"), StringComparison.Ordinal);
        Assert.Contains("<h1>One box is due</h1>", await browser.Page("/deliveries"), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.GetAsync(new Uri($"/deliveries/{Guid.NewGuid()}", UriKind.Relative), TestContext.Current.CancellationToken)).StatusCode);
    }

    /// <summary>A confirmed order of 24 Morpho helenor and 14 Papilio memnon; the house with it where there is none.</summary>
    private static async Task<Guid> Ordered(TestBook book, DateOnly arrives)
    {
        var stop = TestContext.Current.CancellationToken;
        if (!File.Exists(book.Path))
        {
            await HungHouse.Make(book);
        }

        var order = await book.Look(async context =>
        {
            var order = new Order
            {
                HouseId = await context.Houses.Select(house => house.Id).SingleAsync(stop),
                SupplierId = await context.Suppliers.Select(supplier => supplier.Id).SingleAsync(stop),
                OnDay = HungHouse.Today.AddDays(-3),
                ArrivesOn = arrives,
                Currency = "EUR",
                Rate = 0.86m,
            };
            order.Lines.Add(new OrderLine { OrderId = order.Id, Number = 1, Text = "Morpho helenor", Taxon = "Morpho helenor", Pupae = 24, UnitPrice = 2.50m, UnitLanded = 3.10m });
            order.Lines.Add(new OrderLine { OrderId = order.Id, Number = 2, Text = "Papilio memnon", Taxon = "Papilio memnon", Pupae = 14, UnitPrice = 1.80m, UnitLanded = 2.25m });
            context.Add(order);
            await context.SaveChangesAsync(stop);
            return order;
        });
        await book.Receive(new OrderStep { HouseId = order.HouseId, OnDay = order.OnDay, DeviceTime = book.Clock.GetUtcNow(), OrderId = order.Id, State = OrderState.Confirmed });
        return order.Id;
    }
}

using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Pocket;

public sealed class PocketInboxTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Inbox_sameBatchTwice_isWrittenOnce()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        using var phone = await Phone(book);
        var batch = Batch(Entry(house, lot, 1), Entry(house, lot, 2));

        var first = await Send(phone, batch);
        var second = await Send(phone, batch);

        Assert.Equal(["written", "written"], Outcomes(first.Body));
        Assert.Equal(["there", "there"], Outcomes(second.Body));
        Assert.Equal("2026-11-27", first.Body.GetProperty("today").GetString());
        Assert.Equal(2, await book.Look(context => context.Entries.CountAsync(Stop)));
    }

    [Fact]
    public async Task Inbox_oneRowThatCannotBeRead_isRefusedAlone()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        using var phone = await Phone(book);
        object[] rows =
        [
            Entry(house, lot, 1),
            new { kind = "entry", id = BookId.New(), houseId = house.Id, onDay = "not a day", lotId = lot.Id },
            new { kind = "order-step", id = BookId.New(), houseId = house.Id, onDay = "2026-11-27", orderId = BookId.New(), state = "Sent" },
            new { kind = "conjuring", id = BookId.New(), houseId = house.Id, onDay = "2026-11-27" },
            new { kind = "entry", houseId = house.Id, onDay = "2026-11-27", lotId = lot.Id },
            new { kind = "walk", id = BookId.New(), houseId = house.Id, onDay = "2026-11-27", path = "Pond", start = "10:30:00", minutes = 9, counts = new[] { new { taxon = "Morpho helenor", count = 2 } } },
            new { kind = "entry", id = BookId.New(), houseId = house.Id, onDay = "2026-12-24", lotId = lot.Id },
            "a word",
        ];

        var (status, body) = await Send(phone, Batch(rows));

        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Equal(["written", "refused", "refused", "refused", "refused", "refused", "refused", "refused"], Outcomes(body));
        Assert.All(body.GetProperty("receipts").EnumerateArray().Skip(1), receipt =>
            Assert.NotEqual("", Assert.Single(receipt.GetProperty("problems").EnumerateArray()).GetProperty("expected").GetString()));
        Assert.Equal(1, await book.Look(context => context.Entries.CountAsync(Stop)));
    }

    [Fact]
    public async Task Inbox_otherContentUnderOneKey_isAConflictAndBothAreKept()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        using var phone = await Phone(book);
        var id = BookId.New();

        await Send(phone, Batch(Entry(house, lot, 1, id: id, dead: 1)));
        var (_, body) = await Send(phone, Batch(Entry(house, lot, 1, id: id, dead: 2)));

        Assert.Equal(["conflict"], Outcomes(body));
        Assert.Contains("under the key of another", await phone.Page("/round/discrepancies"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("{", 400)]
    [InlineData("[]", 400)]
    [InlineData("{\"format\":2,\"facts\":[]}", 400)]
    [InlineData("{\"format\":\"one\",\"facts\":[]}", 400)]
    [InlineData("{\"format\":1}", 400)]
    [InlineData("{\"format\":1,\"facts\":[]}", 200)]
    public async Task Inbox_whatIsNoBatch_isRefusedWithAProblem(string text, int status)
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var phone = await Phone(book);
        using var content = new StringContent(text, Encoding.UTF8, "application/json");

        var answer = await phone.PostAsync(new Uri("/pocket/inbox", UriKind.Relative), content, Stop);

        Assert.Equal(status, (int)answer.StatusCode);
        var body = await answer.Content.ReadFromJsonAsync<JsonElement>(Stop);
        Assert.Equal(status == 200 ? "receipts" : "problems", body.EnumerateObject().First().Name);
    }

    [Fact]
    public async Task Inbox_tooMuchAtOnce_isRefusedWhole()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        using var phone = await Phone(book);

        var rows = await Send(phone, Batch([.. Enumerable.Range(1, 201).Select(sequence => (object)Entry(house, lot, sequence))]));
        var bytes = await Send(phone, Batch(Entry(house, lot, 1, note: new string('x', 1_100_000))));

        Assert.Equal(HttpStatusCode.BadRequest, rows.Status);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, bytes.Status);
        Assert.Equal(0, await book.Look(context => context.Entries.CountAsync(Stop)));
    }

    [Fact]
    public async Task Inbox_fromAnotherSite_isRefused()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var phone = await Phone(book);
        phone.DefaultRequestHeaders.Add("Sec-Fetch-Site", "cross-site");

        Assert.Equal(HttpStatusCode.UnsupportedMediaType, (await Send(phone, Batch())).Status);
        phone.DefaultRequestHeaders.Clear();
        Assert.Equal(HttpStatusCode.UnsupportedMediaType, (await Send(phone, Batch())).Status);
    }

    [Fact]
    public async Task Day_carriesTheLotsAsTheyHangWithNineDaysAhead()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        await HungHouse.Hang(book, house, "Morpho helenor", 12, 9, row: "10");
        var first = await HungHouse.Hang(book, house, "Idea leuconoe", 7, 9, row: "2");
        await book.Receive(new Entry { HouseId = house.Id, OnDay = HungHouse.Today, LotId = first.Id, Dead = 2, DeviceTime = book.Clock.GetUtcNow(), Note = "coloured up; one slow" });
        await book.Receive(new Walk { HouseId = house.Id, OnDay = HungHouse.Today, Path = "Pond", Sections = 3, Minutes = 9, DeviceTime = book.Clock.GetUtcNow() });
        await book.Receive(new Walk { HouseId = house.Id, OnDay = HungHouse.Today, Path = "Door", Minutes = 9, DeviceTime = book.Clock.GetUtcNow() });
        using var phone = await Phone(book);

        var day = await phone.GetFromJsonAsync<JsonElement>(new Uri("/pocket/day", UriKind.Relative), Stop);

        var lots = day.GetProperty("lots").EnumerateArray().ToList();
        Assert.Equal(["Idea leuconoe", "Morpho helenor"], lots.Select(lot => lot.GetProperty("taxon").GetString()));
        Assert.Equal((7, 5, "2 dead"), (lots[0].GetProperty("yesterday").GetInt32(), lots[0].GetProperty("now").GetInt32(), lots[0].GetProperty("countedToday").GetString()));
        Assert.All(lots, lot => Assert.Equal(9, lot.GetProperty("ahead").GetArrayLength()));
        Assert.Equal([true, false], lots.Select(lot => lot.GetProperty("colouredUp").GetBoolean()));
        Assert.Equal(["Door", "Pond"], day.GetProperty("paths").EnumerateArray().Select(path => path.GetString()));
        Assert.Equal(("Pond", 3), (Assert.Single(day.GetProperty("sections").EnumerateArray()).GetProperty("path").GetString(), day.GetProperty("sections")[0].GetProperty("sections").GetInt32()));
        Assert.Equal("Palm hall", day.GetProperty("release")[0].GetProperty("name").GetString());
    }

    /// <summary>What the phone writes of a box is a delivery as any other: its lots hang, its layers stand beside the sum, its packing with it.</summary>
    [Fact]
    public async Task Box_thatAPhoneTookIn_hangsAndOneThatNoPageCouldShowIsRefusedAlone()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var supplier = await book.Look(context => context.Suppliers.Select(supplier => supplier.Id).SingleAsync(Stop));
        using var phone = await Phone(book);
        var id = BookId.New();

        var (_, body) = await Send(phone, Batch(
            Box(id, supplier, "Morpho helenor", 8),
            new { kind = "packing-step", id = BookId.New(), houseId = house.Id, onDay = "2026-11-27", deviceTime = "2026-11-27T09:00:00Z", deliveryId = id, state = "Sealed" },
            Box(BookId.New(), BookId.New(), "Morpho helenor", 8), Box(BookId.New(), supplier, "Morpho nobody", 8), Box(BookId.New(), supplier, "Morpho helenor", 9)));

        Assert.Equal(["written", "written", "refused", "refused", "refused"], Outcomes(body));
        Assert.Equal(["supplier", "species", "lot of Morpho helenor"], body.GetProperty("receipts").EnumerateArray().Skip(2).Select(receipt => receipt.GetProperty("problems")[0].GetProperty("where").GetString()));
        var page = WebUtility.HtmlDecode(await phone.Page($"/deliveries/{id}"));
        Assert.Contains("<h1>8 pupae alive; 1 dead</h1>", page, StringComparison.Ordinal);
        Assert.Contains("from the top layer down: alive 5+3, dead 0+1", page, StringComparison.Ordinal);
        Assert.Contains("Sealed today", page, StringComparison.Ordinal);
        var day = await phone.GetFromJsonAsync<JsonElement>(new Uri("/pocket/day", UriKind.Relative), Stop);
        Assert.Equal(("Cage A", "3", 8), (day.GetProperty("lots")[0].GetProperty("cage").GetString(), day.GetProperty("lots")[0].GetProperty("row").GetString(), day.GetProperty("lots")[0].GetProperty("now").GetInt32()));
        Assert.Equal(["Cage A", "Cage B"], day.GetProperty("cages").EnumerateArray().Select(cage => cage.GetProperty("name").GetString()));

        object Box(Guid key, Guid from, string taxon, int hung)
        {
            var line = BookId.New();
            return new
            {
                kind = "delivery",
                id = key,
                houseId = house.Id,
                onDay = "2026-11-27",
                deviceTime = "2026-11-27T09:00:00Z",
                supplierId = from,
                lines = new[] { new { id = line, taxon, noted = 9, alive = 8, dead = 1, layers = new[] { new { alive = 5, dead = 0 }, new { alive = 3, dead = 1 } } } },
                lots = new[] { new { id = BookId.New(), houseId = house.Id, deliveryLineId = line, supplierId = from, taxon, cageId = house.Cages[0].Id, row = "3", position = 4, hungOn = "2026-11-27", received = hung } },
            };
        }
    }

    [Fact]
    public async Task Photo_comesBeforeItsRow_isShownAsWhatItIs()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        using var phone = await Phone(book);
        byte[] jpeg = [0xFF, 0xD8, 0xFF, 0xE0, 1, 2, 3];
        var id = BookId.New();

        var first = await SendPhoto(phone, id, jpeg);
        var again = await SendPhoto(phone, id, jpeg);
        var other = await SendPhoto(phone, id, [0xFF, 0xD8, 0xFF, 0xE0]);
        var (_, row) = await Send(phone, Batch(new { kind = "photo", id, houseId = house.Id, onDay = "2026-11-27", deviceTime = "2026-11-27T10:00:00Z", aboutId = lot.Id, mediaType = "image/jpeg", sha256 = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(jpeg)) }));
        var shown = await phone.GetAsync(new Uri($"/photos/{id}", UriKind.Relative), Stop);

        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.OK, HttpStatusCode.UnprocessableEntity), (first, again, other));
        Assert.Equal(["written"], Outcomes(row));
        Assert.Equal(("image/jpeg", "default-src 'none'; sandbox"), (shown.Content.Headers.ContentType!.MediaType, shown.Headers.GetValues("Content-Security-Policy").Single()));
        Assert.Equal(jpeg, await shown.Content.ReadAsByteArrayAsync(Stop));
    }

    [Fact]
    public async Task Photo_thatCannotBeKept_isAnsweredForGoodAndStandsToBeSettledOnce()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var phone = await Phone(book);
        byte[] other = [0xFF, 0xD8, 0xFF, 0xE0, 9];
        var (id, noPicture, tooLarge) = (BookId.New(), BookId.New(), BookId.New());
        await SendPhoto(phone, id, [0xFF, 0xD8, 0xFF, 0xE0, 1]);

        foreach (var (key, bytes) in new[] { (id, other), (noPicture, "no picture"u8.ToArray()), (tooLarge, (byte[])[0xFF, 0xD8, 0xFF, .. new byte[PhotoShelf.MostBytes]]) })
        {
            for (var times = 0; times < 2; times++)
            {
                using var content = new ByteArrayContent(bytes);
                content.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
                var answer = await phone.PostAsync(new Uri($"/pocket/photos/{key}", UriKind.Relative), content, Stop);
                Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
                Assert.Equal("conflict", (await answer.Content.ReadFromJsonAsync<JsonElement>(Stop)).GetProperty("outcome").GetString());
            }
        }

        var page = await phone.Page("/round/discrepancies");
        Assert.Contains("<h1>3 things do not add up</h1>", page, StringComparison.Ordinal);
        Assert.Contains("found another picture under this key", page, StringComparison.Ordinal);
        Assert.Contains("found bytes that are no picture", page, StringComparison.Ordinal);
        Assert.Contains($"found {PhotoShelf.MostBytes + 3} bytes", page, StringComparison.Ordinal);
        var shown = PhotoShelf.OtherKey(id, Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(other)));
        Assert.Contains($"<img src=\"/photos/{shown}\"", page, StringComparison.Ordinal);
        Assert.Equal(other, await phone.GetByteArrayAsync(new Uri($"/photos/{shown}", UriKind.Relative), Stop));

        await PageForm.Of(page, "name=\"subject\"").Send(phone, ("how", "leave-it"));
        Assert.Contains("<h1>2 things do not add up</h1>", await phone.Page("/round/discrepancies"), StringComparison.Ordinal);
    }

    private static async Task<HttpStatusCode> SendPhoto(HttpClient phone, Guid id, byte[] bytes)
    {
        using var content = new ByteArrayContent(bytes);
        content.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
        return (await phone.PostAsync(new Uri($"/pocket/photos/{id}", UriKind.Relative), content, Stop)).StatusCode;
    }

    private static async Task<HttpClient> Phone(TestBook book)
    {
        var phone = await book.Serve();
        phone.DefaultRequestHeaders.Add("Lepidary-Pocket", "1");
        return phone;
    }

    private static object Batch(params object[] facts) => new { format = 1, facts };

    private static object Entry(Book.House house, Lot lot, int sequence, Guid? id = null, int dead = 0, string? note = null) => new
    {
        kind = "entry",
        id = id ?? BookId.New(),
        houseId = house.Id,
        onDay = "2026-11-27",
        deviceTime = "2026-11-26T10:00:00Z",
        deviceId = "phone-1",
        deviceSequence = sequence,
        who = "Wren",
        lotId = lot.Id,
        emergedUnsexed = 1,
        dead,
        note,
    };

    private static async Task<(HttpStatusCode Status, JsonElement Body)> Send(HttpClient phone, object batch)
    {
        var answer = await phone.PostAsJsonAsync("/pocket/inbox", batch, Stop);
        return (answer.StatusCode, await answer.Content.ReadFromJsonAsync<JsonElement>(Stop));
    }

    private static IEnumerable<string?> Outcomes(JsonElement body) => body.GetProperty("receipts").EnumerateArray().Select(receipt => receipt.GetProperty("outcome").GetString());
}

using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using Lepidary.App.Host;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Orders;

/// <summary>The order from the demo's book, by commands and by pages.</summary>
public sealed partial class OrderWeekTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Propose_from_files_keeps_budget_and_says_why()
    {
        await using var book = new TestBook();

        var said = await Propose(book, []);

        Assert.Equal(ExitCodes.Done, said.Code);
        var plan = said.Json;
        Assert.Equal("proven", plan.GetProperty("status").GetString());
        Assert.InRange(plan.GetProperty("total").GetDecimal(), 1, plan.GetProperty("budget").GetDecimal());
        Assert.Equal(plan.GetProperty("total").GetDecimal(), plan.GetProperty("orders").EnumerateArray().Sum(order => order.GetProperty("totalInHouse").GetDecimal()));
        Assert.Equal(plan.GetProperty("total").GetDecimal(), plan.GetProperty("lines").EnumerateArray().Sum(line => line.GetProperty("landed").GetDecimal()));
        Assert.All(plan.GetProperty("lines").EnumerateArray(), line => Assert.NotEmpty(line.GetProperty("reason").GetString()!));
        Assert.All(plan.GetProperty("aims").EnumerateArray(), aim => Assert.NotEmpty(aim.GetProperty("days").EnumerateArray()));
    }

    [Fact]
    public async Task Propose_fixed_line_is_kept_and_the_rest_planned_around_it()
    {
        await using var book = new TestBook();
        var free = (await Propose(book, [])).Json;
        var offer = free.GetProperty("lines")[0].GetProperty("offer").GetString()!;
        var pupae = free.GetProperty("lines")[0].GetProperty("pupae").GetInt32() - free.GetProperty("lines")[0].GetProperty("pack").GetInt32();

        var held = (await Propose(book, [$"{offer}={pupae}"])).Json;
        var forbidden = (await Propose(book, [$"{offer}=0"])).Json;

        Assert.Equal(pupae, held.GetProperty("lines").EnumerateArray().Single(line => line.GetProperty("offer").GetString() == offer).GetProperty("pupae").GetInt32());
        Assert.DoesNotContain(forbidden.GetProperty("lines").EnumerateArray(), line => line.GetProperty("offer").GetString() == offer);
        Assert.True(held.GetProperty("objective").GetDouble() >= free.GetProperty("bound").GetDouble() - 1e-6);
        Assert.True(forbidden.GetProperty("objective").GetDouble() >= free.GetProperty("bound").GetDouble() - 1e-6);
    }

    [Fact]
    public async Task Propose_wishes_that_clash_are_named_and_the_exit_code_says_so()
    {
        await using var book = new TestBook();

        var said = await Propose(book, ["Wickstile Butterflies#23=20", "Wickstile Butterflies#18=20", "Wickstile Butterflies#20=12"]);

        Assert.Equal(ExitCodes.NoPlan, said.Code);
        Assert.Contains("220", string.Join(' ', said.Json.GetProperty("problems").EnumerateArray().Select(problem => problem.GetString())), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Propose_bad_files_are_named_all_at_once()
    {
        await using var book = new TestBook();
        var house = book.File("house.yaml", "house: Small\ncurrency: pounds\n");
        var empty = book.File("list.csv", "");

        var said = await book.Run("propose", "--house", house, "--list", $"Someone={empty}", "--list", "nonsense", "--on", "2026-11-27");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Contains("house.yaml, line 2", said.Error, StringComparison.Ordinal);
        Assert.Contains("list.csv", said.Error, StringComparison.Ordinal);
        Assert.Contains("nonsense", said.Error, StringComparison.Ordinal);
        Assert.Empty(said.Output);
    }

    [Fact]
    public async Task Demo_week_from_lists_to_an_order_that_is_sent()
    {
        await using var book = await TestBook.Demo();

        var written = (await book.Done("orders", "write", "--who", "Marit", "--json")).Json.GetProperty("orders").EnumerateArray().Select(id => id.GetString()!).ToList();
        var mail = await book.Done("orders", "show", written[0]);
        var csv = await book.Done("orders", "show", written[0], "--as", "csv");
        await book.Done("orders", "step", written[0], "Sent", "--who", "Marit");
        var flying = await book.Done("flying", "--json");

        Assert.Contains("Please send us", mail.Output, StringComparison.Ordinal);
        Assert.StartsWith("line,as listed,species", csv.Output, StringComparison.Ordinal);
        Assert.NotEmpty(flying.Json.GetProperty("species").EnumerateArray());
        var orders = await book.Look(context => context.Orders.Include(order => order.Lines).Where(order => order.OnDay == new DateOnly(2026, 11, 27)).ToListAsync(Stop));
        Assert.Equal(written.Order(), orders.Select(order => order.Id.ToString()).Order());
        Assert.All(orders, order => Assert.InRange(order.Lines.Sum(line => line.UnitLanded * line.Pupae) - order.Landed, -0.05m, 0.05m));
    }

    [Fact]
    public async Task Order_page_shows_the_proposal_and_writes_it_once_however_often_it_is_sent()
    {
        await using var book = await TestBook.Demo();
        using var client = await book.Serve();
        var page = await client.Found("/order", Stop);
        var form = Form(page, "/order/write");

        for (var twice = 0; twice < 2; twice++)
        {
            var answer = await client.PostAsync(new Uri("/order/write", UriKind.Relative), new FormUrlEncodedContent([.. form, new("who", "Marit")]), Stop);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }

        var orders = await book.Look(context => context.Orders.Include(order => order.Lines).Where(order => order.OnDay == new DateOnly(2026, 11, 27)).ToListAsync(Stop));
        Assert.Equal(orders.Select(order => order.SupplierId).Distinct().Count(), orders.Count);
        var pupae = orders.Sum(order => order.Lines.Sum(line => line.Pupae)).ToString(CultureInfo.InvariantCulture);
        Assert.Contains($"Order {pupae} pupae for", page, StringComparison.Ordinal);
        Assert.All(orders, order => Assert.Equal("Marit", order.Who));
    }

    [Fact]
    public async Task Order_page_settles_a_line_by_its_address()
    {
        await using var book = await TestBook.Demo();
        using var client = await book.Serve();
        var offer = (await book.Done("orders", "propose", "--json")).Json.GetProperty("lines")[0].GetProperty("offer").GetString()!;

        var page = await client.Found($"/order/settle?offer={Uri.EscapeDataString(offer)}&pupae=7&forbid=yes", Stop);

        Assert.Contains("left out, as you said", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Order_post_without_the_page_s_token_writes_nothing()
    {
        await using var book = await TestBook.Demo();
        using var client = await book.Serve();

        var answer = await client.PostAsync(new Uri("/order/write", UriKind.Relative), new FormUrlEncodedContent([new("key", BookId.New().ToString())]), Stop);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.False(await book.Look(context => context.Orders.AnyAsync(order => order.OnDay == new DateOnly(2026, 11, 27), Stop)));
    }

    private static Task<Said> Propose(TestBook book, string[] lines) => book.Run(
    [
        "propose", "--house", DemoFolder.File("private-greenhouse/house.yaml"), "--list", $"Oda Linnermark={DemoFolder.File("private-greenhouse/lists/oda-linnermark.txt")}",
        "--list", $"Wickstile Butterflies={DemoFolder.File("private-greenhouse/lists/wickstile-butterflies.csv")}", "--on", "2026-11-27", "--json",
        .. lines.SelectMany(line => new[] { "--line", line }),
    ]);

    private static List<KeyValuePair<string, string>> Form(string page, string action)
    {
        var form = page[page.IndexOf($"action=\"{action}\"", StringComparison.Ordinal)..];
        form = form[..form.IndexOf("</form>", StringComparison.Ordinal)];
        return [.. Hidden().Matches(form).Select(field => new KeyValuePair<string, string>(field.Groups[1].Value, WebUtility.HtmlDecode(field.Groups[2].Value)))];
    }

    [GeneratedRegex("<input type=\"hidden\" name=\"([^\"]+)\" value=\"([^\"]*)\"")]
    private static partial Regex Hidden();
}

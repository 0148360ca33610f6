using Lepidary.App.Host;
using Lepidary.App.Tests.Support;

namespace Lepidary.App.Tests.Orders;

/// <summary>Other orders beside the proposal.</summary>
public sealed class OptionsTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Otherwise_sets_other_orders_beside_the_proposal_and_each_can_be_taken_as_it_is()
    {
        await using var book = await TestBook.DemoOfFewWishes();

        var view = (await book.Done("orders", "otherwise", "--json")).Json;

        var orders = view.GetProperty("orders").EnumerateArray().ToList();
        Assert.Equal("the proposal", orders[0].GetProperty("name").GetString());
        Assert.True(orders.Count > 1);
        Assert.Equal("", view.GetProperty("stillReckoning").GetString());
        Assert.All(view.GetProperty("wishes").EnumerateArray(), wish => Assert.Equal(orders.Count, wish.GetProperty("chances").GetArrayLength()));
        Assert.All(view.GetProperty("raised").EnumerateArray(), wish => Assert.True(wish.GetProperty("to").GetInt32() > wish.GetProperty("from").GetInt32()));
        Assert.All(view.GetProperty("raised").EnumerateArray(), wish => Assert.Matches(@"^(–|[0-9]+\.[0-9]{2})$", wish.GetProperty("last").GetString()));
        Assert.Contains(view.GetProperty("raised").EnumerateArray(), wish => wish.GetProperty("last").GetString() != "–");
        Assert.Contains("more would bring", view.GetProperty("money").GetString(), StringComparison.Ordinal);
        var other = orders[1];
        var lines = new Uri(new Uri("http://here"), other.GetProperty("take").GetString()!).Query.TrimStart('?').Split('&').Select(part => Uri.UnescapeDataString(part["line=".Length..])).ToList();
        Assert.Equal("*=0", lines[^1]);
        var taken = (await book.Done(["orders", "propose", "--json", .. lines.SelectMany(line => new[] { "--line", line })])).Json;
        Assert.Equal(other.GetProperty("pupae").GetInt32(), taken.GetProperty("pupae").GetInt32());
        Assert.Equal(lines.Count - 1, taken.GetProperty("lines").GetArrayLength());
    }

    [Fact]
    public async Task Otherwise_page_stands_beside_the_order_and_leads_back()
    {
        await using var book = await TestBook.DemoOfFewWishes();
        using var client = await book.Serve();

        var order = await client.Found("/order", Stop);
        var page = await client.Found("/order/otherwise", Stop);

        Assert.Contains("href=\"/order/otherwise\"", order, StringComparison.Ordinal);
        Assert.Contains("days-with", order, StringComparison.Ordinal);
        Assert.Contains("Side by side", page, StringComparison.Ordinal);
        Assert.Contains("each wish raised by a third", page, StringComparison.Ordinal);
        Assert.Contains("href=\"/order\"", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Propose_with_only_some_lines_orders_nothing_else()
    {
        await using var book = await TestBook.Demo();
        // All lines of one supplier, as proposed: they keep that supplier's minimum.
        var lines = (await book.Done("orders", "propose", "--json")).Json.GetProperty("lines").EnumerateArray().ToList();
        var supplier = lines[0].GetProperty("supplier").GetString();
        var kept = lines.Where(line => line.GetProperty("supplier").GetString() == supplier)
            .ToDictionary(line => line.GetProperty("offer").GetString()!, line => line.GetProperty("pupae").GetInt32());

        var only = (await book.Done(["orders", "propose", "--json", .. kept.SelectMany(line => new[] { "--line", $"{line.Key}={line.Value}" }), "--line", "*=0"])).Json;
        var wrong = await book.Run("orders", "propose", "--line", "*=5");

        Assert.True(kept.Count < lines.Count);
        Assert.Equal(kept, only.GetProperty("lines").EnumerateArray().ToDictionary(line => line.GetProperty("offer").GetString()!, line => line.GetProperty("pupae").GetInt32()));
        Assert.Equal(ExitCodes.BadInput, wrong.Code);
    }
}

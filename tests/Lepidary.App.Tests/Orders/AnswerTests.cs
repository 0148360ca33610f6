using System.Net;
using System.Text.Json;
using Lepidary.App.Host;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Orders;

/// <summary>After the order: the supplier answers, and the rest is planned around what is settled.</summary>
public sealed class AnswerTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Answer_shortened_substituted_and_refused_lines_stand_and_the_rest_is_planned_around_them()
    {
        await using var book = await TestBook.Demo();
        var order = await Sent(book, lines: 4);

        var stands = (await book.Done("orders", "answer", $"{order.Id}", "--line", "1=2", "--line", "2=0", "--line", "3=5:Papilio ulysses", "--json")).Json.GetProperty("order").GetGuid();
        var again = await book.Done("orders", "answer", $"{order.Id}", "--line", "1=2");
        var proposal = (await book.Done("orders", "propose", "--check", "--json")).Json;

        Assert.Equal($"{stands}", again.Output.Trim());
        var (now, states) = await book.Look(async context => (
            await context.Orders.Include(other => other.Lines).SingleAsync(other => other.Id == stands, Stop),
            await OrderStates.ReadAsync(context, [order.Id, stands], null, Stop)));
        var asked = order.Lines.OrderBy(line => line.Number).ToList();
        Assert.Equal(OrderState.Withdrawn, states[order.Id]);
        Assert.Equal(OrderState.Confirmed, states[stands]);
        Assert.Equal([(asked[0].Taxon, 2), ("Papilio ulysses", 5), .. asked.Skip(3).Select(line => (line.Taxon, line.Pupae))], now.Lines.OrderBy(line => line.Number).Select(line => (line.Taxon, line.Pupae)));
        Assert.Equal(now.Landed, now.Lines.Sum(line => line.UnitLanded * line.Pupae), 1);
        Assert.True(now.Landed < order.Landed);

        var settled = Lines(proposal).Where(line => line.GetProperty("settled").GetBoolean()).ToList();
        Assert.Equal(now.Lines.Select(line => (line.Taxon, line.Pupae)).Order(), settled.Select(line => (line.GetProperty("taxon").GetString(), line.GetProperty("pupae").GetInt32())).Order());
        Assert.All(settled, line => Assert.Equal(order.Supplier!.Name, line.GetProperty("supplier").GetString()));
        Assert.DoesNotContain(Lines(proposal), line => line.GetProperty("supplier").GetString() == order.Supplier!.Name && !line.GetProperty("settled").GetBoolean());
        Assert.True(proposal.GetProperty("total").GetDecimal() <= proposal.GetProperty("budget").GetDecimal() + 0.02m);
        Assert.Equal(now.Landed, proposal.GetProperty("orders").EnumerateArray().Single(one => one.GetProperty("supplier").GetString() == order.Supplier!.Name).GetProperty("totalInHouse").GetDecimal());
        Assert.Empty(proposal.GetProperty("check").GetProperty("faults").EnumerateArray());
        var written = (await book.Done("orders", "write", "--json")).Json.GetProperty("orders").GetArrayLength();
        Assert.Equal(Lines(proposal).Where(line => !line.GetProperty("settled").GetBoolean()).Select(line => line.GetProperty("supplier").GetString()).Distinct().Count(), written);
    }

    [Fact]
    public async Task Answer_as_ordered_confirms_and_refused_whole_refuses()
    {
        await using var book = await TestBook.Demo();
        var order = await Sent(book, lines: 1);

        var same = (await book.Done("orders", "answer", $"{order.Id}", "--json")).Json.GetProperty("order").GetGuid();
        var confirmed = await State(book, order.Id);
        await book.Done(["orders", "answer", $"{order.Id}", .. order.Lines.SelectMany(line => new[] { "--line", $"{line.Number}=0" })]);

        Assert.Equal(order.Id, same);
        Assert.Equal(OrderState.Confirmed, confirmed);
        Assert.Equal(OrderState.Refused, await State(book, order.Id));
        var proposal = (await book.Done("orders", "propose", "--json")).Json;
        Assert.DoesNotContain(Lines(proposal), line => line.GetProperty("supplier").GetString() == order.Supplier!.Name);
    }

    [Fact]
    public async Task Answer_that_makes_no_sense_writes_nothing()
    {
        await using var book = await TestBook.Demo();
        var order = await Sent(book, lines: 1);

        var said = await book.Run("orders", "answer", $"{order.Id}", "--line", "1=3:Nonsense flutterby");
        var number = await book.Run("orders", "answer", $"{order.Id}", "--line", "99=3");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Contains("Nonsense flutterby", said.Error, StringComparison.Ordinal);
        Assert.Equal(ExitCodes.BadInput, number.Code);
        Assert.Equal(OrderState.Sent, await State(book, order.Id));
    }

    [Fact]
    public async Task Written_order_page_takes_the_answer_and_the_order_page_shows_what_is_settled()
    {
        await using var book = await TestBook.Demo();
        var order = await Sent(book, lines: 2);
        using var client = await book.Serve();
        var first = order.Lines.Single(line => line.Number == 1);

        var wrong = await PageForm.Of(await client.Page($"/orders/{order.Id}"), "instead-").Send(client, ($"pupae-{first.Id}", "many"));
        var right = await PageForm.Of(await client.Page($"/orders/{order.Id}"), "instead-").Send(client, ($"pupae-{first.Id}", "0"));
        var old = await client.Page($"/orders/{order.Id}");
        var plan = await client.Found("/order", Stop);

        Assert.Equal(HttpStatusCode.BadRequest, wrong.Status);
        Assert.Contains("many", wrong.Page, StringComparison.Ordinal);
        Assert.Contains("confirmed", right.Page, StringComparison.Ordinal);
        Assert.Contains("The order as answered", old, StringComparison.Ordinal);
        Assert.Contains("settled with their suppliers", plan, StringComparison.Ordinal);
        Assert.Contains(", settled", plan, StringComparison.Ordinal);
    }

    private static IEnumerable<JsonElement> Lines(JsonElement proposal) => proposal.GetProperty("lines").EnumerateArray();

    private static Task<OrderState> State(TestBook book, Guid order) =>
        book.Look(async context => (await OrderStates.ReadAsync(context, [order], null, Stop)).GetValueOrDefault(order, OrderState.Drafted));

    /// <summary>Writes the proposal and sends the first of its orders that has so many lines; the others are withdrawn.</summary>
    private static async Task<Order> Sent(TestBook book, int lines)
    {
        await book.Done("orders", "write", "--who", "Marit");
        var orders = await book.Look(context => context.Orders.Include(order => order.Lines).Include(order => order.Supplier).Where(order => order.OnDay == new DateOnly(2026, 11, 27)).ToListAsync(Stop));
        var sent = orders.First(order => order.Lines.Count >= lines);
        foreach (var order in orders)
        {
            await book.Done("orders", "step", $"{order.Id}", order == sent ? "Sent" : "Withdrawn", "--who", "Marit");
        }

        return sent;
    }
}

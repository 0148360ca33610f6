using System.Net;
using System.Text.RegularExpressions;
using Lepidary.App.Host;
using Lepidary.App.Orders;
using Lepidary.App.Tests.Support;
using Lepidary.Planning;
using Microsoft.Extensions.DependencyInjection;

namespace Lepidary.App.Tests.Orders;

/// <summary>A search that runs, is told of, is stopped, and whose answer is checked.</summary>
public sealed class SearchTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Propose_with_check_prints_what_was_compared_and_all_agrees()
    {
        await using var book = await TestBook.Demo();

        var said = await book.Done("orders", "propose", "--check", "--json");
        var text = await book.Done("orders", "propose", "--check");

        var check = said.Json.GetProperty("check");
        Assert.Empty(check.GetProperty("faults").EnumerateArray());
        var compared = check.GetProperty("compared").EnumerateArray().ToList();
        Assert.Contains(compared, figure => figure.GetProperty("what").GetString()!.EndsWith("carriage", StringComparison.Ordinal));
        Assert.Contains(compared, figure => figure.GetProperty("what").GetString() == "budget" && figure.GetProperty("reckoned").GetDouble() <= figure.GetProperty("limit").GetDouble());
        Assert.Equal(said.Json.GetProperty("aims").GetArrayLength(), compared.Count(figure => figure.GetProperty("unit").GetString() == "chance"));
        Assert.All(compared, figure => Assert.True(figure.GetProperty("said").ValueKind == System.Text.Json.JsonValueKind.Null
            || Math.Abs(figure.GetProperty("reckoned").GetDouble() - figure.GetProperty("said").GetDouble()) < 1e-6));
        Assert.Contains("reckoned again by another arithmetic; all agree", text.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Propose_that_the_checker_does_not_believe_has_an_exit_code_of_its_own()
    {
        await using var output = new StringWriter();
        await using var error = new StringWriter();
        var report = new ProposalReport
        {
            House = "A house",
            OrderDay = new(2026, 11, 27),
            Currency = "EUR",
            Status = PlanStatus.Proven,
            Check = new PlanCheck([new("budget", "EUR", 120, null) { Limit = 100 }], ["The orders cost 120; the budget is 100."]),
        };

        var code = OrderCommands.Print(new Terminal(output, error), report, json: false);

        Assert.Equal(ExitCodes.Disagrees, code);
        Assert.Contains("the budget is 100", error.ToString(), StringComparison.Ordinal);
        Assert.Contains("one thing is wrong", output.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Propose_with_steps_tells_each_better_order_on_standard_error()
    {
        await using var book = await TestBook.DemoOfFewWishes();

        var said = await book.Done("orders", "propose", "--steps", "--json");
        var quiet = await book.Done("orders", "propose", "--json");

        Assert.Matches(@"^[\d.]+ s: \d+ pupae for £[\d.]+\. (No order is better by more than|How much better)", said.Error);
        Assert.Empty(quiet.Error);
    }

    [Fact]
    public async Task Order_page_that_does_not_wait_shows_the_search_and_later_the_same_question_is_answered()
    {
        await using var book = await TestBook.Demo();

        var (first, later) = await book.Serve<IServiceProvider, (OrderView, OrderView)>(async services =>
        {
            await services.GetRequiredService<HouseDay>().Load(null, Stop);
            var show = services.GetRequiredService<ShowOrder>();
            return (await show.Show([], TimeSpan.Zero, Stop), await show.Show([], TimeSpan.FromMinutes(2), Stop));
        });

        Assert.NotNull(first.Search);
        Assert.False(first.CanWrite);
        Assert.Null(later.Search);
        Assert.True(later.CanWrite);
        Assert.Contains("all agree", later.Checked, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Search_that_is_stopped_keeps_the_best_order_so_far_and_stays_the_answer()
    {
        await using var book = await TestBook.Demo();

        var (outcome, again) = await book.Serve<IServiceProvider, (PlanOutcome, Proposed)>(async services =>
        {
            await services.GetRequiredService<HouseDay>().Load(null, Stop);
            var propose = services.GetRequiredService<ProposeFromBook>();
            var endless = new PlanSettings { Gap = 0, Seconds = 600 };
            var begun = await propose.Begin([], endless, Stop);
            while (begun.Value.Search.Best is null && !begun.Value.Search.Outcome.IsCompleted)
            {
                await Task.Delay(5, Stop);
            }

            begun.Value.Search.Stop();
            var outcome = await begun.Value.Search.Outcome.WaitAsync(Stop);
            return (outcome, (await propose.Propose([], endless, Stop)).Value);
        });

        Assert.NotNull(outcome.Plan);
        Assert.True(outcome.Bound <= outcome.Objective + 1e-6);
        Assert.Equal(outcome.Plan.Total, again.Report.Total);
        Assert.Equal(outcome.Seconds, again.Report.Seconds);
    }

    [Fact]
    public async Task Stop_of_a_search_that_nobody_knows_leads_back_to_the_order()
    {
        await using var book = await TestBook.DemoOfFewWishes();
        using var client = await book.Serve();
        var page = await client.Found("/order", Stop);
        var token = Regex.Match(page, "name=\"__RequestVerificationToken\" value=\"([^\"]+)\"").Groups[1].Value;

        var answer = await client.PostAsync(new Uri("/order/stop", UriKind.Relative), new FormUrlEncodedContent([new("__RequestVerificationToken", token), new("search", "none")]), Stop);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal("/order", answer.RequestMessage!.RequestUri!.AbsolutePath);
    }
}

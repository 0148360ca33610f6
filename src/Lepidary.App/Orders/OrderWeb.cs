using System.Globalization;
using System.Text;
using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.AspNetCore.Mvc;

namespace Lepidary.App.Orders;

/// <summary>What the order's forms post to, and the order as files.</summary>
internal static class OrderWeb
{
    public static void AddTo(IServiceCollection services)
    {
        services.AddSingleton<ProposalMemory>();
        services.AddScoped<ProposeFromBook>();
        services.AddScoped<ShowOrder>();
        services.AddSingleton<OptionsMemory>();
        services.AddScoped<ShowOptions>();
        services.AddScoped<ShowAhead>();
        services.AddScoped<ShowWrittenOrder>();
        services.AddScoped<WriteOrders>();
        services.AddScoped<StepOrder>();
        services.AddScoped<FillForm>();
        services.AddScoped<AnswerOrder>();
        services.AddScoped<SettledToday>();
        services.AddScoped<MixesSeen>();
    }

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet("/order/settle", (string offer, string? pupae, string? forbid, [FromQuery(Name = "line")] string[]? line) =>
        {
            // A line is settled once: the new word takes the place of the old one.
            var others = (line ?? []).Where(rule => !rule.StartsWith(offer + "=", StringComparison.Ordinal) && !rule.StartsWith(offer + ">=", StringComparison.Ordinal) && !rule.StartsWith(offer + "<=", StringComparison.Ordinal));
            string[] rules = [.. others, $"{offer}={(forbid is null ? pupae?.Trim() : "0")}"];
            return Results.LocalRedirect(Address(rules));
        });
        routes.MapPost("/order/write", async (IFormCollection form, HttpContext http, WriteOrders write, CancellationToken cancellation) =>
        {
            string[] rules = [.. form["line"].OfType<string>()];
            if (!Guid.TryParse(form["key"], out var key))
            {
                return Results.BadRequest();
            }

            var written = await write.Write(key, rules, [.. form["shown"].OfType<string>()], ShowOrder.OnThePage, WhoCookie.Take(http, form), cancellation);
            return Results.LocalRedirect(written.IsGood && written.Value.Count == 1 ? $"/orders/{written.Value[0]}" : Address(rules));
        });
        routes.MapPost("/order/stop", async (IFormCollection form, ProposalMemory memory, CancellationToken cancellation) =>
        {
            if (memory.Find(form["search"].ToString()) is { } search)
            {
                search.Stop();
                await search.Outcome.WaitAsync(cancellation);
            }

            return Results.LocalRedirect(Address(form["line"].OfType<string>()));
        });
        routes.MapPost("/orders/{id:guid}/step", async (Guid id, [FromForm] Guid key, [FromForm] OrderState state, [FromForm] DateTimeOffset made, HttpContext http, StepOrder step, CancellationToken cancellation) =>
        {
            await step.Step(key, id, state, WhoCookie.Of(http), made, cancellation);
            return Results.LocalRedirect($"/orders/{id}");
        });
        routes.MapForm("/orders/{id:guid}", async (Guid id, IFormCollection form, HttpContext http, AnswerOrder answer, HouseDay day, CancellationToken cancellation) =>
        {
            var problems = new List<Problem>();
            var answers = new List<AnsweredLine>();
            foreach (var field in form.Keys.Where(field => field.StartsWith("pupae-", StringComparison.Ordinal)))
            {
                var line = field["pupae-".Length..];
                if (Guid.TryParse(line, out var key) && int.TryParse(form[field].ToString().Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var pupae))
                {
                    answers.Add(new AnsweredLine(key, pupae, form.Text("instead-" + line)));
                }
                else
                {
                    problems.Add(new(form[field].ToString().Length == 0 ? "a line" : $"a line with \"{form[field]}\"", "no number of pupae", "how many come, 0 where it is refused"));
                }
            }

            if (!Guid.TryParse(form["key"], out var once))
            {
                http.Response.StatusCode = StatusCodes.Status400BadRequest;
                return;
            }

            var answered = problems.Count > 0 ? problems.ToArray()
                : await answer.Answer(once, id, answers, WhoCookie.Of(http), DateTimeOffset.TryParse(form["made"], CultureInfo.InvariantCulture, out var made) ? made : day.Now, cancellation);
            if (!answered.IsGood)
            {
                await TypedForm.Again<WrittenOrderPage>(http, form, answered.Problems);
                return;
            }

            http.Response.Redirect($"/orders/{answered.Value}");
        });
        routes.MapGet("/orders/{id:guid}/order.csv", async (Guid id, ShowWrittenOrder show, CancellationToken cancellation) =>
            await show.Order(id, cancellation) is { } order
                ? CsvText.File(OrderSheet.Csv(order), $"order-{order.OnDay:yyyy-MM-dd}.csv")
                : Results.NotFound());
        routes.MapGet("/orders/{id:guid}/form", async (Guid id, ShowWrittenOrder show, FillForm fill, CancellationToken cancellation) =>
            await show.Order(id, cancellation) is { } order && await fill.Fill(order, cancellation) is { Filled: { IsGood: true, Value: var form } }
                ? Results.File(form.Content, "application/octet-stream", form.FileName)
                : Results.NotFound());
        routes.MapGet("/orders/{id:guid}/order.txt", async (Guid id, ShowWrittenOrder show, HouseDay day, CancellationToken cancellation) =>
            await show.Order(id, cancellation) is { } order ? Results.Text(OrderSheet.Mail(order, day.HouseName ?? ""), "text/plain", Encoding.UTF8) : Results.NotFound());
    }

    private static string Address(IEnumerable<string> rules) =>
        "/order?" + string.Join('&', rules.Select(rule => "line=" + Uri.EscapeDataString(rule)));
}

using Lepidary.App.Host;

namespace Lepidary.App.Seasons;

/// <summary>Seasons on the web.</summary>
internal static class SeasonWeb
{
    public static void AddTo(IServiceCollection services) => services.AddSingleton<SeasonRuns>().AddScoped<SeasonFromBook>();

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapForm("/season", Play);
        routes.MapForm("/season/stop", Stop);
    }

    private static async Task Play(IFormCollection form, HttpContext http, SeasonFromBook book, SeasonRuns runs)
    {
        var problems = new List<Problem>();
        var usual = new SeasonAsked();
        decimal? budget = null;
        if (form.Text("budget") is { } typed)
        {
            budget = decimal.TryParse(typed, System.Globalization.NumberStyles.Number, System.Globalization.CultureInfo.InvariantCulture, out var money) ? money : null;
            if (budget is null)
            {
                problems.Add(new("budget", typed, "a sum as 250 or 99.50"));
            }
        }

        var asked = new SeasonAsked
        {
            From = form.Day("from", problems),
            Weeks = form.Whole("weeks", "weeks", problems) ?? usual.Weeks,
            Draws = form.Whole("draws", "draws", problems) ?? usual.Draws,
            Seed = form.Whole("seed", "seed", problems) ?? usual.Seed,
            Budget = budget,
            Without = form.Text("without"),
            SlowerPercent = form.Whole("slower", "slower", problems) ?? 0,
            AimsPercent = form.Whole("aims", "aims", problems) ?? 100,
        };
        Checked<LaidSeason> laid = problems.Count > 0 ? problems.ToArray() : await book.Lay(asked, http.RequestAborted);
        if (laid.IsGood)
        {
            http.Response.Redirect($"/season?run={runs.Start(laid.Value, asked).Id}");
        }
        else
        {
            await TypedForm.Again<SeasonPage>(http, form, laid.Problems);
        }
    }

    private static Task Stop(IFormCollection form, HttpContext http, SeasonRuns runs)
    {
        var run = form.Key("run") is { } id ? runs.Find(id) : null;
        run?.Stop();
        http.Response.Redirect(run is null ? "/season" : $"/season?run={run.Id}");
        return Task.CompletedTask;
    }
}

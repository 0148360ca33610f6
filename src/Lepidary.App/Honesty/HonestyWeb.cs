namespace Lepidary.App.Honesty;

internal static class HonestyWeb
{
    public static void AddTo(IServiceCollection services)
    {
        services.AddSingleton<Hindsight>();
        services.AddSingleton<ScoredDay>();
        services.AddScoped<ForecastsOfDay>();
        services.AddScoped<ReckonAfterwards>();
        services.AddScoped<ReadOutcomes>();
        services.AddScoped<ShowHonesty>();
    }

    /// <summary>What the host of the pages needs besides.</summary>
    public static void AddScoring(IServiceCollection services)
    {
        services.AddSingleton<ScoreInBackground>();
        services.AddHostedService(all => all.GetRequiredService<ScoreInBackground>());
    }

    /// <summary>Whoever asks for the scores finds them reckoned afterwards.</summary>
    public static void UseScoring(this WebApplication app)
    {
        var scoring = app.Services.GetRequiredService<ScoreInBackground>();
        app.Use(async (http, next) =>
        {
            await next(http);
            if (HttpMethods.IsGet(http.Request.Method) && http.Response.StatusCode == StatusCodes.Status200OK && http.Request.Path.StartsWithSegments("/honesty", StringComparison.Ordinal))
            {
                scoring.Asked(http.Request.Cookies["house"]);
            }
        });
    }
}

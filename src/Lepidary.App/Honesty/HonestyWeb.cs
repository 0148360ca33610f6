using Lepidary.Book;

namespace Lepidary.App.Honesty;

internal static class HonestyWeb
{
    public static void AddTo(IServiceCollection services)
    {
        services.AddSingleton<ForecastShelf>();
        services.AddSingleton<KeptDays>();
        services.AddSingleton<Hindsight>();
        services.AddSingleton<ScoredDays>();
        services.AddScoped<ForecastsOfDay>();
        services.AddScoped<ReckonAfterwards>();
        services.AddScoped<KeepForecasts>();
        services.AddScoped<ReadOutcomes>();
        services.AddScoped<ShowHonesty>();
    }

    /// <summary>What the host of the pages needs besides.</summary>
    public static void AddKeeping(IServiceCollection services)
    {
        services.AddSingleton<KeepInBackground>();
        services.AddHostedService(all => all.GetRequiredService<KeepInBackground>());
    }

    /// <summary>Every page that is shown has its forecasts kept afterwards.</summary>
    public static void UseKeepForecasts(this WebApplication app)
    {
        var keep = app.Services.GetRequiredService<KeepInBackground>();
        app.Use(async (http, next) =>
        {
            await next(http);
            if (HttpMethods.IsGet(http.Request.Method) && http.Response.StatusCode == StatusCodes.Status200OK && !http.Request.Path.StartsWithSegments("/assets", StringComparison.Ordinal))
            {
                keep.Shown(http.Request.Cookies["house"], http.Request.Path.StartsWithSegments("/honesty", StringComparison.Ordinal));
            }
        });
    }
}

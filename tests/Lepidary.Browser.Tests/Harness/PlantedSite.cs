using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace Lepidary.Browser.Harness;

/// <summary>One page of ours on loopback, with a fault planted in it, to prove that a check finds the fault.</summary>
internal sealed class PlantedSite : IAsyncDisposable
{
    private readonly WebApplication _app;

    private PlantedSite(WebApplication app) => _app = app;

    public Uri Address => new(_app.Urls.First());

    public static async Task<PlantedSite> Serve(string html, int status = 200)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var app = builder.Build();
        app.MapGet("/", () => Results.Text(html, "text/html; charset=utf-8", statusCode: status));
        app.MapGet("/favicon.ico", () => Results.NoContent());
        await app.StartAsync();
        return new PlantedSite(app);
    }

    public ValueTask DisposeAsync() => _app.DisposeAsync();
}

using System.Net;
using Lepidary.App.Honesty;
using Lepidary.App.Layout;
using Lepidary.App.Lists;
using Microsoft.AspNetCore.DataProtection;

namespace Lepidary.App.Host;

/// <summary>The web page: static pages, plain forms, nothing from elsewhere.</summary>
internal static class WebHost
{
    /// <summary>Makes the host; it listens on loopback alone unless another address is named.</summary>
    public static WebApplication Build(BookPlace place, int port, string address, Action<IServiceCollection, BookPlace> addBook, TimeProvider clock, string? watch = null)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.SetMinimumLevel(LogLevel.Warning).AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error)
            .AddFilter("Microsoft.AspNetCore.Antiforgery", LogLevel.Error);
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = Uploads.MaxBytes + 1_000_000;
            kestrel.Listen(IPAddress.Parse(address), port);
        });
        if (IPAddress.IsLoopback(IPAddress.Parse(address)))
        {
            // A page of another site may not reach in through a name that it points here.
            builder.Configuration["AllowedHosts"] = "localhost;127.0.0.1;[::1]";
        }

        var services = builder.Services;
        addBook(services, place);
        services.AddSingleton(place);
        services.AddSingleton(clock);
        services.AddScoped<HouseDay>();
        services.AddScoped<PageHead>();
        services.AddRazorComponents();
        services.AddAntiforgery();
        services.AddHostFiltering(_ => { });
        services.AddResponseCompression(); // a phone among the leaves has a poor signal
        var keys = services.AddDataProtection().SetApplicationName("Lepidary");
        if (!place.IsPostgres)
        {
            keys.PersistKeysToFileSystem(Directory.CreateDirectory(place.Text + ".keys"));
        }

        if (watch is not null)
        {
            services.AddSingleton(new WatchedFolder(watch));
            services.AddHostedService<FolderWatch>();
        }

        Features.AddTo(services);
        HonestyWeb.AddKeeping(services);

        var app = builder.Build();
        app.UseHostFiltering();
        app.UseResponseCompression();
        app.UseExceptionHandler("/went-wrong", createScopeForErrors: true);
        app.UseSafeHeaders();
        app.UseStatusCodePagesWithReExecute("/not-here", createScopeForStatusCodePages: true);
        app.Use(async (http, next) =>
        {
            if (!http.Request.Path.StartsWithSegments("/assets", StringComparison.Ordinal))
            {
                await http.RequestServices.GetRequiredService<HouseDay>().Load(http.Request.Cookies["house"], http.RequestAborted);
            }

            await next(http);
        });
        app.UseKeepForecasts();
        app.UseAntiforgery();
        app.UseOwnFormsOnly();
        OwnFiles.Map(app);
        Features.Map(app);
        app.MapRazorComponents<Document>();
        return app;
    }
}

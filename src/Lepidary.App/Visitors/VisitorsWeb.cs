using System.Globalization;

namespace Lepidary.App.Visitors;

/// <summary>The visitors' sheet and screen.</summary>
internal static class VisitorsWeb
{
    /// <summary>Seconds for which a screen shows one language before it turns to the next, or renews the only one.</summary>
    public const int ScreenSeconds = 60;

    public static void AddTo(IServiceCollection services) => services.AddScoped<ShowVisitors>();

    /// <summary>
    /// Asks the browser to load an address after a while, as a meta element would: no script. The screen has a link that stops it, as
    /// whoever reads slowly needs (WCAG 2.2, success criterion 2.2.1).
    /// </summary>
    public static void RenewWith(this HttpContext? http, string address)
    {
        if (http is { Response.HasStarted: false })
        {
            http.Response.Headers["Refresh"] = string.Create(CultureInfo.InvariantCulture, $"{ScreenSeconds}; url={address}");
        }
    }
}

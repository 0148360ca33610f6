namespace Lepidary.App.Rounds;

/// <summary>Whether this browser's round begins with the lots that are overdue or have coloured up, before it walks the rest as they hang.</summary>
internal static class UrgentFirst
{
    private const string Name = "round-first";

    public static bool Of(HttpContext? http) => http?.Request.Cookies[Name] == "urgent";

    public static void Remember(HttpContext http, bool urgentFirst) =>
        http.Response.Cookies.Append(Name, urgentFirst ? "urgent" : "hanging", new CookieOptions { MaxAge = TimeSpan.FromDays(365), HttpOnly = true, SameSite = SameSiteMode.Lax, IsEssential = true });
}

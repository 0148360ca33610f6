namespace Lepidary.App.Host;

/// <summary>Who holds this phone: asked once, remembered by the browser, written on every fact.</summary>
internal static class WhoCookie
{
    private const string Name = "who";

    public static string Of(HttpContext http) => http.Request.Cookies[Name] ?? "";

    public static void Keep(HttpContext http, string? who)
    {
        if (!string.IsNullOrWhiteSpace(who))
        {
            http.Response.Cookies.Append(Name, who.Trim(), new CookieOptions { MaxAge = TimeSpan.FromDays(365), HttpOnly = true, SameSite = SameSiteMode.Strict, IsEssential = true });
        }
    }
}

namespace Lepidary.App.Host;

/// <summary>Headers that keep a page to itself: everything comes from this machine, nothing is framed, nothing is sent on.</summary>
internal static class SafeHeaders
{
    public static void UseSafeHeaders(this WebApplication app) => app.Use((http, next) =>
    {
        var headers = http.Response.Headers;
        headers.ContentSecurityPolicy = "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "geolocation=(), microphone=(), payment=()";
        if (!http.Request.Path.StartsWithSegments("/assets", StringComparison.Ordinal))
        {
            headers.CacheControl = "no-store";
        }

        return next(http);
    });
}

using System.Globalization;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Components.Endpoints;

namespace Lepidary.App.Host;

/// <summary>
/// What somebody typed into a form that could not be taken, and why. Empty on a fresh page; a page that fills its fields from here
/// loses nothing when it is shown again.
/// </summary>
internal sealed class TypedForm
{
    private IFormCollection? typed;

    /// <summary>All that is wrong.</summary>
    public IReadOnlyList<Problem> Problems { get; private set; } = [];

    /// <summary>True on a page that is shown again.</summary>
    public bool IsAgain => typed is not null;

    /// <summary>What was typed into a field, or what stands in it on a fresh page.</summary>
    public string? Of(string field, string? fresh = null) => typed is null ? fresh : typed[field].ToString();

    /// <summary>True where a box was ticked, or is on a fresh page.</summary>
    public bool Ticked(string field, bool fresh = false) => typed is null ? fresh : typed.ContainsKey(field);

    /// <summary>What is wrong with what a problem calls by this name, in a sentence; null where nothing is.</summary>
    public string? Wrong(string where) =>
        Problems.FirstOrDefault(problem => problem.Where == where) is { } problem ? $"Found {problem.Found}; expected {problem.Expected}." : null;

    /// <summary>Shows the page again with what was typed and everything that is wrong with it; status 400.</summary>
    /// <typeparam name="TPage">The page, whose address is the form's.</typeparam>
    public static async Task Again<TPage>(HttpContext http, IFormCollection typed, IReadOnlyList<Problem> problems)
    {
        var form = http.RequestServices.GetRequiredService<TypedForm>();
        (form.typed, form.Problems) = (typed, problems);
        var page = http.RequestServices.GetRequiredService<EndpointDataSource>().Endpoints
            .First(endpoint => endpoint.Metadata.GetMetadata<ComponentTypeMetadata>()?.Type == typeof(TPage));
        http.SetEndpoint(page);
        http.Request.Method = HttpMethods.Get;
        http.Response.StatusCode = StatusCodes.Status400BadRequest;
        await page.RequestDelegate!(http);
    }
}

/// <summary>Reads what a form sends.</summary>
internal static class FormFields
{
    /// <summary>A form's door at its page's own address.</summary>
    public static void MapForm(this IEndpointRouteBuilder routes, string pattern, Delegate take) => routes.MapPost(pattern, take).WithOrder(-1);

    /// <summary>Turns away a form that was not made by a page of this book; nothing of it is read.</summary>
    public static void UseOwnFormsOnly(this WebApplication app) => app.Use(async (http, next) =>
    {
        if (http.Features.Get<IAntiforgeryValidationFeature>() is { IsValid: false })
        {
            http.Response.StatusCode = StatusCodes.Status400BadRequest;
            await http.Response.WriteAsync("This form is not from here, or it is too old. Nothing was written. Load the page again and send it once more.\n");
            return;
        }

        await next(http);
    });

    /// <summary>What a page was asked for is not there: the reader gets the page that says so, with status 404.</summary>
    public static void SayNotThere(this HttpContext? http)
    {
        if (http is { Response.StatusCode: StatusCodes.Status200OK })
        {
            http.Response.StatusCode = StatusCodes.Status404NotFound;
        }
    }

    /// <summary>Text without blanks around it; null where there is none.</summary>
    public static string? Text(this IFormCollection form, string field) =>
        form[field].ToString().Trim() is { Length: > 0 } text ? text : null;

    /// <summary>A key; null where there is none or it is no key.</summary>
    public static Guid? Key(this IFormCollection form, string field) => Guid.TryParse(form[field].ToString(), out var key) ? key : null;

    /// <summary>A whole number, at least 0; nothing typed is null.</summary>
    public static int? Whole(this IFormCollection form, string field, string where, List<Problem> problems)
    {
        if (form.Text(field) is not { } text)
        {
            return null;
        }

        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
        {
            return number;
        }

        problems.Add(new(where, text, "a whole number, or nothing"));
        return null;
    }

    /// <summary>A count that may be made in parts; nothing typed is null.</summary>
    public static IReadOnlyList<int>? Parts(this IFormCollection form, string field, string where, List<Problem> problems)
    {
        if (form.Text(field) is not { } text)
        {
            return null;
        }

        if (CountParts.Read(text) is { } parts)
        {
            return parts;
        }

        problems.Add(new(where, text, CountParts.Expected));
        return null;
    }

    /// <summary>A number with a point or a comma; nothing typed is null.</summary>
    public static double? Number(this IFormCollection form, string field, string where, List<Problem> problems)
    {
        if (form.Text(field) is not { } text)
        {
            return null;
        }

        if (double.TryParse(text.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number))
        {
            return number;
        }

        problems.Add(new(where, text, "a number, or nothing"));
        return null;
    }

    /// <summary>Money with a point or a comma, at least 0; nothing typed is null.</summary>
    public static decimal? Money(this IFormCollection form, string field, string where, List<Problem> problems)
    {
        if (form.Text(field) is not { } text)
        {
            return null;
        }

        if (decimal.TryParse(text.Replace(',', '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var sum))
        {
            return sum;
        }

        problems.Add(new(where, text, "money as 12.50, or nothing"));
        return null;
    }

    /// <summary>A day as a browser sends it; nothing typed is null.</summary>
    public static DateOnly? Day(this IFormCollection form, string field, List<Problem> problems)
    {
        if (form.Text(field) is not { } text)
        {
            return null;
        }

        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
        {
            return day;
        }

        problems.Add(new("day", text, "a date as 2026-11-27"));
        return null;
    }

    /// <summary>
    /// When the form was made, as it carries it: sent twice, it says the same twice. The house's clock where it does not say.
    /// </summary>
    public static DateTimeOffset Made(this IFormCollection form, HouseDay day) =>
        DateTimeOffset.TryParse(form["made"].ToString(), CultureInfo.InvariantCulture, DateTimeStyles.RoundtripKind, out var made) && made <= day.Now ? made : day.Now;
}

/// <summary>Who is at this browser: a name that the keeper typed once.</summary>
internal static class WhoCookie
{
    public const string Name = "who";

    /// <summary>The name remembered, or nothing.</summary>
    public static string Of(HttpContext? http) => http?.Request.Cookies[Name] ?? "";

    /// <summary>The name that a form says, remembered for the next; else the one remembered.</summary>
    public static string Take(HttpContext http, IFormCollection form)
    {
        if (form.Text(Name) is not { } who)
        {
            return Of(http);
        }

        http.Response.Cookies.Append(Name, who, new CookieOptions { MaxAge = TimeSpan.FromDays(365), HttpOnly = true, SameSite = SameSiteMode.Lax, IsEssential = true });
        return who;
    }
}

using System.Globalization;
using Lepidary.App.Deaths;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.Walks;

/// <summary>Walks on the web.</summary>
internal static class WalkWeb
{
    public static void AddTo(IServiceCollection services) => services.AddScoped<ShowWalks>().AddScoped<RecordWalk>();

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapForm("/flying/walk", Record);
        routes.MapForm("/flying/walk/undo", Undo);
    }

    private static async Task Record(IFormCollection form, HttpContext http, HouseDay day, RecordWalk record)
    {
        var problems = new List<Problem>();
        TimeOnly? start = null;
        if (form.Text("start") is { } typed)
        {
            start = TimeOnly.TryParse(typed, CultureInfo.InvariantCulture, out var time) ? time : null;
            if (start is null)
            {
                problems.Add(new("began at", typed, "a time as 10:30"));
            }
        }

        var walk = new WalkDone
        {
            Id = form.Key("id") ?? BookId.New(),
            MadeAt = form.Made(day),
            OnDay = form.Day("day", problems),
            Path = form.Text("path"),
            AreaId = form.Key("area"),
            Start = start,
            Minutes = form.Whole("minutes", "minutes", problems),
            Sections = form.Whole("sections", "sections", problems),
            Weather = form.Text("weather"),
            TemperatureC = form.Number("temperature", "temperature", problems),
            SunPercent = form.Whole("sun", "sun", problems),
            Beaufort = form.Whole("wind", "wind", problems),
            Counts = DeathsWeb.Counts(form, "seen", problems, inParts: true),
            Who = WhoCookie.Take(http, form),
            Note = form.Text("note"),
        };
        var recorded = problems.Count > 0 ? problems.ToArray() : await record.Do(walk, http.RequestAborted);
        if (recorded.IsGood)
        {
            http.Response.Redirect("/flying/walk?done=1");
        }
        else
        {
            await TypedForm.Again<WalkPage>(http, form, recorded.Problems);
        }
    }

    private static async Task Undo(IFormCollection form, HttpContext http, TakeBack takeBack)
    {
        await takeBack.Do(form.Key("fact") ?? Guid.Empty, WhoCookie.Take(http, form), null, http.RequestAborted);
        http.Response.Redirect("/flying/walk");
    }
}

using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.Climate;

/// <summary>Climate readings on the web.</summary>
internal static class ClimateWeb
{
    public static void AddTo(IServiceCollection services) => services.AddScoped<ShowClimate>().AddScoped<TakeReading>().AddScoped<TakeLogger>();

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapForm("/flying/climate", Take);
        routes.MapForm("/flying/climate/undo", Undo);
        routes.MapForm("/flying/climate/logger", Logger);
    }

    private static async Task Logger(IFormCollection form, HttpContext http, TakeLogger take)
    {
        var text = form.Text("text") ?? "";
        if (form.Files.GetFile("file") is { Length: > 0 } file)
        {
            using var reader = new StreamReader(file.OpenReadStream(), detectEncodingFromByteOrderMarks: true);
            text = await reader.ReadToEndAsync(http.RequestAborted);
        }

        var taken = await take.Do(form.Text("logger-place"), text, WhoCookie.Take(http, form), http.RequestAborted);
        if (taken.IsGood)
        {
            http.Response.Redirect($"/flying/climate?hours={taken.Value.Taken}&there={taken.Value.WereThere}&left={taken.Value.LeftOut.Count}");
        }
        else
        {
            await TypedForm.Again<ClimatePage>(http, form, taken.Problems);
        }
    }

    private static async Task Take(IFormCollection form, HttpContext http, HouseDay day, TakeReading take)
    {
        var problems = new List<Problem>();
        var seen = new ClimateSeen
        {
            Id = form.Key("id") ?? BookId.New(),
            MadeAt = form.Made(day),
            OnDay = form.Day("day", problems),
            Place = form.Text("place"),
            TemperatureC = form.Number("temperature", "temperature", problems),
            HumidityPercent = form.Number("humidity", "humidity", problems),
            WetBulbC = form.Number("wet", "wet bulb", problems),
            Who = WhoCookie.Take(http, form),
            Note = form.Text("note"),
        };
        var taken = problems.Count > 0 ? problems.ToArray() : await take.Do(seen, http.RequestAborted);
        if (taken.IsGood)
        {
            http.Response.Redirect("/flying/climate?done=1");
        }
        else
        {
            await TypedForm.Again<ClimatePage>(http, form, taken.Problems);
        }
    }

    private static async Task Undo(IFormCollection form, HttpContext http, TakeBack takeBack)
    {
        await takeBack.Do(form.Key("fact") ?? Guid.Empty, WhoCookie.Take(http, form), null, http.RequestAborted);
        http.Response.Redirect("/flying/climate");
    }
}

using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.Marks;

/// <summary>Marked adults on the web.</summary>
internal static class MarksWeb
{
    public static void AddTo(IServiceCollection services) => services.AddScoped<ReadMarks>().AddScoped<ShowMarks>().AddScoped<WriteMark>();

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapForm("/flying/marked", Write);
        routes.MapForm("/flying/marked/undo", Undo);
    }

    private static async Task Write(IFormCollection form, HttpContext http, HouseDay day, WriteMark write)
    {
        var problems = new List<Problem>();
        var seen = new MarksSeen
        {
            Id = form.Key("id") ?? BookId.New(),
            MadeAt = form.Made(day),
            OnDay = form.Day("day", problems),
            AreaId = form.Key("area"),
            Taxon = form.Text("taxon") ?? "",
            Marks = form.Text("marks") ?? "",
            Sex = form.Text("sex") switch { "male" => AdultSex.Male, "female" => AdultSex.Female, _ => null },
            Who = WhoCookie.Take(http, form),
            Note = form.Text("note"),
        };
        var written = problems.Count > 0 ? problems.ToArray() : await write.Do(seen, http.RequestAborted);
        if (written.IsGood)
        {
            http.Response.Redirect("/flying/marked?done=1");
        }
        else
        {
            await TypedForm.Again<MarkedPage>(http, form, written.Problems);
        }
    }

    private static async Task Undo(IFormCollection form, HttpContext http, TakeBack takeBack)
    {
        await takeBack.Do(form.Key("fact") ?? Guid.Empty, WhoCookie.Take(http, form), null, http.RequestAborted);
        http.Response.Redirect("/flying/marked");
    }
}

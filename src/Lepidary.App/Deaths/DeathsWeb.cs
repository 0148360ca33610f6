using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.Deaths;

/// <summary>The found dead on the web.</summary>
internal static class DeathsWeb
{
    public static void AddTo(IServiceCollection services) => services.AddScoped<FlyingNow>().AddScoped<ShowFoundDead>().AddScoped<ReportFoundDead>();

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapForm("/flying/found-dead", Report);
        routes.MapForm("/flying/found-dead/undo", Undo);
    }

    /// <summary>Species and counts as the list of species sends them; lines without a count are left out.</summary>
    /// <param name="inParts">True where a count may be made in parts.</param>
    public static IReadOnlyList<SpeciesCount> Counts(IFormCollection form, string what, List<Problem> problems, bool inParts = false) =>
    [
        .. Enumerable.Range(0, Math.Min(500, form.Whole("species", "species", problems) ?? 0))
            .Select(at => (Where: $"line {at + 1}", Taxon: form.Text($"s{at}-taxon") ?? "", Parts: Parts(form, $"s{at}-count", $"line {at + 1}, {what}", problems, inParts)))
            .Where(line => line.Parts is not null)
            .Select(line => new SpeciesCount(line.Where, line.Taxon, line.Parts!.Sum()) { Parts = line.Parts! }),
    ];

    private static IReadOnlyList<int>? Parts(IFormCollection form, string field, string where, List<Problem> problems, bool inParts) =>
        inParts ? form.Parts(field, where, problems) : form.Whole(field, where, problems) is { } count ? [count] : null;

    private static async Task Report(IFormCollection form, HttpContext http, HouseDay day, ReportFoundDead report)
    {
        var problems = new List<Problem>();
        var dead = new DeadAdults
        {
            Id = form.Key("id") ?? BookId.New(),
            MadeAt = form.Made(day),
            OnDay = form.Day("day", problems),
            AreaId = form.Key("area"),
            Counts = Counts(form, "found dead", problems),
            Sex = form.Text("sex") switch { "male" => AdultSex.Male, "female" => AdultSex.Female, _ => null },
            Who = WhoCookie.Take(http, form),
            Note = form.Text("note"),
        };
        var reported = problems.Count > 0 ? problems.ToArray() : await report.Do(dead, http.RequestAborted);
        if (reported.IsGood)
        {
            http.Response.Redirect("/flying/found-dead?done=1");
        }
        else
        {
            await TypedForm.Again<FoundDeadPage>(http, form, reported.Problems);
        }
    }

    private static async Task Undo(IFormCollection form, HttpContext http, TakeBack takeBack)
    {
        await takeBack.Do(form.Key("fact") ?? Guid.Empty, WhoCookie.Take(http, form), null, http.RequestAborted);
        http.Response.Redirect("/flying/found-dead");
    }
}

using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.HangingPlaces;

/// <summary>Hanging on the web: the plan, and lots split and merged.</summary>
internal static class HangingWeb
{
    private const int MostLots = 600;

    public static void AddTo(IServiceCollection services) => services.AddScoped<ShowHanging>().AddScoped<HangAsPlanned>().AddScoped<SplitLot>().AddScoped<MergeLots>();

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapForm("/hanging", Hang);
        routes.MapForm("/round/{named}/split", Split);
        routes.MapForm("/round/{named}/merge", Merge);
    }

    private static async Task Hang(IFormCollection form, HttpContext http, HouseDay day, HangAsPlanned hang)
    {
        var problems = new List<Problem>();
        var count = Math.Min(MostLots, form.Whole("lots", "lots", problems) ?? 0);
        var hung = Enumerable.Range(0, count).Where(at => form.ContainsKey($"h{at}-hung"))
            .Select(at => new HungThere(form.Text($"h{at}-lot") ?? "", form.Text($"h{at}-cage") ?? "", form.Text($"h{at}-row") ?? "")).ToList();
        var done = problems.Count > 0 ? problems.ToArray() : await hang.Do(form.Key("id") ?? BookId.New(), hung, form.Made(day), WhoCookie.Take(http, form), http.RequestAborted);
        if (done.IsGood)
        {
            http.Response.Redirect($"/hanging?hung={done.Value}");
        }
        else
        {
            await TypedForm.Again<HangingPage>(http, form, done.Problems);
        }
    }

    private static async Task Split(string named, IFormCollection form, HttpContext http, HouseDay day, SplitLot split)
    {
        var problems = new List<Problem>();
        var pupae = form.Whole("split-pupae", "pupae", problems) ?? 0;
        var place = form.Whole("split-place", "place", problems);
        var done = problems.Count > 0
            ? problems.ToArray()
            : await split.Do(new(named, pupae) { Id = form.Key("id") ?? BookId.New(), MadeAt = form.Made(day), Cage = form.Text("split-cage"), Row = form.Text("split-row"), Position = place, Who = WhoCookie.Take(http, form) }, http.RequestAborted);
        if (done.IsGood)
        {
            http.Response.Redirect($"/round/{LotCode.Of(done.Value.New.Id)}");
        }
        else
        {
            await TypedForm.Again<LotPage>(http, form, done.Problems);
        }
    }

    private static async Task Merge(string named, IFormCollection form, HttpContext http, HouseDay day, MergeLots merge)
    {
        var done = await merge.Do(new(named, form.Text("into") ?? "") { Id = form.Key("id") ?? BookId.New(), MadeAt = form.Made(day), Who = WhoCookie.Take(http, form) }, http.RequestAborted);
        if (done.IsGood)
        {
            http.Response.Redirect($"/round/{LotCode.Of(done.Value.Into.Id)}");
        }
        else
        {
            await TypedForm.Again<LotPage>(http, form, done.Problems);
        }
    }
}

using System.Text;
using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.House;

internal static class HouseWeb
{
    public static void AddTo(IServiceCollection services)
    {
        services.AddScoped<LoadHouse>();
        services.AddScoped<ChangeHouse>();
        services.AddScoped<ShowHouse>();
        services.AddScoped<ChangeWish>();
        services.AddScoped<ShowWish>();
    }

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapForm("/house", async (IFormCollection form, HttpContext http, HouseDay day, ChangeHouse change, LoadHouse load, TimeProvider clock, CancellationToken cancellation) =>
        {
            var text = form["text"].ToString();
            var problems = day.HouseName is null ? await Begin(text, load, clock, cancellation) : await change.Change(text, cancellation);
            if (problems.Count > 0)
            {
                await TypedForm.Again<HousePage>(http, form, problems);
                return;
            }

            http.Response.Redirect("/house?changed=yes");
        });
        routes.MapForm("/house/wish", Wish);
        routes.MapForm("/house/wish/end", async (IFormCollection form, HttpContext http, ChangeWish change, CancellationToken cancellation) =>
        {
            await change.GiveUp(form.Key("wish") ?? Guid.Empty, cancellation);
            http.Response.Redirect("/house?wish=ended");
        });
        routes.MapGet("/house/file", async (HouseDay day, CancellationToken cancellation) =>
            day.HouseName is null ? Results.NotFound() : Results.File(Encoding.UTF8.GetBytes(HouseFileText.Write(await day.House(cancellation))), "application/yaml; charset=utf-8", "house.yaml"));
    }

    private static async Task Wish(IFormCollection form, HttpContext http, ChangeWish change, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var said = new WishSaid
        {
            InsteadOf = form.Key("wish"),
            Kind = Enum.TryParse<AimKind>(form["kind"], out var kind) && Enum.IsDefined(kind) ? kind : AimKind.Display,
            Of = form.Text("of"),
            AtLeast = form.Whole("at-least", "how many", problems),
            Sure = (form.Number("sure", "how sure", problems) ?? 80) / 100,
            Importance = form.Whole("importance", "importance", problems) ?? 1,
            From = form.Day("from", problems),
            To = form.Day("to", problems),
            Days = Enumerable.Range(0, 7).Select(at => (Weekdays)(1 << at)).Where(on => form.ContainsKey($"on-{(int)on}")).Aggregate(Weekdays.None, (set, on) => set | on),
            NewBlood = form.ContainsKey("new-blood"),
        };
        var wrong = problems.Count > 0 ? problems : await change.Put(said, cancellation);
        if (wrong.Count > 0)
        {
            await TypedForm.Again<WishPage>(http, form, wrong);
            return;
        }

        http.Response.Redirect("/house?wish=put");
    }

    private static async Task<IReadOnlyList<Problem>> Begin(string text, LoadHouse load, TimeProvider clock, CancellationToken cancellation)
    {
        var sheet = HouseFile.Parse("house file", text);
        if (!sheet.IsGood)
        {
            return sheet.Problems;
        }

        var now = clock.GetUtcNow();
        return (await load.Load(sheet.Value, sheet.Value.House.DayAt(now), now, "", null, cancellation)).Problems;
    }
}

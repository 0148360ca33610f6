using System.Text;
using Lepidary.App.Host;

namespace Lepidary.App.House;

internal static class HouseWeb
{
    public static void AddTo(IServiceCollection services)
    {
        services.AddScoped<LoadHouse>();
        services.AddScoped<ChangeHouse>();
        services.AddScoped<ShowHouse>();
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
        routes.MapGet("/house/file", async (HouseDay day, CancellationToken cancellation) =>
            day.HouseName is null ? Results.NotFound() : Results.File(Encoding.UTF8.GetBytes(HouseFileText.Write(await day.House(cancellation))), "application/yaml; charset=utf-8", "house.yaml"));
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

using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Today;

internal static class TodayWeb
{
    public static void AddTo(IServiceCollection services)
    {
        services.AddScoped<ShowToday>();
        services.AddScoped<TurnDay>();
    }

    public static void Map(IEndpointRouteBuilder routes) =>
        routes.MapPost("/today/turn", async (IFormCollection _, TurnDay turn, CancellationToken cancellation) =>
        {
            await turn.Turn(cancellation);
            return Results.LocalRedirect("/");
        });
}

/// <summary>Turns a demo's clock to the next day; a house that lives by the machine's clock is left alone.</summary>
internal sealed class TurnDay(BookContext book, HouseDay day)
{
    public async Task Turn(CancellationToken cancellation)
    {
        var house = await book.Houses.FindAsync([day.HouseId], cancellation);
        if (house?.ClockStandsAt is { } stands)
        {
            house.ClockStandsAt = stands.AddDays(1);
            await book.SaveChangesAsync(cancellation);
        }
    }
}

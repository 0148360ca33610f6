namespace Lepidary.App.Weeks;

internal static class WeeksWeb
{
    public static void AddTo(IServiceCollection services)
    {
        services.AddSingleton<SeenListMemory>();
        services.AddSingleton<ListingChances>();
        services.AddScoped<SeenLists>();
        services.AddScoped<ShowWeeks>();
        services.AddScoped<UsualOrders>();
        services.AddScoped<CompareOffers>();
        services.AddScoped<WeeksAhead>();
    }
}

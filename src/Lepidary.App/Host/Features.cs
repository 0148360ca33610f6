using Lepidary.App.Climate;
using Lepidary.App.Deaths;
using Lepidary.App.Deliveries;
using Lepidary.App.Demo;
using Lepidary.App.Flying;
using Lepidary.App.HangingPlaces;
using Lepidary.App.Honesty;
using Lepidary.App.House;
using Lepidary.App.Labels;
using Lepidary.App.Lists;
using Lepidary.App.Marks;
using Lepidary.App.Odds;
using Lepidary.App.Orders;
using Lepidary.App.Paper;
using Lepidary.App.Pocket;
using Lepidary.App.Rounds;
using Lepidary.App.Seasons;
using Lepidary.App.Today;
using Lepidary.App.Visitors;
using Lepidary.App.Walks;
using Lepidary.App.Weeks;
using Lepidary.Book;

namespace Lepidary.App.Host;

/// <summary>Every feature's part of the program, by name: a feature that is not here does not exist on the page.</summary>
internal static class Features
{
    public static void AddTo(IServiceCollection services)
    {
        services.AddSingleton<FactInbox>();
        services.AddSingleton<ListShelf>();
        services.AddSingleton<OpenLots>();
        services.AddSingleton<StockReader>();
        services.AddSingleton<LotCounts>();
        services.AddSingleton<AdultCounts>();
        services.AddSingleton<DiscrepancyReader>();
        services.AddSingleton<OddsBook>();
        services.AddScoped<TypedForm>();
        HouseWeb.AddTo(services);
        services.AddScoped<Species.ShowSpecies>();
        services.AddScoped<Suppliers.ShowSuppliers>();
        services.AddScoped<LoadDemo>();
        ListWeb.AddTo(services);
        WeeksWeb.AddTo(services);
        HonestyWeb.AddTo(services);
        OrderWeb.AddTo(services);
        DeliveryWeb.AddTo(services);
        RoundWeb.AddTo(services);
        FlyingWeb.AddTo(services);
        TodayWeb.AddTo(services);
        DeathsWeb.AddTo(services);
        MarksWeb.AddTo(services);
        WalkWeb.AddTo(services);
        ClimateWeb.AddTo(services);
        SeasonWeb.AddTo(services);
        PocketWeb.AddTo(services);
        VisitorsWeb.AddTo(services);
        HangingWeb.AddTo(services);
        LabelsWeb.AddTo(services);
        PaperWeb.AddTo(services);
    }

    public static void Map(IEndpointRouteBuilder routes)
    {
        HouseWeb.Map(routes);
        ListWeb.Map(routes);
        OrderWeb.Map(routes);
        DeliveryWeb.Map(routes);
        RoundWeb.Map(routes);
        TodayWeb.Map(routes);
        DeathsWeb.Map(routes);
        MarksWeb.Map(routes);
        WalkWeb.Map(routes);
        ClimateWeb.Map(routes);
        SeasonWeb.Map(routes);
        PocketWeb.Map(routes);
        HangingWeb.Map(routes);
        LabelsWeb.Map(routes);
        PaperWeb.Map(routes);
    }
}

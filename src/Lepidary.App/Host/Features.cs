namespace Lepidary.App.Host;

/// <summary>Every feature's part of the web, by name: a feature that is not here does not exist on the page.</summary>
internal static class Features
{
    public static void AddTo(IServiceCollection services)
    {
    }

    public static void Map(IEndpointRouteBuilder routes)
    {
    }
}

namespace Lepidary.App.Flying;

internal static class FlyingWeb
{
    public static void AddTo(IServiceCollection services) => services.AddScoped<ShowFlying>();
}

using System.Globalization;

namespace Lepidary.App.Labels;

/// <summary>Labels on the web.</summary>
internal static class LabelsWeb
{
    public static void AddTo(IServiceCollection services) => services.AddScoped<ShowLabels>();

    public static void Map(IEndpointRouteBuilder routes) =>
        routes.MapGet("/labels/paper.css", (double width, double height) =>
            width is >= 10 and <= 1000 && height is >= 10 and <= 1000 ? Results.Text(PaperStyle(width, height), "text/css; charset=utf-8") : Results.NotFound());

    /// <summary>What tells the printer the paper; no margin of its own, the sheet has its own.</summary>
    public static string PaperStyle(double width, double height) =>
        string.Create(CultureInfo.InvariantCulture, $"@page labels {{ size: {width:0.###}mm {height:0.###}mm; margin: 0; }}\n");
}

using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>The handbook's pictures, kept only where <c>tools/pocket-pictures</c> asks for them.</summary>
internal static class HandbookPictures
{
    /// <summary>Names the folder that they are kept in.</summary>
    private const string FolderVariable = "LEPIDARY_POCKET_PICTURES";

    /// <summary>Keeps the screen as it stands, as high as a browser leaves it between its own bars.</summary>
    /// <param name="page">The page, 390 px wide.</param>
    /// <param name="name">Of the file, without its ending.</param>
    /// <param name="height">Of the picture, px.</param>
    public static async Task Keep(IPage page, string name, int height)
    {
        if (Environment.GetEnvironmentVariable(FolderVariable) is not { Length: > 0 } folder || page.ViewportSize is not { } before)
        {
            return;
        }

        await page.SetViewportSizeAsync(before.Width, height);
        await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{name}.png") });
        await page.SetViewportSizeAsync(before.Width, before.Height);
    }
}

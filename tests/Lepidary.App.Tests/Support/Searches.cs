namespace Lepidary.App.Tests.Support;

/// <summary>Pages that may still search when they are first asked for.</summary>
internal static class Searches
{
    /// <summary>A page once its search is done: asked for again as long as it says that it would be.</summary>
    public static async Task<string> Found(this HttpClient client, string address, CancellationToken stop)
    {
        while (true)
        {
            using var answer = await client.GetAsync(new Uri(address, UriKind.Relative), stop);
            answer.EnsureSuccessStatusCode();
            if (!answer.Headers.Contains("Refresh"))
            {
                return await answer.Content.ReadAsStringAsync(stop);
            }

            await Task.Delay(200, stop);
        }
    }
}

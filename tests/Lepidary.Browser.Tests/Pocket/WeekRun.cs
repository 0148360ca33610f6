using Lepidary.Browser.Harness;
using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>What a phone and the book had after a week without a connection.</summary>
/// <param name="Line">What the outbox said before the connection was back.</param>
/// <param name="OnPhone">Rows on the phone.</param>
/// <param name="InBook">Rows in the book.</param>
/// <param name="Conflicts">Rows of one key and two contents.</param>
internal sealed record WeekCount(string Line, IReadOnlyList<KeptRow> OnPhone, IReadOnlyList<BookRow> InBook, long Conflicts);

/// <summary>A phone that has no connection for a week, its page opened anew each day, and is then back.</summary>
internal static class WeekRun
{
    /// <param name="browser">The browser that stands for the phone.</param>
    /// <param name="server">A demo house of its own.</param>
    /// <param name="countsADay">Counts on each of seven days; each is two rows, an entry and its release.</param>
    public static async Task<WeekCount> Run(IBrowser browser, BookServer server, int countsADay)
    {
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser, wire);
        var lots = await phone.Page.EvaluateAsync<string[]>(Taps.Lots);
        await phone.Page.Clock.InstallAsync(new() { TimeDate = DateTime.UtcNow });
        wire.Dead = true;
        for (var day = 0; day < 7; day++)
        {
            await phone.Page.ReloadAsync();
            await phone.Ready();
            var some = Enumerable.Range(0, countsADay).Select(number => lots[(number + (day * 11)) % lots.Length]).ToArray();
            await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = some, released = true });
            await phone.Page.Clock.FastForwardAsync(86_400_000);
        }

        var line = await phone.Line();
        await using (var office = await Visit.Open(browser, server.Page("/"), Screen.Desk, script: true))
        {
            // The invented house's clock stands until it is turned.
            for (var day = 0; day < 7; day++)
            {
                await office.Page.RunAndWaitForResponseAsync(() => office.Page.ClickAsync("form[action='/today/turn'] button"), answer => answer.Request is { IsNavigationRequest: true, Method: "GET" });
                await office.Page.WaitForLoadStateAsync();
            }
        }

        wire.Dead = false;
        await phone.SendAll();
        return new(line, await phone.Rows(), Phone.AllInBook(server), Phone.Conflicts(server));
    }
}

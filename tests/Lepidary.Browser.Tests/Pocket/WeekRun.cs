using System.Text.RegularExpressions;
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
internal static partial class WeekRun
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
        await Turn(server, 7);
        wire.Dead = false;
        await phone.SendAll();
        return new(line, await phone.Rows(), Phone.AllInBook(server), Phone.Conflicts(server));
    }

    /// <summary>Turns the invented house's clock, which stands, by the button that its first page has for it.</summary>
    private static async Task Turn(BookServer server, int days)
    {
        using var client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = server.Address };
        var token = Token().Match(await client.GetStringAsync("/")).Groups[1].Value;
        for (var day = 0; day < days; day++)
        {
            using var form = new FormUrlEncodedContent([new("__RequestVerificationToken", token)]);
            using var answer = await client.PostAsync("/today/turn", form);
            if ((int)answer.StatusCode is < 300 or >= 400)
            {
                throw new InvalidOperationException($"The day was not turned: {answer.StatusCode}");
            }
        }
    }

    [GeneratedRegex("action=\"/today/turn\".*?name=\"__RequestVerificationToken\"[^>]*? value=\"([^\"]+)\"", RegexOptions.Singleline)]
    private static partial Regex Token();
}

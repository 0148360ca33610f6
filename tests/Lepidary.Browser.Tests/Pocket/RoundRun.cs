using System.Diagnostics;
using System.Net.Http.Json;
using System.Text.Json.Nodes;
using Lepidary.Browser.Harness;
using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>What a round took.</summary>
/// <param name="Lots">Lots that were looked at.</param>
/// <param name="Taps">Taps, the first one that opens the first lot not among them.</param>
/// <param name="Entries">Counts on the phone afterwards.</param>
/// <param name="Seconds">How long the taps took, each waited for until the next lot stood there and its buttons had settled.</param>
/// <param name="Summary">What the summary says at the end.</param>
internal sealed record RoundCount(int Lots, int Taps, int Entries, double Seconds, string Summary);

/// <summary>A round of forty lots and more, without a connection, made by taps.</summary>
internal static class RoundRun
{
    /// <summary>Species of a box that a week ago brought what hangs beside the demo's lots.</summary>
    private static readonly string[] _box =
    [
        "Morpho helenor", "Caligo memnon", "Idea leuconoe", "Papilio memnon", "Papilio polytes", "Heliconius melpomene", "Heliconius charithonia", "Dryas iulia", "Parthenos sylvia",
        "Hypolimnas bolina", "Graphium agamemnon", "Siproeta stelenes", "Attacus atlas", "Greta oto", "Danaus plexippus", "Papilio palinurus",
    ];

    /// <summary>
    /// Hangs further lots in a demo house, so that forty and more are left to look at though other tests look at some: boxes of another phone,
    /// taken in at the door at which phones send theirs.
    /// </summary>
    public static async Task Fill(BookServer server)
    {
        using var client = new HttpClient { BaseAddress = server.Address };
        client.DefaultRequestHeaders.Add("Lepidary-Pocket", "1");
        var day = (await client.GetFromJsonAsync<JsonObject>("/pocket/day"))!;
        var boxes = Enumerable.Range(1, 4).Select(box => Box(day, box)).ToArray<JsonNode>();
        var answer = await client.PostAsJsonAsync("/pocket/inbox", new JsonObject { ["format"] = 1, ["facts"] = new JsonArray(boxes) });
        var said = await answer.Content.ReadAsStringAsync();
        if (JsonNode.Parse(said)?["receipts"] is not JsonArray receipts || receipts.Any(receipt => (string?)receipt?["outcome"] != "written"))
        {
            throw new InvalidOperationException($"The boxes were not taken in: {said}");
        }
    }

    private static JsonObject Box(JsonObject day, int number)
    {
        var (house, supplier, cage) = ((string)day["houseId"]!, (string)day["suppliers"]![0]!["id"]!, (string)day["cages"]![0]!["id"]!);
        var hungOn = $"2026-11-{19 + (7 * (number % 2))}";
        var keys = _box.Select(_ => Guid.CreateVersion7().ToString()).ToArray();
        return new()
        {
            ["kind"] = "delivery",
            ["id"] = Guid.CreateVersion7().ToString(),
            ["houseId"] = house,
            ["onDay"] = hungOn,
            ["deviceTime"] = $"{hungOn}T10:00:00Z",
            ["who"] = "Another phone",
            ["supplierId"] = supplier,
            ["boxMark"] = $"R-{number}",
            ["lines"] = new JsonArray([.. _box.Select((species, at) => new JsonObject { ["id"] = keys[at], ["taxon"] = species, ["noted"] = 8, ["alive"] = 8 })]),
            ["lots"] = new JsonArray([.. _box.Select((species, at) => new JsonObject
            {
                ["id"] = Guid.CreateVersion7().ToString(),
                ["houseId"] = house,
                ["deliveryLineId"] = keys[at],
                ["supplierId"] = supplier,
                ["taxon"] = species,
                ["hungOn"] = hungOn,
                ["received"] = 8,
                ["cageId"] = cage,
                ["row"] = $"{20 + at}",
            })]),
        };
    }

    /// <param name="phone">A phone on a house with that many lots.</param>
    /// <param name="lots">How many lots are looked at.</param>
    /// <param name="everyFifthWithADead">True where every fifth lot has one dead: then it is more than one tap.</param>
    public static async Task<RoundCount> Run(Phone phone, int lots, bool everyFifthWithADead)
    {
        var page = phone.Page;
        await phone.Go("round");
        var before = (await phone.Rows()).Count(row => row.Kind == "entry");
        await page.TapAsync("a.big");
        await page.WaitForSelectorAsync("button:has-text('As expected')");
        var taps = 0;
        var watch = Stopwatch.StartNew();
        for (var lot = 1; lot <= lots; lot++)
        {
            var here = page.Url;
            if (everyFifthWithADead && lot % 5 == 0)
            {
                await Tap("button[aria-label='Dead: one more']");
                await Tap("button:has-text('Write it down')");
            }
            else
            {
                await Tap("button:has-text('As expected')");
            }

            await page.WaitForFunctionAsync("was => location.href !== was && document.body.dataset.settling === undefined", here);
        }

        watch.Stop();
        var entries = (await phone.Rows()).Count(row => row.Kind == "entry") - before;
        await phone.Go("summary");
        await page.WaitForFunctionAsync("() => document.title.startsWith('Summary')");
        return new(lots, taps, entries, watch.Elapsed.TotalSeconds, await page.InnerTextAsync("main"));

        async Task Tap(string what)
        {
            await page.TapAsync(what);
            taps++;
        }
    }

    /// <summary>The floor: as many taps on a page with nothing on it but a button, waited for in the same way.</summary>
    /// <returns>Seconds.</returns>
    public static async Task<double> Floor(IBrowser browser, int taps)
    {
        await using var context = await browser.NewContextAsync(new() { HasTouch = true, ViewportSize = new() { Width = Screen.Phone.Width, Height = Screen.Phone.Height } });
        var page = await context.NewPageAsync();
        await page.SetContentAsync("<button style='padding: 2rem' onclick='location.hash = String(Number(location.hash.slice(1)) + 1)'>Next</button>");
        var watch = Stopwatch.StartNew();
        for (var tap = 0; tap < taps; tap++)
        {
            var here = page.Url;
            await page.TapAsync("button");
            await page.WaitForFunctionAsync("was => location.href !== was", here);
        }

        return watch.Elapsed.TotalSeconds;
    }
}

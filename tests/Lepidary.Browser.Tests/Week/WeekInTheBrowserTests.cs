using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Lepidary.Browser.Harness;
using Microsoft.Playwright;

namespace Lepidary.Browser.Week;

/// <summary>
/// A keeper's whole week on a book that does not exist yet: the house, the lists, a doubt, the order, the box, the round, the wing. On a phone, without
/// JavaScript; the book is asked by command at the end.
/// </summary>
public sealed partial class WeekInTheBrowserTests(BrowserFixture browser)
{
    private const string House = """
        house: Lean-to at Finch Row
        currency: EUR
        areas: [ { name: Lean-to, floor: 20, height: 2.5 } ]
        cages: [ { name: Hatching box, places: 120 } ]
        aims:
          - display: { all: yes, at-least: 12, sure: 80%, importance: 3 }
          - breeding: { taxon: Heliconius melpomene, pairs: 1, sure: 90%, importance: 3 }
        suppliers:
          - { name: Tansy Pupae, currency: EUR, carriage: [ { from: 1, cost: 9.50 } ], arrives: tue }
          - { name: Sorrel Farm, currency: EUR, carriage: [ { from: 1, cost: 14 } ], arrives: wed }
        """;

    private const string Csv = """
        Species;Price EUR;Available
        Papilio memnon;2,40;20
        Heliconius melpomene;1,80;40
        Dryas iulia;1,60;60
        Archaeoprepona demophon;2,90;15
        Morpho peleides;4,20;25
        """;

    private const string Letter = """
        Sorrel Farm, prices in EUR without tax
        Heliconius melpomene 2.60
        Caligo memnon 3.90
        Idea leuconoe 3.20
        """;

    [Fact]
    public async Task Week_from_the_lists_to_the_wing_on_a_fresh_book()
    {
        await using var server = await BookServer.OnFreshBook();
        await using var visit = await browser.Open(server.Page("/"), Screen.Phone, script: false);
        var page = visit.Page;
        Assert.Contains("no house yet", await Head(page), StringComparison.Ordinal);

        await visit.Go(server.Page("/house"));
        await page.FillAsync("#text", House);
        await page.ClickAsync("button:has-text('Begin with the file')");
        Assert.Equal("Lean-to at Finch Row", await Head(page));

        await HandIn(visit, server, "Tansy Pupae", file: Csv, text: null);
        Assert.Contains("to settle", await Head(page), StringComparison.Ordinal);
        await page.ClickAsync(".doubt button:has-text('It is') >> nth=0");
        Assert.Contains("none in doubt", await Head(page), StringComparison.Ordinal);
        await HandIn(visit, server, "Sorrel Farm", file: null, text: Letter);

        await visit.Go(server.Page("/order"));
        Assert.StartsWith("Order ", await Head(page), StringComparison.Ordinal);
        var row = page.Locator("table.order tbody tr").First;
        var species = await row.Locator("th").InnerTextAsync();
        await row.Locator("input[name=pupae]").FillAsync("11");
        await row.Locator("button:has-text('Fix')").ClickAsync();
        await page.Locator("main:has-text('11, as you said')").WaitForAsync();
        await page.FillAsync("#who", "Wren");
        await page.ClickAsync("form.write button");
        if (!page.Url.Contains("/orders/", StringComparison.Ordinal))
        {
            await page.ClickAsync("a.written >> nth=0");
        }

        var order = page.Url;
        Assert.Contains("drafted", await page.InnerTextAsync("main"), StringComparison.Ordinal);
        await page.ClickAsync("button:has-text('I have sent it')");
        Assert.Contains("sent", await page.InnerTextAsync(".lead"), StringComparison.Ordinal);
        Assert.Contains(species.Split(' ')[0], await page.InnerTextAsync("main"), StringComparison.Ordinal);

        var key = order[(order.LastIndexOf('/') + 1)..];
        await visit.Go(server.Page($"/deliveries/new?order={key}"));
        await page.FillAsync("#box", "T-1");
        var lines = int.Parse(await page.InputValueAsync("input[name=lines]"), CultureInfo.InvariantCulture);
        var hung = 0;
        for (var line = 0; line < lines; line++)
        {
            var noted = await page.InputValueAsync($"[name=l{line}-noted]");
            if (!int.TryParse(noted, NumberStyles.None, CultureInfo.InvariantCulture, out var pupae))
            {
                continue;
            }

            var alive = line == 0 ? pupae - 1 : pupae;
            hung += alive;
            await page.FillAsync($"[name=l{line}-alive]", alive.ToString(CultureInfo.InvariantCulture));
            await page.FillAsync($"[name=l{line}-dead]", line == 0 ? "1" : "0");
            await page.SelectOptionAsync($"[name=l{line}-cage]", new SelectOptionValue { Index = 1 });
        }

        await page.ClickAsync("button[value=counted]");
        Assert.Contains("1 dead", await page.InnerTextAsync("main"), StringComparison.Ordinal);

        // The same box once more is not taken in twice.
        await visit.Go(server.Page($"/deliveries/new?order={key}"));
        await page.FillAsync("#box", "T-1");
        await page.FillAsync("[name=l0-alive]", "3");
        await page.ClickAsync("button[value=counted]");
        Assert.Equal(hung, (await Lots(server)).Sum(lot => lot.Hanging));

        await visit.Go(server.Page("/round"));
        await page.ClickAsync("main a[href^='/round/']:not([href*='summary']):not([href*='discrepancies']) >> nth=0");
        var lotPage = page.Url;
        await page.FillAsync("[name=male]", "1");
        await page.FillAsync("[name=female]", "1");
        await page.FillAsync("[name=parasitised]", "1");
        await page.CheckAsync("[name=released]");
        await page.ClickAsync("button:has-text('Write it down') >> nth=0");
        Assert.Matches(Hygiene(), await page.InnerTextAsync("main"));
        Assert.Equal(hung - 3, (await Lots(server)).Sum(lot => lot.Hanging));

        // More than hangs is kept and shown, never refused.
        await page.GotoAsync(lotPage);
        await page.FillAsync("[name=dead]", "400");
        await page.ClickAsync("button:has-text('Write it down') >> nth=0");
        await visit.Go(server.Page("/"));
        Assert.Contains("does not add up", await page.InnerTextAsync("main"), StringComparison.Ordinal);

        // The power goes; what was acknowledged is there.
        await server.Kill();
        await server.Start();
        await visit.Go(server.Page("/flying"));
        Assert.Matches(Flies(), await Head(page));
        var (code, said) = await BookServer.Run("orders", "propose", "--book", server.Book, "--json");
        Assert.Equal(0, code);
        Assert.Contains("\"lines\"", said, StringComparison.Ordinal);
    }

    private static async Task HandIn(Visit visit, BookServer server, string supplier, string? file, string? text)
    {
        await visit.Go(server.Page("/lists"));
        await visit.Page.SelectOptionAsync("#supplier", new SelectOptionValue { Label = supplier });
        if (file is not null)
        {
            await visit.Page.SetInputFilesAsync("#file", new FilePayload { Name = "list.csv", MimeType = "text/csv", Buffer = System.Text.Encoding.UTF8.GetBytes(file) });
        }

        await visit.Page.FillAsync("#text", text ?? "");
        await visit.Page.ClickAsync("button:has-text('Read it')");
        Assert.Contains("/lists/", visit.Page.Url, StringComparison.Ordinal);
    }

    private static Task<string> Head(IPage page) => page.InnerTextAsync("h1");

    private static async Task<IReadOnlyList<(string Code, int Hanging)>> Lots(BookServer server)
    {
        var (code, said) = await BookServer.Run("lots", "--book", server.Book, "--json");
        Assert.Equal(0, code);
        using var json = JsonDocument.Parse(said);
        var lots = json.RootElement.ValueKind == JsonValueKind.Array ? json.RootElement : json.RootElement.EnumerateObject().First(part => part.Value.ValueKind == JsonValueKind.Array).Value;
        return [.. lots.EnumerateArray().Select(lot => (lot.GetProperty("code").GetString()!, lot.GetProperty("hanging").GetInt32()))];
    }

    [GeneratedRegex("(?i)hygiene|parasitoid")]
    private static partial Regex Hygiene();

    [GeneratedRegex("About \\d+ butterfl")]
    private static partial Regex Flies();
}

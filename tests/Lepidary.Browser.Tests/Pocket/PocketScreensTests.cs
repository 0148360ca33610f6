using Lepidary.Browser.Harness;

namespace Lepidary.Browser.Pocket;

/// <summary>Every screen of the pocket book: for hands in gloves, for eyes in glare, for ears.</summary>
public sealed class PocketScreensTests(BrowserFixture browser)
{
    /// <summary>What can be tapped and is smaller than 48 px either way. A link within a sentence is not counted.</summary>
    private const string TooSmall =
        """
        () => [...document.querySelectorAll("button, a, summary, select, input, label.tick")].filter(one => {
          if (one.closest(".skip, .tick input, [hidden]") || one.matches("[type=checkbox], [type=radio]") || !one.checkVisibility()) return false;
          if (one.matches("p a:not(.button)") && one.parentElement.textContent.trim() !== one.textContent.trim()) return false;
          const { width, height } = one.getBoundingClientRect();
          return width < 47.9 || height < 47.9;
        }).map(one => one.outerHTML.slice(0, 90) + " " + Math.round(one.getBoundingClientRect().width) + "x" + Math.round(one.getBoundingClientRect().height))
        """;

    /// <summary>Whether what is tapped most lies on the thumb's side: the big button and the one for one more.</summary>
    private const string Side =
        """
        () => {
          const middle = one => { const box = one.getBoundingClientRect(); return box.left + box.width / 2; };
          const side = (one, other) => one && other ? (middle(one) > middle(other) ? "right" : "left") : null;
          const thumb = document.getElementById("thumb"), big = thumb.querySelector(".big:not([hidden])"), quiet = thumb.querySelector(".quiet:not([hidden])");
          const level = big && quiet && Math.abs(big.getBoundingClientRect().top - quiet.getBoundingClientRect().top) < 8;
          return [level ? side(big, quiet) : null, side(document.querySelector(".more"), document.querySelector(".stepper .less"))].filter(one => one !== null).join();
        }
        """;

    /// <summary>Inks of the page that stand below 7 to 1 on a ground of it, large letters too: WCAG 2.2, relative luminance.</summary>
    private const string TooPale =
        """
        () => {
          const style = getComputedStyle(document.documentElement);
          const light = name => {
            const [r, g, b] = style.getPropertyValue(name).trim().match(/[0-9a-f]{2}/gi).map(pair => parseInt(pair, 16) / 255).map(c => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
            return 0.2126 * r + 0.7152 * g + 0.0722 * b;
          };
          const contrast = (a, b) => (Math.max(light(a), light(b)) + 0.05) / (Math.min(light(a), light(b)) + 0.05);
          return [..."ink soft moss madder".split(" ").flatMap(ink => ["paper", "plate"].map(ground => [ink, ground])), ["on-moss", "moss"]]
            .map(([ink, ground]) => [`${ink} on ${ground}`, contrast(`--${ink}`, `--${ground}`)]).filter(([, ratio]) => !(ratio >= 7)).map(([name, ratio]) => `${name}: ${ratio.toFixed(2)}`);
        }
        """;

    /// <summary>Makes the newest row one that the server refused.</summary>
    private const string Refuse =
        """
        () => new Promise(done => {
          const open = indexedDB.open("lepidary-pocket");
          open.onsuccess = () => {
            const rows = open.result.transaction("rows", "readwrite").objectStore("rows");
            rows.getAll().onsuccess = event => {
              const row = event.target.result.at(-1);
              rows.put({ ...row, state: "refused", problems: [{ where: "dead", found: "200000", expected: "a whole number from 0 to 100000" }] }).onsuccess = () => { open.result.close(); done(row.sequence); };
            };
          };
        })
        """;

    [Theory]
    [InlineData("bright", "right", 390, 844, false)]
    [InlineData("dark", "left", 390, 844, false)]
    [InlineData("bright", "right", 390, 844, true)]
    [InlineData("bright", "left", 844, 390, false)]
    public async Task Screens_are_in_order(string light, string thumb, int width, int height, bool twiceTheText)
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire, new Screen(width, height));
        await phone.Go("phone");
        await phone.Page.CheckAsync($"input[value={light}]");
        await phone.Page.CheckAsync($"input[value={thumb}]");
        var lots = await phone.Page.EvaluateAsync<string[]>(Taps.Lots);
        var box = (await phone.Page.EvaluateAsync<string[]>(Taps.Boxes))[0];
        wire.Dead = true;
        await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = lots[..2], released = false });
        var refused = await phone.Page.EvaluateAsync<int>(Refuse);
        await phone.Page.ReloadAsync();
        await phone.Ready();
        await phone.Go($"lot/{lots[0]}");
        await phone.Page.ClickAsync("button[aria-label='Emerged: one more']");
        await phone.Page.ClickAsync("button:has-text('Write it down')");
        await phone.Page.WaitForSelectorAsync("#said:has-text('1 out')");
        if (twiceTheText)
        {
            await phone.Page.EvaluateAsync("document.documentElement.style.fontSize = '200%'");
        }

        // Axe looks at what colours and names are; the width and the size of letters change neither.
        var (axe, keyboard) = (height > width && !twiceTheText, height > width && !twiceTheText && light == "bright");
        var faults = new List<string>(from pale in await phone.Page.EvaluateAsync<string[]>(TooPale) select $"contrast below 7: {pale}");
        foreach (var (screen, name) in new[]
        {
            ("round", "round"), ($"lot/{lots[2]}", "lot"), ($"hygiene/{lots[2]}", "hygiene"), ("summary", "summary"), ("release", "release"), ($"release/{lots[0]}", "release-lot"),
            ("dead", "dead"), ("walk", "walk"), ("climate", "climate"), ("box", "box"), ($"box/{box}", "box-open"), ($"box/{box}/0", "box-line"), ("outbox", "outbox"), ($"mend/{refused}", "mend"), ("phone", "phone"),
        })
        {
            await phone.Go(screen);
            await phone.Page.WaitForFunctionAsync("() => document.activeElement.matches('h1')");
            if (axe)
            {
                faults.AddRange(from fault in await PageCheck.Accessibility(phone.Visit, inGlare: true) select $"{name}: {fault}");
            }

            faults.AddRange(from small in await phone.Page.EvaluateAsync<string[]>(TooSmall) select $"{name}: below 48 px: {small}");
            var overflow = await phone.Page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth");
            faults.AddRange(overflow > 0 ? [$"{name}: scrolls sideways by {overflow} px"] : []);
            var side = await phone.Page.EvaluateAsync<string>(Side);
            faults.AddRange(side.Split(',', StringSplitOptions.RemoveEmptyEntries).Any(one => one != thumb) ? [$"{name}: {side}, not under the {thumb} thumb"] : []);
            await Picture(phone, name, (light, width, height, twiceTheText));
            if (keyboard)
            {
                await phone.Page.ReloadAsync();
                await phone.Ready();
                faults.AddRange(from fault in await PageCheck.Keyboard(phone.Visit) select $"{name}: {fault}");
            }
        }

        Faults.None(faults);
    }

    /// <summary>No swipe, no long press, no drag is listened for: whatever can be done is done by a button, a link or a field.</summary>
    [Fact]
    public async Task Script_listens_for_no_gesture()
    {
        var house = await browser.PocketHouse();
        using var client = new HttpClient();
        var script = await client.GetStringAsync(house.Page("/pocket/pocket.js"), TestContext.Current.CancellationToken);

        Assert.Contains("pointerdown", script, StringComparison.Ordinal);
        foreach (var gesture in new[] { "touchstart", "touchmove", "touchend", "pointermove", "mousemove", "dragstart", "contextmenu", "dblclick", "wheel", "devicemotion" })
        {
            Assert.DoesNotContain(gesture, script, StringComparison.Ordinal);
        }
    }

    private static async Task Picture(Phone phone, string name, (string Light, int Width, int Height, bool Twice) look)
    {
        var kind = look switch
        {
            ("bright", 390, _, false) => "",
            (_, 390, _, true) => "-large",
            ("dark", _, _, _) => "-dark",
            _ => "-landscape",
        };
        await phone.Page.ScreenshotAsync(new() { Path = Path.Combine(RepositoryFolder.Of("artifacts", "screenshots"), $"pocket-{name}{kind}.png") });
        if (kind.Length == 0)
        {
            await HandbookPictures.Keep(phone.Page, $"pocket-{name}", name == "hygiene" ? 520 : 600);
        }
    }
}

using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace Lepidary.Browser.Harness;

/// <summary>What every page owes its reader. Each check gives the faults that it found, in words; none is a page in order.</summary>
internal static class PageCheck
{
    /// <summary>WCAG 2.2 up to AA, and axe's best practice.</summary>
    private static readonly string[] _rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

    /// <summary>Of those, the rules whose answer depends on how wide the window is: what lies over what, how large, and what scrolls.</summary>
    private static readonly string[] _onlyWidth = ["color-contrast", "target-size", "scrollable-region-focusable", "link-in-text-block", "meta-viewport", "avoid-inline-spacing"];

    private static readonly string _axe = new BundledAxeScriptProvider().GetScript();

    /// <summary>A page may have many stops of Tab, but a tour that does not come round again is a trap.</summary>
    private const int MostStops = 2000;

    private const int StopsAtOnce = 20;

    /// <summary>All that a page owes at the width of a phone and of a desk, with a picture of each where something is wrong.</summary>
    /// <param name="visit">The page as it was opened; its window is made wider for the desk.</param>
    /// <param name="name">Name of the pictures.</param>
    public static async Task<IReadOnlyList<string>> AtBothWidths(Visit visit, string name)
    {
        var faults = new List<string>();
        foreach (var screen in new[] { Screen.Phone, Screen.Desk })
        {
            var turned = screen != visit.Screen;
            if (turned)
            {
                await visit.Resize(screen);
            }

            string[] found = [.. await Basics(visit), .. await Accessibility(visit, turned: turned), .. await Keyboard(visit)];
            faults.AddRange(found.Select(fault => $"{screen.Width} px: {fault}"));
            if (found.Length > 0)
            {
                await visit.Picture(name);
            }
        }

        return faults;
    }

    /// <summary>Status 200, one main heading, a title, nothing wider than the window, no complaint, no other host.</summary>
    public static async Task<IReadOnlyList<string>> Basics(Visit visit)
    {
        var page = visit.Page;
        var faults = new List<string>();
        Fault(visit.Status != 200, $"status {visit.Status}");
        var headings = await page.Locator("h1").CountAsync();
        Fault(headings != 1, $"{headings} main headings (h1), not one");
        Fault(string.IsNullOrWhiteSpace(await page.TitleAsync()), "no title");
        var overflow = await page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth");
        Fault(overflow > 0, $"scrolls sideways by {overflow} px at {visit.Screen.Width} px");
        faults.AddRange(visit.Complaints.Select(complaint => $"console: {complaint}"));
        faults.AddRange(visit.Strangers.Select(address => $"asks another host: {address}"));
        return faults;

        void Fault(bool is_, string words)
        {
            if (is_)
            {
                faults.Add(words);
            }
        }
    }

    /// <summary>What axe finds, an element a line.</summary>
    /// <param name="visit">The page.</param>
    /// <param name="inGlare">True to ask for the contrast of AAA too: 7 to 1, 4.5 to 1 for large letters.</param>
    /// <param name="turned">True where the page was asked all of this before and only its window has another size since.</param>
    public static async Task<IReadOnlyList<string>> Accessibility(Visit visit, bool inGlare = false, bool turned = false)
    {
        // Run in the page itself: the library's own way carries every element that passed back, and opens a second page to sum up.
        if (!await visit.Page.EvaluateAsync<bool>("'axe' in window"))
        {
            await visit.Page.EvaluateAsync(_axe);
        }

        return await visit.Page.EvaluateAsync<string[]>(
            """
            ({ rules, onlyWidth, inGlare, turned }) => {
              // Of a page that was looked at in another width and shows nothing new in this one, only what a width can change is asked again.
              const shown = [...document.querySelectorAll('*')].filter(element => element.checkVisibility());
              const again = turned && !inGlare && window.lepidaryShown && shown.every(element => lepidaryShown.has(element));
              window.lepidaryShown = new Set(shown);
              const runOnly = again ? { type: 'rule', values: onlyWidth } : { type: 'tag', values: rules };
              return axe.run(document, { runOnly, rules: { 'color-contrast-enhanced': { enabled: inGlare } }, resultTypes: ['violations'] }).then(found =>
                found.violations.flatMap(rule => rule.nodes.map(node => `axe ${rule.id} (${rule.impact}): ${rule.help}: ${node.html}`)));
            }
            """,
            new { rules = _rules, onlyWidth = _onlyWidth, inGlare, turned });
    }

    /// <summary>
    /// The page by keyboard alone: Tab comes first to a link, seen when focused, that leads to the main part; each further
    /// stop shows that it has the focus and is not under something that stays in place.
    /// </summary>
    public static async Task<IReadOnlyList<string>> Keyboard(Visit visit)
    {
        var page = visit.Page;
        var faults = new List<string>();
        await page.EvaluateAsync(Tour);

        // From the very beginning, wherever an earlier tour ended.
        await page.Keyboard.PressAsync("Tab");
        var skip = await page.EvaluateAsync<string?>("lepidaryTour.skipTarget()");
        if (skip is null)
        {
            faults.Add("the first stop of Tab is not a link to the main part");
        }

        // The page itself looks at each stop when the next key comes, so that the keys can be sent without waiting for one another.
        for (var stop = 0; stop < MostStops; stop += StopsAtOnce)
        {
            await Task.WhenAll(Enumerable.Range(0, StopsAtOnce).Select(_ => page.Keyboard.PressAsync("Tab")));
            if (await page.EvaluateAsync<bool>("lepidaryTour.round"))
            {
                faults.AddRange(await page.EvaluateAsync<string[]>("lepidaryTour.faults"));
                await FollowSkipLink(page, skip, faults);
                return faults;
            }
        }

        faults.Add("Tab does not come round again");
        return faults;
    }

    /// <summary>Lines that a reader with JavaScript on sees and a reader without it does not.</summary>
    public static async Task<IReadOnlyList<string>> MissingWithoutScript(Visit with, Visit without)
    {
        var there = (await without.MainText()).ToHashSet();
        return [.. (await with.MainText()).Where(line => !there.Contains(line)).Select(line => $"only with JavaScript: {line}")];
    }

    private static async Task FollowSkipLink(IPage page, string? target, List<string> faults)
    {
        if (target is null)
        {
            return;
        }

        await page.Locator($"a[href$='#{target}']").First.FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        try
        {
            // Asked of the page itself: a turn within the page may be over before the driver begins to wait for it.
            await page.WaitForFunctionAsync("target => location.hash === '#' + target", target, new PageWaitForFunctionOptions { Timeout = 5000 });
        }
        catch (TimeoutException)
        {
            faults.Add($"the link to #{target} does not lead there");
            return;
        }

        if (await page.EvaluateAsync<bool>("target => document.getElementById(target).contains(document.activeElement)", target))
        {
            return;
        }

        // A link leads there too where the place itself takes no focus: the next stop is then in it or after it.
        await page.Keyboard.PressAsync("Tab");
        var inside = await page.EvaluateAsync<bool>(
            """
            target => {
              const main = document.getElementById(target), here = document.activeElement;
              return here === document.body || main.contains(here) || !!(main.compareDocumentPosition(here) & Node.DOCUMENT_POSITION_FOLLOWING);
            }
            """,
            target);
        if (!inside)
        {
            faults.Add($"the link to #{target} does not take the focus there");
        }
    }

    /// <summary>
    /// Looks at the element that has the focus, at each Tab before the focus goes on. Kept in the page, since it remembers
    /// where the tour has been.
    /// </summary>
    private const string Tour =
        """
        () => {
          window.lepidaryTour?.end.abort();
          const start = document.body.insertBefore(document.createElement('span'), document.body.firstChild);
          start.tabIndex = -1;
          start.focus({ preventScroll: true });
          start.remove();
          history.replaceState(history.state, '', location.pathname + location.search);
          const seen = new Set();
          const name = e => e.outerHTML.slice(0, 120);
          const box = e => e.getClientRects()[0] ?? e.getBoundingClientRect();
          const inWindow = r => r.width > 0 && r.height > 0 && r.bottom > 0 && r.right > 0 && r.top < innerHeight && r.left < innerWidth;
          const staysInPlace = e => { for (; e; e = e.parentElement) if (['fixed', 'sticky'].includes(getComputedStyle(e).position)) return true; return false; };
          window.lepidaryTour = {
            skipTarget() {
              const e = document.activeElement, target = e?.getAttribute('href')?.split('#')[1];
              const main = target && document.getElementById(target);
              return main && (main.matches('main') || main.querySelector('main') || main.closest('main')) && inWindow(box(e)) ? target : null;
            },
            end: new AbortController(),
            round: false,
            faults: [],
            look() {
              const e = document.activeElement;
              if (!e || e === document.body || seen.has(e)) { this.round = true; return; }
              seen.add(e);
              const fault = this.faultOf(e);
              if (fault) this.faults.push(`${fault}: ${name(e)}`);
            },
            faultOf(e) {
              const style = getComputedStyle(e), r = box(e);
              if (!inWindow(r)) return 'focus goes out of sight';
              const outlined = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 1;
              if (!outlined && style.boxShadow === 'none') return 'focus does not show';
              const middle = (from, to, size) => (Math.max(from, 0) + Math.min(to, size)) / 2;
              const x = middle(r.left, r.right, innerWidth), y = middle(r.top, r.bottom, innerHeight);
              const top = document.elementFromPoint(x, y);
              return top && !e.contains(top) && !top.contains(e) && staysInPlace(top) ? `focus is hidden under ${name(top)}` : null;
            },
          };
          addEventListener('keydown', pressed => {
            if (pressed.key === 'Tab' && document.activeElement !== document.body && !lepidaryTour.round) lepidaryTour.look();
            else if (pressed.key === 'Tab' && seen.size > 0) lepidaryTour.round = true;
          }, { capture: true, signal: lepidaryTour.end.signal });
        }
        """;
}

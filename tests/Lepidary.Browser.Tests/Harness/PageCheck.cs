using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Lepidary.Browser.Harness;

/// <summary>What every page owes its reader. Each check gives the faults that it found, in words; none is a page in order.</summary>
internal static class PageCheck
{
    /// <summary>WCAG 2.2 up to AA, and axe's best practice.</summary>
    private static readonly AxeRunOptions _rules = new()
    {
        RunOnly = new RunOnlyOptions
        {
            Type = "tag",
            Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
        },
    };

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
    public static async Task<IReadOnlyList<string>> Accessibility(Visit visit)
    {
        var result = await visit.Page.RunAxe(_rules);
        return [.. from rule in result.Violations
                   from node in rule.Nodes
                   select $"axe {rule.Id} ({rule.Impact}): {rule.Help}: {node.Html}"];
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

        await page.Keyboard.PressAsync("Tab");
        var skip = await page.EvaluateAsync<string?>("lepidaryTour.skipTarget()");
        if (skip is null)
        {
            faults.Add("the first stop of Tab is not a link to the main part");
        }

        // A page may have many stops, but a tour that does not come round again is a trap.
        for (var stop = 0; stop < 2000; stop++)
        {
            var fault = await page.EvaluateAsync<string?>("lepidaryTour.look()");
            if (fault == "round")
            {
                await FollowSkipLink(page, skip, faults);
                return faults;
            }

            if (fault is not null)
            {
                faults.Add(fault);
            }

            await page.Keyboard.PressAsync("Tab");
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
            await page.WaitForURLAsync(url => url.EndsWith($"#{target}", StringComparison.Ordinal), new PageWaitForURLOptions { Timeout = 5000 });
        }
        catch (TimeoutException)
        {
            faults.Add($"the link to #{target} does not lead there");
            return;
        }

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

    /// <summary>Looks at the element that has the focus. Kept in the page, since it remembers where the tour has been.</summary>
    private const string Tour =
        """
        () => {
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
            look() {
              const e = document.activeElement;
              if (!e || e === document.body || seen.has(e)) return 'round';
              seen.add(e);
              const style = getComputedStyle(e), r = box(e);
              if (!inWindow(r)) return `focus goes out of sight: ${name(e)}`;
              const outlined = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 1;
              if (!outlined && style.boxShadow === 'none') return `focus does not show: ${name(e)}`;
              const x = Math.min(Math.max(r.left + r.width / 2, 0), innerWidth - 1), y = Math.min(Math.max(r.top + r.height / 2, 0), innerHeight - 1);
              const top = document.elementFromPoint(x, y);
              if (top && !e.contains(top) && !top.contains(e) && staysInPlace(top)) return `focus is hidden under ${name(top)}: ${name(e)}`;
              return null;
            },
          };
        }
        """;
}

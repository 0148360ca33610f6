using Lepidary.Browser.Harness;

namespace Lepidary.Browser.Walk;

/// <summary>The pages that the contents do not name, at both widths and by keyboard. Apart from the others, to run beside them.</summary>
public sealed class InnerPagesTests(BrowserFixture browser)
{
    /// <summary>One page of each inner kind: a species, a list, a printed order.</summary>
    [Fact]
    public async Task Inner_pages_are_in_order()
    {
        var demo = await browser.Demo();
        var inner = from answer in await PageWalk.FollowLinks(demo)
                    where answer.IsFirstOfItsKind && answer.IsPage && !PageWalk.Routes.Contains(answer.Route)
                    select (answer.Route, answer.Kind);

        var faults = new List<string>();
        foreach (var (route, kind) in inner)
        {
            await using var visit = await browser.Open(demo.Page(route), Screen.Phone);
            var found = await PageCheck.AtBothWidths(visit, PageWalk.FileName(kind.Replace("*", "one", StringComparison.Ordinal)));
            faults.AddRange(found.Select(fault => $"{route}: {fault}"));
        }

        Faults.None(faults);
    }
}

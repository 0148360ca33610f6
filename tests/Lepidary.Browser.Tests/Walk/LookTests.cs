using System.Buffers.Binary;
using Lepidary.Browser.Harness;

namespace Lepidary.Browser.Walk;

/// <summary>Keeps a picture of each page at both widths in <c>artifacts/screenshots</c>, for people to look at.</summary>
public sealed class LookTests(BrowserFixture browser)
{
    public static MatrixTheoryData<string, int> PagesAndWidths => new(PageWalk.ToLookAt, [Screen.Phone.Width, Screen.Desk.Width]);

    [Theory]
    [MemberData(nameof(PagesAndWidths))]
    public async Task Picture_of_a_page_is_kept_in_its_width(string route, int width)
    {
        var demo = await browser.Demo();
        await using var visit = await browser.Open(demo.Page(route), Screen.OfWidth(width));
        var picture = await File.ReadAllBytesAsync(await visit.Picture(PageWalk.FileName(route)), TestContext.Current.CancellationToken);

        Assert.Equal(200, visit.Status);
        Assert.Equal(width, BinaryPrimitives.ReadInt32BigEndian(picture.AsSpan(16))); // PNG: the width stands at byte 16
    }
}

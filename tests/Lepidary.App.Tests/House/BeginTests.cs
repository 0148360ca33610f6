using System.Net;
using Lepidary.App.Tests.Support;

namespace Lepidary.App.Tests.House;

/// <summary>A book is begun on its pages, from an empty one to a house with a supplier, without a file.</summary>
public sealed class BeginTests
{
    [Fact]
    public async Task A_house_is_begun_and_a_supplier_added_and_changed()
    {
        await using var book = new TestBook();
        using var browser = await book.Serve();
        Assert.Contains("href=\"/house\"", await browser.Page("/"), StringComparison.Ordinal);

        var begun = await PageForm.Of(await browser.Page("/house"), "class=\"entry\"").Send(
            browser, ("name", "Fernlight House"), ("currency", "gbp"), ("zone", "Europe/London"), ("tax", "20"), ("places", "60"), ("ceiling", "90"), ("budget", "120,50"));
        Assert.Equal((HttpStatusCode.OK, "/house"), (begun.Status, begun.Address));
        Assert.Contains("60 hanging places, 0 wishes, 0 suppliers.", begun.Page, StringComparison.Ordinal);

        var added = await PageForm.Of(await browser.Page("/house/supplier"), "class=\"entry\"").Send(
            browser, ("name", "Quillfeather Pupae"), ("arrives", "Wednesday"), ("currency", "EUR"), ("rate", "0.86"), ("prices", "without"), ("carriage-by", "Pupae"), ("carriage-taxed", "yes"),
            ("from-0", ""), ("cost-0", "24"), ("from-1", "100"), ("cost-1", "38.5"), ("charge-0", "Papers"), ("amount-0", "15"), ("per-0", "Order"), ("minimum-pupae", "50"), ("claim", "24"));
        Assert.StartsWith("/suppliers/", added.Address, StringComparison.Ordinal);
        Assert.Contains(
            """
            suppliers:
              - name: "Quillfeather Pupae"
                currency: EUR
                rate: 0.86
                prices-exclude-tax: yes
                carriage: [{ from: 1, cost: 24 }, { from: 100, cost: 38.5 }]
                carriage-taxed: yes
                minimum-order: { pupae: 50 }
                arrives: wed
                charges: [{ name: "Papers", amount: 15, per: order }]
                claim-within-hours: 24
            """.ReplaceLineEndings("\n"),
            (await book.Done("house", "show")).Output, StringComparison.Ordinal);

        // Sent again as it stands, but for one field: only that changes.
        var id = added.Address["/suppliers/".Length..];
        var changed = await PageForm.Of(await browser.Page($"/house/supplier?supplier={id}"), "class=\"entry\"").Send(
            browser, ("arrives", "Wednesday"), ("prices", "with"), ("carriage-by", "Pupae"), ("carriage-taxed", "yes"), ("cost-1", "40"));
        Assert.Equal(added.Address, changed.Address);
        var file = (await book.Done("house", "show")).Output;
        Assert.Contains("prices-exclude-tax: no", file, StringComparison.Ordinal);
        Assert.Contains("carriage: [{ from: 1, cost: 24 }, { from: 100, cost: 40 }]", file, StringComparison.Ordinal);
        Assert.Contains("rate: 0.86", file, StringComparison.Ordinal);
        Assert.Contains("charges: [{ name: \"Papers\", amount: 15, per: order }]", file, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_wrong_is_said_and_nothing_is_written()
    {
        await using var book = new TestBook();
        using var browser = await book.Serve();
        var refused = await PageForm.Of(await browser.Page("/house"), "class=\"entry\"").Send(
            browser, ("name", "Fernlight House"), ("currency", "pounds"), ("zone", "Europe/Nowhere"), ("places", "0"));
        Assert.Equal(HttpStatusCode.BadRequest, refused.Status);
        foreach (var wrong in (string[])["currency: found POUNDS", "time zone: found Europe/Nowhere", "hanging places: found 0"])
        {
            Assert.Contains(wrong, refused.Page, StringComparison.Ordinal);
        }

        Assert.Contains("value=\"Fernlight House\"", refused.Page, StringComparison.Ordinal);
        Assert.Contains("no house yet", await browser.Page("/"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Wrong_terms_change_nothing()
    {
        await using var book = await TestBook.Demo();
        using var browser = await book.Serve();
        var before = (await book.Done("house", "show")).Output;
        var refused = await PageForm.Of(await browser.Page("/house/supplier"), "class=\"entry\"").Send(
            browser, ("name", "kessom farm"), ("currency", "USD"), ("arrives", "Tuesday"), ("also", "Tuesday"), ("from-0", "1"), ("cost-0", ""), ("charge-0", "Box"), ("amount-0", "4"), ("per-0", "Box"));
        Assert.Equal(HttpStatusCode.BadRequest, refused.Status);
        foreach (var wrong in (string[])["name: found kessom farm", "rate: found nothing", "second day: found Tuesday", "carriage: found from 1: nothing", "box: found nothing"])
        {
            Assert.Contains(wrong, refused.Page, StringComparison.Ordinal);
        }

        Assert.Equal(before, (await book.Done("house", "show")).Output);
    }
}

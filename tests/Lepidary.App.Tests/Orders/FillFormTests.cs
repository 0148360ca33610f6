using System.Text;
using Lepidary.App.Host;
using Lepidary.App.Tests.Support;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Orders;

/// <summary>The order goes back in the supplier's own form.</summary>
public sealed class FillFormTests
{
    private static readonly Encoding Latin = CodePagesEncodingProvider.Instance.GetEncoding(1252)!;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    /// <summary>A demo list as a form: one more column, empty, for the order.</summary>
    private static string[] Form(string file) =>
        [.. Latin.GetString(File.ReadAllBytes(file)).Split("\r\n").Select(line => line.Length == 0 ? line : line.StartsWith("No.;", StringComparison.Ordinal) ? line + ";Bestellmenge" : line + ";")];

    private static async Task<(TestBook Book, string[] Form, string Order, Dictionary<int, int> Ordered)> Written()
    {
        var book = await TestBook.Demo();
        var (supplier, file) = DemoFolder.ThisWeek[0];
        var form = Form(file);
        await book.Done("lists", "take", book.File("Formular KW 48.csv", Latin.GetBytes(string.Join("\r\n", form))), "--supplier", supplier);
        var orders = (await book.Done("orders", "write", "--json")).Json.GetProperty("orders").EnumerateArray().Select(id => id.GetGuid()).ToList();
        var order = await book.Look(context => context.Orders.Include(order => order.Lines).SingleAsync(order => orders.Contains(order.Id) && order.Supplier!.Name == supplier, Stop));
        var ordered = await book.Look(context => context.Offers.Where(offer => order.Lines.Select(line => line.OfferId).Contains(offer.Id)).ToDictionaryAsync(offer => offer.Id, offer => offer.Line, Stop));
        Assert.NotEmpty(order.Lines);
        Assert.All(order.Lines, line => Assert.NotNull(line.OfferId));
        return (book, form, order.Id.ToString(), order.Lines.ToDictionary(line => ordered[line.OfferId!.Value], line => line.Pupae));
    }

    [Fact]
    public async Task Form_has_the_numbers_in_its_column_and_is_otherwise_the_file_as_it_came()
    {
        var (book, form, order, ordered) = await Written();
        await using var _ = book;
        var to = Path.Combine(Path.GetDirectoryName(book.Path)!, "filled.csv");

        var said = await book.Done("orders", "form", order, "--out", to);

        var expected = form.Select((line, i) => ordered.TryGetValue(i + 1, out var pupae) ? line + pupae : line);
        Assert.Equal(string.Join("\r\n", expected), Latin.GetString(await File.ReadAllBytesAsync(to, Stop)));
        Assert.Contains("“Bestellmenge” of Formular KW 48.csv, counted in pupae", said.Output, StringComparison.Ordinal);
        var again = await book.Run("orders", "form", order, "--out", to);
        Assert.Equal(ExitCodes.BadInput, again.Code);
    }

    [Fact]
    public async Task Page_of_the_order_hands_out_the_form()
    {
        var (book, _, order, ordered) = await Written();
        await using var __ = book;
        using var client = await book.Serve();

        var page = await client.Page($"/orders/{order}");
        var answer = await client.GetAsync(new Uri($"/orders/{order}/form", UriKind.Relative), Stop);

        Assert.Contains($"href=\"/orders/{order}/form\"", page, StringComparison.Ordinal);
        Assert.Contains($"{ordered.Count} lines go into the column “Bestellmenge”", System.Net.WebUtility.HtmlDecode(page), StringComparison.Ordinal);
        Assert.Equal("Formular KW 48-order.csv", answer.Content.Headers.ContentDisposition!.FileNameStar ?? answer.Content.Headers.ContentDisposition.FileName!.Trim('"'));
    }

    [Fact]
    public async Task List_that_is_no_form_gives_no_button_and_the_command_says_so()
    {
        await using var book = await TestBook.Demo();
        var orders = (await book.Done("orders", "write", "--json")).Json.GetProperty("orders").EnumerateArray().Select(id => id.GetGuid()).ToList();
        var order = await book.Look(context => context.Orders.Where(order => orders.Contains(order.Id) && order.Supplier!.Name == DemoFolder.ThisWeek[0].Supplier).Select(order => order.Id).SingleAsync(Stop));
        using var client = await book.Serve();

        var said = await book.Run("orders", "form", order.ToString(), "--out", Path.Combine(Path.GetDirectoryName(book.Path)!, "none.csv"));

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Contains("no form", said.Error, StringComparison.Ordinal);
        Assert.DoesNotContain($"/orders/{order}/form", await client.Page($"/orders/{order}"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_offers_on_one_line_are_both_planned()
    {
        await using var book = await TestBook.Demo();
        var (supplier, _) = DemoFolder.ThisWeek[2];
        await book.Done("lists", "take", book.File("mail.txt", "Prices in EUR.\nWe have about thirty Papilio demodocus at 1.60, a dozen Papilio dardanus at 2.00 and twenty Papilio nireus at 2.00 this week.\n"), "--supplier", supplier);

        var offers = (await book.Done("lists", "show", "--json")).Json.EnumerateArray().Single(list => list.GetProperty("supplier").GetString() == supplier).GetProperty("list").GetProperty("offers");
        var said = await book.Run("orders", "propose", "--json");

        Assert.Equal(3, offers.GetArrayLength());
        Assert.Single(offers.EnumerateArray().Select(offer => offer.GetProperty("line").GetInt32()).Distinct());
        Assert.Equal(ExitCodes.Done, said.Code);
    }
}

using System.Net;
using Lepidary.App.Climate;
using Lepidary.App.Host;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Climate;

public sealed class ClimateTests
{
    [Theory]
    [InlineData(26.0, 75.0, 0)]
    [InlineData(20.0, 60.0, 0)]
    [InlineData(19.9, 75.0, 1)]
    [InlineData(33.0, 59.0, 2)]
    [InlineData(12.0, 95.0, 2)]
    public void Warnings_outside_the_wanted_range(double temperature, double humidity, int warnings) =>
        Assert.Equal(warnings, ClimateWords.Warnings("Cage A", temperature, humidity).Count);

    [Fact]
    public async Task Reading_of_a_cage_is_kept_with_a_warning()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);

        var said = await book.Done("reading", "--at", "Cage A", "--temperature", "26.5", "--humidity", "48", "--json");
        var nothing = await book.Run("reading", "--at", "Cage A");
        var nowhere = await book.Run("reading", "--at", "Cellar", "--temperature", "20", "--on", "2026-11-30");

        Assert.Contains("Cage A is dry (48 %", said.Json.GetProperty("warnings")[0].GetString(), StringComparison.Ordinal);
        Assert.Equal((ExitCodes.BadInput, ExitCodes.BadInput), (nothing.Code, nowhere.Code));
        Assert.Equal(2, nowhere.Error.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        var reading = await book.Look(context => context.Set<Reading>().SingleAsync(TestContext.Current.CancellationToken));
        Assert.Equal((house.Cages.Single(cage => cage.Name == "Cage A").Id, 26.5, 48.0), (reading.CageId!.Value, reading.TemperatureC!.Value, reading.HumidityPercent!.Value));
    }

    [Fact]
    public async Task Climate_page_takes_a_comma_and_says_first_what_is_wrong()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page("/flying/climate"), "name=\"temperature\"");
        form.Fields["place"] = "Palm hall";

        var wrong = await form.Send(browser, ("temperature", "warm"), ("humidity", "140"));
        var beyond = await form.Send(browser, ("temperature", "26,5"), ("humidity", "140"));
        var (status, page, _) = await form.Send(browser, ("humidity", "52,5"));

        Assert.Equal(HttpStatusCode.BadRequest, wrong.Status);
        Assert.Contains("humidity: found 140; expected percent from 0 to 100", beyond.Page, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("<h1>Palm hall is dry (52.5 %", page, StringComparison.Ordinal);
    }
}

using Lepidary.App.Climate;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Climate;

public sealed class LoggerFileTests
{
    [Theory]
    [InlineData("Date/Time,Temp (°C),RH (%)\n2026-11-20 08:00:00,25.5,70\n2026-11-20 08:30:00,26.5,74\n2026-11-20 09:00:00,27,60")]
    [InlineData("Serial;00417\nOrt;Kasten 2\n\nDatum;Uhrzeit;Temperatur [°C];rel. Feuchte [%];Taupunkt\n20.11.2026;08:00;25,5;70,0;19\n20.11.2026;08:30;26,5;74,0;20\n20.11.2026;09:00;27,0;60,0;18")]
    [InlineData("\"No.\"\t\"Heure\"\t\"Température °F\"\t\"Humidité %\"\n1\t20/11/2026 08:00\t77.9\t70\n2\t20/11/2026 08:30\t79.7\t74\n3\t20/11/2026 09:00\t80.6\t60")]
    [InlineData("Date,Time,Temp C,Humidity\n11/20/2026,8:00 AM,25.5,70\n11/20/2026,8:30 AM,26.5,74\n11/20/2026,9:00 AM,27,60")]
    [InlineData("Fecha;Hora;Temperatura;Humedad\r\n20/11/26;8:00;25,5;70\r\n20/11/26;8:30;26,5;74\r\n20/11/26;9:00;27;60\r\n")]
    public void Read_gives_means_by_the_hour(string text)
    {
        var read = LoggerFile.Read(text);
        Assert.True(read.IsGood, string.Join('\n', read.Problems));
        Assert.Equal(
            [new LoggedHour(new DateTime(2026, 11, 20, 8, 0, 0), 26, 72), new LoggedHour(new DateTime(2026, 11, 20, 9, 0, 0), 27, 60)], read.Value.Hours);
        Assert.Empty(read.Value.LeftOut);
    }

    [Fact]
    public void Read_says_which_lines_it_left_out_and_why()
    {
        var read = LoggerFile.Read("time,temp,rh\n2026-11-20 08:00,25,70\nbattery low\n2026-11-20 09:00,250,70\n2026-11-20 10:00,,\n2026-02-31 10:00,25,70").Value;
        Assert.Single(read.Hours);
        Assert.Equal(4, read.LeftOut.Count);
        Assert.Contains("line 3: \"battery low\" is no time", read.LeftOut);
    }

    /// <summary>5/6 and 6/6 follow each other with the day first only; the 5th to the 6th of two months may be either.</summary>
    [Fact]
    public void Read_asks_where_day_and_month_could_be_either()
    {
        Assert.Equal(6, LoggerFile.Read("date,time,temp\n05/06/2026,23:00,25\n06/06/2026,00:00,25").Value.Hours[0].Hour.Month);
        Assert.Contains("either order", LoggerFile.Read("date,time,temp\n05/06/2026,08:00,25\n05/06/2026,09:00,25").Problems.Single().Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("a,b,c\n1,2,3")]
    [InlineData("time,temp")]
    public void Read_refuses_what_is_no_logger_file(string text) => Assert.Single(LoggerFile.Read(text).Problems);

    [Fact]
    public async Task Logger_writes_hours_once_and_shows_them_beside_the_cage()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        var file = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.csv");
        try
        {
            await File.WriteAllTextAsync(file, "time;temp;rh\n2026-11-20 08:00;25;50\n2026-11-20 09:00;33;70\n", TestContext.Current.CancellationToken);
            var first = await book.Done("logger", file, "--at", "Cage A", "--json");
            await File.AppendAllTextAsync(file, "2026-11-20 09:30;35;70\n2026-11-20 10:00;26;70\n", TestContext.Current.CancellationToken);
            var second = await book.Done("logger", file, "--at", "Cage A", "--json");
            Assert.Equal((2, 0), (first.Json.GetProperty("taken").GetInt32(), first.Json.GetProperty("wereThere").GetInt32()));
            Assert.Equal((1, 2), (second.Json.GetProperty("taken").GetInt32(), second.Json.GetProperty("wereThere").GetInt32()));
            Assert.Equal(3, await book.Look(context => context.Set<Reading>().CountAsync(TestContext.Current.CancellationToken)));
            using var browser = await book.Serve();
            var page = await browser.Page("/flying/climate");
            Assert.Contains("data-name=\"Hours read\">3<", page, StringComparison.Ordinal);
            Assert.Contains("data-name=\"Dry\">1<", page, StringComparison.Ordinal);
            Assert.Contains("data-name=\"Hot\">1<", page, StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(file);
        }
    }

    /// <summary>By FAO-56 equation 15, held against its examples in the tests of the science: the humidity follows from both bulbs; a wet bulb with a humidity is a contradiction.</summary>
    [Fact]
    public async Task Wet_bulb_gives_the_humidity()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        await book.Done("reading", "--at", "Cage A", "--temperature", "26", "--wet-bulb", "22");
        var both = await book.Run("reading", "--at", "Cage A", "--temperature", "26", "--wet-bulb", "22", "--humidity", "70");
        Assert.NotEqual(0, both.Code);
        var reading = await book.Look(context => context.Set<Reading>().SingleAsync(TestContext.Current.CancellationToken));
        var expected = Science.Climate.Air.FromWetBulb(26, 22, Science.Climate.Ventilation.Still).Value.RelativeHumidity * 100;
        Assert.Equal(expected, reading.HumidityPercent!.Value, 0.06);
    }
}

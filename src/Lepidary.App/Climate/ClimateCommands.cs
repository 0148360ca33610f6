using System.CommandLine;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.Climate;

internal static class ClimateCommands
{
    public static Command Create(Desk desk)
    {
        var place = new Option<string>("--at") { Description = "Name of the cage or the flight area.", Required = true };
        var temperature = new Option<double?>("--temperature") { Description = "Degrees Celsius." };
        var humidity = new Option<double?>("--humidity") { Description = "Relative humidity, percent." };
        var wet = new Option<double?>("--wet-bulb") { Description = "Degrees Celsius of a wet bulb in still air, instead of the humidity." };
        var on = Options.On("The day; today when not said.");
        var id = RoundCommands.Id();
        var note = RoundCommands.Note();
        var command = desk.OnBook("reading", "Writes down temperature and humidity of a cage or a flight area.", place, temperature, humidity, wet, on, note, id, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var taken = await services.GetRequiredService<TakeReading>().Do(
                new()
                {
                    Id = parsed.GetValue(id) ?? BookId.New(),
                    OnDay = parsed.GetValue(on),
                    Place = parsed.GetValue(place),
                    TemperatureC = parsed.GetValue(temperature),
                    HumidityPercent = parsed.GetValue(humidity),
                    WetBulbC = parsed.GetValue(wet),
                    Who = desk.WhoOf(parsed),
                    Note = parsed.GetValue(note),
                },
                stop);
            if (!taken.IsGood)
            {
                return desk.Terminal.Refuse(taken.Problems);
            }

            var value = taken.Value;
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { Reading = value.Reading.Id, value.Receipt, At = value.Place.Name, value.Reading.TemperatureC, value.Reading.HumidityPercent, value.Warnings });
            }

            desk.Terminal.Output.WriteLine($"{value.Place.Name} {RoundCommands.Words(value.Receipt)} ({value.Reading.Id}).");
            foreach (var warning in value.Warnings)
            {
                desk.Terminal.Output.WriteLine(warning);
            }

            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    public static Command CreateLogger(Desk desk)
    {
        var file = new Argument<string>("FILE") { Description = "What the logger exported: text with a title line, times, temperature, relative humidity." };
        var place = new Option<string>("--at") { Description = "Name of the cage or the flight area.", Required = true };
        var command = desk.OnBook("logger", "Takes in a climate logger's file, hour by hour; the same file twice changes nothing.", file, place, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var content = Lists.ListFile.Content(parsed.GetValue(file)!);
            var taken = content.IsGood
                ? await services.GetRequiredService<TakeLogger>().Do(parsed.GetValue(place), System.Text.Encoding.UTF8.GetString(content.Value).TrimStart('\uFEFF'), desk.WhoOf(parsed), stop)
                : content.Problems.ToArray();
            if (!taken.IsGood)
            {
                return desk.Terminal.Refuse(taken.Problems);
            }

            var value = taken.Value;
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(value);
            }

            desk.Terminal.Output.WriteLine($"{value.Place}: {value.Taken} hours written, {value.WereThere} were there, from {value.From} to {value.To}; {value.Lines} lines read.");
            foreach (var line in value.LeftOut)
            {
                desk.Terminal.Output.WriteLine("left out: " + line);
            }

            return ExitCodes.Done;
        }, cancellation));
        return command;
    }
}

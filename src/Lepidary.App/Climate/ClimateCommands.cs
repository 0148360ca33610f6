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
        var on = Options.On("The day; today when not said.");
        var id = RoundCommands.Id();
        var note = RoundCommands.Note();
        var command = desk.OnBook("reading", "Writes down temperature and humidity of a cage or a flight area.", place, temperature, humidity, on, note, id, desk.Who);
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
}

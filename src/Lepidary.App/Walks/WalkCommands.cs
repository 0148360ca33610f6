using System.CommandLine;
using Lepidary.App.Deaths;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.Walks;

internal static class WalkCommands
{
    public static Command Create(Desk desk)
    {
        var counts = DeathsCommands.Counts();
        var path = new Option<string>("--path") { Description = "The path's name.", Required = true };
        var minutes = new Option<int>("--minutes") { Description = "How long it took.", Required = true };
        var start = new Option<TimeOnly?>("--start") { Description = "Local time of the first step, as 10:30; now when not said." };
        var sections = new Option<int?>("--sections") { Description = "Sections of the path; then a count may be given by section, as \"Morpho helenor=3+0+2\"." };
        var area = new Option<string?>("--area") { Description = "Name of the flight area." };
        var weather = new Option<string?>("--weather") { Description = "In words." };
        var temperature = new Option<double?>("--temperature") { Description = "Air in the shade, degrees Celsius." };
        var sun = new Option<int?>("--sun") { Description = "Share of the walk in sun, percent." };
        var wind = new Option<int?>("--wind") { Description = "Wind, 0 to 12 by the Beaufort scale." };
        var on = Options.On("The day; today when not said.");
        var id = RoundCommands.Id();
        var note = RoundCommands.Note();
        var command = desk.OnBook("walk", "Writes down a count of flying adults along a fixed path.", counts, path, minutes, sections, start, area, weather, temperature, sun, wind, on, note, id, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var problems = new List<Problem>();
            var read = DeathsCommands.Read(parsed.GetValue(counts), problems, inParts: true);
            var place = await services.GetRequiredService<Places>().Named(parsed.GetValue(area), "--area", stop);
            problems.AddRange(place.Problems);
            if (problems.Count > 0)
            {
                return desk.Terminal.Refuse(problems);
            }

            var recorded = await services.GetRequiredService<RecordWalk>().Do(
                new()
                {
                    Id = parsed.GetValue(id) ?? BookId.New(),
                    OnDay = parsed.GetValue(on),
                    Path = parsed.GetValue(path),
                    AreaId = place.Value?.Id,
                    Start = parsed.GetValue(start),
                    Minutes = parsed.GetValue(minutes),
                    Sections = parsed.GetValue(sections),
                    Weather = parsed.GetValue(weather),
                    TemperatureC = parsed.GetValue(temperature),
                    SunPercent = parsed.GetValue(sun),
                    Beaufort = parsed.GetValue(wind),
                    Counts = read,
                    Who = desk.WhoOf(parsed),
                    Note = parsed.GetValue(note),
                },
                stop);
            if (!recorded.IsGood)
            {
                return desk.Terminal.Refuse(recorded.Problems);
            }

            var (walk, receipt) = (recorded.Value.Walk, recorded.Value.Receipt);
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { Walk = walk.Id, receipt, walk.Path, walk.Start, walk.Minutes, walk.Sections, Counts = walk.Counts.Select(count => new { count.Taxon, count.Section, count.Count }) });
            }

            desk.Terminal.Output.WriteLine($"The walk {walk.Path} {RoundCommands.Words(receipt)} ({walk.Id}): {walk.Counts.Sum(count => count.Count)} seen.");
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }
}

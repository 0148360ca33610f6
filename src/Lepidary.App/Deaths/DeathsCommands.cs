using System.CommandLine;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.Deaths;

internal static class DeathsCommands
{
    public static Command Create(Desk desk)
    {
        var counts = Counts();
        var area = new Option<string?>("--area") { Description = "Name of the flight area." };
        var lot = new Option<string?>("--lot") { Description = "Code or key of the lot in whose cage they died before they were let go." };
        var sex = new Option<AdultSex?>("--sex") { Description = "male or female, where all of them are told." };
        var on = Options.On("The day; today when not said.");
        var id = RoundCommands.Id();
        var note = RoundCommands.Note();
        var command = desk.OnBook("found-dead", "Writes down adults found dead.", counts, area, lot, sex, on, note, id, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var problems = new List<Problem>();
            var read = Read(parsed.GetValue(counts), problems);
            var place = await services.GetRequiredService<Places>().Named(parsed.GetValue(area), "--area", stop);
            problems.AddRange(place.Problems);
            if (problems.Count > 0)
            {
                return desk.Terminal.Refuse(problems);
            }

            var reported = await services.GetRequiredService<ReportFoundDead>().Do(
                new()
                {
                    Id = parsed.GetValue(id) ?? BookId.New(),
                    OnDay = parsed.GetValue(on),
                    AreaId = place.Value?.Id,
                    Lot = parsed.GetValue(lot),
                    Counts = read,
                    Sex = parsed.GetValue(sex),
                    Who = desk.WhoOf(parsed),
                    Note = parsed.GetValue(note),
                },
                stop);
            if (!reported.IsGood)
            {
                return desk.Terminal.Refuse(reported.Problems);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { reported.Value.Receipt, Rows = reported.Value.Rows.Select(row => new { row.Id, row.Taxon, row.Count, row.Sex }) });
            }

            foreach (var row in reported.Value.Rows)
            {
                desk.Terminal.Output.WriteLine($"{row.Count} {row.Taxon} found dead {RoundCommands.Words(reported.Value.Receipt)} ({row.Id}).");
            }

            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    /// <summary>Arguments <c>NAME=3</c>.</summary>
    internal static Argument<string[]> Counts() => new("NAME=COUNT") { Description = "A species and how many, as \"Morpho helenor=3\"; any number of them.", Arity = ArgumentArity.OneOrMore };

    /// <summary>Species and counts from the command line.</summary>
    /// <param name="inParts">True where a count may be made in parts.</param>
    internal static IReadOnlyList<SpeciesCount> Read(string[]? texts, List<Problem> problems, bool inParts = false)
    {
        var counts = new List<SpeciesCount>();
        foreach (var text in texts ?? [])
        {
            var at = text.LastIndexOf('=');
            if (at > 0 && CountParts.Read(text[(at + 1)..]) is { } parts && (inParts || parts.Count == 1))
            {
                counts.Add(new(text, text[..at].Trim(), parts.Sum()) { Parts = parts });
            }
            else
            {
                problems.Add(new(text, "no species with a count", "NAME=COUNT, as \"Morpho helenor=3\""));
            }
        }

        return counts;
    }
}

using System.CommandLine;
using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.Marks;

internal static class MarksCommands
{
    public static Command Create(Desk desk)
    {
        var taxon = new Argument<string?>("SPECIES") { Description = "A name of the species; without one it prints what the marks tell.", Arity = ArgumentArity.ZeroOrOne };
        var marks = new Argument<string[]>("MARK") { Description = "What is written on the wings, as A17.", Arity = ArgumentArity.ZeroOrMore };
        var area = new Option<string?>("--area") { Description = "Name of the flight area." };
        var sex = new Option<AdultSex?>("--sex") { Description = "male or female, where all of them are told." };
        var on = Options.On("The day; today when not said.");
        var id = RoundCommands.Id();
        var note = RoundCommands.Note();
        var command = desk.OnBook("marked", "Writes down marked adults, marked that day or met again; prints how long they live.", taxon, marks, area, sex, on, note, id, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            if (parsed.GetValue(taxon) is not { } named)
            {
                return await Print(desk, parsed, services, stop);
            }

            var place = await services.GetRequiredService<Places>().Named(parsed.GetValue(area), "--area", stop);
            if (!place.IsGood)
            {
                return desk.Terminal.Refuse(place.Problems);
            }

            var written = await services.GetRequiredService<WriteMark>().Do(
                new()
                {
                    Id = parsed.GetValue(id) ?? BookId.New(),
                    OnDay = parsed.GetValue(on),
                    AreaId = place.Value?.Id,
                    Taxon = named,
                    Marks = string.Join(' ', parsed.GetValue(marks) ?? []),
                    Sex = parsed.GetValue(sex),
                    Who = desk.WhoOf(parsed),
                    Note = parsed.GetValue(note),
                },
                stop);
            if (!written.IsGood)
            {
                return desk.Terminal.Refuse(written.Problems);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { written.Value.Receipt, written.Value.Fresh, written.Value.Again, Rows = written.Value.Rows.Select(row => new { row.Id, row.Taxon, row.Mark }) });
            }

            desk.Terminal.Output.WriteLine($"{written.Value.Fresh} marked and {written.Value.Again} met again {RoundCommands.Words(written.Value.Receipt)}.");
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static async Task<int> Print(Desk desk, ParseResult parsed, IServiceProvider services, CancellationToken stop)
    {
        var view = await services.GetRequiredService<ShowMarks>().Show(stop);
        if (parsed.GetValue(desk.Json))
        {
            return desk.Terminal.PrintJson(new
            {
                view.Headline,
                Species = view.Species.Select(one => new { one.Taxon, one.Marked, one.Looks, one.Again, one.Daily, one.Met, MeanLife = one.MeanLife is { } life ? new { life.Likely, life.From, life.To } : null, one.Otherwise }),
            });
        }

        desk.Terminal.Output.WriteLine(view.Headline);
        foreach (var one in view.Species)
        {
            desk.Terminal.Output.WriteLine($"{one.Taxon}: {one.Marked} marked, {one.Again} times met again on {one.Looks} days. {Words(one)}");
        }

        return ExitCodes.Done;
    }

    /// <summary>How long they live, in a sentence.</summary>
    internal static string Words(MarkedSpecies one) => one.MeanLife is { } life
        ? string.Create(CultureInfo.InvariantCulture, $"They live {life.Likely:0} days more ({life.From:0} to {life.To:0}); one alive is met on {one.Met!.Value.Value * 100:0} of 100 days of looking.")
        : "Too few were met again to tell how long they live.";
}

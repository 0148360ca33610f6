using System.CommandLine;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;
using Spectre.Console;

namespace Lepidary.App.Rounds;

internal static class RoundCommands
{
    /// <summary>All commands of the round.</summary>
    public static IEnumerable<Command> Create(Desk desk) => [Round(desk), Release(desk), Move(desk), Void(desk), Discrepancies(desk), Lots(desk)];

    private static Command Round(Desk desk) => new("round", "The daily check.") { Show(desk), Enter(desk) };

    private static Command Show(Desk desk)
    {
        var command = desk.OnBook("show", "Cages in the order in which they hang: what was there yesterday, what is expected today.");
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var view = await services.GetRequiredService<ShowRound>().Show(stop);
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { view.Day, view.Headline, view.Lead, view.Discrepancies, Lots = view.Lots.ToList() });
            }

            desk.Terminal.Output.WriteLine($"{view.Headline}. {view.Lead}");
            foreach (var cage in view.Cages)
            {
                desk.Terminal.Output.WriteLine($"\n{cage.Name}, {cage.Hanging} hanging{(cage.Places is { } places ? $" on {places} places" : "")}");
                var table = Tables.Plain("Lot", "Row", "Taxon", "Yesterday", "Expected", "Today", "");
                foreach (var lot in cage.Lots)
                {
                    table.AddRow(
                        Tables.Cell(lot.Code), Tables.Cell(lot.Row ?? ""), Tables.Cell(lot.Form is null ? lot.Taxon : $"{lot.Taxon} {lot.Form}"),
                        Tables.Number(lot.HungYesterday), Tables.Cell(lot.Expected.Brief), Tables.Cell(lot.CountedToday ?? "to look at"), Tables.Cell(lot.Mark ?? ""));
                }

                desk.Terminal.Write(table);
            }

            return ExitCodes.Done;
        }, cancellation, foretells: true));
        return command;
    }

    private static Command Enter(Desk desk)
    {
        var lot = Lot();
        var id = Id();
        var on = Options.On("The day that it is about; today when not said.");
        var male = Count("--emerged-male", "Males out, whole.");
        var female = Count("--emerged-female", "Females out, whole.");
        var unsexed = Count("--emerged", "Out, whole, sex not told.");
        var crippled = Count("--crippled", "Out, not fit to fly.");
        var dead = Count("--dead", "Pupae dead.");
        var parasitised = Count("--parasitised", "Pupae from which parasitoids came.");
        var missing = Count("--missing", "Pupae that are not there.");
        var released = new Option<bool>("--released") { Description = "Those out are let go at once." };
        var to = To();
        var corrects = new Option<Guid?>("--corrects") { Description = "Key of the entry that this one corrects." };
        var note = Note();
        var command = desk.OnBook(
            "enter", "Writes down a count on a lot. All noughts say that it was looked at. More than hung is kept, with exit code 5.",
            lot, male, female, unsexed, crippled, dead, parasitised, missing, released, to, corrects, on, note, id, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var place = await services.GetRequiredService<Places>().Named(parsed.GetValue(to), "--to", stop);
            if (!place.IsGood)
            {
                return desk.Terminal.Refuse(place.Problems);
            }

            var entered = await services.GetRequiredService<EnterCount>().Do(new()
            {
                Id = parsed.GetValue(id) ?? BookId.New(),
                Lot = parsed.GetValue(lot)!,
                OnDay = parsed.GetValue(on),
                Male = parsed.GetValue(male),
                Female = parsed.GetValue(female),
                Unsexed = parsed.GetValue(unsexed),
                Crippled = parsed.GetValue(crippled),
                Dead = parsed.GetValue(dead),
                Parasitised = parsed.GetValue(parasitised),
                Missing = parsed.GetValue(missing),
                Released = parsed.GetValue(released),
                ReleasedTo = place.Value?.Id,
                Corrects = parsed.GetValue(corrects),
                Note = parsed.GetValue(note),
                Who = desk.WhoOf(parsed),
            }, stop);
            if (!entered.IsGood)
            {
                return desk.Terminal.Refuse(entered.Problems);
            }

            var value = entered.Value;
            var code = value.Discrepancies.Count > 0 ? ExitCodes.Discrepancy : ExitCodes.Done;
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(
                    new
                    {
                        Entry = value.EntryId,
                        Lot = LotCode.Of(value.Lot.Id),
                        LotId = value.Lot.Id,
                        value.Lot.Taxon,
                        value.Receipt,
                        Balance = LotLine.Of(value.Balance),
                        Discrepancies = value.Discrepancies.Select(discrepancy => discrepancy.Sentence),
                        value.Hygiene,
                    },
                    code);
            }

            desk.Terminal.Output.WriteLine($"{value.Lot.Taxon} {LotCode.Of(value.Lot.Id)}: {Words(value.Receipt)} ({value.EntryId}). {ShowLot.Sentence(value.Balance)}");
            foreach (var line in value.Discrepancies.Select(discrepancy => discrepancy.Sentence).Concat(value.Hygiene))
            {
                desk.Terminal.Output.WriteLine(line);
            }

            return code;
        }, cancellation));
        return command;
    }

    private static Command Release(Desk desk)
    {
        var lot = Lot();
        var id = Id();
        var on = Options.On("The day; today when not said.");
        var male = Count("--male", "Males.");
        var female = Count("--female", "Females.");
        var unsexed = Count("--unsexed", "Sex not told.");
        var to = To();
        var note = Note();
        var command = desk.OnBook("release", "Writes down adults of a lot let go into a flight area, or into a cage for pairs.", lot, male, female, unsexed, to, on, note, id, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var place = await services.GetRequiredService<Places>().Named(parsed.GetValue(to), "--to", stop);
            if (!place.IsGood)
            {
                return desk.Terminal.Refuse(place.Problems);
            }

            var released = await services.GetRequiredService<ReleaseAdults>().Do(new()
            {
                Id = parsed.GetValue(id) ?? BookId.New(),
                Lot = parsed.GetValue(lot)!,
                OnDay = parsed.GetValue(on),
                Male = parsed.GetValue(male),
                Female = parsed.GetValue(female),
                Unsexed = parsed.GetValue(unsexed),
                To = place.Value?.Id,
                Note = parsed.GetValue(note),
                Who = desk.WhoOf(parsed),
            }, stop);
            if (!released.IsGood)
            {
                return desk.Terminal.Refuse(released.Problems);
            }

            var value = released.Value;
            var code = value.Discrepancies.Count > 0 ? ExitCodes.Discrepancy : ExitCodes.Done;
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(
                    new { Release = value.ReleaseId, Lot = LotCode.Of(value.Lot.Id), value.Lot.Taxon, value.To, value.Receipt, Balance = LotLine.Of(value.Balance), Discrepancies = value.Discrepancies.Select(discrepancy => discrepancy.Sentence) },
                    code);
            }

            desk.Terminal.Output.WriteLine($"{value.Lot.Taxon} {LotCode.Of(value.Lot.Id)}: {Words(value.Receipt)} ({value.ReleaseId}){(value.To is null ? "" : $", into {value.To}")}. {ShowLot.Sentence(value.Balance)}");
            foreach (var discrepancy in value.Discrepancies)
            {
                desk.Terminal.Output.WriteLine(discrepancy.Sentence);
            }

            return code;
        }, cancellation));
        return command;
    }

    private static Command Move(Desk desk)
    {
        var lot = Lot();
        var cage = new Option<string>("--cage") { Description = "Name of the cage.", Required = true };
        var row = new Option<string?>("--row") { Description = "Row in the cage, as labelled." };
        var position = new Option<int?>("--place") { Description = "Place of its first pupa in the row, 1 the first." };
        var on = Options.On("The day; today when not said.");
        var id = Id();
        var command = desk.OnBook("move", "Writes down that a lot hangs in another place, whole.", lot, cage, row, position, on, id, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var moved = await services.GetRequiredService<MoveLot>().Do(
                new(parsed.GetValue(lot)!, parsed.GetValue(cage), parsed.GetValue(row)) { Position = parsed.GetValue(position), Id = parsed.GetValue(id) ?? BookId.New(), OnDay = parsed.GetValue(on), Who = desk.WhoOf(parsed) },
                stop);
            if (!moved.IsGood)
            {
                return desk.Terminal.Refuse(moved.Problems);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { Move = moved.Value.Id, Lot = LotCode.Of(moved.Value.LotId), moved.Value.CageId, moved.Value.Row, moved.Value.Position });
            }

            desk.Terminal.Output.WriteLine($"Lot {LotCode.Of(moved.Value.LotId)} hangs in {parsed.GetValue(cage)}{(moved.Value.Row is null ? "" : $", row {moved.Value.Row}")} ({moved.Value.Id}).");
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Void(Desk desk)
    {
        var fact = new Argument<Guid>("FACT") { Description = "Key of the row, as the command that wrote it printed it." };
        var note = Note();
        var command = desk.OnBook("void", "Takes a row back: it stays readable and counts for nothing.", fact, note, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var taken = await services.GetRequiredService<TakeBack>().Do(parsed.GetValue(fact), desk.WhoOf(parsed), parsed.GetValue(note), stop);
            if (!taken.IsGood)
            {
                return desk.Terminal.Refuse(taken.Problems);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(taken.Value);
            }

            desk.Terminal.Output.WriteLine($"{(taken.Value.Already ? "Was taken back before" : "Taken back")}: {taken.Value.Words}.");
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Discrepancies(Desk desk)
    {
        var settle = new Option<Guid?>("--settle") { Description = "Subject to leave as it is." };
        var recount = new Option<Guid?>("--more-received") { Description = "Subject of which as many more were received as were counted beyond." };
        var note = Note();
        var command = desk.OnBook("discrepancies", "What does not add up and is not settled; or settles one.", settle, recount, note, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var use = services.GetRequiredService<SettleDiscrepancy>();
            foreach (var (subject, how) in new[] { (parsed.GetValue(settle), Settlement.LeaveIt), (parsed.GetValue(recount), Settlement.MoreReceived) })
            {
                if (subject is { } id && await use.Do(id, how, desk.WhoOf(parsed), parsed.GetValue(note), stop) is { IsGood: false } wrong)
                {
                    return desk.Terminal.Refuse(wrong.Problems);
                }
            }

            var view = await services.GetRequiredService<ShowDiscrepancies>().Show(stop);
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(view);
            }

            desk.Terminal.Output.WriteLine($"{view.Headline}.");
            foreach (var item in view.Open)
            {
                desk.Terminal.Output.WriteLine($"{item.SubjectId}  {item.Sentence}");
                foreach (var row in item.Rows)
                {
                    desk.Terminal.Output.WriteLine($"    {row.Id}  {row.When}{(row.Who.Length == 0 ? "" : ", " + row.Who)}: {row.Words}");
                }
            }

            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Lots(Desk desk)
    {
        var command = desk.OnBook("lots", "Lots in which something hangs, waits to be let go or does not add up, with their balances.");
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var day = services.GetRequiredService<HouseDay>();
            var house = await services.GetRequiredService<Places>().House(stop);
            var lots = (await services.GetRequiredService<OpenLots>().ReadAsync(day.HouseId, stop)).Select(balance => LotLine.Of(balance, house)).ToList();
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { Lots = lots });
            }

            var table = Tables.Plain("Lot", "Taxon", "Cage", "Row", "Hung", "Received", "Hanging", "Out", "Lost", "To let go");
            foreach (var lot in lots)
            {
                table.AddRow(
                    Tables.Cell(lot.Code), Tables.Cell(lot.Form is null ? lot.Taxon : $"{lot.Taxon} {lot.Form}"), Tables.Cell(lot.Cage ?? ""), Tables.Cell(lot.Row ?? ""),
                    Tables.Cell(DayWords.Short(lot.HungOn)), Tables.Number(lot.Received), Tables.Number(lot.Hanging), Tables.Number(lot.Emerged),
                    Tables.Number(lot.Crippled + lot.Dead + lot.Parasitised + lot.Missing), Tables.Number(lot.ToRelease));
            }

            desk.Terminal.Write(table);
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    internal static string Words(Receipt receipt) => receipt switch
    {
        Receipt.Accepted => "written down",
        Receipt.Duplicate => "was written down before, nothing changed",
        Receipt.Conflict => "was written down before with other figures; this one is kept to be settled",
        _ => throw new ArgumentOutOfRangeException(nameof(receipt), receipt, "not written"),
    };

    internal static Option<Guid?> Id() => new("--id") { Description = "Key of the row, made by the caller: sent twice, it is one row." };

    internal static Option<string?> Note() => new("--note") { Description = "In your words." };

    internal static Option<int> Count(string name, string description) => new(name) { Description = description };

    private static Option<string> Lot() => new("--lot") { Description = "The lot's code from its label, or its key.", Required = true };

    private static Option<string?> To() => new("--to") { Description = "Name of the flight area or of the cage for pairs; the largest area when not said." };
}

/// <summary>A lot's balance as commands print it.</summary>
internal sealed record LotLine(
    string Code, Guid Id, string Taxon, string? Form, string? Cage, string? Row, DateOnly HungOn, int Received, int Hanging, int Emerged, int EmergedMale, int EmergedFemale,
    int Crippled, int Dead, int Parasitised, int Missing, int Transferred, int Released, int DiedInCage, int ToRelease, int Excess, decimal? UnitLanded)
{
    public static LotLine Of(LotBalance balance, Book.House? house = null) => new(
        LotCode.Of(balance.Lot.Id), balance.Lot.Id, balance.Lot.Taxon, balance.Lot.Form, house?.Cages.Find(cage => cage.Id == balance.CageId)?.Name, balance.Row, balance.Lot.HungOn,
        balance.Received, balance.Hanging, balance.Emerged, balance.EmergedMale, balance.EmergedFemale, balance.Crippled, balance.Dead, balance.Parasitised, balance.Missing,
        balance.Transferred, balance.Released, balance.DiedInCage, balance.ToRelease, balance.Excess, balance.Lot.UnitLanded);
}

using System.CommandLine;
using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Spectre.Console;

namespace Lepidary.App.Deliveries;

internal static class DeliveryCommands
{
    public static Command Create(Desk desk)
    {
        var command = desk.OnBook("deliveries", "What is due and what came.", Take(desk), Show(desk), ClaimStepCommand(desk), PartCommands.Part(desk), PartCommands.Weigh(desk));
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var view = await services.GetRequiredService<ShowDeliveries>().Show(stop);
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(view);
            }

            desk.Terminal.Output.WriteLine($"{view.Headline}. {view.Lead}");
            if (view.Due.Count > 0)
            {
                var due = Tables.Plain("Due", "Supplier", "Pupae", "State", "Order");
                foreach (var box in view.Due)
                {
                    due.AddRow(Tables.Cell(box.Late ? $"{box.When}, late" : box.When), Tables.Cell(box.Supplier), Tables.Number(box.Pupae), Tables.Cell(box.State), Tables.Cell(box.OrderId.ToString()));
                }

                desk.Terminal.Write(due);
            }

            if (view.Came.Count > 0)
            {
                var came = Tables.Plain("Came", "Supplier", "Box", "Alive", "Differences", "Claim", "Delivery");
                foreach (var box in view.Came)
                {
                    came.AddRow(
                        Tables.Cell(box.When), Tables.Cell(box.Supplier), Tables.Cell(box.BoxMark ?? ""), Tables.Number(box.Alive), Tables.Cell(box.Differences), Tables.Cell(box.Claim),
                        Tables.Cell(box.Id.ToString()));
                }

                desk.Terminal.Write(came);
            }

            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Take(Desk desk)
    {
        var file = new Argument<string?>("FILE") { Description = "The box as JSON (docs/handbook/deliveries.md); or give --order or --supplier with lines.", Arity = ArgumentArity.ZeroOrOne };
        var order = new Option<string?>("--order") { Description = "Key of the order that it answers, or the supplier of the one that is on its way." };
        var supplier = new Option<string?>("--supplier") { Description = "Supplier, where it answers no order." };
        var box = new Option<string?>("--box") { Description = "Mark or number on the box." };
        var line = new Option<string[]>("--line") { Description = "NAME=ALIVE[,noted=20][,dead=2][,damaged=1][,emerged=1][,wrong=1][,coloured=3][,instead=NAME][,price=2.50][,looked=80][,portions=20:31.5/20:30.9,rest=410][,cage=Cage A][,row=3][,place=12][,remark=…]; once a line. A count may be made by layer: 12+9+3.", AllowMultipleArgumentsPerToken = true };
        var asOrdered = new Option<bool>("--as-ordered") { Description = "Every line came as ordered, and was counted so." };
        var condition = new Option<string?>("--condition") { Description = "State of the box, in words." };
        var on = Options.On("The day it came; today when not said.");
        var posted = Options.Day("--posted", "The day it was posted, as its label says.");
        var id = RoundCommands.Id();
        var command = desk.OnBook("take", "Takes a box in against its note; each line with living pupae becomes a lot.", file, order, supplier, box, line, asOrdered, condition, on, posted, id, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var problems = new List<Problem>();
            var handed = new BoxFile();
            if (parsed.GetValue(file) is { } path)
            {
                var read = BoxFile.Read(path);
                problems.AddRange(read.Problems);
                handed = read.IsGood ? read.Value : handed;
            }

            var lines = (parsed.GetValue(line) ?? []).Select(BoxFile.ReadLine).ToList();
            problems.AddRange(lines.SelectMany(read => read.Problems));
            if (problems.Count > 0)
            {
                return desk.Terminal.Refuse(problems);
            }

            handed = handed with
            {
                Id = parsed.GetValue(id) ?? handed.Id,
                Order = parsed.GetValue(order) ?? handed.Order,
                Supplier = parsed.GetValue(supplier) ?? handed.Supplier,
                Box = parsed.GetValue(box) ?? handed.Box,
                Condition = parsed.GetValue(condition) ?? handed.Condition,
                On = parsed.GetValue(on) ?? handed.On,
                Posted = parsed.GetValue(posted) ?? handed.Posted,
                Lines = [.. handed.Lines, .. lines.Select(read => read.Value)],
            };
            var taken = await services.GetRequiredService<TakeInBoxFile>().Do(handed, parsed.GetValue(asOrdered), desk.WhoOf(parsed), stop);
            if (!taken.IsGood)
            {
                return desk.Terminal.Refuse(taken.Problems);
            }

            var value = taken.Value;
            var lots = value.Lots.Select(lot => new { Code = LotCode.Of(lot.Id), lot.Id, lot.Taxon, lot.Form, Pupae = lot.Received, lot.UnitLanded }).ToList();
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { Delivery = value.DeliveryId, value.Receipt, value.Differences, value.Warnings, Lots = lots });
            }

            desk.Terminal.Output.WriteLine($"Delivery {value.DeliveryId} {RoundCommands.Words(value.Receipt)}: {value.Differences}.");
            foreach (var lot in lots)
            {
                desk.Terminal.Output.WriteLine($"{lot.Code}  {lot.Pupae,4}  {lot.Taxon}{(lot.Form is null ? "" : " " + lot.Form)}");
            }

            foreach (var warning in value.Warnings.Concat(Cautions.OnOpening))
            {
                desk.Terminal.Output.WriteLine(warning);
            }

            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Show(Desk desk)
    {
        var id = new Argument<Guid>("DELIVERY") { Description = "Key of the delivery." };
        var command = desk.OnBook("show", "One box: its lines, its lots, and its claim as a letter.", id);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            if (await services.GetRequiredService<ShowDelivery>().Show(parsed.GetValue(id), stop) is not { } view)
            {
                return desk.Terminal.Refuse([new("delivery", parsed.GetValue(id).ToString(), "a delivery of this house")]);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(view);
            }

            desk.Terminal.Output.WriteLine($"{view.Supplier}, {view.When}: {view.Headline}. {view.Claim.Words}");
            foreach (var lot in view.Lots)
            {
                desk.Terminal.Output.WriteLine($"{lot.Code}  {lot.Pupae,4}  {lot.Taxon}{(lot.Form is null ? "" : " " + lot.Form)}  {lot.Cage} {lot.Row}");
            }

            desk.Terminal.Output.WriteLine(view.Letter is null ? "" : $"\n{view.Letter.Text()}");
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command ClaimStepCommand(Desk desk)
    {
        var id = new Argument<Guid>("DELIVERY") { Description = "Key of the delivery." };
        var state = new Option<ClaimState>("--state") { Description = "What became of the claim: sent, answered, credited or refused.", Required = true };
        var amount = new Option<decimal?>("--amount")
        {
            Description = "Money, in the supplier's currency.",
            CustomParser = result =>
            {
                if (decimal.TryParse(result.Tokens[0].Value, NumberStyles.Number, CultureInfo.InvariantCulture, out var sum))
                {
                    return sum;
                }

                result.AddError($"--amount: found {result.Tokens[0].Value}; expected money as 12.50");
                return null;
            },
        };
        var on = Options.On("The day; today when not said.");
        var key = RoundCommands.Id();
        var note = RoundCommands.Note();
        var command = desk.OnBook("claim", "Writes down what became of a claim.", id, state, amount, on, note, key, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var step = await services.GetRequiredService<StepClaim>().Do(
                new(parsed.GetValue(id), parsed.GetValue(state))
                {
                    Id = parsed.GetValue(key) ?? BookId.New(),
                    Amount = parsed.GetValue(amount),
                    OnDay = parsed.GetValue(on),
                    Who = desk.WhoOf(parsed),
                    Note = parsed.GetValue(note),
                },
                stop);
            if (!step.IsGood)
            {
                return desk.Terminal.Refuse(step.Problems);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { Step = step.Value.Id, Delivery = step.Value.DeliveryId, step.Value.State, step.Value.Amount });
            }

            desk.Terminal.Output.WriteLine($"Claim {step.Value.State.ToString().ToLowerInvariant()} ({step.Value.Id}).");
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }
}

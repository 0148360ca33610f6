using System.CommandLine;
using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Planning;
using Lepidary.Taxa;

namespace Lepidary.App.Orders;

internal static class OrderCommands
{
    public static Command Propose(Desk desk)
    {
        var house = new Option<string>("--house") { Description = "The house file (docs/house-file.md).", Required = true };
        var list = new Option<string[]>("--list") { Description = "A list, as SUPPLIER=FILE; once a supplier.", Required = true, AllowMultipleArgumentsPerToken = true };
        var on = Options.On("The day the orders go out.");
        on.Required = true;
        var line = new Option<string[]>("--line") { Description = "Settle a line: OFFER=12 fixes, OFFER=0 forbids, OFFER>=5 and OFFER<=20 bound, *=0 leaves out all else. Once a line." };
        var seconds = new Option<double>("--seconds") { Description = "Longest search.", DefaultValueFactory = _ => new PlanSettings().Seconds };
        var gap = new Option<double>("--gap") { Description = "Stop when proven to be within this share of the best.", DefaultValueFactory = _ => new PlanSettings().Gap };
        var (check, steps) = (CheckIt(), Steps());
        var seed = new Option<int>("--seed") { Description = "Seed of the search; one seed, one order.", DefaultValueFactory = _ => 1 };
        var command = new Command("propose", "What to order this week, from whom, why, and what it will do; from a house file and lists, without a book.")
        {
            house, list, on, line, seconds, gap, seed, check, steps, desk.Json,
        };
        command.SetAction((parsed, cancellation) =>
        {
            var ask = new ProposeFromFiles(
                parsed.GetValue(house)!,
                parsed.GetValue(list)!,
                parsed.GetValue(on)!.Value,
                parsed.GetValue(line) ?? [],
                new PlanSettings { Seconds = parsed.GetValue(seconds), Gap = parsed.GetValue(gap), Seed = parsed.GetValue(seed) });
            var laid = ask.Lay(TaxonTable.Shipped);
            if (!laid.IsGood)
            {
                return Task.FromResult(desk.Terminal.Refuse(laid.Problems));
            }

            var problem = laid.Value.Task.Problem;
            PlanOutcome outcome;
            using (var progress = new SearchLine(desk.Terminal, problem.Currency, parsed.GetValue(steps)))
            {
                outcome = Planner.Propose(problem, progress, cancellation);
            }

            var judged = parsed.GetValue(check) && outcome.Plan is { } plan ? PlanChecker.Compare(problem, plan) : null;
            var report = ProposalReport.Of(laid.Value.Input, laid.Value.Task, outcome, judged);
            return Task.FromResult(Print(desk.Terminal, report, parsed.GetValue(desk.Json)));
        });
        return command;
    }

    /// <summary><c>lepidary orders</c>: the order from the book.</summary>
    public static Command Orders(Desk desk) => new("orders", "This week's order from the book: propose, write, show, send.")
    {
        FromBook(desk),
        Otherwise(desk),
        Ahead(desk),
        Write(desk),
        Show(desk),
        Form(desk),
        Step(desk),
        Answer(desk),
    };

    private static Option<string[]> Lines() =>
        new("--line") { Description = "Settle a line: OFFER=12 fixes, OFFER=0 forbids, OFFER>=5 and OFFER<=20 bound, *=0 leaves out all else. Once a line." };

    private static Option<bool> CheckIt() =>
        new("--check") { Description = "Let the independent checker reckon cost, carriage, tax, caps and odds again, and print what it compared." };

    private static Option<bool> Steps() =>
        new("--steps") { Description = "Print each better order on standard error as it is found, one a line; in a terminal the last one is shown anyway." };

    private static Command FromBook(Desk desk)
    {
        var (line, check, steps) = (Lines(), CheckIt(), Steps());
        var command = desk.OnBook("propose", "What to order this week, from the book's house, stock and lists.", line, check, steps);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var begun = await services.GetRequiredService<ProposeFromBook>().Begin(parsed.GetValue(line) ?? [], new PlanSettings(), stop);
            if (!begun.IsGood)
            {
                return desk.Terminal.Refuse(begun.Problems);
            }

            var search = begun.Value.Search;
            using (var progress = new SearchLine(desk.Terminal, begun.Value.Task.Problem.Currency, parsed.GetValue(steps)))
            {
                await progress.Follow(search, stop);
            }

            var proposed = await begun.Value.Done(parsed.GetValue(check), CancellationToken.None);
            return Print(desk.Terminal, proposed.Report, parsed.GetValue(desk.Json));
        }, cancellation));
        return command;
    }

    private static Command Otherwise(Desk desk)
    {
        var line = Lines();
        var command = desk.OnBook("otherwise", "Other orders beside the proposal, and what a little more would cost and bring.", line);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var view = await services.GetRequiredService<ShowOptions>().Show(parsed.GetValue(line) ?? [], Timeout.InfiniteTimeSpan, stop);
            return OptionsTable.Print(desk.Terminal, view, parsed.GetValue(desk.Json));
        }, cancellation));
        return command;
    }

    private static Command Ahead(Desk desk)
    {
        var line = Lines();
        var command = desk.OnBook("ahead", "The four weeks after the proposal: what is firm, what is likely, and what of this week's offers can wait.", line);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var view = await services.GetRequiredService<ShowAhead>().Show(parsed.GetValue(line) ?? [], Timeout.InfiniteTimeSpan, stop);
            return AheadTable.Print(desk.Terminal, view, parsed.GetValue(desk.Json));
        }, cancellation));
        return command;
    }

    private static Command Write(Desk desk)
    {
        var line = Lines();
        var command = desk.OnBook("write", "Writes the proposal into the book: one order a supplier, drafted.", line, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var written = await services.GetRequiredService<WriteOrders>().Write(BookId.New(), parsed.GetValue(line) ?? [], [], new PlanSettings(), desk.WhoOf(parsed), stop);
            if (!written.IsGood)
            {
                return desk.Terminal.Refuse(written.Problems, ExitCodes.NoPlan);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { Orders = written.Value });
            }

            foreach (var id in written.Value)
            {
                desk.Terminal.Output.WriteLine(id);
            }

            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Show(Desk desk)
    {
        var id = new Argument<Guid>("ORDER") { Description = "Key of the order." };
        var form = new Option<string>("--as") { Description = "mail or csv.", DefaultValueFactory = _ => "mail" };
        form.AcceptOnlyFromAmong("mail", "csv");
        var command = desk.OnBook("show", "One order: as text for an e-mail, as CSV, or as JSON.", id, form);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var show = services.GetRequiredService<ShowWrittenOrder>();
            var order = await show.Order(parsed.GetValue(id), stop);
            if (order is null)
            {
                return desk.Terminal.Refuse([new("ORDER", parsed.GetValue(id).ToString(), "the key of an order of this house")]);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(await show.Show(order.Id, stop));
            }

            desk.Terminal.Output.Write(parsed.GetValue(form) == "csv" ? OrderSheet.Csv(order) : OrderSheet.Mail(order, services.GetRequiredService<HouseDay>().HouseName ?? ""));
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Form(Desk desk)
    {
        var id = new Argument<Guid>("ORDER") { Description = "Key of the order." };
        var to = new Option<string>("--out") { Description = "The file to write, which must not be there yet.", Required = true };
        var command = desk.OnBook("form", "The supplier's own order form (.xlsx or CSV) with the order in its column; nothing else of it changes.", id, to);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var order = await services.GetRequiredService<ShowWrittenOrder>().Order(parsed.GetValue(id), stop);
            if (order is null)
            {
                return desk.Terminal.Refuse([new("ORDER", parsed.GetValue(id).ToString(), "the key of an order of this house")]);
            }

            var fill = services.GetRequiredService<FillForm>();
            var filled = (await fill.Fill(order, stop))?.Filled ?? new Problem("ORDER", "an order from a list that is no form", "one from a list with an empty column for the order");
            if (!filled.IsGood)
            {
                return desk.Terminal.Refuse(filled.Problems);
            }

            try
            {
                await using var file = new FileStream(parsed.GetValue(to)!, FileMode.CreateNew);
                await file.WriteAsync(filled.Value.Content, stop);
            }
            catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
            {
                return desk.Terminal.Refuse([new(parsed.GetValue(to)!, wrong.Message, "a new file in a folder that can be written to")]);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { File = parsed.GetValue(to), filled.Value.Lines, filled.Value.Words });
            }

            desk.Terminal.Output.WriteLine(filled.Value.Words);
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Step(Desk desk)
    {
        var id = new Argument<Guid>("ORDER") { Description = "Key of the order." };
        var state = new Argument<OrderState>("STATE") { Description = "Sent, Confirmed, Refused or Withdrawn." };
        var command = desk.OnBook("step", "Says what became of an order.", id, state, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var order = await services.GetRequiredService<ShowWrittenOrder>().Order(parsed.GetValue(id), stop);
            if (order is null)
            {
                return desk.Terminal.Refuse([new("ORDER", parsed.GetValue(id).ToString(), "the key of an order of this house")]);
            }

            var problems = await services.GetRequiredService<StepOrder>().Step(BookId.New(), order.Id, parsed.GetValue(state), desk.WhoOf(parsed), services.GetRequiredService<HouseDay>().Now, stop);
            if (problems.Count > 0)
            {
                return desk.Terminal.Refuse(problems);
            }

            return parsed.GetValue(desk.Json) ? desk.Terminal.PrintJson(new { Order = order.Id, State = parsed.GetValue(state) }) : ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Answer(Desk desk)
    {
        var id = new Argument<Guid>("ORDER") { Description = "Key of the order, sent or confirmed." };
        var line = new Option<string[]>("--line") { Description = "What comes of a line: NUMBER=PUPAE, 0 where it is refused, NUMBER=PUPAE:SPECIES where another comes instead. Once a line; lines not named come as ordered." };
        var command = desk.OnBook("answer", "Writes down the supplier's answer line by line; the rest is planned again around it (`orders propose`).", id, line, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var order = await services.GetRequiredService<ShowWrittenOrder>().Order(parsed.GetValue(id), stop);
            if (order is null)
            {
                return desk.Terminal.Refuse([new("ORDER", parsed.GetValue(id).ToString(), "the key of an order of this house")]);
            }

            var problems = new List<Problem>();
            var answers = (parsed.GetValue(line) ?? []).Select(said => Said(said, order, problems)).OfType<AnsweredLine>().ToList();
            if (problems.Count > 0)
            {
                return desk.Terminal.Refuse(problems);
            }

            var answered = await services.GetRequiredService<AnswerOrder>().Answer(BookId.New(), order.Id, answers, desk.WhoOf(parsed), services.GetRequiredService<HouseDay>().Now, stop);
            if (!answered.IsGood)
            {
                return desk.Terminal.Refuse(answered.Problems);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { Order = answered.Value });
            }

            desk.Terminal.Output.WriteLine(answered.Value);
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static AnsweredLine? Said(string said, Order order, List<Problem> problems)
    {
        var (number, rest) = said.Split('=', 2) is [var before, var after] ? (before, after) : (said, "");
        var (count, instead) = rest.Split(':', 2) is [var pupae, var name] ? (pupae, name.Trim()) : (rest, null);
        var line = int.TryParse(number, out var wanted) ? order.Lines.Find(one => one.Number == wanted) : null;
        if (line is null || !int.TryParse(count, out var come))
        {
            problems.Add(new("--line", said, $"NUMBER=PUPAE or NUMBER=PUPAE:SPECIES, with a number from 1 to {order.Lines.Count}"));
            return null;
        }

        return new AnsweredLine(line.Id, come, instead is { Length: > 0 } ? instead : null);
    }

    /// <summary>Prints a proposal; the exit code says whether there is a plan.</summary>
    public static int Print(Terminal terminal, ProposalReport report, bool json)
    {
        var code = report.Status switch
        {
            PlanStatus.Infeasible => ExitCodes.NoPlan,
            PlanStatus.BadInput => ExitCodes.BadInput,
            PlanStatus.Proven or PlanStatus.Feasible or PlanStatus.TimeRanOut => ExitCodes.Done,
            _ => throw new InvalidOperationException($"Plan status {report.Status}."),
        };
        if (code == ExitCodes.Done && report.Check is { Agrees: false })
        {
            code = ExitCodes.Disagrees;
        }

        foreach (var fault in report.Check?.Faults ?? [])
        {
            terminal.Error.WriteLine($"Checked: {fault}");
        }

        if (json)
        {
            return terminal.PrintJson(report, code);
        }

        foreach (var problem in report.Problems)
        {
            terminal.Error.WriteLine(problem);
        }

        if (code is ExitCodes.Done or ExitCodes.Disagrees)
        {
            ProposalTable.Write(terminal, report);
        }

        return code;
    }
}

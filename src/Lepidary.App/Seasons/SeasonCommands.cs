using System.CommandLine;
using System.Globalization;
using Lepidary.App.Host;
using Lepidary.Planning.Seasons;
using Spectre.Console;

namespace Lepidary.App.Seasons;

internal static class SeasonCommands
{
    public static Command Create(Desk desk) => new("season", "Does ordering this way pay? Plays whole seasons, ahead or past.")
    {
        Simulate(desk),
        Replay(desk),
    };

    private sealed class Asking
    {
        private static readonly SeasonAsked Usual = new();

        public Option<int> Weeks { get; } = new("--weeks") { Description = "Order weeks, 2 to 52.", DefaultValueFactory = _ => Usual.Weeks };

        public Option<int> Draws { get; } = new("--draws") { Description = "Seasons drawn, 1 to 200; each is played under every policy.", DefaultValueFactory = _ => Usual.Draws };

        public Option<int> Seed { get; } = new("--seed") { Description = "One seed, the same seasons.", DefaultValueFactory = _ => Usual.Seed };

        public Option<decimal?> Budget { get; } = new("--budget") { Description = "What if: this budget a week." };

        public Option<string?> Without { get; } = new("--without") { Description = "What if: this supplier is lost." };

        public Option<int> Slower { get; } = new("--slower") { Description = "What if: a colder house, in which pupae take so many hundredths longer." };

        public Option<int> Aims { get; } = new("--aims") { Description = "What if: every number wished for is so many hundredths of what it is.", DefaultValueFactory = _ => Usual.AimsPercent };

        public Option<string[]> Policy { get; } = new("--policy") { Description = "plan, upto, tuned, naive, myopic, nothing; once a policy. Usually the first four." };

        public Option[] All => [Weeks, Draws, Seed, Budget, Without, Slower, Aims, Policy];

        public SeasonAsked Of(ParseResult parsed, DateOnly? from) => new()
        {
            From = from,
            Weeks = parsed.GetValue(Weeks),
            Draws = parsed.GetValue(Draws),
            Seed = parsed.GetValue(Seed),
            Budget = parsed.GetValue(Budget),
            Without = parsed.GetValue(Without),
            SlowerPercent = parsed.GetValue(Slower),
            AimsPercent = parsed.GetValue(Aims),
        };

        public Checked<SeasonPolicy[]> Policies(ParseResult parsed)
        {
            if (parsed.GetValue(Policy) is not { Length: > 0 } names)
            {
                return SeasonRunning.Policies.ToArray();
            }

            var policies = new List<SeasonPolicy>();
            foreach (var name in names.Distinct(StringComparer.Ordinal))
            {
                SeasonPolicy? policy = name switch
                {
                    "plan" => OrderByPlan.LookAhead(SeasonRunning.Near),
                    "myopic" => OrderByPlan.Myopic(SeasonRunning.Near),
                    "upto" => new OrderUpTo(),
                    "tuned" => OrderByRule.Tuned(),
                    "naive" => OrderByRule.Naive,
                    "nothing" => new OrderNothing(),
                    _ => null,
                };
                if (policy is null)
                {
                    return new Problem("--policy", name, "plan, upto, tuned, naive, myopic or nothing");
                }

                policies.Add(policy);
            }

            return policies.ToArray();
        }
    }

    private static Command Simulate(Desk desk)
    {
        var asking = new Asking();
        var command = desk.OnBook("simulate", "Plays seasons ahead from the book's stock, odds and lists.", asking.All);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, (services, stop) => Play(desk, parsed, asking, null, services, stop), cancellation));
        return command;
    }

    private static Command Replay(Desk desk)
    {
        var asking = new Asking();
        var from = new Option<DateOnly>("--from") { Description = "First order day, as 2026-01-31.", Required = true };
        var command = desk.OnBook("replay", "What would have been ordered on the lists of then, knowing only what was known then.", [from, .. asking.All]);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, (services, stop) => Play(desk, parsed, asking, parsed.GetValue(from), services, stop), cancellation));
        return command;
    }

    private static async Task<int> Play(Desk desk, ParseResult parsed, Asking asking, DateOnly? from, IServiceProvider services, CancellationToken stop)
    {
        var policies = asking.Policies(parsed);
        if (!policies.IsGood)
        {
            return desk.Terminal.Refuse(policies.Problems);
        }

        var asked = asking.Of(parsed, from);
        var laid = await services.GetRequiredService<SeasonFromBook>().Lay(asked, stop);
        if (!laid.IsGood)
        {
            return desk.Terminal.Refuse(laid.Problems);
        }

        var played = SeasonComparison.Play(laid.Value.Setting, policies.Value, asked.Draws, (ulong)asked.Seed, new Bar(desk.Terminal.Error), stop);
        var report = SeasonReport.Of(laid.Value, played, asked.Draws);
        if (parsed.GetValue(desk.Json))
        {
            return desk.Terminal.PrintJson(report);
        }

        Print(desk.Terminal, report);
        return ExitCodes.Done;
    }

    private static void Print(Terminal terminal, SeasonReport report)
    {
        terminal.Output.WriteLine(report.Headline);
        terminal.Output.WriteLine(FormattableString.Invariant($"{report.Draws} of {report.Asked} seasons of {report.Weeks} weeks from {report.From:yyyy-MM-dd}; means of a season, {report.Currency}; {report.OpenDays} open days count."));
        if (report.Rows.Count == 0)
        {
            return;
        }

        var table = Tables.Plain("ordering by", "bought", "short, in money", "together", "95 %", "wishes met", "days short", "days over", "pupae", "unseen");
        foreach (var row in report.Rows)
        {
            table.AddRow(
                Tables.Cell(row.Policy), Tables.Number(Text(row.Landed)), Tables.Number(Text(row.Shortage)), Tables.Number(Text(row.Total)),
                Tables.Number(row.TotalFrom is { } low && row.TotalTo is { } high ? $"{Text(low)} to {Text(high)}" : ""), Tables.Number(row.WishesMet.ToString("0 %", CultureInfo.InvariantCulture)),
                Tables.Number(Text(row.DaysShort)), Tables.Number(Text(row.DaysOver)), Tables.Number(Text(row.Pupae)), Tables.Number(row.Wasted.ToString("0 %", CultureInfo.InvariantCulture)));
        }

        terminal.Write(table);
        if (report.Really is not { } really)
        {
            return;
        }

        var weeks = Tables.Plain("order day", $"pupae, {report.Rows[0].Policy}", "landed", "pupae, really ordered", "landed");
        foreach (var (week, was) in report.Rows[0].ByWeek.Zip(really))
        {
            weeks.AddRow(
                Tables.Cell(week.OrderDay.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)), Tables.Number(Text(week.Pupae)), Tables.Number(Text(week.Landed)),
                Tables.Number(was.Pupae.ToString(CultureInfo.InvariantCulture)), Tables.Number(was.Landed.ToString("0", CultureInfo.InvariantCulture)));
        }

        terminal.Write(weeks);
    }

    private static string Text(double number) => number.ToString("0", CultureInfo.InvariantCulture);

    /// <summary>A bar of forty places that fills from the left, drawn anew on one line when it has grown.</summary>
    private sealed class Bar(TextWriter error) : IProgress<SeasonProgress>
    {
        private const int Places = 40;
        private int drawn = -1;

        public void Report(SeasonProgress value)
        {
            var full = Places * value.WeeksDone / value.Weeks;
            if (full == drawn)
            {
                return;
            }

            drawn = full;
            error.Write($"\r[{new string('=', full)}{new string(' ', Places - full)}] week {value.WeeksDone} of {value.Weeks}");
            if (value.WeeksDone == value.Weeks)
            {
                error.WriteLine();
            }
        }
    }
}

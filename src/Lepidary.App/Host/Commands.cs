using System.CommandLine;
using Lepidary.App.Climate;
using Lepidary.App.Deaths;
using Lepidary.App.Deliveries;
using Lepidary.App.Demo;
using Lepidary.App.Flying;
using Lepidary.App.HangingPlaces;
using Lepidary.App.Honesty;
using Lepidary.App.House;
using Lepidary.App.Keeping;
using Lepidary.App.Labels;
using Lepidary.App.Lists;
using Lepidary.App.Marks;
using Lepidary.App.Orders;
using Lepidary.App.Pairs;
using Lepidary.App.Rounds;
using Lepidary.App.Seasons;
using Lepidary.App.Species;
using Lepidary.App.Suppliers;
using Lepidary.App.Today;
using Lepidary.App.Walks;
using Lepidary.App.Weeks;

namespace Lepidary.App.Host;

/// <summary>The command line: one command a feature, each made in its feature's folder.</summary>
internal static class Commands
{
    /// <summary>The whole tree of commands.</summary>
    public static RootCommand Tree(Desk desk)
    {
        var tree = new RootCommand("Lepidary: from this week's lists to an order, and every pupa accounted for.")
        {
            ListCommands.Create(desk),
            WeeksCommands.Create(desk),
            OrderCommands.Propose(desk),
            OrderCommands.Orders(desk),
            PairsCommands.Create(desk),
            TodayCommands.Create(desk),
            FlyingCommands.Create(desk),
            HonestyCommands.Create(desk),
            SpeciesCommands.Create(desk),
            SpeciesCommands.Names(desk),
            SupplierCommands.Create(desk),
            SeasonCommands.Create(desk),
            HouseCommands.Create(desk),
            BookCommands.Create(desk),
            DemoCommands.Create(desk),
            DemoCommands.Start(desk),
            DeliveryCommands.Create(desk),
            LabelCommands.Create(desk),
            DeathsCommands.Create(desk),
            MarksCommands.Create(desk),
            WalkCommands.Create(desk),
            ClimateCommands.Create(desk),
            ClimateCommands.CreateLogger(desk),
            ServeCommands.Create(desk),
        };
        foreach (var command in RoundCommands.Create(desk).Concat(HangingCommands.Create(desk)))
        {
            tree.Subcommands.Add(command);
        }

        return tree;
    }

    // A search that is stopped still writes its best order with odds and reasons, which takes some seconds where much else runs; after the usual two the program would be ended before.
    private static readonly TimeSpan StoppingTakes = TimeSpan.FromSeconds(30);

    /// <summary>Runs one command line and gives its exit code.</summary>
    public static async Task<int> Run(string[] args, Desk desk)
    {
        var parsed = Tree(desk).Parse(args);
        // The help beside a wrong command line is part of the complaint: whoever reads the output gets answers only.
        var code = await parsed.InvokeAsync(new InvocationConfiguration
        {
            Output = parsed.Errors.Count > 0 ? desk.Terminal.Error : desk.Terminal.Output,
            Error = desk.Terminal.Error,
            ProcessTerminationTimeout = StoppingTakes,
        });
        return parsed.Errors.Count > 0 ? ExitCodes.BadCommandLine : code;
    }
}

using System.CommandLine;
using Lepidary.App.Host;
using Lepidary.App.Orders;
using Lepidary.Book;

namespace Lepidary.App.Demo;

internal static class DemoCommands
{
    /// <summary>Where the demo's book lies when nothing else is said.</summary>
    private const string DemoBook = "book/demo.db";

    /// <summary><c>lepidary demo</c>.</summary>
    public static Command Create(Desk desk)
    {
        var scenario = new Option<string>("--scenario") { Description = "public-glasshouse or private-greenhouse.", DefaultValueFactory = _ => DemoFiles.Public };
        scenario.AcceptOnlyFromAmong(DemoFiles.Public, DemoFiles.Private);
        var command = new Command("demo", "Makes a book with an invented house in it. Its clock stands at a Friday until you turn it.") { scenario, desk.Book, desk.Json };
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var loaded = await services.GetRequiredService<LoadDemo>().Load(parsed.GetValue(scenario)!, stop);
            if (!loaded.IsGood)
            {
                return desk.Terminal.Refuse(loaded.Problems);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { House = loaded.Value });
            }

            await desk.Terminal.Output.WriteLineAsync($"The demo {parsed.GetValue(scenario)} is in {BookPlace.From(parsed.GetValue(desk.Book))}.");
            return ExitCodes.Done;
        }, cancellation, create: true));
        return command;
    }

    /// <summary><c>lepidary start</c>: the demo book if there is none, this week's proposal, then the page.</summary>
    public static Command Start(Desk desk)
    {
        var port = new Option<int>("--port") { Description = "Port; 0 takes a free one.", DefaultValueFactory = _ => ServeCommands.UsualPort };
        var command = new Command("start", "Shows Lepidary on the demo: makes its book if there is none, prints this week's proposal, then serves the page.") { desk.Book, port };
        command.SetAction(async (parsed, cancellation) =>
        {
            var place = parsed.GetValue(desk.Book) is null && Environment.GetEnvironmentVariable(BookPlace.Variable) is null ? new BookPlace(DemoBook) : BookPlace.From(parsed.GetValue(desk.Book));
            await using (var services = desk.Services(place))
            {
                var shown = await Show(desk, services, cancellation);
                if (shown != ExitCodes.Done)
                {
                    return shown;
                }
            }

            return await ServeCommands.Serve(desk, place, parsed.GetValue(port), "127.0.0.1", cancellation);
        });
        return command;
    }

    private static async Task<int> Show(Desk desk, ServiceProvider services, CancellationToken cancellation)
    {
        await using var scope = services.CreateAsyncScope();
        var book = scope.ServiceProvider.GetRequiredService<BookContext>();
        if (await book.BringUpToDateAsync(cancellation) is { IsGood: false } wrong)
        {
            return desk.Terminal.Refuse(wrong.Problems, ExitCodes.NoBook);
        }

        var day = scope.ServiceProvider.GetRequiredService<HouseDay>();
        if (!await day.Load(null, cancellation))
        {
            var loaded = await scope.ServiceProvider.GetRequiredService<LoadDemo>().Load(DemoFiles.Public, cancellation);
            if (!loaded.IsGood)
            {
                return desk.Terminal.Refuse(loaded.Problems);
            }

            await day.Load(null, cancellation);
            await scope.ServiceProvider.GetRequiredService<LoadDemo>().TakeInUnread(DemoFiles.Public, cancellation);
        }

        var proposed = await scope.ServiceProvider.GetRequiredService<ProposeFromBook>().Propose([], ShowOrder.OnThePage, cancellation);
        return proposed.IsGood ? OrderCommands.Print(desk.Terminal, proposed.Value.Report, json: false) : desk.Terminal.Refuse(proposed.Problems);
    }
}

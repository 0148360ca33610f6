using System.CommandLine;
using Lepidary.Book;

namespace Lepidary.App.Host;

internal static class ServeCommands
{
    public const int UsualPort = 5280;

    public static Command Create(Desk desk)
    {
        var port = new Option<int>("--port") { Description = "Port; 0 takes a free one.", DefaultValueFactory = _ => UsualPort };
        var address = new Option<string>("--address") { Description = "Address to listen on; loopback alone when not said.", DefaultValueFactory = _ => "127.0.0.1" };
        var watch = new Option<string?>("--watch") { Description = "A folder: lists dropped into it are read by themselves." };
        var command = new Command("serve", "Serves the page of a book and prints its address.") { desk.Book, port, address, watch };
        command.SetAction((parsed, cancellation) => Serve(desk, BookPlace.From(parsed.GetValue(desk.Book)), parsed.GetValue(port), parsed.GetValue(address)!, cancellation, parsed.GetValue(watch)));
        return command;
    }

    /// <summary>Serves until stopped.</summary>
    public static async Task<int> Serve(Desk desk, BookPlace place, int port, string address, CancellationToken cancellation, string? watch = null)
    {
        if (watch is not null && !Directory.Exists(watch))
        {
            return desk.Terminal.Refuse([new("--watch", watch, "a folder")], ExitCodes.BadCommandLine);
        }

        if (!System.Net.IPAddress.TryParse(address, out _))
        {
            return desk.Terminal.Refuse([new("--address", address, "an IP address")], ExitCodes.BadCommandLine);
        }

        await using var app = WebHost.Build(place, port, address, desk.AddBook, desk.Clock, watch);
        await using (var scope = app.Services.CreateAsyncScope())
        {
            if (await scope.ServiceProvider.GetRequiredService<BookContext>().BringUpToDateAsync(cancellation) is { IsGood: false } wrong)
            {
                return desk.Terminal.Refuse(wrong.Problems, ExitCodes.NoBook);
            }
        }

        try
        {
            await app.StartAsync(cancellation);
        }
        catch (IOException wrong) when (wrong.InnerException is Microsoft.AspNetCore.Connections.AddressInUseException)
        {
            return desk.Terminal.Refuse([new($"port {port}", "another program on it", "a free port: --port 0 takes any")], ExitCodes.BadInput);
        }

        await desk.Terminal.Output.WriteLineAsync($"Lepidary is open at {app.Urls.First()}");
        await desk.Terminal.Output.FlushAsync(cancellation);
        await app.WaitForShutdownAsync(cancellation);
        return ExitCodes.Done;
    }
}

using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Lepidary.Browser.Harness;

/// <summary>What happens to a request on its way.</summary>
internal enum Break
{
    /// <summary>It gets through.</summary>
    None,

    /// <summary>The line is cut before the server has it.</summary>
    Before,

    /// <summary>The line is cut when the server has answered: the phone never hears.</summary>
    After,

    /// <summary>It arrives twice.</summary>
    Twice,

    /// <summary>The server is killed with it in hand.</summary>
    Killed,

    /// <summary>The page of a network's sign-in answers instead.</summary>
    Stranger,

    /// <summary>The server sends it to a sign-in page.</summary>
    SignIn,

    /// <summary>The server answers that it failed.</summary>
    Failed,
}

/// <summary>
/// The wire between a phone and a server. It keeps one address while the server behind it is killed and takes another: what a
/// browser keeps belongs to an address.
/// </summary>
internal sealed class Wire : IAsyncDisposable
{
    private readonly WebApplication _app;
    private readonly HttpClient _client = new(new SocketsHttpHandler { AllowAutoRedirect = false, PooledConnectionLifetime = TimeSpan.FromSeconds(1), UseCookies = false });
    private readonly BookServer _server;

    private Wire(WebApplication app, BookServer server)
    {
        _app = app;
        _server = server;
    }

    /// <summary>Where the phone finds it.</summary>
    public Uri Address { get; private set; } = new("http://127.0.0.1");

    /// <summary>True while there is no signal: nothing gets through.</summary>
    public bool Dead { get; set; }

    /// <summary>What happens to what a phone sends next; asked for each batch and each photo.</summary>
    public Func<Break> OnSending { get; set; } = () => Break.None;

    /// <summary>Kills the server and starts it anew.</summary>
    public Func<Task> OnKill { get; set; } = () => Task.CompletedTask;

    /// <summary>Put behind the worker's text: a newer version of the page.</summary>
    public string NewerWorker { get; set; } = "";

    /// <summary>Batches and photos that reached the server.</summary>
    public int Arrived { get; private set; }

    public static async Task<Wire> To(BookServer server)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(IPAddress.Loopback, 0));
        var app = builder.Build();
        var wire = new Wire(app, server);
        app.Run(wire.Pass);
        await app.StartAsync();
        wire.Address = new Uri(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());
        return wire;
    }

    private async Task Pass(HttpContext http)
    {
        var sending = http.Request.Method == "POST" && http.Request.Path.StartsWithSegments("/pocket", StringComparison.Ordinal);
        var broken = Dead ? Break.Before : sending ? OnSending() : Break.None;
        using var read = new MemoryStream();
        await http.Request.Body.CopyToAsync(read);
        switch (broken)
        {
            case Break.Before:
                http.Abort();
                return;
            case Break.Stranger:
                http.Response.ContentType = "text/html";
                await http.Response.WriteAsync("<p>Welcome to our guests. Accept the terms.</p>");
                return;
            case Break.SignIn:
                http.Response.Redirect("/sign-in");
                return;
            case Break.Failed:
                http.Response.StatusCode = 500;
                return;
            case Break.Twice:
                (await Send(http.Request, read.ToArray())).Dispose();
                break;
            case Break.Killed:
                var asked = Send(http.Request, read.ToArray());
                await Task.WhenAny(asked, Task.Delay(Random.Shared.Next(0, 25)));
                await OnKill();
                http.Abort();
                try
                {
                    (await asked).Dispose();
                }
                catch (HttpRequestException)
                {
                    // It died with the server, as it should.
                }

                return;
            default:
                break;
        }

        try
        {
            using var answer = await Send(http.Request, read.ToArray());
            Arrived += sending ? 1 : 0;
            if (broken == Break.After)
            {
                http.Abort();
                return;
            }

            http.Response.StatusCode = (int)answer.StatusCode;
            foreach (var header in answer.Headers.Concat(answer.Content.Headers).Where(header => header.Key is not ("Transfer-Encoding" or "Connection" or "Content-Length") && !(header.Key == "ETag" && IsNewer(http.Request))))
            {
                http.Response.Headers.Append(header.Key, header.Value.ToArray());
            }

            await answer.Content.CopyToAsync(http.Response.Body);
            if (IsNewer(http.Request))
            {
                await http.Response.WriteAsync(NewerWorker);
            }
        }
        catch (HttpRequestException)
        {
            http.Abort();
        }
    }

    /// <summary>True for the worker of a newer version: its text bears another tag than the server's, so that none is asked for.</summary>
    private bool IsNewer(HttpRequest asked) => NewerWorker.Length > 0 && asked.Path == "/pocket/worker.js";

    private Task<HttpResponseMessage> Send(HttpRequest asked, byte[] body)
    {
        var request = new HttpRequestMessage(new HttpMethod(asked.Method), new Uri(_server.Address, asked.Path + asked.QueryString));
        if (body.Length > 0)
        {
            request.Content = new ByteArrayContent(body);
        }

        foreach (var header in asked.Headers.Where(header => header.Key is not ("Connection" or "Accept-Encoding" or "Content-Length") && !(header.Key == "If-None-Match" && IsNewer(asked))))
        {
            if (!request.Headers.TryAddWithoutValidation(header.Key, header.Value.ToArray()))
            {
                request.Content?.Headers.TryAddWithoutValidation(header.Key, header.Value.ToArray());
            }
        }

        return _client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead);
    }

    public async ValueTask DisposeAsync()
    {
        await _app.DisposeAsync();
        _client.Dispose();
    }
}

using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace Lepidary.App.Host;

/// <summary>Where a command speaks: results on standard output, problems on standard error.</summary>
internal sealed class Terminal(TextWriter output, TextWriter error)
{
    /// <summary>JSON as every command prints it: camelCase, names as they are spelt, nulls kept.</summary>
    public static JsonSerializerOptions Json { get; } = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
        TypeInfoResolver = new DefaultJsonTypeInfoResolver(),
    };

    public TextWriter Output => output;

    public TextWriter Error => error;

    /// <summary>True where standard error is a screen that somebody looks at.</summary>
    public bool ErrorIsScreen => ReferenceEquals(error, Console.Error) && !Console.IsErrorRedirected;

    public int PrintJson<T>(T value, int code = ExitCodes.Done)
    {
        output.WriteLine(JsonSerializer.Serialize(value, Json));
        return code;
    }

    /// <summary>Writes a table; plain text where the output is no terminal, as wide as it needs.</summary>
    public void Write(IRenderable table)
    {
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(output) });
        if (!console.Profile.Out.IsTerminal)
        {
            console.Profile.Width = 160;
        }

        console.Write(table);
    }

    /// <summary>Names all problems at once.</summary>
    public int Refuse(IReadOnlyList<Problem> problems, int code = ExitCodes.BadInput)
    {
        foreach (var problem in problems)
        {
            error.WriteLine(problem);
        }

        return code;
    }
}

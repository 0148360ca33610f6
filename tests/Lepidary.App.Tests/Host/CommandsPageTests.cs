using System.CommandLine;
using System.Globalization;
using System.Text;
using Lepidary.App.Host;

namespace Lepidary.App.Tests.Host;

/// <summary>docs/commands.md says what the program does: it is made from the tree of commands and the table of exit codes.</summary>
public sealed class CommandsPageTests
{
    /// <summary>Where this is set, the test writes the page instead of comparing it.</summary>
    private const string Renew = "LEPIDARY_RENEW_DOCS";

    [Fact]
    public async Task Commands_page_is_what_the_program_says()
    {
        var stop = TestContext.Current.CancellationToken;
        var path = Path.Combine(Docs(), "commands.md");
        var made = Page();
        if (Environment.GetEnvironmentVariable(Renew) is { Length: > 0 })
        {
            await File.WriteAllTextAsync(path, made, stop);
        }

        var there = File.Exists(path) ? await File.ReadAllTextAsync(path, stop) : "";

        Assert.True(made == there.ReplaceLineEndings("\n"), $"docs/commands.md is not what the program says. Renew it: {Renew}=1 dotnet run --project tests/Lepidary.App.Tests -- -method '*{nameof(Commands_page_is_what_the_program_says)}'");
    }

    [Fact]
    public void Exit_codes_are_each_in_the_table_once() =>
        Assert.Equal(ExitCodes.Table.Select(row => row.Code).Distinct().Order(), ExitCodes.Table.Select(row => row.Code));

    private static string Page()
    {
        var desk = new Desk(new Terminal(TextWriter.Null, TextWriter.Null), (_, _) => { }, TimeProvider.System);
        Option[] common = [desk.Book, desk.House, desk.Who, desk.Json];
        var page = new StringBuilder("""
            # Commands

            `lepidary COMMAND --help` says the same. Every command that prints a result prints it as JSON with `--json`; problems go to standard error,
            all of them at once, each with where it is, what was found and what was expected. Dates are `2026-11-27`, numbers have a decimal point.

            Where a command works on a book, these name it:


            """.ReplaceLineEndings("\n"));
        foreach (var option in common)
        {
            page.Append(CultureInfo.InvariantCulture, $"- `{option.Name}` {option.Description}\n");
        }

        foreach (var command in Commands.Tree(desk).Subcommands.OrderBy(command => command.Name, StringComparer.Ordinal))
        {
            page.Append(CultureInfo.InvariantCulture, $"\n## {command.Name}\n\n");
            Describe(page, "lepidary", command, common);
        }

        page.Append("\n## Exit codes\n\n| code | meaning |\n| ---: | --- |\n");
        foreach (var (code, meaning) in ExitCodes.Table)
        {
            page.Append(CultureInfo.InvariantCulture, $"| {code} | {meaning} |\n");
        }

        return page.ToString();
    }

    private static void Describe(StringBuilder page, string before, Command command, Option[] common)
    {
        var words = string.Join(' ', command.Arguments.Select(argument => argument.Arity.MinimumNumberOfValues == 0 ? $"[{argument.Name}]" : argument.Name).Prepend($"{before} {command.Name}"));
        page.Append(CultureInfo.InvariantCulture, $"- `{words}`: {command.Description}\n");
        foreach (var argument in command.Arguments)
        {
            page.Append(CultureInfo.InvariantCulture, $"  - `{argument.Name}` {argument.Description}\n");
        }

        foreach (var option in command.Options.Where(option => !option.Hidden && !common.Contains(option)))
        {
            page.Append(CultureInfo.InvariantCulture, $"  - `{option.Name}` {option.Description}{(option.Required ? " Needed." : "")}\n");
        }

        foreach (var inner in command.Subcommands.Where(inner => !inner.Hidden))
        {
            Describe(page, $"{before} {command.Name}", inner, common);
        }
    }

    private static string Docs()
    {
        for (var folder = AppContext.BaseDirectory; folder is not null; folder = Path.GetDirectoryName(folder))
        {
            if (File.Exists(Path.Combine(folder, "docs", "house-file.md")))
            {
                return Path.Combine(folder, "docs");
            }
        }

        throw new DirectoryNotFoundException("The handbook is not above the tests.");
    }
}

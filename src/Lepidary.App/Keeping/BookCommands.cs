using System.CommandLine;
using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Keeping;

internal static class BookCommands
{
    public static Command Create(Desk desk) => new("book", "The book itself: back it up, restore it, take it out whole, read it back.")
    {
        Backup(desk),
        Restore(desk),
        Export(desk),
        Import(desk),
    };

    private static Command Backup(Desk desk)
    {
        var file = new Argument<string>("FILE") { Description = "Where the copy goes." };
        var command = new Command("backup", "Copies a book file while it is in use, and checks the copy.") { file, desk.Book, desk.Json };
        command.SetAction((parsed, cancellation) => Copy(desk, parsed, BookPlace.From(parsed.GetValue(desk.Book)), parsed.GetValue(file)!, desk.Copies?.Backup, cancellation));
        return command;
    }

    private static Command Restore(Desk desk)
    {
        var file = new Argument<string>("FILE") { Description = "A copy that `book backup` made." };
        var to = new Option<string>("--to") { Description = "Path of the restored book; nothing may be there yet.", Required = true };
        var command = new Command("restore", "Makes a book from a copy, at a new path.") { file, to, desk.Json };
        command.SetAction((parsed, cancellation) => Copy(desk, parsed, new BookPlace(parsed.GetValue(file)!), parsed.GetValue(to)!, desk.Copies?.Restore, cancellation));
        return command;
    }

    private static async Task<int> Copy(Desk desk, ParseResult parsed, BookPlace from, string to, CopyBook? copy, CancellationToken cancellation)
    {
        if (from.IsPostgres || copy is null)
        {
            return desk.Terminal.Refuse([new(from.ToString(), "no book file", "a book in one file; PostgreSQL has pg_dump, and `lepidary book export` takes any book out")]);
        }

        if (!File.Exists(from.Text))
        {
            return desk.Terminal.Refuse([new(from.Text, "no such book", "a book file")], ExitCodes.NoBook);
        }

        var copied = await copy(from.Text, to, cancellation);
        if (!copied.IsGood)
        {
            return desk.Terminal.Refuse(copied.Problems);
        }

        if (parsed.GetValue(desk.Json))
        {
            return desk.Terminal.PrintJson(new { Path = to, Sha256 = copied.Value });
        }

        await desk.Terminal.Output.WriteLineAsync($"{to}, checked; SHA-256 {copied.Value}");
        return ExitCodes.Done;
    }

    private static Command Export(Desk desk)
    {
        var file = new Argument<string>("FILE") { Description = "Where the lines go (JSON, one row a line)." };
        var command = new Command("export", "Takes the whole book out as JSON lines.") { file, desk.Book, desk.Json };
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var path = parsed.GetValue(file)!;
            long rows;
            // Beside first, then in place: a file cut short never bears the name.
            await using (var to = File.Create(path + ".partial"))
            {
                rows = await BookExport.WriteAsync(services.GetRequiredService<BookContext>(), to, stop);
            }

            File.Move(path + ".partial", path, overwrite: true);
            return Said(desk, parsed, rows, path);
        }, cancellation));
        return command;
    }

    private static Command Import(Desk desk)
    {
        var file = new Argument<string>("FILE") { Description = "What `book export` wrote." };
        var command = new Command("import", "Reads a whole book back, into a book with nothing in it.") { file, desk.Book, desk.Json };
        command.SetAction((parsed, cancellation) =>
        {
            var path = parsed.GetValue(file)!;
            return File.Exists(path)
                ? desk.Open(parsed, async (services, stop) =>
                {
                    await using var from = File.OpenRead(path);
                    var rows = await BookImport.ReadAsync(services.GetRequiredService<BookContext>(), from, Path.GetFileName(path), stop);
                    return rows.IsGood ? Said(desk, parsed, rows.Value, path) : desk.Terminal.Refuse(rows.Problems);
                }, cancellation, create: true)
                : Task.FromResult(desk.Terminal.Refuse([new(path, "no such file", "what `lepidary book export` wrote")]));
        });
        return command;
    }

    private static int Said(Desk desk, ParseResult parsed, long rows, string path)
    {
        if (parsed.GetValue(desk.Json))
        {
            return desk.Terminal.PrintJson(new { Path = path, Rows = rows });
        }

        desk.Terminal.Output.WriteLine($"{rows} rows, {path}");
        return ExitCodes.Done;
    }
}

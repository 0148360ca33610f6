using System.Diagnostics;
using System.Globalization;
using Lepidary.Browser.Harness;
using Lepidary.Browser.Pocket;
using Microsoft.Playwright;

namespace Lepidary.Bench.Pocket;

/// <summary>
/// The pocket book in a real browser against the real program: rows lost and doubled under faults and after a week without a connection,
/// taps and seconds of a round, the first load on a slow connection. The runs are those of the browser tests, in full length.
/// </summary>
internal static class PocketBench
{
    /// <param name="args">Nothing for all; or faults [COUNT] [SEED], week [COUNTS-A-DAY], round [LOTS], load.</param>
    public static async Task<int> RunAsync(string[] args)
    {
        Figures.Head("pocket");
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await Chromium.Launch(playwright);
        var folder = Directory.CreateTempSubdirectory("lepidary-bench-");
        try
        {
            var book = Path.Combine(folder.FullName, "book.db");
            var (code, said) = await BookServer.Run("demo", "--book", book);
            if (code != 0)
            {
                Console.Error.WriteLine(said);
                return 1;
            }

            var good = true;
            if (args is [] or ["faults", ..])
            {
                good &= await FaultsAsync(browser, book, Number(args, 1, 200), Number(args, 2, 20261127));
            }

            if (args is [] or ["week", ..])
            {
                good &= await WeekAsync(browser, book, Number(args, 1, 286));
            }

            if (args is [] or ["round", ..])
            {
                await RoundAsync(browser, book, Number(args, 1, 40));
            }

            if (args is [] or ["load"])
            {
                await LoadAsync(browser, book);
            }

            return good ? 0 : 1;
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task<bool> FaultsAsync(IBrowser browser, string book, int faults, int seed)
    {
        await using var server = await BookServer.OnCopyOf(book);
        var watch = Stopwatch.StartNew();
        var count = await FaultRun.Run(browser, server, faults, seed, TimeSpan.FromMinutes(15), FaultRun.Usual, Console.Error.WriteLine);
        Figures.Note($"faults, seed {seed}", count.ToString());
        Figures.Note("", $"{count.Conflicts} conflicts; {watch.Elapsed.TotalSeconds:0} s");
        return count is { Lost: 0, Doubled: 0, Conflicts: 0 } && count.Entries >= count.Kept && count.Entries <= count.Tapped;
    }

    private static async Task<bool> WeekAsync(IBrowser browser, string book, int countsADay)
    {
        await using var server = await BookServer.OnCopyOf(book);
        var watch = Stopwatch.StartNew();
        var count = await WeekRun.Run(browser, server, countsADay);
        var (onPhone, inBook) = (count.OnPhone.Select(row => row.Id).ToHashSet(), count.InBook.Select(row => row.Id).ToHashSet());
        var (lost, doubled) = (onPhone.Except(inBook).Count(), count.InBook.Count - inBook.Count + inBook.Except(onPhone).Count());
        Figures.Note("a week without a connection", $"{7 * countsADay} counts in {watch.Elapsed.TotalSeconds:0} s; \"{count.Line}\"; {count.OnPhone.Count} rows on the phone ({Entries(count.OnPhone.Select(row => row.Kind))} entries), {count.InBook.Count} in the book ({Entries(count.InBook.Select(row => row.Kind))} entries); {lost} lost, {doubled} doubled");
        return lost == 0 && doubled == 0 && count.OnPhone.Count == 14 * countsADay;

        static int Entries(IEnumerable<string> kinds) => kinds.Count(kind => kind == "entry");
    }

    private static async Task RoundAsync(IBrowser browser, string book, int lots)
    {
        foreach (var everyFifth in new[] { false, true })
        {
            await using var server = await BookServer.OnCopyOf(book);
            await RoundRun.Fill(server);
            await using var wire = await Wire.To(server);
            await using var phone = await Phone.Open(browser, wire);
            wire.Dead = true;
            var round = await RoundRun.Run(phone, lots, everyFifth);
            var what = everyFifth ? "every fifth with one dead" : "all as expected";
            Figures.Row($"round of {lots} lots, {what}: taps a lot", (double)round.Taps / round.Lots, "", 1);
            Figures.Row($"round of {lots} lots, {what}: seconds", round.Seconds, "s", await RoundRun.Floor(browser, round.Taps));
            Figures.Note("", $"{round.Taps} taps, {round.Entries} entries; ten minutes for {lots} lots leave {(600 - round.Seconds) / lots:0.0} s a lot to look");
        }
    }

    private static async Task LoadAsync(IBrowser browser, string book)
    {
        await using var server = await BookServer.OnCopyOf(book);
        var load = await LoadRun.Run(browser, server);
        Figures.Row("round on the screen, 400 kbit/s, 400 ms: cold", load.ColdSeconds, "s", (load.ColdBytes / 50_000.0) + 0.4);
        Figures.Row("the same from the installed page", load.InstalledSeconds, "s", load.ColdSeconds);
        Figures.Row("the same from the installed page, no connection", load.OfflineSeconds, "s", load.ColdSeconds);
        Figures.Note("cold, bytes over the wire", $"{load.ColdBytes}");
        Figures.Note("script", $"{load.ScriptBytes} bytes, {load.ScriptOnWire} over the wire");
    }

    private static int Number(string[] args, int at, int otherwise) => args.Length > at ? int.Parse(args[at], CultureInfo.InvariantCulture) : otherwise;
}

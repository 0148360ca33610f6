using Lepidary.Browser.Harness;
using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>What two phones and the book had at the end of a run of faults.</summary>
internal sealed record FaultCount
{
    /// <summary>The faults that were met, by kind.</summary>
    public required IReadOnlyDictionary<string, int> Met { get; init; }

    /// <summary>Counts that were tapped, the last of a killed page among them.</summary>
    public required int Tapped { get; init; }

    /// <summary>Counts of which the page said that they are kept.</summary>
    public required int Kept { get; init; }

    /// <summary>Entries in the book.</summary>
    public required int Entries { get; init; }

    /// <summary>Rows on the phones: entries and releases.</summary>
    public required int OnPhones { get; init; }

    /// <summary>Rows in the book.</summary>
    public required int InBook { get; init; }

    /// <summary>Rows of a phone that the book has not.</summary>
    public required int Lost { get; init; }

    /// <summary>Rows of the book under a phone's number that the book has once already, or that no phone has.</summary>
    public required int Doubled { get; init; }

    /// <summary>Rows of one key and two contents.</summary>
    public required long Conflicts { get; init; }

    public int Faults => Met.Values.Sum();

    public override string ToString() =>
        $"{Faults} faults ({string.Join(", ", Met.OrderBy(kind => kind.Key, StringComparer.Ordinal).Select(kind => $"{kind.Key} {kind.Value}"))}); {Tapped} counts tapped, {Kept} said to be kept, {Entries} in the book; {OnPhones} rows on two phones, {InBook} in the book; {Lost} lost, {Doubled} doubled";
}

/// <summary>
/// Two phones count the same lots while things go wrong: the server is killed (-9), the line is cut before and after the server wrote,
/// rows arrive twice, somebody else answers, the sign-in has run out, a page is killed in mid-tap, a newer version is taken in mid-round.
/// </summary>
internal static class FaultRun
{
    /// <summary>Every fault of the wire once.</summary>
    public static IReadOnlyList<Break> EachOnce { get; } = [Break.Before, Break.After, Break.Twice, Break.Failed, Break.Stranger, Break.SignIn, Break.Killed];

    /// <summary>Dealt out shuffled, again and again: each kind comes, and the server, which needs seconds to come back, is killed twice a deal.</summary>
    public static IReadOnlyList<Break> Usual { get; } =
    [
        Break.Before, Break.Before, Break.Before, Break.After, Break.After, Break.After, Break.Twice, Break.Twice, Break.Twice,
        Break.Failed, Break.Failed, Break.Stranger, Break.Stranger, Break.SignIn, Break.SignIn, Break.Killed, Break.Killed,
    ];

    /// <param name="browser">The browser that stands for two phones.</param>
    /// <param name="server">A demo house of its own.</param>
    /// <param name="faults">How many faults are to be met.</param>
    /// <param name="seed">Which faults come in which order; when they hit is the machine's.</param>
    /// <param name="longest">After this it is given up, with what was met so far in the message.</param>
    /// <param name="dealt">Faults of the wire that are dealt out shuffled, again and again.</param>
    /// <param name="tell">Is told before each turn how far it is.</param>
    public static async Task<FaultCount> Run(IBrowser browser, BookServer server, int faults, int seed, TimeSpan longest, IReadOnlyList<Break> dealt, Action<string>? tell = null)
    {
        await using var wire = await Wire.To(server);
        await using var one = await Phone.Open(browser, wire);
        await using var other = await Phone.Open(browser, wire);
        var lots = await one.Page.EvaluateAsync<string[]>(Taps.Lots);
        var (dice, dealer, deck) = (new Random(seed), new Random(seed), new Queue<Break>());
        var met = new Dictionary<string, int>();
        using var killing = new SemaphoreSlim(1, 1);
        wire.OnKill = async () =>
        {
            await killing.WaitAsync();
            try
            {
                await server.Kill();
                await server.Start();
            }
            finally
            {
                killing.Release();
            }
        };
        wire.OnSending = () =>
        {
            lock (met)
            {
                if (deck.Count == 0)
                {
                    deck = new Queue<Break>(Shuffled(dealt, dealer));
                }

                var broken = deck.Dequeue();
                Meet(broken.ToString());
                return broken;
            }
        };

        var (kept, tapped, end) = (0, 0, DateTime.UtcNow + longest);
        for (var turn = 1; Met() < faults || turn <= 10; turn++)
        {
            if (DateTime.UtcNow > end)
            {
                throw new TimeoutException($"{Met()} of {faults} faults were met in {longest.TotalSeconds} s: {string.Join(", ", met)}");
            }

            tell?.Invoke($"turn {turn}: {Met()} of {faults} faults, {kept} counts kept");
            var phone = dice.Next(2) == 0 ? one : other;
            var some = Enumerable.Range(0, 3).Select(_ => lots[dice.Next(lots.Length)]).ToArray();
            kept += await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = some, released = dice.Next(2) == 0 });
            tapped += some.Length;
            if (turn % 5 == 0)
            {
                // The page goes while the tap is on its way: it is kept, or it never was.
                var last = phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = new[] { lots[dice.Next(lots.Length)] }, released = true });
                tapped++;
                await Task.Delay(dice.Next(60));
                await phone.Page.CloseAsync();
                try
                {
                    kept += await last;
                }
                catch (PlaywrightException)
                {
                    // It was cut off before it was told.
                }

                Meet("page killed");
                await phone.NewPage();
            }

            if (turn % 9 == 0)
            {
                wire.NewerWorker += "// a newer version\n";

                // The newer version comes from a server that is up: none is killed meanwhile.
                await killing.WaitAsync();
                try
                {
                    await phone.TakeNewer();
                }
                finally
                {
                    killing.Release();
                }

                Meet("newer version");
            }
        }

        wire.OnSending = () => Break.None;
        await one.SendAll();
        await other.SendAll();
        List<KeptRow> onPhones = [.. await one.Rows(), .. await other.Rows()];
        var inBook = Phone.AllInBook(server);
        var written = inBook.Select(row => row.Id).ToHashSet();
        var known = onPhones.Select(row => row.Id).ToHashSet();
        return new()
        {
            Met = met,
            Tapped = tapped,
            Kept = kept,
            Entries = inBook.Count(row => row.Kind == "entry"),
            OnPhones = onPhones.Count,
            InBook = inBook.Count,
            Lost = onPhones.Count(row => !written.Contains(row.Id)),
            Doubled = inBook.Count - inBook.DistinctBy(row => (row.Device, row.Sequence)).Count() + inBook.Count(row => !known.Contains(row.Id)),
            Conflicts = Phone.Conflicts(server),
        };

        static Break[] Shuffled(IReadOnlyList<Break> dealt, Random dealer)
        {
            Break[] deck = [.. dealt];
            dealer.Shuffle(deck);
            return deck;
        }

        int Met()
        {
            lock (met)
            {
                return met.Values.Sum();
            }
        }

        void Meet(string kind)
        {
            lock (met)
            {
                met[kind] = met.GetValueOrDefault(kind) + 1;
            }
        }
    }
}

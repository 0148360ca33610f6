using System.Globalization;

namespace Lepidary.Lists.Tests.Corpus;

/// <summary>How one offer of the truth came out of the reader.</summary>
public enum Outcome
{
    /// <summary>Every fact right, no doubt.</summary>
    Right,

    /// <summary>The reader asks, and a careful person would not have had to.</summary>
    Doubtful,

    /// <summary>The reader asks where a careful person might too.</summary>
    DoubtfulFairly,

    /// <summary>A fact differs and nothing says so: the worst outcome.</summary>
    SilentlyWrong,

    /// <summary>No offer and no doubt stands for the line.</summary>
    Missing,
}

/// <summary>One remark of the scorer, for a person who mends the reader.</summary>
public sealed record Finding(int Line, string? Sheet, string What, string Text);

/// <summary>The score of one list against its truth, or of several added up.</summary>
public sealed record CorpusScore
{
    public int Offers { get; init; }

    public int Right { get; init; }

    public int Doubtful { get; init; }

    public int DoubtfulFairly { get; init; }

    public int SilentlyWrong { get; init; }

    /// <summary>Of <see cref="SilentlyWrong"/>: another species than the one printed.</summary>
    public int WrongSpecies { get; init; }

    public int Missing { get; init; }

    /// <summary>Offers that no line of the list makes, without a doubt.</summary>
    public int Extra { get; init; }

    /// <summary>Doubts about lines that a careful person passes over.</summary>
    public int IdleDoubts { get; init; }

    public int Charges { get; init; }

    public int ChargesRight { get; init; }

    /// <summary>Facts of the list as a whole that differ: supplier, currency, date, tax.</summary>
    public int HeaderWrong { get; init; }

    /// <summary>Lines that hold something and that the reader does not account for exactly once.</summary>
    public int LinesLost { get; init; }

    /// <summary>
    /// Offers of the truth that no offer was read for and whose name no doubt, note or heading shows: swallowed by another line or gone. Where a
    /// format has no lines of its own this is what a lost line is.
    /// </summary>
    public int Unaccounted { get; init; }

    public IReadOnlyList<Finding> Findings { get; init; } = [];

    /// <summary>Offers read right without any doubt, of those that a careful person reads without one; 1 for none.</summary>
    public double ReadRight => Offers == DoubtfulFairly ? 1 : (double)Right / (Offers - DoubtfulFairly);

    public static CorpusScore operator +(CorpusScore a, CorpusScore b) => new()
    {
        Offers = a.Offers + b.Offers,
        Right = a.Right + b.Right,
        Doubtful = a.Doubtful + b.Doubtful,
        DoubtfulFairly = a.DoubtfulFairly + b.DoubtfulFairly,
        SilentlyWrong = a.SilentlyWrong + b.SilentlyWrong,
        WrongSpecies = a.WrongSpecies + b.WrongSpecies,
        Missing = a.Missing + b.Missing,
        Extra = a.Extra + b.Extra,
        IdleDoubts = a.IdleDoubts + b.IdleDoubts,
        Charges = a.Charges + b.Charges,
        ChargesRight = a.ChargesRight + b.ChargesRight,
        HeaderWrong = a.HeaderWrong + b.HeaderWrong,
        LinesLost = a.LinesLost + b.LinesLost,
        Unaccounted = a.Unaccounted + b.Unaccounted,
        Findings = [.. a.Findings, .. b.Findings],
    };

    /// <summary>Compares what was read with the truth.</summary>
    public static CorpusScore Of(TruthList truth, SupplierList read) => new Comparison(truth, read).Score();

    /// <summary>A list that the reader refused whole: every offer is missing, and nothing is silent.</summary>
    public static CorpusScore Refused(TruthList truth, IReadOnlyList<Problem> problems)
    {
        var offers = truth.Offers.Count(o => !o.Optional);
        return new CorpusScore
        {
            Offers = offers,
            Missing = offers,
            Charges = truth.Charges.Count,
            LinesLost = truth.SourceLines.Sum(s => s.Lines.Count),
            Unaccounted = offers,
            Findings = [.. problems.Select(p => new Finding(0, null, $"Refused: {p}", ""))],
        };
    }

    /// <summary>The facts in which an offer differs from the truth, in words; empty when none does.</summary>
    public static IReadOnlyList<string> Differences(TruthOffer truth, Offer read)
    {
        var found = new List<string>();
        Differ(found, "taxon", truth.Taxon, read.Taxon);
        Differ(found, "mix", truth.Kind == OfferKind.Mix, read.Kind == OfferKind.Mix);
        Differ(found, "price", truth.Price, read.Price);
        Differ(found, "breaks", Breaks(truth.Breaks), Breaks(read.Breaks));
        Differ(found, "pack", truth.Pack, read.Pack);
        Differ(found, "minimum", Math.Max(truth.Minimum ?? 1, truth.Pack), Math.Max(read.Minimum ?? 1, read.Pack));
        Differ(found, "sold out", truth.SoldOut, read.SoldOut);
        if (!truth.SoldOut)
            Differ(found, "available", truth.Available, read.Available);
        if (truth.Form is not null && read.Form is not null && !SameForm(truth.Form, read.Form))
            found.Add($"form: {read.Form} for {truth.Form}");
        return found;
    }

    // "f. achates", "ssp. achates" and "achates" are one form: the last word counts.
    private static bool SameForm(string a, string b) =>
        string.Equals(a.Split(' ')[^1], b.Split(' ')[^1], StringComparison.OrdinalIgnoreCase)
        || a.Contains(b, StringComparison.OrdinalIgnoreCase)
        || b.Contains(a, StringComparison.OrdinalIgnoreCase);

    private static void Differ<T>(List<string> found, string fact, T truth, T read)
    {
        if (!EqualityComparer<T>.Default.Equals(truth, read))
            found.Add(string.Create(CultureInfo.InvariantCulture, $"{fact}: {Shown(read)} for {Shown(truth)}"));
    }

    private static string Shown<T>(T value) =>
        value is null ? "nothing" : Convert.ToString(value, CultureInfo.InvariantCulture) ?? "";

    private static string Breaks(IReadOnlyList<PriceBreak> breaks) =>
        string.Join(", ", breaks.Select(b => string.Create(CultureInfo.InvariantCulture, $"{b.From} at {b.Price:0.####}")));

    private sealed class Comparison(TruthList truth, SupplierList read)
    {
        private readonly List<Finding> findings = [];
        private readonly Dictionary<Outcome, int> counts = [];
        private int wrongSpecies;

        public CorpusScore Score()
        {
            var pairs = truth.Lineless ? Pairing.Freely(truth.Offers, read.Offers) : Pairing.ByLine(truth.Offers, read.Offers);
            foreach (var (wanted, got) in pairs.Pairs.Where(p => p.Got is not null || !p.Wanted.Optional))
                Count(wanted, got);
            return new CorpusScore
            {
                Offers = counts.Values.Sum(),
                Right = counts.GetValueOrDefault(Outcome.Right),
                Doubtful = counts.GetValueOrDefault(Outcome.Doubtful),
                DoubtfulFairly = counts.GetValueOrDefault(Outcome.DoubtfulFairly),
                SilentlyWrong = counts.GetValueOrDefault(Outcome.SilentlyWrong),
                WrongSpecies = wrongSpecies,
                Missing = counts.GetValueOrDefault(Outcome.Missing),
                Extra = Extra(pairs.Extra),
                IdleDoubts = IdleDoubts(),
                Charges = truth.Charges.Count,
                ChargesRight = ChargesRight(),
                HeaderWrong = HeaderWrong(),
                LinesLost = LinesLost(),
                Unaccounted = pairs.Pairs.Count(p => p.Got is null && !p.Wanted.Optional && !IsShown(p.Wanted)),
                Findings = findings,
            };
        }

        private void Count(TruthOffer wanted, Offer? got)
        {
            var fair = Fair(wanted.Line, wanted.Sheet);
            if (got is null)
            {
                var asked = Asked(wanted.Line, wanted.Sheet);
                Note(wanted, asked ? fair is null ? Outcome.Doubtful : Outcome.DoubtfulFairly : Outcome.Missing, "no offer");
                return;
            }

            var differences = Differences(wanted, got);
            if (got.Doubts.Count > 0)
            {
                Note(wanted, fair is null ? Outcome.Doubtful : Outcome.DoubtfulFairly, string.Join("; ", got.Doubts));
                return;
            }

            if (fair is { Demanded: true })
                differences = [.. differences, $"no doubt, where one is due: {fair.Why}"];
            if (got.Taxon is not null && got.Taxon != wanted.Taxon)
                wrongSpecies++;
            Note(wanted, differences.Count == 0 ? Outcome.Right : Outcome.SilentlyWrong, string.Join("; ", differences));
        }

        /// <summary>True when what the list prints of an offer can still be seen by whoever looks through what was not read as one.</summary>
        private bool IsShown(TruthOffer wanted) =>
            read.Lines.Any(l => l.Kind is LineKind.Doubt or LineKind.Note or LineKind.Heading or LineKind.Charge && Holds(l.Text, wanted))
            || read.Doubts.Any(d => Holds(d.Text, wanted));

        private static bool Holds(string text, TruthOffer wanted) => wanted.Text.Length > 0 && text.Contains(wanted.Text, StringComparison.OrdinalIgnoreCase);

        private void Note(TruthOffer wanted, Outcome outcome, string what)
        {
            counts[outcome] = counts.GetValueOrDefault(outcome) + 1;
            if (outcome != Outcome.Right)
                findings.Add(new Finding(wanted.Line, wanted.Sheet, $"{outcome}: {what}", wanted.Text));
        }

        private TruthDoubt? Fair(int line, string? sheet) =>
            truth.Doubtful.FirstOrDefault(d => d.Line == line && d.Sheet == sheet);

        private bool Asked(int line, string? sheet) =>
            !truth.Lineless
            && (read.Lines.Any(l => l.Line == line && SameSheet(sheet, l.Sheet) && l.Kind == LineKind.Doubt)
                || read.Doubts.Any(d => d.Line == line && sheet is null));

        private int Extra(IReadOnlyList<Offer> extra)
        {
            var silent = extra.Where(o => o.Doubts.Count == 0 && (truth.Lineless || Fair(o.Line, o.Sheet) is null)).ToList();
            findings.AddRange(silent.Select(o => new Finding(o.Line, o.Sheet, $"Extra: {o.Taxon ?? "an offer"}", o.Text)));
            return silent.Count;
        }

        private int IdleDoubts()
        {
            var idle = read.Lines
                .Where(l => l.Kind == LineKind.Doubt)
                .Where(l => truth.Lineless || (Fair(l.Line, l.Sheet) is null && !truth.Offers.Any(o => o.Line == l.Line && SameSheet(o.Sheet, l.Sheet))))
                .ToList();
            findings.AddRange(idle.Select(l => new Finding(l.Line, l.Sheet, "Idle doubt", l.Text)));
            return idle.Count;
        }

        private int ChargesRight()
        {
            var left = read.Charges.ToList();
            var right = 0;
            foreach (var wanted in truth.Charges)
            {
                var got = left.FirstOrDefault(c => (truth.Lineless || c.Line == wanted.Line) && c.Amount == wanted.Amount && SamePer(c.Per, wanted.Per));
                if (got is not null)
                {
                    left.Remove(got);
                    right++;
                }
                else
                {
                    findings.Add(new Finding(wanted.Line, wanted.Sheet, "Charge not read so", wanted.Text));
                }
            }

            findings.AddRange(left.Select(c => new Finding(c.Line, null, "Charge read", $"{c.Amount} per {c.Per}: {c.Text}")));
            return right;
        }

        // One shipment is one order here: lists use the two words for one thing.
        private static bool SamePer(ChargePer a, ChargePer b) => Merged(a) == Merged(b);

        private static ChargePer Merged(ChargePer per) => per == ChargePer.Shipment ? ChargePer.Order : per;

        private int HeaderWrong()
        {
            var wrong = new List<string>();
            if (!truth.Unscored.Contains("supplier") && truth.Supplier is not null && !SameSupplier(truth.Supplier, read.Supplier))
                wrong.Add($"supplier: {Shown(read.Supplier)} for {truth.Supplier}");
            if (!truth.Unscored.Contains("currency"))
                Differ(wrong, "currency", truth.Currency, read.Currency);
            if (!truth.Unscored.Contains("date"))
                Differ(wrong, "date", truth.Date, read.Date);
            if (!truth.Unscored.Contains("pricesExcludeTax"))
                Differ(wrong, "prices exclude tax", truth.PricesExcludeTax, read.PricesExcludeTax);
            findings.AddRange(wrong.Select(w => new Finding(0, null, w, "")));
            return wrong.Count;
        }

        private static bool SameSupplier(string wanted, string? got) =>
            got is not null
            && (got.Contains(wanted, StringComparison.OrdinalIgnoreCase) || wanted.Contains(got, StringComparison.OrdinalIgnoreCase));

        private int LinesLost()
        {
            var lost = 0;
            foreach (var sheet in truth.SourceLines)
            {
                var seen = read.Lines.Where(l => SameSheet(sheet.Sheet, l.Sheet) && l.Kind != LineKind.Blank).CountBy(l => l.Line).ToDictionary();
                foreach (var line in sheet.Lines.Where(l => seen.GetValueOrDefault(l) != 1))
                {
                    lost++;
                    findings.Add(new Finding(line, sheet.Sheet, $"Line accounted for {seen.GetValueOrDefault(line)} times", ""));
                }
            }

            return lost;
        }
    }

    // A workbook with one sheet may be read without its name.
    private static bool SameSheet(string? wanted, string? got) => wanted == got || got is null;
}

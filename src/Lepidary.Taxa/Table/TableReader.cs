using System.Globalization;

namespace Lepidary.Taxa.Table;

/// <summary>Makes taxa of the two shipped tables. What each column rests on: docs/taxa.md.</summary>
internal static class TableReader
{
    /// <summary>Reads both tables.</summary>
    /// <returns>Every row, in the order of the file, and the means to borrow for others.</returns>
    public static (IReadOnlyList<NameRow> Rows, Borrowing Borrowing) Read(Csv names, Csv species)
    {
        var lives = ReadLives(species);
        var rows = new NameRow[names.Rows.Count];
        var cells = new Cells(names);
        var own = new List<Taxon>(lives.Count);
        var borrowers = new List<int>(names.Rows.Count);
        for (var i = 0; i < rows.Length; i++)
        {
            var row = names.Rows[i];
            if (lives.TryGetValue(cells.Name(row), out var life))
            {
                rows[i] = cells.Row(row, life.Life, life.Habits, life.Notes);
                own.Add(rows[i].Taxon);
            }
            else
            {
                borrowers.Add(i);
            }
        }

        var borrowing = new Borrowing(own);
        foreach (var i in borrowers)
            rows[i] = cells.Borrower(names.Rows[i], borrowing);
        return (rows, borrowing);
    }

    private static string[] Parts(string cell) => cell.Length == 0 ? [] : cell.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);

    private static int Whole(string cell) => int.Parse(cell, CultureInfo.InvariantCulture);

    // "25-28", or "28" alone.
    private static WholeRange Range(string cell)
    {
        var dash = cell.IndexOf('-', StringComparison.Ordinal);
        return dash < 0 ? new WholeRange(Whole(cell), Whole(cell)) : new WholeRange(Whole(cell[..dash]), Whole(cell[(dash + 1)..]));
    }

    private static Confidence Trust(string cell) => cell switch
    {
        "published" => Confidence.Published,
        "common_practice" => Confidence.CommonPractice,
        _ => Confidence.Memory,
    };

    private static Dictionary<string, OwnLife> ReadLives(Csv species)
    {
        var lives = new Dictionary<string, OwnLife>(species.Rows.Count, StringComparer.Ordinal);
        foreach (var row in species.Rows)
        {
            string Cell(string column) => row[species.Column(column)];
            Sourced<T> Figure<T>(T value, string group) => new(value, Cell($"source_{group}"), Trust(Cell($"confidence_{group}")));

            var life = new LifeHistory
            {
                DaysToEmergence = Figure(
                    new WholeRange(Whole(Cell("arrival_to_emergence_days_typical_min")), Whole(Cell("arrival_to_emergence_days_typical_max"))), "arrival"),
                AdultLifeDays = Figure(Number(Cell("adult_life_days_flight_house_typical")), "adult_life"),
                // The column's confidence is that of the typical life; a longest life is memory unless the source names it (docs/taxa.md).
                AdultLifeDaysMax = Figure(Number(Cell("adult_life_days_max")), "adult_life") with { Confidence = Confidence.Memory },
                EmergenceRate = Borrowing.UsualEmergenceRate,
                FemaleShare = Borrowing.UsualFemaleShare,
                WingspanMm = Figure(new WholeRange(Whole(Cell("wingspan_mm_min")), Whole(Cell("wingspan_mm_max"))), "wingspan"),
                PupalDays = Cell("pupal_days_total").Length == 0
                    ? null
                    : new Sourced<double>(Number(Cell("pupal_days_total")), Cell("source_life_history"), Trust(Cell("confidence_pupal_days"))),
                EggToAdultDays = Cell("egg_to_adult_days").Length == 0 ? null : Figure(Number(Cell("egg_to_adult_days")), "life_history"),
                DevelopmentTemperatureC = Cell("temp_for_those_days_c").Length == 0
                    ? null
                    : new Sourced<WholeRange>(Range(Cell("temp_for_those_days_c")), Cell("source_life_history"), Trust(Cell("confidence_life_history"))),
                Attachment = new Sourced<PupaAttachment>(
                    Cell("pupa_attachment") switch
                    {
                        "cremaster" => PupaAttachment.Cremaster,
                        "girdle" => PupaAttachment.Girdle,
                        "cocoon" => PupaAttachment.Cocoon,
                        "loose" => PupaAttachment.Loose,
                        var other => throw new FormatException($"No such attachment: {other}."),
                    },
                    "general knowledge of the family", Confidence.Memory),
                SexesDiffer = new Sourced<SexDifference>(
                    Cell("sexes_differ") switch
                    {
                        "yes" => SexDifference.Plain,
                        "slight" => SexDifference.Slight,
                        "no" => SexDifference.None,
                        var other => throw new FormatException($"No such difference of the sexes: {other}."),
                    },
                    "memory", Confidence.Memory),
                FoodPlants = Figure<IReadOnlyList<string>>(Parts(Cell("larval_host_plants")), "host_plants"),
                CanRest = Rests(Cell("notes")),
            };
            string[] habits =
            [
                Cell("dominant_colour"), .. Cell("adult_food").Split('+'), Cell("flight_layer"), Cell("day_active"),
            ];
            lives.Add(Cell("scientific_name"), new OwnLife(life, [.. habits.Where(h => h is not ("unknown" or ""))], Cell("notes")));
        }

        return lives;
    }

    private static bool Rests(string notes) =>
        notes.Contains("diapause", StringComparison.OrdinalIgnoreCase) && !notes.Contains("no diapause", StringComparison.OrdinalIgnoreCase);

    /// <summary>A row of species.csv.</summary>
    private sealed record OwnLife(LifeHistory Life, string[] Habits, string Notes);

    /// <summary>The columns of names.csv.</summary>
    private sealed class Cells(Csv names)
    {
        private readonly int name = names.Column("accepted_name");
        private readonly int authority = names.Column("authority");
        private readonly int family = names.Column("family");
        private readonly int subfamily = names.Column("subfamily");
        private readonly int tribe = names.Column("tribe");
        private readonly int tradeFamily = names.Column("trade_family");
        private readonly int region = names.Column("region");
        private readonly int english = names.Column("common_names_en");
        private readonly int otherLanguages = names.Column("common_names_other");
        private readonly int otherNames = names.Column("other_names");
        private readonly int alsoTreatedAs = names.Column("also_treated_as");
        private readonly int forms = names.Column("subspecies_and_forms");
        private readonly int misspellings = names.Column("usual_misspellings");
        private readonly int kind = names.Column("kind");
        private readonly int cites = names.Column("cites_appendix");
        private readonly int wingspan = names.Column("wingspan_mm");
        private readonly int confidence = names.Column("confidence");
        private readonly int notes = names.Column("notes");
        private readonly int traded = names.Column("traded");

        public string Name(string[] row) => row[name];

        public NameRow Borrower(string[] row, Borrowing borrowing)
        {
            var genus = row[name][..row[name].IndexOf(' ', StringComparison.Ordinal)];
            var place = new Place(row[family], row[tradeFamily], row[subfamily], row[tribe]);
            return Row(row, borrowing.For(genus, place, row[region], Wingspan(row[wingspan])), borrowing.SharedHabits(genus, place), "");
        }

        public NameRow Row(string[] row, LifeHistory life, IReadOnlyList<string> habits, string lifeNotes)
        {
            var remarks = new List<string>();
            var ambiguous = new List<AmbiguousName>();
            var source = "from memory";
            foreach (var note in row[notes].Split(" | ", StringSplitOptions.RemoveEmptyEntries))
            {
                if (note.StartsWith("checked in: ", StringComparison.Ordinal))
                    source = CheckedIn(note["checked in: ".Length..]);
                else if (note.StartsWith("ambiguous_with: ", StringComparison.Ordinal))
                    ambiguous.AddRange(note["ambiguous_with: ".Length..].Split("; ").Select(Ambiguity));
                else if (!note.StartsWith("english_shared: ", StringComparison.Ordinal))
                    remarks.Add(note);
            }

            if (source == "from memory" && row[confidence] == "checked")
                source = "checked in public lists";
            var cocoon = row[kind] == "cocoon" ? PostedKind.Cocoon : PostedKind.Pupa;
            var appendix = row[cites] == "none" ? "" : row[cites];
            if (lifeNotes.Length > 0)
                remarks.Add(lifeNotes);
            var taxon = new Taxon
            {
                Name = row[name],
                Authority = row[authority],
                Family = row[family],
                TradeFamily = row[tradeFamily],
                Subfamily = row[subfamily],
                Tribe = row[tribe],
                Region = row[region],
                CommonNames = Parts(row[english]),
                OtherCommonNames = Parts(row[otherLanguages]),
                Synonyms = [.. Parts(row[otherNames]), .. Parts(row[alsoTreatedAs])],
                Forms = Parts(row[forms]),
                CitesAppendix = appendix,
                Kind = cocoon,
                Tags = Tagging.Tags(habits, row[region], appendix, cocoon, life.WingspanMm?.Value),
                Notes = string.Join(". ", remarks.Select(r => r.TrimEnd('.'))),
                NameSource = source,
                TradedOften = row[traded] == "often",
                Life = life,
            };
            return new NameRow(taxon, Parts(row[alsoTreatedAs]), Parts(row[misspellings]), ambiguous);
        }

        // The table of life histories is no check on the table of names.
        private static string CheckedIn(string lists)
        {
            const string own = "species.csv";
            var others = lists.StartsWith(own, StringComparison.Ordinal) ? lists[own.Length..].TrimStart(',', ' ') : lists;
            return others.Length == 0 ? "from memory" : $"checked in {others}";
        }

        // "Papilio ajax [also Papilio polyxenes]", "… [accepted name of another row]", "… [a name with no row of its own here]"
        private static AmbiguousName Ambiguity(string note)
        {
            var bracket = note.IndexOf(" [", StringComparison.Ordinal);
            var (printed, what) = (note[..bracket], note[(bracket + 2)..^1]);
            return new AmbiguousName(printed, what switch
            {
                "accepted name of another row" => [printed],
                "a name with no row of its own here" => [],
                _ => what["also ".Length..].Split(", "),
            });
        }

        private static Sourced<WholeRange>? Wingspan(string cell)
        {
            if (cell.Length == 0)
                return null;
            return new Sourced<WholeRange>(Range(cell), "LepTraits 1.0 consensus table (Shirey et al. 2022)", Confidence.Published);
        }
    }
}

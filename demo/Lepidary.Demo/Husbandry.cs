namespace Lepidary.Demo;

/// <summary>Cages, climate and the breeding corner.</summary>
internal static class Husbandry
{
    private static readonly HashSet<string> Large =
        ["Morpho", "Caligo", "Charaxes", "Papilio", "Parides", "Pachliopta", "Atrophaneura", "Battus", "Graphium", "Archaeoprepona", "Historis", "Opsiphanes"];

    /// <summary>Species bred in the corner: bought ones are sexed and some are set aside for pairing.</summary>
    private static readonly Dictionary<string, double> Bred = new()
    {
        ["Heliconius melpomene"] = 8.4,
        ["Heliconius hecale"] = 8.8,
        ["Dryas iulia"] = 7.6,
        ["Papilio memnon"] = 13.4,
        ["Idea leuconoe"] = 11.6,
    };

    public static bool IsBred(string taxon) => Bred.ContainsKey(taxon);

    /// <summary>Days from hanging an own pupa, a day old, to emergence.</summary>
    public static double OwnPupaDays(string taxon) => Bred[taxon];

    public static char CageOf(string taxon) => taxon.Split(' ')[0] switch
    {
        "Attacus" or "Actias" => 'C',
        string genus when Large.Contains(genus) => 'B',
        _ => 'A',
    };

    public static int RowsOf(char cage) => cage switch { 'A' => 24, 'B' => 20, _ => 6 };

    /// <summary>The broods of the ten weeks and the lots they gave.</summary>
    public static void Broods(History history, Func<string, string?, Supplier?, string?, int, int, decimal?, string> hang)
    {
        Add("Heliconius melpomene", "Bench 1", -48, "Passiflora menispermifolia", null,
            [(-48, 62, 0, 0), (-43, 8, 47, 0), (-37, 0, 44, 0), (-31, 0, 39, 0), (-27, 0, 20, 17), (-24, 0, 1, 35)], [(-27, 17), (-24, 18)]);
        Add("Idea leuconoe", "Bench 2", -47, "Parsonsia", null,
            [(-47, 40, 0, 0), (-41, 3, 31, 0), (-34, 0, 29, 0), (-27, 0, 28, 0), (-20, 0, 12, 14), (-16, 0, 1, 25)], [(-20, 14), (-16, 11)]);
        Add("Papilio memnon", "Bench 3", -41, "Citrus", "lost a tray to a soft rot; tray scrubbed, bench rested a week",
            [(-41, 36, 0, 0), (-35, 5, 24, 0), (-28, 0, 23, 0), (-21, 0, 15, 0), (-12, 0, 6, 8), (-8, 0, 0, 14)], [(-12, 8), (-8, 6)]);
        Add("Dryas iulia", "Bench 1", -36, "Passiflora biflora", null,
            [(-36, 50, 0, 0), (-31, 4, 41, 0), (-24, 0, 38, 0), (-19, 0, 6, 30)], [(-19, 30)]);
        Add("Heliconius melpomene", "Bench 1", -24, "Passiflora menispermifolia", "from the first own generation",
            [(-24, 70, 0, 0), (-19, 6, 58, 0), (-12, 0, 55, 0), (-5, 0, 31, 22), (-2, 0, 12, 40)], [(-5, 22), (-2, 18)]);
        Add("Idea leuconoe", "Bench 2", -31, "Parsonsia", null,
            [(-31, 45, 0, 0), (-25, 2, 38, 0), (-17, 0, 36, 0), (-10, 0, 35, 0), (-4, 0, 14, 19)], [(-4, 19)]);
        Add("Heliconius hecale", "Bench 4", -13, "Passiflora vitifolia", "from two pairings in the corner",
            [(-13, 38, 0, 0), (-8, 5, 28, 0), (-2, 0, 27, 0)], []);

        void Add(string taxon, string place, int day, string food, string? remark, (int Day, int Eggs, int Larvae, int Pupae)[] counts, (int Day, int Pupae)[] lots)
        {
            string id = $"B{history.Broods.Count + 1}";
            history.Broods.Add(new(id, taxon, place, day, food, remark, [.. counts.Select(c => new History.BroodCount(c.Day, "Marit", c.Eggs, c.Larvae, c.Pupae))]));
            foreach ((int hung, int pupae) in lots)
            {
                hang(taxon, null, null, id, hung, pupae, null);
            }
        }
    }

    /// <summary>Morning and afternoon readings, with three dry days in Cage B.</summary>
    public static void ReadClimate(History history, int firstDay)
    {
        (string Place, double Temperature, double Humidity)[] places =
            [("Cage A", 26.5, 80), ("Cage B", 26.0, 78), ("Cage C", 25.0, 72), ("Palm hall", 25.5, 74), ("Breeding corner", 26.5, 70)];
        for (int day = firstDay; day <= 0; day++)
        {
            Chance chance = new(Truth.Seed, "climate", day);
            double front = chance.Bell();
            foreach ((string time, double warmer) in new[] { ("08:30", -1.2), ("15:30", 1.2) })
            {
                foreach ((string place, double temperature, double humidity) in places)
                {
                    bool dry = place == "Cage B" && day >= Truth.DrySpell.From && day <= Truth.DrySpell.To;
                    double hall = place == "Palm hall" ? 0.9 : 0.3;
                    double t = temperature + warmer + (hall * front) + (0.4 * chance.Bell()) + (dry ? 2.5 : 0);
                    double h = humidity - (2 * warmer) + (3 * chance.Bell()) - (dry ? 30 : 0);
                    history.Readings.Add(new(place, day, time, decimal.Round((decimal)t, 1), (int)Math.Clamp(h + 0.5, 30, 97)));
                }
            }
        }
    }
}

using System.Globalization;
using System.Text;
using Lepidary.Planning.Model;
using Lepidary.Science.Counts;

namespace Lepidary.Bench.Planning;

/// <summary>
/// The same order week as another solver would be given it: numbers of packs as whole numbers, shortages as chords over the mean. Rates must be
/// known, so that groups are linear in the numbers. Free MPS.
/// </summary>
internal sealed class CompactForm
{
    private readonly PlanModel model;
    private readonly List<(string Name, double Cost, double Lower, double Upper, bool Whole, List<(int Row, double Value)> Entries)> columns = [];
    private readonly List<(char Kind, double Right)> rows = [];
    private readonly List<(int Column, Item Item)> numbers = [];

    public CompactForm(PlanModel model)
    {
        this.model = model;
        var slots = Slots();
        var budget = double.IsInfinity(model.Budget) ? -1 : Row('L', model.Budget);
        foreach (var (column, landed) in slots.Costs)
        {
            if (budget >= 0)
                columns[column].Entries.Add((budget, landed));
        }

        var rooms = model.Rooms.Select(r => Row('L', r.Room)).ToArray();
        foreach (var item in model.Items)
            Number(item, slots, budget, rooms);
        foreach (var block in model.Blocks)
            Wishes(block);
        Groups();
    }

    /// <summary>Rows.</summary>
    public int RowCount => rows.Count;

    /// <summary>Columns.</summary>
    public int ColumnCount => columns.Count;

    /// <summary>Writes the model.</summary>
    public void Write(string file)
    {
        var text = new StringBuilder("NAME week\nROWS\n N cost\n");
        for (var r = 0; r < rows.Count; r++)
            text.Append(CultureInfo.InvariantCulture, $" {rows[r].Kind} r{r}\n");
        text.Append("COLUMNS\n");
        var whole = false;
        foreach (var c in columns)
        {
            if (c.Whole != whole)
                text.Append(CultureInfo.InvariantCulture, $" m{text.Length} 'MARKER' '{((whole = c.Whole) ? "INTORG" : "INTEND")}'\n");
            if (c.Cost != 0)
                text.Append(CultureInfo.InvariantCulture, $" {c.Name} cost {c.Cost:R}\n");
            foreach (var (row, value) in c.Entries.GroupBy(e => e.Row).Select(g => (g.Key, g.Sum(e => e.Value))).Where(e => e.Item2 != 0))
                text.Append(CultureInfo.InvariantCulture, $" {c.Name} r{row} {value:R}\n");
        }

        if (whole)
            text.Append(" mend 'MARKER' 'INTEND'\n");
        text.Append("RHS\n");
        for (var r = 0; r < rows.Count; r++)
        {
            if (rows[r].Right != 0)
                text.Append(CultureInfo.InvariantCulture, $" rhs r{r} {rows[r].Right:R}\n");
        }

        text.Append("BOUNDS\n");
        foreach (var c in columns.Where(c => !double.IsInfinity(c.Upper)))
            text.Append(CultureInfo.InvariantCulture, $" UP bnd {c.Name} {c.Upper:R}\n");
        text.Append("ENDATA\n");
        File.WriteAllText(file, text.ToString());
    }

    /// <summary>Pupae by item from the values of the columns, by name or by number from 1.</summary>
    public int[] Order(IReadOnlyDictionary<string, double> byName)
    {
        var pupae = new int[model.Items.Count];
        foreach (var (column, item) in numbers)
        {
            var value = byName.GetValueOrDefault(columns[column].Name, byName.GetValueOrDefault((column + 1).ToString(CultureInfo.InvariantCulture)));
            pupae[item.Index] += (int)Math.Round(value) * item.Offer.Pack;
        }

        return pupae;
    }

    private int Row(char kind, double right)
    {
        rows.Add((kind, right));
        return rows.Count - 1;
    }

    private int Column(double cost, double upper, bool whole, params (int Row, double Value)[] entries)
    {
        columns.Add((string.Create(CultureInfo.InvariantCulture, $"x{columns.Count}"), cost, 0, upper, whole, [.. entries]));
        return columns.Count - 1;
    }

    private sealed record SlotRows(Dictionary<int, int> Opened, Dictionary<int, List<(bool ByGoods, int[] Rows)>> Measures, List<(int Column, double Landed)> Costs);

    private SlotRows Slots()
    {
        var found = new SlotRows([], [], []);
        foreach (var slot in model.Slots.Where(s => !s.IsFree))
        {
            var opened = Column(slot.OrderCharge, 1, true);
            found.Costs.Add((opened, slot.OrderCharge));
            found.Opened[slot.Index] = opened;
            var measures = new List<(bool, int[])>();
            if (slot.Supplier.MinimumPupae > 1)
            {
                var row = Row('G', 0);
                columns[opened].Entries.Add((row, -slot.Supplier.MinimumPupae));
                measures.Add((false, [row]));
            }

            var most = (double)model.Items.Where(i => i.Slot == slot).Sum(i => i.Choices[^1]);
            foreach (var ladder in slot.Ladders)
            {
                var (sum, low, high) = (Row('E', 0), Row('G', 0), Row('L', 0));
                columns[opened].Entries.Add((sum, -1));
                for (var step = 0; step < ladder.From.Length && ladder.From[step] <= most; step++)
                {
                    var at = Column(ladder.Cost[step], 1, true, (sum, 1), (low, -Math.Max(1, ladder.From[step])), (high, -ladder.Top(step, most)));
                    found.Costs.Add((at, ladder.Cost[step]));
                }

                measures.Add((ladder.ByGoods, [low, high]));
            }

            found.Measures[slot.Index] = measures;
        }

        return found;
    }

    // Whole packs; a switch where there is a minimum or a delivery to open; one number for each price.
    private void Number(Item item, SlotRows slots, int budget, int[] rooms)
    {
        var offer = item.Offer;
        var steps = offer.Breaks.Select(b => (b.From, b.Price)).Prepend((From: 1, offer.Price)).ToList();
        var least = item.Choices.First(c => c > 0);
        var most = item.Choices[^1];
        var links = new List<int>();
        for (var s = 0; s < steps.Count; s++)
        {
            var from = Math.Max(least, steps[s].From);
            var to = s + 1 < steps.Count ? Math.Min(most, steps[s + 1].From - 1) : most;
            from = (from + offer.Pack - 1) / offer.Pack * offer.Pack;
            to = to / offer.Pack * offer.Pack;
            if (to < from)
                continue;
            var landed = (double)steps[s].Price * item.Slot.GoodsFactor * offer.Pack;
            var (low, high) = (Row('G', 0), Row('L', 0));
            var n = Column(landed, to / offer.Pack, true, (low, 1), (high, 1));
            numbers.Add((n, item));
            var use = Column(0, 1, true, (low, -from / offer.Pack), (high, -to / offer.Pack));
            links.Add(use);
            if (budget >= 0)
                columns[n].Entries.Add((budget, landed));
            for (var r = 0; r < rooms.Length; r++)
                columns[n].Entries.Add((rooms[r], model.Rooms[r].Takes(item) * offer.Pack));
            foreach (var (byGoods, of) in slots.Measures.GetValueOrDefault(item.Slot.Index) ?? [])
            {
                foreach (var row in of)
                    columns[n].Entries.Add((row, byGoods ? (double)steps[s].Price * offer.Pack : offer.Pack));
            }
        }

        var link = Row('L', slots.Opened.ContainsKey(item.Slot.Index) ? 0 : 1);
        foreach (var use in links)
            columns[use].Entries.Add((link, 1));
        if (slots.Opened.TryGetValue(item.Slot.Index, out var opened))
            columns[opened].Entries.Add((link, -1));
    }

    private void Wishes(Block block)
    {
        foreach (var wish in block.Wishes)
        {
            var chance = block.Items.Max(i => i.Flies[wish.Day]);
            var own = new double[wish.Wanted];
            block.OwnBelow(wish.Day, own);
            double Short(int pupae)
            {
                var below = (double[])own.Clone();
                CountsBelow.AddBinomial(below, pupae, chance);
                return CountsBelow.Shortfall(below);
            }

            var shortage = Column(wish.Worth, double.PositiveInfinity, false);
            var most = block.Items.Sum(i => i.Choices[^1]);
            // Chords between about ten points where the shortage bends.
            var last = 0;
            while (last < most && Short(last) > 1e-2)
                last++;
            var step = Math.Max(1, last / 10);
            for (var n = 0; chance > 0 && n < Math.Max(1, last); n += step)
            {
                var (here, next) = (Short(n), Short(n + step));
                var slope = (next - here) / (chance * step);
                var row = Row('G', here - (slope * n * chance));
                columns[shortage].Entries.Add((row, 1));
                AddNumbers(row, block.Items, i => -slope * i.Flies[wish.Day]);
            }

            if (chance <= 0)
                columns[shortage].Entries.Add((Row('G', Short(0)), 1));
        }
    }

    private void Groups()
    {
        var presence = new Dictionary<(int Block, int Day), int>();
        for (var g = 0; g < model.GroupDays.Count; g++)
        {
            var day = model.GroupDays[g];
            var members = model.Blocks.Where(b => b.GroupDays.Contains(g)).ToList();
            var shortage = Column(day.Worth, double.PositiveInfinity, false);
            foreach (var plane in day.Planes)
            {
                var row = Row('G', plane.At(day.OwnMean, day.OwnVariance));
                columns[shortage].Entries.Add((row, 1));
                foreach (var block in members)
                {
                    if (day.CountsSpecies)
                    {
                        if (!presence.TryGetValue((block.Index, day.Day), out var present))
                            presence[(block.Index, day.Day)] = present = Presence(block, day.Day);
                        // The spread of presence is left at a usual value.
                        columns[present].Entries.Add((row, plane.MeanFactor - (0.15 * plane.VarianceFactor)));
                        continue;
                    }

                    AddNumbers(row, block.Items, i => i.Groups[day.Group] is { } share
                        ? (plane.MeanFactor * share.Mean[day.Day]) - (plane.VarianceFactor * share.Mean[day.Day] * (1 - share.Mean[day.Day])) : 0);
                }
            }
        }
    }

    // Chance that any flies: concave in the numbers, so six tangents from above.
    private int Presence(Block block, int day)
    {
        var own = new double[1];
        block.OwnBelow(day, own);
        var present = Column(0, 1, false);
        foreach (var at in new[] { 0, 0.5, 1.1, 1.9, 3, 4.6 })
        {
            var absent = own[0] * Math.Exp(-at);
            var row = Row('L', 1 - absent - (absent * at));
            columns[present].Entries.Add((row, 1));
            AddNumbers(row, block.Items, i => absent * Math.Log(1 - Math.Min(0.999999, i.Flies[day])));
        }

        return present;
    }

    private void AddNumbers(int row, Item[] items, Func<Item, double> perPupa)
    {
        foreach (var (column, item) in numbers)
        {
            if (items.Contains(item) && perPupa(item) is var value && value != 0)
                columns[column].Entries.Add((row, value * item.Offer.Pack));
        }
    }
}

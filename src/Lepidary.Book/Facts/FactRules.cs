using System.Globalization;

namespace Lepidary.Book;

/// <summary>
/// What no keeper can have seen: a day that has not come, fewer than none, more than any box holds. Such a row is a slip of the
/// finger and goes back to be mended. What merely does not balance is kept and shown.
/// </summary>
internal static class FactRules
{
    /// <summary>Above any lot, walk or release that there has been.</summary>
    internal const int MostAnimals = 100_000;

    internal static IReadOnlyList<Problem> Check(Fact fact, IReadOnlyDictionary<Guid, House> houses, DateTimeOffset now)
    {
        var found = new List<Problem>();
        if (fact.Id == Guid.Empty)
        {
            found.Add(new("id", "nothing", "the key that the device gave the row"));
        }

        if (!houses.TryGetValue(fact.HouseId, out var house))
        {
            found.Add(new("house", fact.HouseId.ToString(), "a house of this book"));
        }
        else if (house.DayAt(now) is var today && fact.OnDay > today.AddDays(1))
        {
            // A day ahead is a wrong clock or a house across the date line; it is kept.
            found.Add(new("day", Text(fact.OnDay), $"{Text(today)} or a day before it; that is today in {house.Name}"));
        }

        foreach (var (where, count) in Counts(fact))
        {
            if (count is < 0 or > MostAnimals)
            {
                found.Add(new(where, count.ToString(CultureInfo.InvariantCulture), $"a whole number from 0 to {MostAnimals}"));
            }
        }

        CheckKind(fact, found);
        return found;
    }

    private static IEnumerable<(string Where, int Count)> Counts(Fact fact) => fact switch
    {
        Entry entry =>
        [
            ("males", entry.EmergedMale), ("females", entry.EmergedFemale), ("emerged, sex not told", entry.EmergedUnsexed),
            ("crippled", entry.Crippled), ("dead", entry.Dead), ("parasitised", entry.Parasitised), ("missing", entry.Missing),
        ],
        Transfer transfer => [("pupae", transfer.Count)],
        Recount recount => [("difference", Math.Abs((long)recount.Difference) > MostAnimals ? int.MinValue : 0)],
        Release release => [("males", release.Male), ("females", release.Female), ("sex not told", release.Unsexed)],
        FoundDead dead => [("found dead", dead.Count)],
        Walk walk => [("minutes", walk.Minutes), .. walk.Counts.Select(count => (count.Taxon, count.Count))],
        Delivery delivery => [.. delivery.Lines.SelectMany(Counts), .. delivery.Lots.Select(lot => (lot.Taxon, lot.Received))],
        LotSource source => source.Lots.Select(lot => (lot.Taxon, lot.Received)),
        _ => [],
    };

    private static IEnumerable<(string Where, int Count)> Counts(DeliveryLine line) =>
    [
        ($"{line.Taxon}, ordered", line.Ordered ?? 0), ($"{line.Taxon}, on the note", line.Noted ?? 0), ($"{line.Taxon}, alive", line.Alive),
        ($"{line.Taxon}, dead", line.Dead), ($"{line.Taxon}, damaged", line.Damaged), ($"{line.Taxon}, emerged in the box", line.Emerged),
        ($"{line.Taxon}, wrong species", line.WrongSpecies), ($"{line.Taxon}, coloured up", line.ColouredUp),
        .. line.Layers.SelectMany(layer => new[] { layer.Alive, layer.Dead, layer.Damaged, layer.Emerged, layer.WrongSpecies, layer.ColouredUp }).OfType<int>().Select(count => ($"{line.Taxon}, in a layer", count)),
        ($"{line.Taxon}, looked at", line.Estimate?.Counted ?? 0), ($"{line.Taxon}, at least", line.Estimate?.From ?? 0), ($"{line.Taxon}, at most", line.Estimate?.To ?? 0),
    ];

    private static void CheckKind(Fact fact, List<Problem> found)
    {
        switch (fact)
        {
            case Voiding { VoidsId: null }:
                found.Add(new("voids", "nothing", "the key of the row to take back"));
                break;
            case Reading { TemperatureC: null, HumidityPercent: null }:
                found.Add(new("reading", "nothing", "a temperature, a humidity or both"));
                break;
            case Reading { TemperatureC: < -50 or > 80 or double.NaN } reading:
                found.Add(new("temperature", Text(reading.TemperatureC.Value), "degrees Celsius from -50 to 80"));
                break;
            case Reading { HumidityPercent: < 0 or > 100 or double.NaN } reading:
                found.Add(new("humidity", Text(reading.HumidityPercent.Value), "percent from 0 to 100"));
                break;
            case Walk { TemperatureC: < -50 or > 80 or double.NaN } walk:
                found.Add(new("temperature", Text(walk.TemperatureC.Value), "degrees Celsius from -50 to 80"));
                break;
            case Walk { SunPercent: < 0 or > 100 } walk:
                found.Add(new("sun", Text(walk.SunPercent.Value), "percent from 0 to 100"));
                break;
            case Walk { Beaufort: < 0 or > 12 } walk:
                found.Add(new("wind", Text(walk.Beaufort.Value), "a force from 0 to 12"));
                break;
            case Walk { Sections: not null } walk when walk.Counts.Exists(count => count.Section is { } section && (section < 1 || section > walk.Sections)):
                found.Add(new("section", "a section that the path has not", $"1 to {walk.Sections}"));
                break;
            case MarkedAdult marked when marked.Mark.Trim() != marked.Mark || marked.Mark.Length is 0 or > MarkedAdult.LongestMark:
                found.Add(new("mark", marked.Mark.Length == 0 ? "nothing" : marked.Mark, $"what is written on the wing, at most {MarkedAdult.LongestMark} signs, as A17"));
                break;
            case Photo photo when !PhotoShelf.Types.Contains(photo.MediaType):
                found.Add(new("photo", photo.MediaType, $"one of {string.Join(", ", PhotoShelf.Types)}"));
                break;
            case Photo photo when photo.Sha256.Length != 64 || !photo.Sha256.All(char.IsAsciiHexDigitLower):
                found.Add(new("photo", photo.Sha256, "the SHA-256 of its bytes in 64 small hexadecimal digits"));
                break;
            case Delivery delivery when delivery.Lines.Find(line => line.NotedPrice is < 0) is { } line:
                found.Add(new($"{line.Taxon}, price on the note", line.NotedPrice!.Value.ToString(CultureInfo.InvariantCulture), "money, at least 0"));
                break;
            case LotSource { Lots.Count: > 0 } source:
                found.AddRange(source.Lots.Where(lot => lot.HouseId != source.HouseId)
                    .Select(lot => new Problem($"lot of {lot.Taxon}", lot.HouseId.ToString(), "the house of the fact that brings it")));
                break;
            default:
                break;
        }

        if (fact.VoidsId == fact.Id)
        {
            found.Add(new("voids", "its own key", "the key of another row"));
        }
    }

    private static string Text(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Text(double number) => number.ToString(CultureInfo.InvariantCulture);
}

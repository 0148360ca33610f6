using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Lepidary.Demo;

/// <summary>What the house wrote down in ten weeks; demo/README.md says what each field means.</summary>
internal sealed class History
{
    /// <summary>Day 0: the Friday of the unread lists.</summary>
    public static readonly DateOnly OrderDate = new(2026, 11, 27);

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public List<ListRead> Lists { get; } = [];

    public List<Order> Orders { get; } = [];

    public List<Delivery> Deliveries { get; } = [];

    public List<Brood> Broods { get; } = [];

    public List<Lot> Lots { get; } = [];

    public List<Entry> Entries { get; } = [];

    public List<Release> Releases { get; } = [];

    public List<FoundDead> FoundDead { get; } = [];

    public List<Walk> Walks { get; } = [];

    public List<Reading> Readings { get; } = [];

    /// <summary>JSON with one fact a line, so that a change shows as the lines it touches.</summary>
    public byte[] ToJson()
    {
        StringBuilder text = new();
        text.Append("{\n\"orderDay\": 0,\n\"orderDate\": \"").Append(OrderDate.ToString("O", CultureInfo.InvariantCulture)).Append("\",\n");
        Section("lists", Lists);
        Section("orders", Orders);
        Section("deliveries", Deliveries);
        Section("broods", Broods);
        Section("lots", Lots);
        Section("entries", Entries);
        Section("releases", Releases);
        Section("foundDead", FoundDead);
        Section("walks", Walks);
        Section("readings", Readings);
        text.Length -= 2;
        text.Append("\n}\n");
        return Encoding.UTF8.GetBytes(text.ToString());

        void Section<T>(string name, List<T> facts) =>
            text.Append('"').Append(name).Append("\": [\n")
                .AppendJoin(",\n", facts.Select(fact => JsonSerializer.Serialize(fact, Json))).Append("\n],\n");
    }

    internal sealed record ListRead(string Supplier, int Day, string File);

    internal sealed record OrderLine(string Taxon, string? Form, string Printed, int Pupae, decimal Price);

    internal sealed record Order(string Supplier, int Day, string Who, int Arrives, string? Remark, List<OrderLine> Lines);

    internal sealed record DeliveryLine(
        string Taxon, int Ordered, int Noted, int Alive, int Dead, int Damaged, int Emerged, int Wrong, string? Remark, string? Lot);

    internal sealed record Delivery(
        string Supplier, int Ordered, int Day, string Time, string Who, string Box, string Condition, List<DeliveryLine> Lines);

    internal sealed record BroodCount(int Day, string Who, int Eggs, int Larvae, int Pupae);

    internal sealed record Brood(string Id, string Taxon, string Place, int Day, string Food, string? Remark, List<BroodCount> Counts);

    internal sealed record Lot(
        string Id, string Taxon, string? Form, string? Supplier, string? Brood, int Day, int Received, string Cage, string Row,
        decimal? UnitCost);

    internal sealed record Entry(
        string Lot, int Day, string Time, string Who,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] int EmergedMale,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] int EmergedFemale,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] int EmergedUnsexed,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] int Crippled,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] int Dead,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] int Parasitised,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] int Missing,
        string? Note)
    {
        [JsonIgnore]
        public int Total => EmergedMale + EmergedFemale + EmergedUnsexed + Crippled + Dead + Parasitised + Missing;
    }

    internal sealed record Release(
        string Lot, int Day, string Time, string Who,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] int Male,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] int Female,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] int Unsexed,
        string To);

    internal sealed record Walk(string Path, int Day, string Start, int Minutes, string Weather, string Who, List<Sighting> Counts);

    internal sealed record Sighting(string Taxon, int Count);

    internal sealed record Reading(string Place, int Day, string Time, decimal Temperature, int Humidity);
}

/// <summary>A dead adult or several that somebody picked up.</summary>
internal sealed record FoundDead(string Taxon, string Area, int Day, int Count, string Who);

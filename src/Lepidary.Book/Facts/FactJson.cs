using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Lepidary.Book;

/// <summary>
/// Facts as JSON: what devices send, and what tells whether two rows say the same. A fact's kind stands in <c>kind</c>, names are in
/// camel case, what is null is left out.
/// </summary>
public static class FactJson
{
    /// <summary>The options that <c>Deserialize&lt;Fact&gt;</c> needs.</summary>
    public static JsonSerializerOptions Options { get; } = Make();

    /// <summary>One fact as JSON.</summary>
    public static string Write(Fact fact) => JsonSerializer.Serialize(fact, Options);

    /// <summary>
    /// The same text for two rows that say the same, whichever database one of them has passed through: times and numbers as the
    /// book keeps them, rows below a fact by their keys.
    /// </summary>
    internal static string Canonical(Fact fact)
    {
        switch (fact)
        {
            case Delivery delivery:
                delivery.Lines.Sort((a, b) => a.Id.CompareTo(b.Id));
                delivery.Lots.Sort((a, b) => a.Id.CompareTo(b.Id));
                break;
            case LotSource source:
                source.Lots.Sort((a, b) => a.Id.CompareTo(b.Id));
                break;
            case Walk walk:
                walk.Counts.Sort((a, b) => a.Id.CompareTo(b.Id));
                break;
            default:
                break;
        }

        return Write(fact);
    }

    internal static string Sha256(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    private static JsonSerializerOptions Make()
    {
        var options = new JsonSerializerOptions(JsonSerializerDefaults.Web)
        {
            DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
            AllowOutOfOrderMetadataProperties = true,
            NumberHandling = JsonNumberHandling.Strict,
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        };
        options.Converters.Add(new JsonStringEnumConverter());
        options.Converters.Add(new KeptTime());
        options.Converters.Add(new KeptNumber());
        options.MakeReadOnly(populateMissingResolver: true);
        return options;
    }

    private sealed class KeptTime : JsonConverter<DateTimeOffset>
    {
        public override DateTimeOffset Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            ProviderDifferences.Kept(reader.GetDateTimeOffset());

        public override void Write(Utf8JsonWriter writer, DateTimeOffset value, JsonSerializerOptions options) =>
            writer.WriteStringValue(ProviderDifferences.Kept(value).UtcDateTime);
    }

    private sealed class KeptNumber : JsonConverter<decimal>
    {
        public override decimal Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            ProviderDifferences.Kept(reader.GetDecimal());

        public override void Write(Utf8JsonWriter writer, decimal value, JsonSerializerOptions options) =>
            writer.WriteNumberValue(ProviderDifferences.Kept(value));
    }
}

using Microsoft.AspNetCore.Mvc;

namespace Lepidary.App.Lists;

/// <summary>What the keeper says of a line, as its form sends it.</summary>
/// <param name="Key">Made when the keeper was asked.</param>
/// <param name="Made">When the keeper was asked.</param>
/// <param name="Text">The line as printed.</param>
/// <param name="Said">The whole of it in one word, or null where the fields say it.</param>
/// <param name="Species">Of a line that was not read as an offer.</param>
/// <param name="Price">Of one.</param>
/// <param name="Hand">Pupae on hand.</param>
/// <param name="Pack">Pupae a pack.</param>
/// <param name="Fewest">Fewest pupae.</param>
/// <param name="Why">A doubt, to say it of every line that is in doubt for this alone; null for this line only.</param>
/// <param name="Gone">True when it is sold out.</param>
internal sealed record LineForm(
    [FromForm] Guid Key, [FromForm] DateTimeOffset Made, [FromForm] string Text, [FromForm] string? Said, [FromForm] string? Species, [FromForm] string? Price, [FromForm] string? Hand, [FromForm] string? Pack, [FromForm] string? Fewest, [FromForm] string? Why, [FromForm] bool? Gone)
{
    /// <summary>In the words in which the reader of lists takes it.</summary>
    /// <param name="species">What <see cref="Species"/> means, or null.</param>
    public string Meaning(string? species)
    {
        if (!string.IsNullOrWhiteSpace(Said))
        {
            return Said;
        }

        return string.Join("; ", from field in (IEnumerable<(string Word, string? Value)>)[("species", species), ("price", Price), ("hand", Hand), ("pack", Pack), ("fewest", Fewest), ("sold", Gone == true ? "out" : null)]
                                 where !string.IsNullOrWhiteSpace(field.Value)
                                 select $"{field.Word} {field.Value.Trim()}");
    }
}

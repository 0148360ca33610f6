using System.Text.Json.Serialization;
using Lepidary.App.Host;
using Lepidary.App.Photos;
using Lepidary.App.Rounds;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Deliveries;

/// <summary>A line of a box as it was counted.</summary>
public sealed record BoxRow(string Taxon, string? Form, int? Ordered, int? Noted, int Alive, int Dead, int Damaged, int Emerged, int WrongSpecies, int ColouredUp, string? SubstituteFor, string? Remark, IReadOnlyList<BoxLayer> Layers, string? Estimate)
{
    /// <summary>What there is to say of the line: the remark, its layers, what a part or its weight tells.</summary>
    [JsonIgnore]
    public string? Said => string.Join("; ", new[] { Remark, BoxLayers.Words(Layers), Estimate }.Where(part => part is not null)) is { Length: > 0 } said ? said : null;
}

/// <summary>A lot that came out of a box, for its label.</summary>
public sealed record LabelRow(string Code, string Taxon, string? Form, int Pupae, string? Cage, string? Row, DateOnly HungOn, string Supplier, decimal? UnitLanded);

/// <summary>A step of a claim, in words.</summary>
public sealed record ClaimRow(Guid Id, string Words);

/// <summary>One box that was taken in.</summary>
internal sealed record DeliveryView
{
    public required Guid Id { get; init; }

    public required string Supplier { get; init; }

    public required string When { get; init; }

    public required DateOnly OnDay { get; init; }

    public string? BoxMark { get; init; }

    public string? Condition { get; init; }

    public string? NoteText { get; init; }

    public required string Who { get; init; }

    public required string Headline { get; init; }

    /// <summary>How the note differs from the order; null where it does not.</summary>
    public string? NoteAgainstOrder { get; init; }

    public required IReadOnlyList<BoxRow> Lines { get; init; }

    public required IReadOnlyList<LabelRow> Lots { get; init; }

    public required ClaimStanding Claim { get; init; }

    /// <summary>The claim as a letter; null where there is nothing to claim.</summary>
    [JsonIgnore]
    public ClaimLetter? Letter { get; init; }

    /// <summary>The letter as plain text.</summary>
    [JsonPropertyName("letter")]
    public string? LetterText => Letter?.Text();

    /// <summary>The claim's steps, the newest first.</summary>
    public required IReadOnlyList<ClaimRow> ClaimSteps { get; init; }

    /// <summary>What was credited of what was asked; null where nothing was.</summary>
    public string? Credit { get; init; }

    /// <summary>What the claim comes to in the supplier's currency; null where no price is known.</summary>
    public string? Asked { get; init; }

    /// <summary>Where to send it, or null.</summary>
    public string? SupplierEmail { get; init; }

    public required string Currency { get; init; }

    /// <summary>ISO 4217 of the house, for landed cost.</summary>
    public required string HouseCurrency { get; init; }

    public required IReadOnlyList<CageRoom> CagesOver { get; init; }

    public bool TakenBack { get; init; }

    /// <summary>What became of the packing, the newest first.</summary>
    public required IReadOnlyList<string> Packing { get; init; }

    public required IReadOnlyList<PhotoShown> Photos { get; init; }
}

/// <summary>Lays out one box that was taken in.</summary>
internal sealed class ShowDelivery(BookContext book, HouseDay day, OpenLots openLots, Places places, PhotosTaken photosTaken, ListedPrices listedPrices)
{
    /// <summary>The box; null where there is none.</summary>
    public async Task<DeliveryView?> Show(Guid id, CancellationToken cancellation)
    {
        var delivery = await book.Deliveries.AsNoTracking().AsSplitQuery().Include(delivery => delivery.Lines).Include(delivery => delivery.Lots)
            .FirstOrDefaultAsync(delivery => delivery.Id == id && delivery.HouseId == day.HouseId, cancellation);
        if (delivery is null)
        {
            return null;
        }

        var supplier = await book.Suppliers.AsNoTracking().Include(supplier => supplier.Terms.Where(terms => terms.HouseId == day.HouseId)).SingleAsync(supplier => supplier.Id == delivery.SupplierId, cancellation);
        var order = delivery.OrderId is null ? null : await book.Orders.AsNoTracking().Include(order => order.Lines).FirstOrDefaultAsync(order => order.Id == delivery.OrderId, cancellation);
        var terms = supplier.Terms.FirstOrDefault();
        var currency = order?.Currency ?? terms?.Currency ?? day.Currency;
        var claim = Claim.Of(delivery, order, terms?.ClaimWindowHours);
        var listed = claim.Lines.Any(line => line.UnitPrice is null) ? await listedPrices.Of(delivery, currency, cancellation) : null;
        claim = listed is null ? claim : Claim.Of(delivery, order, terms?.ClaimWindowHours, listed.Prices);
        var steps = await book.Standing<ClaimStep>(day.HouseId).Where(step => step.DeliveryId == id).ToListAsync(cancellation);
        var photos = await book.Standing<Photo>(day.HouseId).Where(photo => photo.AboutId == id).OrderBy(photo => photo.Arrival).ToListAsync(cancellation);
        var house = await places.House(cancellation);
        var hungIn = delivery.Lots.Select(lot => lot.CageId).OfType<Guid>().ToHashSet();
        var differences = Differences.Of(delivery.Lines);
        var alive = delivery.Lines.Sum(line => line.Alive);
        return new()
        {
            Id = id,
            Supplier = supplier.Name,
            SupplierEmail = supplier.Email,
            When = DayWords.Near(delivery.OnDay, day.Today),
            OnDay = delivery.OnDay,
            BoxMark = delivery.BoxMark,
            Condition = delivery.Condition,
            NoteText = delivery.NoteText,
            Who = delivery.Who,
            Headline = $"{alive} {(alive == 1 ? "pupa" : "pupae")} alive; {differences}",
            NoteAgainstOrder = Differences.NoteAgainstOrder(delivery.Lines),
            Lines = [.. delivery.Lines.OrderBy(line => line.Taxon, StringComparer.Ordinal).Select(line => new BoxRow(line.Taxon, line.Form, line.Ordered, line.Noted, line.Alive, line.Dead, line.Damaged, line.Emerged, line.WrongSpecies, line.ColouredUp, line.SubstituteFor, line.Remark, line.Layers, LineEstimates.Words(line)))],
            Lots = [.. delivery.Lots.Select(lot => new LabelRow(LotCode.Of(lot.Id), lot.Taxon, lot.Form, lot.Received, house.Cages.Find(cage => cage.Id == lot.CageId)?.Name, lot.Row, lot.HungOn, supplier.Name, lot.UnitLanded))
                .OrderBy(lot => lot.Cage ?? "", NaturalOrder.Instance).ThenBy(lot => lot.Row ?? "", NaturalOrder.Instance).ThenBy(lot => lot.Taxon, StringComparer.Ordinal)],
            Claim = ClaimWords.Of(claim, delivery.OnDay, steps, day),
            ClaimSteps = [.. steps.OrderByDescending(step => (step.OnDay, step.DeviceTime, step.Id)).Select(step => new ClaimRow(step.Id, ClaimWords.Of(step, currency, day)))],
            Credit = ClaimWords.Credit(steps, claim.Amount, currency),
            Asked = claim.Amount > 0 ? claim.Amount.ToString("0.00", System.Globalization.CultureInfo.InvariantCulture) : null,
            Letter = claim.Pupae > 0 ? ClaimLetter.Of(delivery, claim, house.Name, supplier.Name, order?.OnDay, listed?.OnDay, currency, photos, day) : null,
            Currency = currency,
            HouseCurrency = day.Currency,
            CagesOver = [.. (await CageRoom.Read(day, openLots, places, cancellation)).Where(cage => hungIn.Contains(cage.Id) && cage.Over > 0)],
            Packing = [.. (await book.Standing<PackingStep>(day.HouseId).Where(step => step.DeliveryId == id).ToListAsync(cancellation)).OrderByDescending(step => (step.OnDay, step.DeviceTime, step.Id))
                .Select(step => $"{step.State.ToString().ToLowerInvariant()} {DayWords.Near(step.OnDay, day.Today)}{(step.Who.Length == 0 ? "" : $" by {step.Who}")}{(step.Note is null ? "" : $": {step.Note}")}")],
            Photos = await photosTaken.Of(id, "The box", cancellation),
            TakenBack = await book.Facts.AnyAsync(fact => fact.VoidsId == id, cancellation),
        };
    }
}

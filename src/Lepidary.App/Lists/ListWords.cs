using Lepidary.Lists;

namespace Lepidary.App.Lists;

/// <summary>The reader's terms in the keeper's words.</summary>
internal static class ListWords
{
    /// <summary>What a column holds.</summary>
    public static string Holds(ColumnRole role) => role switch
    {
        ColumnRole.Unknown => "not understood",
        ColumnRole.Name => "the species",
        ColumnRole.Common => "the common name",
        ColumnRole.Genus => "the genus",
        ColumnRole.Epithet => "the species without its genus",
        ColumnRole.Form => "subspecies or form",
        ColumnRole.Family => "the family",
        ColumnRole.Origin => "where it is from",
        ColumnRole.Price => "the price",
        ColumnRole.OldPrice => "an old price",
        ColumnRole.Pack => "pupae a pack",
        ColumnRole.Minimum => "the fewest to order",
        ColumnRole.Available => "pupae on hand",
        ColumnRole.Quantity => "a number",
        ColumnRole.Order => "for the order",
        ColumnRole.Total => "number times price",
        ColumnRole.Note => "remarks",
        ColumnRole.Code => "the supplier's number",
        ColumnRole.Status => "there or sold out",
        ColumnRole.Currency => "the currency",
        ColumnRole.Kind => "pupa or cocoon",
        ColumnRole.Aside => "nothing that matters",
        _ => throw new InvalidOperationException($"Role {role}."),
    };
}

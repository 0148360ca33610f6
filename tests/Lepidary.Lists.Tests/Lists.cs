using System.Text;
using Lepidary.Taxa;

namespace Lepidary.Lists.Tests;

/// <summary>Reads lists written in a test.</summary>
internal static class Lists
{
    private static readonly NameFinder Names = new(TaxonTable.Shipped);

    public static DateOnly Today { get; } = new(2026, 11, 25);

    public static ReadOptions Options { get; } = new() { Names = Names };

    public static SupplierList Read(string text) => Read(text, Options);

    public static SupplierList Read(string text, ReadOptions options) => ListReader.Read(Encoding.UTF8.GetBytes(text), "list.txt", options).Value;

    public static Checked<SupplierList> Read(byte[] content) => ListReader.Read(content, "list", Options);

    public static Offer Only(string text) => Xunit.Assert.Single(Read(text).Offers);
}

using System.Globalization;
using System.Text;
using Xunit;

namespace Lepidary.Lists.Tests;

/// <summary>
/// Small lists, each in a convention of its own (price groups by letter, tiers as totals, reserved and free, records one below the other), each with
/// what a person reads off it below a line of signs: taxon, price for one, breaks, pack, minimum, number available or "out".
/// </summary>
public sealed class ConventionsTests
{
    private const string Below = "=====\n";

    private static string Folder => Path.Combine(AppContext.BaseDirectory, "Files", "conventions");

    public static TheoryData<string> Names => [.. Directory.EnumerateFiles(Folder, "*.txt").Select(file => Path.GetFileNameWithoutExtension(file)).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Read_listInAConventionOfItsOwn_isReadWithoutADoubt(string name)
    {
        var parts = File.ReadAllText(Path.Combine(Folder, name + ".txt")).Split(Below);

        var read = ListReader.Read(Encoding.UTF8.GetBytes(parts[0]), "list", Lists.Options, TestContext.Current.CancellationToken).Value;

        Assert.Equal(parts[1].Split('\n', StringSplitOptions.RemoveEmptyEntries), read.Offers.Select(Shown));
        Assert.All(read.Offers, offer => Assert.Empty(offer.Doubts));
    }

    private static string Shown(Offer offer)
    {
        var least = offer.Minimum is { } minimum && minimum > Math.Max(offer.Pack, 1) ? minimum : (int?)null;
        var breaks = string.Join(',', offer.Breaks.Select(step => $"{step.From}:{Money(step.Price)}"));
        return string.Create(CultureInfo.InvariantCulture, $"{offer.Taxon}|{Money(offer.Price)}|{breaks}|{(offer.Pack > 1 ? offer.Pack : null)}|{least}|{(offer.SoldOut ? "out" : offer.Available)}").TrimEnd('|');
    }

    private static string Money(decimal? price) => price?.ToString("0.00##", CultureInfo.InvariantCulture) ?? "";
}

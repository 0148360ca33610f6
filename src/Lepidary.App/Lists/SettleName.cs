using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Taxa;

namespace Lepidary.App.Lists;

/// <summary>The keeper says what a printed name means, once and for every list to come.</summary>
internal sealed class SettleName(FactInbox inbox, HouseDay day)
{
    /// <param name="key">Made when the keeper was asked.</param>
    /// <param name="printed">The name as printed.</param>
    /// <param name="taxon">What it means: a name of the table, or another well-formed binomial.</param>
    /// <param name="who">Who says so.</param>
    /// <param name="made">When the keeper was asked.</param>
    /// <param name="cancellation">Leaves it unwritten.</param>
    /// <param name="supplierId">On whose list it stands, or null.</param>
    public async Task<Checked<string>> Settle(Guid key, string printed, string taxon, string who, DateTimeOffset made, CancellationToken cancellation, Guid? supplierId = null)
    {
        var match = new NameFinder(TaxonTable.Shipped).Find(taxon, NameContext.None);
        var meant = TaxonTable.Shipped.Find(taxon) ?? (match.Doubts.Count == 0 ? match.Taxon : null);
        if (meant is null)
        {
            return new Problem("species", $"\"{taxon}\"", match.Candidates.Count > 0 ? $"a species; perhaps {string.Join(" or ", match.Candidates.Take(3).Select(candidate => candidate.Name))}" : "genus and species, as Morpho helenor");
        }

        var textKey = NameFinder.Normalise(printed);
        if (textKey.Length == 0)
        {
            return new Problem("name", "nothing", "the name as the list prints it");
        }

        var receipts = await inbox.ReceiveAsync([new SettledName { Id = key, HouseId = day.HouseId, OnDay = day.Today, DeviceTime = made, Who = who, TextKey = textKey, Taxon = meant.Name, SupplierId = supplierId }], cancellation);
        return receipts[0].Problems.Count > 0 ? receipts[0].Problems.ToArray() : meant.Name;
    }
}

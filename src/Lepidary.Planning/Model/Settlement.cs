using System.Globalization;

namespace Lepidary.Planning.Model;

/// <summary>Turns what suppliers answered into offers that are as settled as the answers.</summary>
internal static class Settlement
{
    /// <summary>
    /// The same problem with every settled line an offer of its own number and price: what comes instead is an offer too, and what was ordered
    /// and does not come is one of nothing. Doing it twice changes nothing.
    /// </summary>
    public static PlanProblem Of(PlanProblem problem)
    {
        if (problem.Settled.Count == 0)
            return problem;
        var settled = problem.Settled.ToLookup(s => s.Offer);
        var (offers, lines) = (new List<PlanOffer>(), new List<SettledLine>());
        foreach (var offer in problem.Offers)
        {
            if (!settled.Contains(offer.Id))
            {
                offers.Add(offer);
                continue;
            }

            var own = settled[offer.Id].Where(s => s.Instead is null).ToList();
            var agreed = own.FirstOrDefault(s => s.Pupae > 0);
            offers.Add(agreed is null ? offer : AsAgreed(offer, agreed));
            lines.AddRange(own.Count > 0 ? own : [new(offer.Id, settled[offer.Id].First().Arrives, 0)]);
            foreach (var instead in settled[offer.Id].Where(s => s.Instead is not null))
            {
                var id = InsteadId(instead);
                offers.Add(AsAgreed(offer, instead) with { Id = id, Taxon = instead.Instead, Mix = [], Text = instead.Instead! });
                lines.Add(instead with { Offer = id, Instead = null });
            }
        }

        var later = problem.Settled.Where(s => s.Pupae > 0).ToLookup(s => problem.Offers.First(o => o.Id == s.Offer).Supplier, s => s.Arrives);
        return problem with
        {
            Offers = offers,
            Settled = lines,
            Suppliers = [.. problem.Suppliers.Select(s => later.Contains(s.Name) ? s with { Arrives = [.. s.Arrives.Union(later[s.Name])] } : s)],
        };
    }

    /// <summary>Id of the offer that stands for what comes instead.</summary>
    public static string InsteadId(SettledLine line) =>
        string.Create(CultureInfo.InvariantCulture, $"{line.Offer} > {line.Instead} {line.Arrives:yyyy-MM-dd}");

    private static PlanOffer AsAgreed(PlanOffer offer, SettledLine line) => offer with
    {
        Price = line.UnitPrice ?? offer.Price,
        Breaks = line.UnitPrice is null ? offer.Breaks : [],
        Minimum = 0,
        Available = null,
        SoldOut = false,
    };
}

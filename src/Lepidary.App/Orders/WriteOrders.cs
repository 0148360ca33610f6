using Lepidary.App.Honesty;
using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Planning;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Orders;

/// <summary>Writes a proposal into the book: one order a supplier, drafted.</summary>
internal sealed class WriteOrders(BookContext book, HouseDay day, ProposeFromBook propose, KeepForecasts forecasts)
{
    /// <param name="key">Made when the keeper was asked: writing twice with one key writes once.</param>
    /// <param name="rules">What the keeper settled about lines.</param>
    /// <param name="shown">The lines as the keeper saw them, each <c>OFFER=PUPAE</c>; empty to write what is proposed now.</param>
    /// <param name="settings">As the proposal was shown.</param>
    /// <param name="who">Who orders.</param>
    /// <param name="cancellation">Leaves them unwritten.</param>
    /// <returns>Keys of the orders; empty where the proposal orders nothing.</returns>
    public async Task<Checked<IReadOnlyList<Guid>>> Write(Guid key, IReadOnlyList<string> rules, IReadOnlyList<string> shown, PlanSettings settings, string who, CancellationToken cancellation)
    {
        var proposed = await propose.Propose(rules, settings, cancellation);
        if (proposed.IsGood && shown.Count > 0 && !proposed.Value.Report.Lines.Where(line => !line.Settled).Select(Said).ToHashSet().SetEquals(shown))
        {
            // A search that the clock ended may end elsewhere the next time. What is written is what was seen.
            var others = proposed.Value.Task.Offers.Keys.Except(shown.Select(line => line[..line.LastIndexOf('=')])).Select(offer => offer + "=0");
            proposed = await propose.Propose([.. shown, .. others], settings, cancellation);
        }

        if (!proposed.IsGood)
        {
            return proposed.Problems.ToArray();
        }

        var (input, task, report) = proposed.Value;
        if (report.Problems.Count > 0)
        {
            return report.Problems.Select(problem => new Problem("order", problem, "wishes that can be met together")).ToArray();
        }

        var offerIds = await OfferIds(task, report, cancellation);
        // What is settled is in the book already.
        var orders = report.Orders.Where(made => report.Lines.Any(line => line.Supplier == made.Supplier && line.Arrives == made.Arrives && !line.Settled)).Select(made => Order(key, made, input, task, report, offerIds, who)).ToList();
        var ids = orders.Select(order => order.Id).ToList();
        var there = await book.Orders.Where(order => ids.Contains(order.Id)).Select(order => order.Id).ToListAsync(cancellation);
        book.Orders.AddRange(orders.Where(order => !there.Contains(order.Id)));
        await book.SaveChangesAsync(cancellation);
        if (ids.Count > 0)
        {
            await forecasts.Wishes(input.House, Wishes(input.House, report), cancellation);
        }

        return ids;
    }

    private static IEnumerable<(Book.Aim Aim, IEnumerable<(DateOnly Day, double Chance)> Days)> Wishes(Book.House house, ProposalReport report) =>
        from aim in house.Aims.Select((aim, index) => (Aim: aim, Id: PlanningDesk.AimId(index)))
        join said in report.Aims on aim.Id equals said.Aim
        select (aim.Aim, said.Days.Select(chance => (chance.Day, chance.With)));

    private Order Order(Guid key, SupplierOrder made, PlanningInput input, PlanningTask task, ProposalReport report, Dictionary<string, Guid> offerIds, string who)
    {
        var id = NamedKey.Of("order", key, made.Supplier, made.Arrives);
        var terms = input.House.Terms.Single(terms => terms.Supplier!.Name == made.Supplier);
        return new Order
        {
            Id = id,
            HouseId = input.House.Id,
            SupplierId = terms.SupplierId,
            ListId = report.Lines.Where(line => line.Supplier == made.Supplier && !line.Settled).Select(line => task.Offers[line.Offer].From.ListId).FirstOrDefault(),
            OnDay = report.OrderDay,
            MadeAt = day.Now,
            Who = who,
            ArrivesOn = made.Arrives,
            Currency = made.Currency,
            Rate = made.Rate,
            Goods = made.Goods,
            Carriage = made.Carriage,
            Charges = made.Charges,
            Tax = made.Tax,
            Landed = made.TotalInHouse,
            Lines =
            [
                .. report.Lines.Where(line => line.Supplier == made.Supplier && line.Arrives == made.Arrives).Select((line, index) => new OrderLine
                {
                    Id = NamedKey.Of("order-line", id, line.Offer),
                    Number = index + 1,
                    OfferId = offerIds.TryGetValue(line.Offer, out var offer) ? offer : null,
                    Text = line.Text,
                    Taxon = line.Taxon,
                    Form = line.Form,
                    Pupae = line.Pupae,
                    UnitPrice = line.UnitPrice,
                    UnitLanded = Math.Round(line.Landed / line.Pupae, 4),
                    EmergenceRate = line.Taxon is null ? null : task.Problem.Taxa.Single(taxon => taxon.Name == line.Taxon).RateFrom(line.Supplier).Mean,
                    Reason = line.Reason,
                }),
            ],
        };
    }

    /// <summary>The offers that are ordered, as the book keeps them: the same line of the same list, as printed.</summary>
    private async Task<Dictionary<string, Guid>> OfferIds(PlanningTask task, ProposalReport report, CancellationToken cancellation)
    {
        var ordered = report.Lines.Where(line => !line.Settled).Select(line => line.Offer).Distinct().Select(key => (Key: key, task.Offers[key].From.ListId, task.Offers[key].Offer)).ToList();
        var lists = ordered.Select(one => one.ListId).OfType<Guid>().Distinct().ToList();
        var rows = (await book.Offers.AsNoTracking().Where(row => lists.Contains(row.ListId)).Select(row => new { row.Id, row.ListId, row.Line, row.Sheet, row.Text }).ToListAsync(cancellation))
            .ToLookup(row => (row.ListId, row.Line, row.Sheet));
        var ids = new Dictionary<string, Guid>(StringComparer.Ordinal);
        foreach (var (key, listId, offer) in ordered)
        {
            var onLine = listId is { } list ? rows[(list, offer.Line, offer.Sheet)].ToList() : [];
            if ((onLine.Find(row => row.Text == offer.Text) ?? (onLine.Count == 1 ? onLine[0] : null)) is { } row)
            {
                ids.Add(key, row.Id);
            }
        }

        return ids;
    }

    /// <summary>A line as the keeper saw it.</summary>
    public static string Said(ProposedLine line) => $"{line.Offer}={line.Pupae}";
}

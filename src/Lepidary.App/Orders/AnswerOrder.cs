using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Planning;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Orders;

/// <summary>What the supplier says to one line of an order.</summary>
/// <param name="Line">Key of the order's line.</param>
/// <param name="Pupae">How many come; 0 where it is refused.</param>
/// <param name="Instead">The name of what comes instead, or null.</param>
internal sealed record AnsweredLine(Guid Line, int Pupae, string? Instead);

/// <summary>
/// The supplier answers an order line by line. An order is never changed: answered otherwise than asked, it is withdrawn and another one, as
/// answered and confirmed, stands in its place.
/// </summary>
internal sealed class AnswerOrder(BookContext book, HouseDay day, FactInbox inbox)
{
    private const int Most = 100_000;

    /// <summary>Key of the order that stands in the place of one that was answered otherwise.</summary>
    public static Guid Answered(Guid order) => NamedKey.Of("answered", order);

    /// <summary>Key of a line of that order.</summary>
    public static Guid AnsweredLine(Guid line) => NamedKey.Of("answered-line", line);

    /// <param name="key">Made when the keeper was asked: answering twice with one key answers once.</param>
    /// <param name="id">The order, sent or confirmed.</param>
    /// <param name="answers">The answers; a line without one comes as ordered.</param>
    /// <param name="who">Who writes it down.</param>
    /// <param name="made">When the keeper was asked.</param>
    /// <param name="cancellation">Leaves it unwritten.</param>
    /// <returns>Key of the order as it stands.</returns>
    public async Task<Checked<Guid>> Answer(Guid key, Guid id, IReadOnlyList<AnsweredLine> answers, string who, DateTimeOffset made, CancellationToken cancellation)
    {
        var order = await book.Orders.AsNoTracking().Include(order => order.Lines).Include(order => order.Supplier).SingleOrDefaultAsync(order => order.Id == id && order.HouseId == day.HouseId, cancellation);
        if (order is null)
        {
            return new Problem("ORDER", id.ToString(), "the key of an order of this house");
        }

        var lines = order.Lines.OrderBy(line => line.Number).ToList();
        var problems = new List<Problem>();
        var found = new Dictionary<Guid, (int Pupae, string? Instead)>();
        foreach (var answer in answers)
        {
            Read(answer, lines.Find(line => line.Id == answer.Line), found, problems);
        }

        var state = (await OrderStates.ReadAsync(book, [id], null, cancellation)).GetValueOrDefault(id, OrderState.Drafted);
        var otherwise = Answered(id);
        if (await book.Orders.AnyAsync(other => other.Id == otherwise, cancellation))
        {
            // The same answer sent twice, or one more to an order that another stands for by now.
            return otherwise;
        }

        if (state is not (OrderState.Sent or OrderState.Confirmed))
        {
            problems.Add(new("ORDER", $"an order that is {state.ToString().ToLowerInvariant()}", "an order that was sent"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var stands = lines.Select(line => (Line: line, Said: found.GetValueOrDefault(line.Id, (line.Pupae, null)))).ToList();
        if (stands.TrueForAll(line => line.Said == (line.Line.Pupae, null)))
        {
            return await Step([Step(key, order, OrderState.Confirmed, who, made, null)], id, cancellation);
        }

        var coming = stands.Where(line => line.Said.Pupae > 0).ToList();
        if (coming.Count == 0)
        {
            return await Step([Step(key, order, OrderState.Refused, who, made, "every line refused")], id, cancellation);
        }

        var terms = await book.Set<SupplierTerms>().AsNoTracking().SingleOrDefaultAsync(terms => terms.SupplierId == order.SupplierId && terms.HouseId == order.HouseId, cancellation);
        var house = await day.House(cancellation);
        var cost = Cost(order, terms, house, [.. coming.Select(line => (line.Line, line.Said.Pupae))]);
        var another = new Order
        {
            Id = otherwise,
            HouseId = order.HouseId,
            SupplierId = order.SupplierId,
            ListId = order.ListId,
            OnDay = order.OnDay,
            MadeAt = day.Now,
            Who = who,
            ArrivesOn = order.ArrivesOn,
            Currency = order.Currency,
            Rate = order.Rate,
            Goods = cost.Goods,
            Carriage = cost.Carriage,
            Charges = cost.Charges,
            Tax = cost.Tax,
            Landed = cost.TotalInHouse,
            Lines =
            [
                .. coming.Select((line, index) => new OrderLine
                {
                    Id = AnsweredLine(line.Line.Id),
                    Number = index + 1,
                    OfferId = line.Line.OfferId,
                    Text = line.Line.Text,
                    Taxon = line.Said.Instead ?? line.Line.Taxon,
                    Form = line.Said.Instead is null ? line.Line.Form : null,
                    Pupae = line.Said.Pupae,
                    UnitPrice = line.Line.UnitPrice,
                    UnitLanded = Math.Round(cost.TotalInHouse * Share(line.Line.UnitPrice, cost, coming.Sum(one => one.Line.UnitPrice * one.Said.Pupae)), 4),
                    EmergenceRate = line.Said.Instead is null ? line.Line.EmergenceRate : null,
                    Reason = line.Said.Instead is { } instead ? $"{instead} comes instead of {line.Line.Taxon ?? line.Line.Text}."
                        : line.Said.Pupae == line.Line.Pupae ? line.Line.Reason
                        : $"{line.Said.Pupae} of the {line.Line.Pupae} that were ordered.",
                }),
            ],
        };
        book.Orders.Add(another);
        await book.SaveChangesAsync(cancellation);
        return await Step(
            [
                Step(NamedKey.Of("answer-confirmed", key), another, OrderState.Confirmed, who, made, null),
                Step(key, order, OrderState.Withdrawn, who, made, "answered otherwise; another order stands for it"),
            ],
            otherwise,
            cancellation);
    }

    private static void Read(AnsweredLine answer, OrderLine? line, Dictionary<Guid, (int Pupae, string? Instead)> found, List<Problem> problems)
    {
        if (line is null)
        {
            problems.Add(new("LINE", answer.Line.ToString(), "a line of this order"));
            return;
        }

        var where = $"line {line.Number}";
        if (answer.Pupae is < 0 or > Most)
        {
            problems.Add(new(where, $"{answer.Pupae} pupae", "a number of pupae, 0 where it is refused"));
        }

        string? instead = null;
        if (answer.Instead is { } name)
        {
            var table = TaxonTable.Shipped;
            var match = table.Find(name) is { } known ? known : new NameFinder(table).Find(name, NameContext.None) is { Taxon: { } taxon, Doubts.Count: 0 } ? taxon : null;
            if (match is null)
            {
                problems.Add(new(where, $"\"{name}\"", "the name of a species that comes instead"));
            }

            instead = match?.Name == line.Taxon ? null : match?.Name;
        }

        found[line.Id] = (answer.Pupae, instead);
    }

    // The landed price of one pupa: its goods' share of the whole.
    private static decimal Share(decimal unitPrice, SupplierOrder cost, decimal goods) => goods == 0 ? 1m / cost.Pupae : unitPrice / goods;

    /// <summary>What the order costs as answered, by the terms that hold now; the planner's own arithmetic of one delivery.</summary>
    private static SupplierOrder Cost(Order order, SupplierTerms? terms, Book.House house, IReadOnlyList<(OrderLine Line, int Pupae)> coming)
    {
        var printed = order.Lines.Sum(line => line.UnitPrice * line.Pupae);
        var arrives = order.ArrivesOn ?? order.OnDay.AddDays(1);
        var supplier = new PlanSupplier
        {
            Name = "S",
            Currency = order.Currency,
            Rate = order.Rate,
            // The order keeps goods without tax; where they are less than what was printed, prices are with it.
            PricesExcludeTax = order.Goods >= printed - 0.005m,
            TaxRate = terms?.TaxRate ?? house.TaxRate,
            CarriageTaxed = terms?.CarriageTaxed ?? false,
            TaxReclaimed = house.TaxReclaimed,
            Arrives = [arrives],
            Carriage = [.. terms?.Carriage.Select(tier => new CarriageStep(tier.From, tier.Cost)) ?? []],
            // What only the list said of charges stays as it was reckoned.
            Charges = terms is null || (terms.Charges.Count == 0 && terms.Carriage.Count == 0)
                ? [new PlanCharge("as ordered", order.Charges + order.Carriage)]
                : [.. terms.Charges.Select(charge => new PlanCharge(charge.Name, charge.Amount, charge.Per == CountedBy.Box ? PlanChargePer.Box : PlanChargePer.Order, terms.BoxPupae ?? 200))],
        };
        var plan = Planner.Propose(new PlanProblem
        {
            OrderDay = order.OnDay,
            HorizonDays = Math.Clamp(arrives.DayNumber - order.OnDay.DayNumber, 1, 120),
            Currency = house.Currency,
            Suppliers = [supplier],
            Offers = [.. coming.Select(line => new PlanOffer { Id = line.Line.Id.ToString(), Supplier = "S", Price = line.Line.UnitPrice, Text = line.Line.Text })],
            Taxa = [],
            Settled = [.. coming.Select(line => new SettledLine(line.Line.Id.ToString(), arrives, line.Pupae))],
        }).Plan;
        return plan is { Orders: [var made] } ? made : throw new InvalidOperationException("An order that is settled whole has one cost.");
    }

    private OrderStep Step(Guid key, Order order, OrderState state, string who, DateTimeOffset made, string? note) =>
        new() { Id = key, HouseId = day.HouseId, OnDay = day.Today, DeviceTime = made, Who = who, OrderId = order.Id, State = state, Note = note };

    private async Task<Checked<Guid>> Step(IReadOnlyList<OrderStep> steps, Guid stands, CancellationToken cancellation)
    {
        var receipts = await inbox.ReceiveAsync(steps, cancellation);
        var problems = receipts.SelectMany(receipt => receipt.Problems).ToArray();
        return problems.Length > 0 ? problems : stands;
    }
}

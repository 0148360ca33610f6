using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Orders;

internal sealed record WrittenLine(Guid Id, int Number, string Text, string? Taxon, string? Form, int Pupae, string Each, string Sum, string Reason);

internal sealed record WrittenOrderView(
    Guid Id, string Supplier, string? Email, string Day, string Arrives, string Who, OrderState State, IReadOnlyList<WrittenLine> Lines, int Pupae,
    string Currency, string Goods, string Carriage, string Charges, string Tax, string Landed, string Mail, string Made, FormView? Form, Guid? Instead)
{
    public Guid Key { get; } = BookId.New();
}

/// <summary>The supplier's own form: what is filled in and where, or why it can't be.</summary>
internal sealed record FormView(string Words, IReadOnlyList<string> Problems);

/// <summary>One order as it goes out.</summary>
internal sealed class ShowWrittenOrder(BookContext book, HouseDay day, FillForm fill)
{
    public async Task<WrittenOrderView?> Show(Guid id, CancellationToken cancellation)
    {
        var order = await Order(id, cancellation);
        if (order is null)
        {
            return null;
        }

        var states = await OrderStates.ReadAsync(book, [id], null, cancellation);
        return new WrittenOrderView(
            id, order.Supplier!.Name, order.Supplier.Email, DayWords.Long(order.OnDay), order.ArrivesOn is { } arrives ? DayWords.Short(arrives) : "not said", order.Who,
            states.GetValueOrDefault(id, OrderState.Drafted),
            [.. order.Lines.OrderBy(line => line.Number).Select(line => new WrittenLine(line.Id, line.Number, line.Text, line.Taxon, line.Form, line.Pupae, MoneyWords.Plain(line.UnitPrice), MoneyWords.Plain(line.UnitPrice * line.Pupae), line.Reason))],
            order.Lines.Sum(line => line.Pupae),
            order.Currency, MoneyWords.Plain(order.Goods), MoneyWords.Plain(order.Carriage), MoneyWords.Plain(order.Charges), MoneyWords.Plain(order.Tax), MoneyWords.Sum(order.Landed, day.Currency),
            OrderSheet.Mail(order, day.HouseName ?? ""),
            day.Now.ToString("O", System.Globalization.CultureInfo.InvariantCulture),
            await fill.Fill(order, cancellation) is { Filled: var filled }
                ? new FormView(filled.IsGood ? filled.Value.Words : "", filled.IsGood ? [] : [.. filled.Problems.Select(problem => problem.ToString())])
                : null,
            await Stands(id, cancellation));
    }

    /// <summary>The order that stands in the place of one that was answered otherwise, or null.</summary>
    private async Task<Guid?> Stands(Guid id, CancellationToken cancellation)
    {
        var other = AnswerOrder.Answered(id);
        return await book.Orders.AnyAsync(order => order.Id == other, cancellation) ? other : null;
    }

    public Task<Order?> Order(Guid id, CancellationToken cancellation) =>
        book.Orders.AsNoTracking().Include(order => order.Lines).Include(order => order.Supplier).SingleOrDefaultAsync(order => order.Id == id && order.HouseId == day.HouseId, cancellation);
}

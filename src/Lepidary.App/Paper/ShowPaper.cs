using Lepidary.App.Deliveries;
using Lepidary.App.Host;

namespace Lepidary.App.Paper;

/// <summary>What can be printed today.</summary>
/// <param name="Due">Boxes that are on their way, each with its sheet.</param>
internal sealed record PaperView(IReadOnlyList<(Guid OrderId, string Supplier, string When)> Due);

/// <summary>What do I print?</summary>
internal sealed class ShowPaper(ShowDeliveries deliveries, HouseDay day)
{
    public async Task<PaperView> Show(CancellationToken cancellation) =>
        new(day.HouseName is null ? [] : [.. (await deliveries.Show(cancellation)).Due.Select(box => (box.OrderId, box.Supplier, box.When))]);
}

using Lepidary.Planning.Model;

namespace Lepidary.Planning.Report;

/// <summary>Writes what an order costs, in exact money.</summary>
internal static class Money
{
    /// <summary>A plan with its lines and orders, without odds and reasons.</summary>
    public static Plan Of(PlanModel model, int[] pupaeByItem)
    {
        var orders = new List<SupplierOrder>();
        var lines = new List<PlanLine>();
        foreach (var slot in model.Slots)
        {
            var bought = model.Items.Where(i => i.Slot == slot && pupaeByItem[i.Index] > 0)
                .Select(i => (i.Offer, Pupae: pupaeByItem[i.Index], i.IsSettled)).ToList();
            if (bought.Count == 0)
                continue;
            var order = OrderOf(slot.Supplier, slot.Arrives, bought);
            orders.Add(order);
            lines.AddRange(Lines(order, bought));
        }

        return new() { Lines = lines, Orders = orders, Total = orders.Sum(o => o.TotalInHouse) };
    }

    internal static SupplierOrder OrderOf(PlanSupplier supplier, DateOnly arrives, List<(PlanOffer Offer, int Pupae, bool Settled)> bought)
    {
        var pupae = bought.Sum(b => b.Pupae);
        var goods = bought.Sum(b => Item.GoodsOf(b.Offer, b.Pupae));
        var counted = supplier.CarriageBy switch
        {
            CarriageBy.Goods => goods,
            CarriageBy.Grams => (decimal)(pupae * supplier.GramsPerPupa),
            _ => pupae,
        };
        var carriage = supplier.Carriage.OrderBy(c => c.From).LastOrDefault(c => c.From <= counted)?.Cost ?? 0;
        var charges = supplier.Charges.Sum(c =>
            c.Per == PlanChargePer.Order ? c.Amount : c.Amount * ((pupae + c.BoxPupae - 1) / c.BoxPupae));
        var tax = 0m;
        decimal WithoutTax(decimal amount, bool taxed)
        {
            if (!taxed || supplier.TaxRate == 0)
                return amount;
            var without = supplier.PricesExcludeTax ? amount : amount / (1 + supplier.TaxRate);
            tax += without * supplier.TaxRate;
            return without;
        }

        goods = WithoutTax(goods, true);
        carriage = WithoutTax(carriage, supplier.CarriageTaxed);
        charges = WithoutTax(charges, supplier.CarriageTaxed);
        var total = goods + carriage + charges + (supplier.TaxReclaimed ? 0 : tax);
        return new()
        {
            Supplier = supplier.Name,
            Arrives = arrives,
            Currency = supplier.Currency,
            Rate = supplier.Rate,
            Pupae = pupae,
            Goods = goods,
            Carriage = carriage,
            Charges = charges,
            Tax = supplier.TaxReclaimed ? 0 : tax,
            TaxReclaimed = supplier.TaxReclaimed ? tax : 0,
            Total = total,
            TotalInHouse = Math.Round(total * supplier.Rate, 2, MidpointRounding.AwayFromZero),
        };
    }

    // Everything that is not goods is shared out by goods; the last line takes what rounding leaves.
    private static IEnumerable<PlanLine> Lines(SupplierOrder order, List<(PlanOffer Offer, int Pupae, bool Settled)> bought)
    {
        var goods = bought.Sum(b => Item.GoodsOf(b.Offer, b.Pupae));
        var left = order.TotalInHouse;
        for (var i = 0; i < bought.Count; i++)
        {
            var (offer, pupae, settled) = bought[i];
            var own = Item.GoodsOf(offer, pupae);
            var share = goods == 0 ? (decimal)pupae / order.Pupae : own / goods;
            var landed = i == bought.Count - 1 ? left : Math.Round(order.TotalInHouse * share, 2, MidpointRounding.AwayFromZero);
            left -= landed;
            yield return new()
            {
                Offer = offer.Id,
                Supplier = order.Supplier,
                Taxon = offer.Taxon,
                Arrives = order.Arrives,
                Pupae = pupae,
                Packs = (pupae + offer.Pack - 1) / offer.Pack,
                UnitPrice = Item.PriceAt(offer, pupae),
                Goods = own,
                Landed = landed,
                Settled = settled,
            };
        }
    }
}

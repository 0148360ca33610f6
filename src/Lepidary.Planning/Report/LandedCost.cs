namespace Lepidary.Planning;

/// <summary>What an order of so many goods costs with all that comes on top, before it is known which goods.</summary>
public static class LandedCost
{
    /// <summary>Carriage, charges and tax for one delivery, by the supplier's terms.</summary>
    /// <param name="supplier">The terms.</param>
    /// <param name="arrives">The day of the delivery.</param>
    /// <param name="goods">Goods as the list prints them, supplier's currency, at least 0.</param>
    /// <param name="pupae">Pupae in it, at least 1.</param>
    public static SupplierOrder Of(PlanSupplier supplier, DateOnly arrives, decimal goods, int pupae)
    {
        ArgumentNullException.ThrowIfNull(supplier);
        ArgumentOutOfRangeException.ThrowIfNegative(goods);
        ArgumentOutOfRangeException.ThrowIfLessThan(pupae, 1);
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
}

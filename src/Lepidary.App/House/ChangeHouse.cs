using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.House;

/// <summary>
/// The house as its keeper wants it from now on: the whole house file is handed in again. Aims that are gone are ended, not lost; suppliers with a history
/// keep it.
/// </summary>
internal sealed class ChangeHouse(BookContext book, HouseDay day)
{
    /// <param name="text">A house file without stock: what hangs and flies is a matter of facts.</param>
    /// <param name="cancellation">Leaves the house as it was.</param>
    /// <returns>Everything that is wrong; empty when the house was changed.</returns>
    public async Task<IReadOnlyList<Problem>> Change(string text, CancellationToken cancellation)
    {
        var sheet = HouseFile.Parse("house file", text);
        if (!sheet.IsGood)
        {
            return sheet.Problems;
        }

        if (sheet.Value.Stock.Count > 0)
        {
            return [new("house file", "`stock:`", "no stock: what hangs and flies is counted on the pages")];
        }

        var wanted = sheet.Value.House;
        var house = await book.Houses.AsSplitQuery().Include(house => house.Areas).Include(house => house.Cages).Include(house => house.KeepNots).Include(house => house.Aims)
            .Include(house => house.Terms).ThenInclude(terms => terms.Supplier).SingleAsync(house => house.Id == day.HouseId, cancellation);
        if (wanted.Currency != house.Currency)
        {
            return [new("house file", $"`currency: {wanted.Currency}`", $"{house.Currency}: what the book has reckoned in it stays in it")];
        }

        house.Name = wanted.Name;
        (house.TimeZone, house.TaxRate, house.TaxReclaimed, house.OpenOn, house.ClosedDays, house.Languages, house.Budget) =
            (wanted.TimeZone, wanted.TaxRate, wanted.TaxReclaimed, wanted.OpenOn, wanted.ClosedDays, wanted.Languages, wanted.Budget);
        (house.NoBoxesOn, house.SeasonBudget, house.SeasonFrom, house.SeasonTo) = (wanted.NoBoxesOn, wanted.SeasonBudget, wanted.SeasonFrom, wanted.SeasonTo);
        Areas(house, wanted);
        Cages(house, wanted);
        house.KeepNots.RemoveAll(old => wanted.KeepNots.All(keepNot => keepNot.Selector != old.Selector));
        house.KeepNots.AddRange(wanted.KeepNots.Where(keepNot => house.KeepNots.All(old => old.Selector != keepNot.Selector)).Select(keepNot => Added(new KeepNot { HouseId = house.Id, Selector = keepNot.Selector, Reason = keepNot.Reason })));
        foreach (var keepNot in house.KeepNots)
        {
            keepNot.AtMost = wanted.KeepNots.Single(same => same.Selector == keepNot.Selector).AtMost;
        }

        Aims(house, wanted);
        await Terms(house, wanted, cancellation);
        await book.SaveChangesAsync(cancellation);
        return [];
    }

    private static void Areas(Book.House house, Book.House wanted)
    {
        foreach (var area in wanted.Areas)
        {
            if (house.Areas.Find(old => old.Name == area.Name) is { } there)
            {
                (there.FloorM2, there.HeightM, there.Ceiling) = (area.FloorM2, area.HeightM, area.Ceiling);
            }
            else
            {
                house.Areas.Add(new FlightArea { HouseId = house.Id, Name = area.Name, FloorM2 = area.FloorM2, HeightM = area.HeightM, Ceiling = area.Ceiling });
            }
        }
    }

    private static void Cages(Book.House house, Book.House wanted)
    {
        foreach (var cage in wanted.Cages)
        {
            if (house.Cages.Find(old => old.Name == cage.Name) is { } there)
            {
                (there.Places, there.Use, there.Rows, there.RowCm, there.ReachRows) = (cage.Places, cage.Use, cage.Rows, cage.RowCm, cage.ReachRows);
                (there.ShutFrom, there.ShutTo) = (cage.ShutFrom, cage.ShutTo);
            }
            else
            {
                house.Cages.Add(new Cage { HouseId = house.Id, Name = cage.Name, Places = cage.Places, Use = cage.Use, Rows = cage.Rows, RowCm = cage.RowCm, ReachRows = cage.ReachRows, ShutFrom = cage.ShutFrom, ShutTo = cage.ShutTo });
            }
        }
    }

    private void Aims(Book.House house, Book.House wanted)
    {
        var standing = house.Aims.Where(aim => aim.EndedOn is null).ToList();
        foreach (var gone in standing.Where(old => !wanted.Aims.Exists(aim => Same(aim, old))))
        {
            gone.EndedOn = day.Today;
        }

        foreach (var fresh in wanted.Aims.Where(aim => !standing.Exists(old => Same(aim, old))))
        {
            house.Aims.Add(new Aim
            {
                HouseId = house.Id,
                Kind = fresh.Kind,
                Selector = fresh.Selector,
                AtLeast = fresh.AtLeast,
                Sure = fresh.Sure,
                Importance = fresh.Importance,
                From = fresh.From,
                To = fresh.To,
                Days = fresh.Days,
                NewBlood = fresh.NewBlood,
            });
        }
    }

    private async Task Terms(Book.House house, Book.House wanted, CancellationToken cancellation)
    {
        foreach (var terms in wanted.Terms)
        {
            var there = house.Terms.Find(old => old.Supplier!.Name.Equals(terms.Supplier!.Name, StringComparison.OrdinalIgnoreCase));
            if (there is null)
            {
                var supplier = await book.Suppliers.FirstOrDefaultAsync(known => known.Name == terms.Supplier!.Name, cancellation) ?? Added(new Supplier { Name = terms.Supplier!.Name, Email = terms.Supplier.Email });
                there = new SupplierTerms { HouseId = house.Id, SupplierId = supplier.Id, Supplier = supplier, Currency = terms.Currency };
                house.Terms.Add(there);
            }

            there.Supplier!.Email = terms.Supplier!.Email ?? there.Supplier.Email;
            (there.Currency, there.Rate, there.PricesExcludeTax, there.TaxRate, there.CarriageTaxed, there.Carriage, there.Charges) =
                (terms.Currency, terms.Rate, terms.PricesExcludeTax, terms.TaxRate, terms.CarriageTaxed, terms.Carriage, terms.Charges);
            (there.BoxPupae, there.MinimumPupae, there.MinimumGoods, there.ArrivesOn, there.ClaimWindowHours) =
                (terms.BoxPupae, terms.MinimumPupae, terms.MinimumGoods, terms.ArrivesOn, terms.ClaimWindowHours);
            (there.CarriageBy, there.PupaGrams, there.BreaksFromThere, there.AlsoArrivesOn) = (terms.CarriageBy, terms.PupaGrams, terms.BreaksFromThere, terms.AlsoArrivesOn);
            (there.OrderAheadDays, there.ClosedDays, there.Avoided, there.FavouredBy) = (terms.OrderAheadDays, terms.ClosedDays, terms.Avoided, terms.FavouredBy);
        }
    }

    private T Added<T>(T row)
        where T : class
    {
        book.Add(row);
        return row;
    }

    /// <summary>True where two wishes ask for the same.</summary>
    public static bool Same(Aim one, Aim other) =>
        (one.Kind, one.Selector, one.AtLeast, one.Sure, one.Importance, one.From, one.To, one.Days, one.NewBlood) ==
        (other.Kind, other.Selector, other.AtLeast, other.Sure, other.Importance, other.From, other.To, other.Days, other.NewBlood);
}

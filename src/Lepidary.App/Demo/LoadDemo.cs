using System.Text;
using System.Text.Json;
using Lepidary.App.Host;
using Lepidary.App.House;
using Lepidary.App.Lists;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Demo;

/// <summary>
/// Puts an invented scenario into a book. The public house brings ten weeks of history; this week's lists stay unread. Its clock stands at the
/// Friday on which they come, until the reader turns the page.
/// </summary>
internal sealed class LoadDemo(BookContext book, FactInbox inbox, LoadHouse loadHouse, TakeInList takeInList)
{
    /// <summary>Lists come out on Friday between ten and noon (common practice, no source).</summary>
    private static readonly DateTimeOffset Friday = new(2026, 11, 27, 10, 40, 0, TimeSpan.Zero);

    private const int Batch = 1000;

    /// <summary>Loads a scenario with its own clock.</summary>
    public async Task<Checked<Guid>> Load(string scenario, CancellationToken cancellation)
    {
        var sheet = HouseFile.Parse("house.yaml", Encoding.UTF8.GetString(DemoFiles.Read(scenario, "house.yaml"))).Value;
        var today = DateOnly.FromDateTime(Friday.DateTime);
        var loaded = await loadHouse.Load(sheet, today, Friday, "demo", Friday, cancellation);
        if (loaded.IsGood && scenario == DemoFiles.Public)
        {
            var history = JsonSerializer.Deserialize<History>(DemoFiles.Read(scenario, "history.json"), JsonSerializerOptions.Web)!;
            await Tell(history, sheet.House, cancellation);
            foreach (var list in history.Lists.Where(list => list.Day < 0))
            {
                var supplier = sheet.House.Terms.Single(terms => terms.Supplier!.Name == list.Supplier).SupplierId;
                await takeInList.Take(new(supplier, Path.GetFileName(list.File), DemoFiles.Read(scenario, list.File), history.OrderDate.AddDays(list.Day), Friday.AddDays(list.Day)), cancellation);
            }
        }

        return loaded;
    }

    /// <summary>Takes this week's lists in, which <see cref="Load"/> leaves unread.</summary>
    public async Task TakeInUnread(string scenario, CancellationToken cancellation)
    {
        var suppliers = await book.Suppliers.AsNoTracking().ToListAsync(cancellation);
        foreach (var file in DemoFiles.In(scenario, "lists"))
        {
            var name = Path.GetFileNameWithoutExtension(file).Replace('-', ' ');
            var supplier = suppliers.Single(supplier => supplier.Name.Equals(name, StringComparison.OrdinalIgnoreCase));
            await takeInList.Take(new(supplier.Id, Path.GetFileName(file), DemoFiles.Read(scenario, file), DateOnly.FromDateTime(Friday.DateTime), Friday), cancellation);
        }
    }

    private async Task Tell(History history, Book.House house, CancellationToken cancellation)
    {
        var terms = house.Terms.ToDictionary(one => one.Supplier!.Name);
        var cages = house.Cages.ToDictionary(cage => cage.Name, cage => cage.Id);
        var areas = house.Areas.ToDictionary(area => area.Name, area => area.Id);
        var lots = history.Lots.ToDictionary(lot => lot.Id);
        var facts = new List<Fact>();
        foreach (var past in history.Orders)
        {
            var order = Order(past);
            book.Orders.Add(order);
            facts.Add(new OrderStep { Id = Key("sent", past.Supplier, past.Day), HouseId = house.Id, OnDay = order.OnDay, DeviceTime = order.MadeAt, Who = past.Who, OrderId = order.Id, State = OrderState.Sent });
        }

        await book.SaveChangesAsync(cancellation);
        facts.AddRange(history.Deliveries.Select(Delivered));
        facts.AddRange(history.Lots.Where(lot => lot.Brood is not null).Select(Bred));
        facts.AddRange(history.Entries.Select((entry, index) => new Entry
        {
            Id = Key("entry", index),
            HouseId = house.Id,
            OnDay = Day(entry.Day),
            DeviceTime = At(entry.Day, entry.Time),
            Who = entry.Who,
            LotId = Key("lot", entry.Lot),
            EmergedMale = entry.EmergedMale,
            EmergedFemale = entry.EmergedFemale,
            EmergedUnsexed = entry.EmergedUnsexed,
            Crippled = entry.Crippled,
            Dead = entry.Dead,
            Parasitised = entry.Parasitised,
            Missing = entry.Missing,
            Note = entry.Note,
        }));
        facts.AddRange(history.Releases.Select((release, index) => new Release
        {
            Id = Key("release", index),
            HouseId = house.Id,
            OnDay = Day(release.Day),
            DeviceTime = At(release.Day, release.Time),
            Who = release.Who,
            LotId = Key("lot", release.Lot),
            Taxon = lots[release.Lot].Taxon,
            AreaId = areas[release.To],
            Male = release.Male,
            Female = release.Female,
            Unsexed = release.Unsexed,
        }));
        facts.AddRange(history.FoundDead.Select((dead, index) => new FoundDead
        {
            Id = Key("found-dead", index),
            HouseId = house.Id,
            OnDay = Day(dead.Day),
            DeviceTime = At(dead.Day, new TimeOnly(9, 0)),
            Who = dead.Who,
            Taxon = dead.Taxon,
            AreaId = areas[dead.Area],
            Count = dead.Count,
        }));
        facts.AddRange(history.Walks.Select((walk, index) => new Walk
        {
            Id = Key("walk", index),
            HouseId = house.Id,
            OnDay = Day(walk.Day),
            DeviceTime = At(walk.Day, walk.Start),
            Who = walk.Who,
            Path = walk.Path,
            Start = walk.Start,
            Minutes = walk.Minutes,
            Weather = walk.Weather,
            Counts = [.. walk.Counts.Select(count => new WalkCount { Id = Key("walk-count", index, count.Taxon), Taxon = count.Taxon, Count = count.Count })],
        }));
        facts.AddRange(history.Readings.Select((reading, index) => new Reading
        {
            Id = Key("reading", index),
            HouseId = house.Id,
            OnDay = Day(reading.Day),
            DeviceTime = At(reading.Day, reading.Time),
            Who = "logger",
            CageId = cages.TryGetValue(reading.Place, out var cage) ? cage : null,
            AreaId = areas.TryGetValue(reading.Place, out var area) ? area : null,
            TemperatureC = reading.Temperature,
            HumidityPercent = reading.Humidity,
        }));
        foreach (var batch in facts.Chunk(Batch))
        {
            var refused = (await inbox.ReceiveAsync(batch, cancellation)).FirstOrDefault(receipt => receipt.Receipt != Receipt.Accepted);
            if (refused is not null)
            {
                throw new InvalidOperationException($"The demo's history has a row that the book does not take: {string.Join("; ", refused.Problems)}");
            }
        }

        DateOnly Day(int offset) => history.OrderDate.AddDays(offset);

        DateTimeOffset At(int offset, TimeOnly time)
        {
            var local = Day(offset).ToDateTime(time);
            return new DateTimeOffset(local, TimeZoneInfo.FindSystemTimeZoneById(house.TimeZone).GetUtcOffset(local));
        }

        Order Order(PastOrder past)
        {
            var from = terms[past.Supplier];
            var goods = past.Lines.Sum(line => line.Pupae * line.Price);
            var pupae = past.Lines.Sum(line => line.Pupae);
            var carriage = from.Carriage.LastOrDefault(tier => tier.From <= pupae)?.Cost ?? 0;
            var charges = from.Charges.Sum(charge => charge.Amount);
            var tax = Math.Round((from.TaxRate ?? house.TaxRate) * (goods + (from.CarriageTaxed ? carriage + charges : 0)), 2);
            var landed = Math.Round((goods + carriage + charges + tax) * from.Rate, 2);
            return new Order
            {
                Id = Key("order", past.Supplier, past.Day),
                HouseId = house.Id,
                SupplierId = from.SupplierId,
                OnDay = Day(past.Day),
                MadeAt = At(past.Day, new TimeOnly(11, 20)),
                Who = past.Who,
                ArrivesOn = Day(past.Arrives),
                Currency = from.Currency,
                Rate = from.Rate,
                Goods = goods,
                Carriage = carriage,
                Charges = charges,
                Tax = tax,
                Landed = landed,
                Lines = [.. past.Lines.Select((line, index) => new OrderLine
                {
                    Id = Key("order-line", past.Supplier, past.Day, index), Number = index + 1, Text = line.Printed, Taxon = line.Taxon, Form = line.Form, Pupae = line.Pupae,
                    UnitPrice = line.Price, UnitLanded = Math.Round(landed * line.Price / goods, 4), Reason = past.Remark ?? "",
                })],
            };
        }

        Fact Delivered(PastDelivery past)
        {
            var supplier = terms[past.Supplier].SupplierId;
            var order = history.Orders.FirstOrDefault(order => order.Supplier == past.Supplier && order.Day == past.Ordered);
            return new Delivery
            {
                Id = Key("delivery", past.Box, past.Day),
                HouseId = house.Id,
                OnDay = Day(past.Day),
                DeviceTime = At(past.Day, past.Time),
                Who = past.Who,
                SupplierId = supplier,
                OrderId = order is null ? null : Key("order", past.Supplier, past.Ordered),
                BoxMark = past.Box,
                Condition = past.Condition,
                Lines = [.. past.Lines.Select((line, index) => new DeliveryLine
                {
                    Id = Key("delivery-line", past.Box, past.Day, index),
                    OrderLineId = OrderLine(order, line) is { } number ? Key("order-line", past.Supplier, past.Ordered, number) : null,
                    Taxon = line.Taxon, Form = line.Form, Ordered = line.Ordered, Noted = line.Noted, Alive = line.Alive, Dead = line.Dead, Damaged = line.Damaged,
                    Emerged = line.Emerged, WrongSpecies = line.Wrong, Remark = line.Remark,
                })],
                Lots = [.. past.Lines.Select((line, index) => (line, index)).Where(item => item.line.Lot is not null)
                    .Select(item => Lot(lots[item.line.Lot!], supplier, Key("delivery-line", past.Box, past.Day, item.index)))],
            };
        }

        Fact Bred(PastLot past) => new Hanging
        {
            Id = Key("hanging", past.Id),
            HouseId = house.Id,
            OnDay = Day(past.Day),
            DeviceTime = At(past.Day, new TimeOnly(9, 30)),
            Who = "Marit",
            From = HangingFrom.Brood,
            Lots = [Lot(past, null, null)],
        };

        Lot Lot(PastLot past, Guid? supplier, Guid? line) => new()
        {
            Id = Key("lot", past.Id),
            HouseId = house.Id,
            Taxon = past.Taxon,
            Form = past.Form,
            SupplierId = supplier,
            DeliveryLineId = line,
            BroodId = past.Brood is null ? null : Key("brood", past.Brood),
            CageId = cages.TryGetValue(past.Cage, out var cage) ? cage : null,
            Row = past.Row,
            HungOn = Day(past.Day),
            Received = past.Received,
            UnitLanded = past.UnitCost,
        };
    }

    private static int? OrderLine(PastOrder? order, PastDeliveryLine line) =>
        order?.Lines.Select((one, index) => (one, index)).Where(item => item.one.Taxon == line.Taxon && item.one.Form == line.Form && line.Ordered > 0)
            .Select(item => (int?)item.index).FirstOrDefault();

    private static Guid Key(params object[] words) => NamedKey.Of(["demo", .. words]);
}

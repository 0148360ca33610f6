using System.Text;
using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.House;

internal static class HouseWeb
{
    public static void AddTo(IServiceCollection services)
    {
        services.AddScoped<LoadHouse>();
        services.AddScoped<ChangeHouse>();
        services.AddScoped<ShowHouse>();
        services.AddScoped<ChangeWish>();
        services.AddScoped<ShowWish>();
        services.AddScoped<ChangeTerms>();
        services.AddScoped<ShowTerms>();
        services.AddScoped<BeginHouse>();
    }

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapForm("/house", async (IFormCollection form, HttpContext http, HouseDay day, ChangeHouse change, LoadHouse load, BeginHouse begin, TimeProvider clock, CancellationToken cancellation) =>
        {
            if (day.HouseName is null && form.ContainsKey("places"))
            {
                await BeginFromFields(form, http, begin, cancellation);
                return;
            }

            var text = form["text"].ToString();
            var problems = day.HouseName is null ? await Begin(text, load, clock, cancellation) : await change.Change(text, cancellation);
            if (problems.Count > 0)
            {
                await TypedForm.Again<HousePage>(http, form, problems);
                return;
            }

            http.Response.Redirect("/house?changed=yes");
        });
        routes.MapForm("/house/wish", Wish);
        routes.MapForm("/house/wish/end", async (IFormCollection form, HttpContext http, ChangeWish change, CancellationToken cancellation) =>
        {
            await change.GiveUp(form.Key("wish") ?? Guid.Empty, cancellation);
            http.Response.Redirect("/house?wish=ended");
        });
        routes.MapForm("/house/supplier", Terms);
        routes.MapGet("/house/file", async (HouseDay day, CancellationToken cancellation) =>
            day.HouseName is null ? Results.NotFound() : Results.File(Encoding.UTF8.GetBytes(HouseFileText.Write(await day.House(cancellation))), "application/yaml; charset=utf-8", "house.yaml"));
    }

    private static async Task Wish(IFormCollection form, HttpContext http, ChangeWish change, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var said = new WishSaid
        {
            InsteadOf = form.Key("wish"),
            Kind = Enum.TryParse<AimKind>(form["kind"], out var kind) && Enum.IsDefined(kind) ? kind : AimKind.Display,
            Of = form.Text("of"),
            AtLeast = form.Whole("at-least", "how many", problems),
            Sure = (form.Number("sure", "how sure", problems) ?? 80) / 100,
            Importance = form.Whole("importance", "importance", problems) ?? 1,
            From = form.Day("from", problems),
            To = form.Day("to", problems),
            Days = Enumerable.Range(0, 7).Select(at => (Weekdays)(1 << at)).Where(on => form.ContainsKey($"on-{(int)on}")).Aggregate(Weekdays.None, (set, on) => set | on),
            NewBlood = form.ContainsKey("new-blood"),
        };
        var wrong = problems.Count > 0 ? problems : await change.Put(said, cancellation);
        if (wrong.Count > 0)
        {
            await TypedForm.Again<WishPage>(http, form, wrong);
            return;
        }

        http.Response.Redirect("/house?wish=put");
    }

    private static async Task Terms(IFormCollection form, HttpContext http, ChangeTerms change, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var said = new TermsSaid
        {
            SupplierId = form.Key("supplier"),
            Name = form.Text("name"),
            Email = form.Text("email"),
            Currency = form.Text("currency"),
            Rate = Money(form, "rate", "rate", problems),
            PricesExcludeTax = form["prices"] != "with",
            TaxPercent = Money(form, "tax", "tax", problems),
            CarriageTaxed = form.ContainsKey("carriage-taxed"),
            CarriageBy = Enum.TryParse<CarriageCount>(form["carriage-by"], out var by) && Enum.IsDefined(by) ? by : CarriageCount.Pupae,
            Carriage = [.. Rows(form, "cost-").Select(at => (form.Whole($"from-{at}", "carriage from", problems), Money(form, $"cost-{at}", "carriage", problems)))],
            Charges = [.. Rows(form, "amount-").Select(at => (form.Text($"charge-{at}"), Money(form, $"amount-{at}", "charge", problems), form[$"per-{at}"] == nameof(CountedBy.Box) ? CountedBy.Box : CountedBy.Order))],
            BoxPupae = form.Whole("box", "box", problems),
            MinimumPupae = form.Whole("minimum-pupae", "fewest pupae", problems),
            MinimumGoods = Money(form, "minimum-goods", "least goods", problems),
            ArrivesOn = Weekday(form, "arrives"),
            AlsoArrivesOn = Weekday(form, "also"),
            OrderAheadDays = form.Whole("ahead", "last order", problems),
            ClaimWindowHours = form.Whole("claim", "claims within", problems),
            Avoided = form.ContainsKey("avoid"),
        };
        var put = problems.Count > 0 ? problems.ToArray() : await change.Put(said, cancellation);
        if (!put.IsGood)
        {
            await TypedForm.Again<TermsPage>(http, form, put.Problems);
            return;
        }

        http.Response.Redirect($"/suppliers/{put.Value}");
    }

    private static async Task BeginFromFields(IFormCollection form, HttpContext http, BeginHouse begin, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var said = new HouseSaid
        {
            Name = form.Text("name"),
            Currency = form.Text("currency"),
            Zone = form.Text("zone"),
            Places = form.Whole("places", "hanging places", problems),
            Ceiling = form.Whole("ceiling", "at most flying", problems),
            Budget = Money(form, "budget", "budget", problems),
            TaxPercent = Money(form, "tax", "tax", problems),
        };
        var begun = problems.Count > 0 ? problems.ToArray() : await begin.Do(said, cancellation);
        if (!begun.IsGood)
        {
            await TypedForm.Again<HousePage>(http, form, begun.Problems);
            return;
        }

        http.Response.Redirect("/house");
    }

    private static IEnumerable<int> Rows(IFormCollection form, string field) => Enumerable.Range(0, 50).Where(at => form.ContainsKey($"{field}{at}"));

    private static decimal? Money(IFormCollection form, string field, string where, List<Problem> problems)
    {
        if (form.Number(field, where, problems) is not { } number)
        {
            return null;
        }

        if (Math.Abs(number) < 1e12)
        {
            return (decimal)number;
        }

        problems.Add(new(where, form.Text(field)!, "a sum of money"));
        return null;
    }

    private static DayOfWeek? Weekday(IFormCollection form, string field) => Enum.TryParse<DayOfWeek>(form[field], out var on) && Enum.IsDefined(on) ? on : null;

    private static async Task<IReadOnlyList<Problem>> Begin(string text, LoadHouse load, TimeProvider clock, CancellationToken cancellation)
    {
        var sheet = HouseFile.Parse("house file", text);
        if (!sheet.IsGood)
        {
            return sheet.Problems;
        }

        var now = clock.GetUtcNow();
        return (await load.Load(sheet.Value, sheet.Value.House.DayAt(now), now, "", null, cancellation)).Problems;
    }
}

using System.Globalization;
using Lepidary.App.Deaths;
using Lepidary.App.Host;
using Lepidary.App.Photos;
using Lepidary.Book;

namespace Lepidary.App.Rounds;

/// <summary>The round on the web: its use cases and the doors of its forms.</summary>
internal static class RoundWeb
{
    public static void AddTo(IServiceCollection services)
    {
        services.AddScoped<Places>().AddScoped<FindLot>();
        services.AddScoped<ShowRound>().AddScoped<ShowLot>().AddScoped<ShowEntered>().AddScoped<ShowSummary>().AddScoped<ShowDiscrepancies>();
        services.AddScoped<EnterCount>().AddScoped<ReleaseAdults>().AddScoped<TakeBack>().AddScoped<SettleDiscrepancy>().AddScoped<MoveLot>();
        services.AddScoped<KeepPhoto>().AddScoped<PhotosTaken>();
    }

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapForm("/round/{named}", Enter);
        routes.MapForm("/round/{named}/release", Release);
        routes.MapForm("/round/{named}/died", Died);
        routes.MapForm("/round/{named}/move", Move);
        routes.MapForm("/round/{named}/photo", Photo);
        routes.MapForm("/round/order", Order);
        routes.MapForm("/round/{named}/undo", Undo);
        routes.MapForm("/round/discrepancies", Settle);
    }

    private static async Task Enter(string named, IFormCollection form, HttpContext http, HouseDay day, EnterCount enter, ShowRound round, ShowEntered said)
    {
        var problems = new List<Problem>();
        var fine = form.Whole("all-fine", "out, all fine", problems);
        var count = new CountOnLot
        {
            Id = form.Key("id") ?? BookId.New(),
            MadeAt = form.Made(day),
            Lot = named,
            OnDay = form.Day("day", problems),
            Male = form.Whole("male", "males", problems) ?? 0,
            Female = form.Whole("female", "females", problems) ?? 0,
            Unsexed = fine ?? form.Whole("unsexed", "emerged, sex not told", problems) ?? 0,
            Crippled = form.Whole("crippled", "crippled", problems) ?? 0,
            Dead = form.Whole("dead", "dead", problems) ?? 0,
            Parasitised = form.Whole("parasitised", "parasitised", problems) ?? 0,
            Missing = form.Whole("missing", "missing", problems) ?? 0,
            Note = form.Text("note"),
            Who = WhoCookie.Take(http, form),
            Corrects = form.Key("corrects"),
            Released = fine is > 0 || form.ContainsKey("released"),
            ReleasedTo = form.Key("to"),
        };
        var entered = problems.Count > 0 ? problems.ToArray() : await enter.Do(count, http.RequestAborted);
        if (!entered.IsGood)
        {
            await TypedForm.Again<LotPage>(http, form, entered.Problems);
            return;
        }

        // On to the next lot, unless there is something to read about this one.
        var seen = Seen(form);
        var code = LotCode.Of(entered.Value.Lot.Id);
        var stay = count.Corrects is not null || entered.Value.Hygiene.Count > 0 || await said.Show(count.Id, seen, http.RequestAborted) is { NeedsReading: true };
        var place = stay ? code : await Following(round, entered.Value.Lot.Id, UrgentFirst.Of(http), http.RequestAborted) ?? "summary";
        http.Response.Redirect(Invariant($"/round/{place}?entered={count.Id}&seen={seen}"));
    }

    private static async Task Release(string named, IFormCollection form, HttpContext http, HouseDay day, ReleaseAdults release)
    {
        var problems = new List<Problem>();
        var letGo = new AdultsLetGo
        {
            Id = form.Key("id") ?? BookId.New(),
            MadeAt = form.Made(day),
            Lot = named,
            Male = form.Whole("release-male", "release, males", problems) ?? 0,
            Female = form.Whole("release-female", "release, females", problems) ?? 0,
            Unsexed = form.Whole("release-unsexed", "release, sex not told", problems) ?? 0,
            To = form.Key("to"),
            Who = WhoCookie.Take(http, form),
        };
        var released = problems.Count > 0 ? problems.ToArray() : await release.Do(letGo, http.RequestAborted);
        if (released.IsGood)
        {
            http.Response.Redirect(Invariant($"/round/{LotCode.Of(released.Value.Lot.Id)}?entered={letGo.Id}&seen={Seen(form)}"));
        }
        else
        {
            await TypedForm.Again<LotPage>(http, form, released.Problems);
        }
    }

    private static async Task Died(string named, IFormCollection form, HttpContext http, HouseDay day, ReportFoundDead report)
    {
        var problems = new List<Problem>();
        var dead = new DeadAdults
        {
            Id = form.Key("id") ?? BookId.New(),
            MadeAt = form.Made(day),
            Lot = named,
            Counts = [new("died", "", form.Whole("died", "died, found dead", problems) ?? 0)],
            Who = WhoCookie.Take(http, form),
        };
        var reported = problems.Count > 0 ? problems.ToArray() : await report.Do(dead, http.RequestAborted);
        await Back(named, form, http, reported.Problems);
    }

    private static async Task Move(string named, IFormCollection form, HttpContext http, HouseDay day, MoveLot move)
    {
        var problems = new List<Problem>();
        var place = form.Whole("place", "place", problems);
        var moved = problems.Count > 0
            ? problems.ToArray()
            : await move.Do(new(named, form.Text("cage"), form.Text("row")) { Id = form.Key("id") ?? BookId.New(), Position = place, MadeAt = form.Made(day), Who = WhoCookie.Take(http, form) }, http.RequestAborted);
        await Back(named, form, http, moved.Problems);
    }

    private static async Task Photo(string named, IFormCollection form, HttpContext http, HouseDay day, FindLot finder, KeepPhoto keep)
    {
        var lot = await finder.Find(named, http.RequestAborted);
        var kept = lot.IsGood ? await keep.Do(await PhotoTaken.Of(lot.Value.Id, form, http, day), http.RequestAborted) : lot.Problems.ToArray();
        await Back(named, form, http, kept.Problems);
    }

    private static void Order(IFormCollection form, HttpContext http)
    {
        UrgentFirst.Remember(http, form.Text("first") == "urgent");
        http.Response.Redirect("/round");
    }

    private static async Task Back(string named, IFormCollection form, HttpContext http, IReadOnlyList<Problem> problems)
    {
        if (problems.Count == 0)
        {
            http.Response.Redirect($"/round/{Uri.EscapeDataString(named)}");
        }
        else
        {
            await TypedForm.Again<LotPage>(http, form, problems);
        }
    }

    private static async Task Undo(string named, IFormCollection form, HttpContext http, TakeBack takeBack)
    {
        // What cannot be taken back is not there; the lot's page shows what is.
        await takeBack.Do(form.Key("fact") ?? Guid.Empty, WhoCookie.Take(http, form), null, http.RequestAborted);
        http.Response.Redirect(named == "discrepancies" ? "/round/discrepancies" : $"/round/{Uri.EscapeDataString(named)}");
    }

    private static async Task Settle(IFormCollection form, HttpContext http, SettleDiscrepancy settle)
    {
        var how = form.Text("how") == "more-received" ? Settlement.MoreReceived : Settlement.LeaveIt;
        var settled = await settle.Do(form.Key("subject") ?? Guid.Empty, how, WhoCookie.Take(http, form), form.Text("note"), http.RequestAborted);
        if (settled.IsGood)
        {
            http.Response.Redirect("/round/discrepancies?done=1");
        }
        else
        {
            await TypedForm.Again<DiscrepanciesPage>(http, form, settled.Problems);
        }
    }

    /// <summary>The next lot that nobody has looked at today, behind this one in the order in which they hang; null where none is left.</summary>
    private static async Task<string?> Following(ShowRound round, Guid lotId, bool urgentFirst, CancellationToken cancellation)
    {
        var lots = (await round.Show(cancellation)).Lots.ToList();
        var at = lots.FindIndex(lot => lot.Id == lotId);
        var left = lots.Skip(at + 1).Concat(lots.Take(at + 1)).Where(lot => !lot.Visited).ToList();
        return (urgentFirst ? left.Find(lot => lot.IsUrgent) ?? left.FirstOrDefault() : left.FirstOrDefault())?.Code;
    }

    private static long Seen(IFormCollection form) => long.TryParse(form["seen"].ToString(), NumberStyles.None, CultureInfo.InvariantCulture, out var seen) ? seen : long.MaxValue;

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}

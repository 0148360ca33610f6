using Lepidary.App.Host;
using Lepidary.App.Photos;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.Deliveries;

/// <summary>Deliveries on the web: their use cases and the doors of their forms.</summary>
internal static class DeliveryWeb
{
    /// <summary>Most lines that a form may send.</summary>
    private const int MostLines = 400;

    public static void AddTo(IServiceCollection services)
    {
        services.AddScoped<ShowDeliveries>().AddScoped<ShowDelivery>().AddScoped<ShowNewDelivery>();
        services.AddScoped<TakeInDelivery>().AddScoped<TakeInBoxFile>().AddScoped<StepClaim>().AddScoped<StepPacking>();
        services.AddScoped<ClaimsToFollow>().AddScoped<ClaimMail>().AddScoped<ListedPrices>();
    }

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapForm("/deliveries/new", Take);
        routes.MapForm("/deliveries/{id:guid}", Step);
        routes.MapForm("/deliveries/{id:guid}/packing", Packing);
        routes.MapForm("/deliveries/{id:guid}/photo", Photo);
        routes.MapForm("/deliveries/{id:guid}/undo", Undo);
        routes.MapForm("/deliveries/{id:guid}/claim/undo", UndoStep);
        routes.MapGet("/deliveries/{id:guid}/claim.txt", Letter);
        routes.MapGet("/deliveries/{id:guid}/claim.eml", Mail);
    }

    private static async Task Take(IFormCollection form, HttpContext http, HouseDay day, TakeInDelivery take)
    {
        var problems = new List<Problem>();
        var count = Math.Min(MostLines, form.Whole("lines", "lines", problems) ?? 0);
        var box = new BoxThatCame
        {
            Id = form.Key("id") ?? BookId.New(),
            MadeAt = form.Made(day),
            OrderId = form.Key("order"),
            SupplierId = form.Key("supplier"),
            BoxMark = form.Text("box"),
            OnDay = form.Day("day", problems),
            PostedOn = form.Day("posted", problems),
            NoteText = form.Text("note"),
            Condition = form.Text("condition"),
            AsNoted = form.Text("do") == "as-noted",
            Lines = [.. Enumerable.Range(0, count).Select(at => Line(form, at, problems)).OfType<BoxLine>()],
            Who = WhoCookie.Take(http, form),
        };
        var taken = problems.Count > 0 ? problems.ToArray() : await take.Do(box, http.RequestAborted);
        if (taken.IsGood)
        {
            http.Response.Redirect($"/deliveries/{box.Id}?done=taken");
        }
        else
        {
            await TypedForm.Again<NewDeliveryPage>(http, form, taken.Problems);
        }
    }

    /// <summary>A line of the form; null for a spare one in which nothing was typed.</summary>
    private static BoxLine? Line(IFormCollection form, int at, List<Problem> problems)
    {
        var where = $"line {at + 1}";
        var ordered = form.Key($"l{at}-ordered");
        string[] fields = ["taxon", "noted", "alive", "dead", "damaged", "emerged", "wrong", "coloured", "instead", "remark", "price", "looked", "portions", "rest"];
        if (ordered is null && Array.TrueForAll(fields, field => form.Text($"l{at}-{field}") is null))
        {
            return null;
        }

        var layers = new BoxLayers();
        var portions = LineEstimates.ReadPortions(form.Text($"l{at}-portions"), where);
        if (portions is null)
        {
            problems.Add(new($"{where}, portions", form.Text($"l{at}-portions")!, LineEstimates.PortionsExpected));
        }

        var line = new BoxLine
        {
            Where = where,
            OrderLineId = ordered,
            Taxon = form.Text($"l{at}-taxon"),
            Noted = form.Whole($"l{at}-noted", $"{where}, on the note", problems),
            Alive = Count("alive", "alive", LayerCount.Alive),
            Dead = Count("dead", "dead", LayerCount.Dead) ?? 0,
            Damaged = Count("damaged", "damaged", LayerCount.Damaged) ?? 0,
            Emerged = Count("emerged", "emerged in the box", LayerCount.Emerged) ?? 0,
            WrongSpecies = Count("wrong", "wrong species", LayerCount.WrongSpecies) ?? 0,
            ColouredUp = Count("coloured", "coloured up", LayerCount.ColouredUp) ?? 0,
            SubstituteFor = form.Text($"l{at}-instead"),
            Remark = form.Text($"l{at}-remark"),
            NotedPrice = form.Money($"l{at}-price", $"{where}, price on the note", problems),
            LookedAt = form.Whole($"l{at}-looked", $"{where}, looked at", problems),
            Portions = portions ?? [],
            RestGrams = form.Number($"l{at}-rest", $"{where}, the rest weighs", problems),
            CageId = form.Key($"l{at}-cage"),
            Row = form.Text($"l{at}-row"),
            Place = form.Whole($"l{at}-place", $"{where}, place", problems),
        };
        return line with { Layers = layers.Take(where, problems) };

        int? Count(string field, string words, LayerCount what) => form.Parts($"l{at}-{field}", $"{where}, {words}", problems) is { } parts ? layers.Sum(parts, what) : null;
    }

    private static async Task Step(Guid id, IFormCollection form, HttpContext http, HouseDay day, StepClaim step)
    {
        var problems = new List<Problem>();
        if (!Enum.TryParse<ClaimState>(form.Text("state"), out var state) || !Enum.IsDefined(state))
        {
            problems.Add(new("state", form.Text("state") ?? "nothing", "sent, answered, credited or refused"));
        }

        var amount = form.Money("amount", "amount", problems);
        var onDay = form.Day("claim-day", problems);
        var taken = problems.Count > 0
            ? problems.ToArray()
            : await step.Do(new(id, state) { Id = form.Key("id") ?? BookId.New(), MadeAt = form.Made(day), Amount = amount, OnDay = onDay, Note = form.Text("claim-note"), Who = WhoCookie.Take(http, form) }, http.RequestAborted);
        if (taken.IsGood)
        {
            http.Response.Redirect($"/deliveries/{id}?done=claim");
        }
        else
        {
            await TypedForm.Again<DeliveryPage>(http, form, taken.Problems);
        }
    }

    private static async Task Packing(Guid id, IFormCollection form, HttpContext http, HouseDay day, StepPacking step)
    {
        var problems = new List<Problem>();
        if (!Enum.TryParse<PackingState>(form.Text("packing"), out var state) || !Enum.IsDefined(state))
        {
            problems.Add(new("packing", form.Text("packing") ?? "nothing", "kept, sealed or destroyed"));
        }

        var taken = problems.Count > 0
            ? problems.ToArray()
            : await step.Do(new(id, state) { Id = form.Key("id") ?? BookId.New(), MadeAt = form.Made(day), Who = WhoCookie.Take(http, form), Note = form.Text("packing-note") }, http.RequestAborted);
        await Back(taken.Problems, id, "packing", form, http);
    }

    private static async Task Photo(Guid id, IFormCollection form, HttpContext http, HouseDay day, KeepPhoto keep)
    {
        var kept = await keep.Do(await PhotoTaken.Of(id, form, http, day), http.RequestAborted);
        await Back(kept.Problems, id, "photo", form, http);
    }

    private static async Task Back(IReadOnlyList<Problem> problems, Guid id, string done, IFormCollection form, HttpContext http)
    {
        if (problems.Count == 0)
        {
            http.Response.Redirect($"/deliveries/{id}?done={done}");
        }
        else
        {
            await TypedForm.Again<DeliveryPage>(http, form, problems);
        }
    }

    private static async Task Undo(Guid id, IFormCollection form, HttpContext http, TakeBack takeBack)
    {
        var back = await takeBack.Do(id, WhoCookie.Take(http, form), null, http.RequestAborted);
        http.Response.Redirect($"/deliveries/{id}{(back.IsGood ? "?back=1" : "")}");
    }

    private static async Task UndoStep(Guid id, IFormCollection form, HttpContext http, TakeBack takeBack)
    {
        await takeBack.Do(form.Key("fact") ?? Guid.Empty, WhoCookie.Take(http, form), null, http.RequestAborted);
        http.Response.Redirect($"/deliveries/{id}");
    }

    private static async Task<IResult> Mail(Guid id, ClaimMail mail, CancellationToken cancellation) =>
        await mail.Write(id, cancellation) is { } written ? Results.Bytes(written, "message/rfc822", $"claim-{id}.eml") : Results.NotFound();

    private static async Task<IResult> Letter(Guid id, ShowDelivery query, CancellationToken cancellation) =>
        await query.Show(id, cancellation) is { Letter: { } letter } ? Results.Text(letter.Text(), "text/plain; charset=utf-8") : Results.NotFound();
}

using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;
using UUIDNext;

namespace Lepidary.App.Paper;

/// <summary>Sheets for the clipboard, and the door by which a round comes back from one.</summary>
internal static class PaperWeb
{
    /// <summary>Most rows that a form may send.</summary>
    private const int MostRows = 600;

    public static void AddTo(IServiceCollection services) => services.AddScoped<TypeRound>().AddScoped<ShowPaper>();

    public static void Map(IEndpointRouteBuilder routes) => routes.MapForm("/paper/round/type", Type);

    private static async Task Type(IFormCollection form, HttpContext http, HouseDay day, TypeRound type)
    {
        var problems = new List<Problem>();
        var key = form.Key("id") ?? BookId.New();
        var onDay = form.Day("day", problems);
        var made = form.Made(day);
        var who = WhoCookie.Take(http, form);
        var rows = Math.Min(MostRows, form.Whole("rows", "rows", problems) ?? 0);
        var counts = Enumerable.Range(0, rows).Select(at => Row(form, at, key, onDay, made, who, problems)).OfType<CountOnLot>().ToList();
        var typed = problems.Count > 0 ? problems.ToArray() : await type.Do(new(counts), http.RequestAborted);
        if (typed.IsGood)
        {
            http.Response.Redirect(typed.Value.DoNotAddUp.Count > 0 ? "/round/discrepancies" : "/round/summary");
        }
        else
        {
            await TypedForm.Again<TypeRoundPage>(http, form, typed.Problems);
        }
    }

    /// <summary>A row of the sheet; null for one in which nothing stands: nobody looked.</summary>
    private static CountOnLot? Row(IFormCollection form, int at, Guid key, DateOnly? onDay, DateTimeOffset made, string who, List<Problem> problems)
    {
        string Field(string name) => FormattableString.Invariant($"r{at}-{name}");
        if (form.Text(Field("lot")) is not { } lot)
        {
            return null;
        }

        string[] filled = ["male", "female", "unsexed", "crippled", "dead", "parasitised", "missing", "note"];
        if (!form.ContainsKey(Field("looked")) && !form.ContainsKey(Field("released")) && Array.TrueForAll(filled, name => form.Text(Field(name)) is null))
        {
            return null;
        }

        int Count(string name, string words) => form.Whole(Field(name), $"{lot}, {words}", problems) ?? 0;
        return new()
        {
            Id = Uuid.NewNameBased(key, lot),
            MadeAt = made,
            OnDay = onDay,
            Lot = lot,
            Male = Count("male", "males"),
            Female = Count("female", "females"),
            Unsexed = Count("unsexed", "not told"),
            Crippled = Count("crippled", "crippled"),
            Dead = Count("dead", "dead"),
            Parasitised = Count("parasitised", "parasitised"),
            Missing = Count("missing", "missing"),
            Released = form.ContainsKey(Field("released")),
            Note = form.Text(Field("note")),
            Who = who,
        };
    }
}

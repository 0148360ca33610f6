using System.Text;
using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace Lepidary.App.Lists;

/// <summary>What the lists' forms post to.</summary>
internal static class ListWeb
{
    public static void AddTo(IServiceCollection services)
    {
        services.AddScoped<TakeInList>();
        services.AddScoped<CurrentLists>();
        services.AddScoped<SettleName>();
        services.AddScoped<ShowLists>();
        services.AddScoped<ShowList>();
        services.AddScoped<FindSupplier>();
        services.AddScoped<TakeInByItself>();
        services.AddScoped<SettleWaiting>();
        services.TryAddSingleton(new WatchedFolder(null));
        services.AddScoped<TeachLayout>();
        services.AddScoped<TellLine>();
        services.AddScoped<ForgetLearnt>();
        services.AddScoped<ShowLearnt>();
    }

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapPost("/lists/take", async ([FromForm] Guid supplier, IFormFile? file, [FromForm] string? text, HouseDay day, TakeInList take, TakeInByItself each, CancellationToken cancellation) =>
        {
            var (name, content) = await Content(file, text, cancellation);
            if (Lepidary.Lists.Mailbox.Is(content))
            {
                var mails = await each.Take(name, content, supplier, cancellation);
                var bad = mails.Where(mail => mail.Waits).Select(mail => $"{mail.FileName}: {mail.Words}").ToList();
                return Results.LocalRedirect(bad.Count == 0 ? "/lists" : $"/lists?from={supplier}&refused={Uri.EscapeDataString(string.Join('\n', bad))}");
            }

            var kept = content.Length == 0
                ? new Problem("list", "nothing", "a file or some text")
                : await take.Take(new HandedList(supplier, name, content, day.Today, day.Now), cancellation);
            return kept.IsGood
                ? Results.LocalRedirect(kept.Value.WasThere ? $"/lists?there={kept.Value.ListId}" : $"/lists/{kept.Value.ListId}")
                : Results.LocalRedirect($"/lists?from={supplier}&refused={Uri.EscapeDataString(string.Join('\n', kept.Problems))}");
        });
        routes.MapPost("/lists/{id:guid}/settle", async (Guid id, [FromForm] Guid key, [FromForm] string printed, [FromForm] string? taxon, [FromForm] DateTimeOffset made, HttpContext http, BookContext book, SettleName settle, CancellationToken cancellation) =>
        {
            var supplier = await book.Lists.AsNoTracking().Where(list => list.Id == id).Select(list => (Guid?)list.SupplierId).SingleOrDefaultAsync(cancellation);
            var settled = await settle.Settle(key, printed, taxon?.Trim() ?? "", WhoCookie.Of(http), made, cancellation, supplier);
            return Results.LocalRedirect(settled.IsGood ? $"/lists/{id}" : $"/lists/{id}?refused={Uri.EscapeDataString(string.Join('\n', settled.Problems))}");
        });
        routes.MapPost("/lists/{id:guid}/teach", async (Guid id, [FromForm] Guid key, [FromForm] LearntMatter matter, [FromForm] string? column, [FromForm] string meaning, [FromForm] DateTimeOffset made, HttpContext http, BookContext book, TeachLayout teach, CancellationToken cancellation) =>
        {
            var supplier = await book.Lists.AsNoTracking().Where(list => list.Id == id).Select(list => list.SupplierId).SingleOrDefaultAsync(cancellation);
            var problems = await teach.Teach(new LayoutWord(key, supplier, matter, column ?? "", meaning, WhoCookie.Of(http), made), cancellation);
            return Results.LocalRedirect(problems.Count == 0 ? $"/lists/{id}" : $"/lists/{id}?refused={Uri.EscapeDataString(string.Join('\n', problems))}");
        });
        routes.MapPost("/lists/{id:guid}/line", async (Guid id, [AsParameters] LineForm form, HttpContext http, TellLine tell, CancellationToken cancellation) =>
        {
            var problems = await tell.Tell(id, form, WhoCookie.Of(http), cancellation);
            return Results.LocalRedirect(problems.Count == 0 ? $"/lists/{id}" : $"/lists/{id}?refused={Uri.EscapeDataString(string.Join('\n', problems))}");
        });
        routes.MapPost("/lists/waiting/take", async ([FromForm] string file, [FromForm] string sha256, [FromForm] Guid supplier, SettleWaiting settle, CancellationToken cancellation) =>
        {
            var taken = await settle.Take(file, sha256, supplier, cancellation);
            return Results.LocalRedirect(taken.IsGood ? $"/lists/{taken.Value}" : $"/lists/waiting?refused={Uri.EscapeDataString(string.Join('\n', taken.Problems))}");
        });
        routes.MapPost("/lists/waiting/aside", ([FromForm] string file, [FromForm] string sha256, SettleWaiting settle) =>
        {
            var problems = settle.PutAside(file, sha256);
            return Results.LocalRedirect(problems.Count == 0 ? "/lists/waiting" : $"/lists/waiting?refused={Uri.EscapeDataString(string.Join('\n', problems))}");
        });
        routes.MapPost("/lists/learnt/{supplier:guid}/forget", async (Guid supplier, [FromForm] Guid key, [FromForm] Guid learnt, [FromForm] DateTimeOffset made, HttpContext http, ForgetLearnt forget, CancellationToken cancellation) =>
        {
            var problems = await forget.Forget(key, learnt, WhoCookie.Of(http), made, cancellation);
            return Results.LocalRedirect(problems.Count == 0 ? $"/lists/learnt/{supplier}" : $"/lists/learnt/{supplier}?refused={Uri.EscapeDataString(string.Join('\n', problems))}");
        });
        routes.MapGet("/lists/learnt/{supplier:guid}/learnt.csv", async (Guid supplier, ShowLearnt show, CancellationToken cancellation) =>
            await show.Show(supplier, cancellation) is { } view ? CsvText.File(ShowLearnt.Csv(view), "learnt.csv") : Results.NotFound());
        routes.MapGet("/lists/learnt/{supplier:guid}/learnt.json", async (Guid supplier, ShowLearnt show, CancellationToken cancellation) =>
            await show.Show(supplier, cancellation) is { } view ? Results.Json(new { view.Supplier, view.Rows }, Terminal.Json) : Results.NotFound());
        routes.MapGet("/lists/{id:guid}/file", async (Guid id, BookContext book, CancellationToken cancellation) =>
            await book.Lists.AsNoTracking().Include(list => list.Original).SingleOrDefaultAsync(list => list.Id == id, cancellation) is { Original: { } original } list
                ? Results.File(original.Bytes, "application/octet-stream", list.FileName)
                : Results.NotFound());
    }

    private static async Task<(string Name, byte[] Content)> Content(IFormFile? file, string? text, CancellationToken cancellation)
    {
        if (file is { Length: > 0 })
        {
            using var memory = new MemoryStream();
            await file.CopyToAsync(memory, cancellation);
            return (Path.GetFileName(file.FileName), memory.ToArray());
        }

        return ("pasted.txt", Encoding.UTF8.GetBytes(text ?? ""));
    }
}

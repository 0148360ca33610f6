using System.Text;
using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;

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
    }

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapPost("/lists/take", async ([FromForm] Guid supplier, IFormFile? file, [FromForm] string? text, HouseDay day, TakeInList take, CancellationToken cancellation) =>
        {
            var (name, content) = await Content(file, text, cancellation);
            var kept = content.Length == 0
                ? new Problem("list", "nothing", "a file or some text")
                : await take.Take(new HandedList(supplier, name, content, day.Today, day.Now), cancellation);
            return kept.IsGood
                ? Results.LocalRedirect(kept.Value.WasThere ? $"/lists?there={kept.Value.ListId}" : $"/lists/{kept.Value.ListId}")
                : Results.LocalRedirect($"/lists?from={supplier}&refused={Uri.EscapeDataString(string.Join('\n', kept.Problems))}");
        });
        routes.MapPost("/lists/{id:guid}/settle", async (Guid id, [FromForm] Guid key, [FromForm] string printed, [FromForm] string? taxon, [FromForm] DateTimeOffset made, HttpContext http, SettleName settle, CancellationToken cancellation) =>
        {
            var settled = await settle.Settle(key, printed, taxon?.Trim() ?? "", WhoCookie.Of(http), made, cancellation);
            return Results.LocalRedirect(settled.IsGood ? $"/lists/{id}" : $"/lists/{id}?refused={Uri.EscapeDataString(string.Join('\n', settled.Problems))}");
        });
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

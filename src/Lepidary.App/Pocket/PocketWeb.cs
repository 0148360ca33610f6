using System.Text.Json;
using System.Text.Json.Nodes;
using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.AspNetCore.Mvc;

namespace Lepidary.App.Pocket;

/// <summary>The pocket book on the web: its files, the day it carries, and the door of its outbox.</summary>
internal static class PocketWeb
{
    /// <summary>Largest batch of rows, bytes.</summary>
    public const int MostBytes = 1_000_000;

    /// <summary>So much of a photo is read at most, bytes: enough to say of one that is too large that it is, instead of breaking off.</summary>
    public const int MostPhotoBytes = 4 * PhotoShelf.MostBytes;

    public static void AddTo(IServiceCollection services) =>
        services.AddSingleton<PhotoShelf>().AddScoped<TakePhoto>().AddScoped<TakeFromPhone>().AddScoped<ShowPocketDay>();

    public static void Map(IEndpointRouteBuilder routes)
    {
        PocketFiles.Map(routes);
        routes.MapGet("/pocket/day", async (HttpContext http, ShowPocketDay query) =>
            await query.Show(WhoCookie.Of(http), http.RequestAborted) is { } carried ? Json(carried) : Refuse(StatusCodes.Status409Conflict, new Problem("house", "none in this book yet", "a house: begin the book first")));
        routes.MapPost("/pocket/inbox", Inbox).WithMetadata(new RequestSizeLimitAttribute(MostBytes));
        routes.MapPost("/pocket/photos/{id:guid}", KeepPhoto).WithMetadata(new RequestSizeLimitAttribute(MostPhotoBytes));
        routes.MapGet("/photos/{id:guid}", ShowPhoto);
    }

    private static async Task<IResult> Inbox(HttpContext http, TakeFromPhone take)
    {
        if (!IsOwn(http) || !http.Request.HasJsonContentType())
        {
            return Refuse(StatusCodes.Status415UnsupportedMediaType, new Problem("request", "not from the pocket book", "JSON from a page of this book"));
        }

        JsonNode? body;
        try
        {
            body = await JsonNode.ParseAsync(http.Request.Body, cancellationToken: http.RequestAborted);
        }
        catch (JsonException wrong)
        {
            return Refuse(StatusCodes.Status400BadRequest, new Problem("batch", wrong.Message, "JSON"));
        }
        catch (BadHttpRequestException wrong) when (wrong.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return TooLarge(MostBytes);
        }

        var answer = await take.Do(body, http.RequestAborted);
        return answer.IsGood ? Json(answer.Value) : Refuse(StatusCodes.Status400BadRequest, [.. answer.Problems]);
    }

    private static async Task<IResult> KeepPhoto(Guid id, HttpContext http, TakePhoto take)
    {
        if (!IsOwn(http) || http.Request.ContentType?.StartsWith("image/", StringComparison.Ordinal) != true)
        {
            return Refuse(StatusCodes.Status415UnsupportedMediaType, new Problem("request", "not from the pocket book", "a picture from a page of this book"));
        }

        using var bytes = new MemoryStream();
        try
        {
            await http.Request.Body.CopyToAsync(bytes, http.RequestAborted);
        }
        catch (BadHttpRequestException wrong) when (wrong.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return TooLarge(MostPhotoBytes);
        }

        var (receipt, problems) = await take.Do(id, bytes.ToArray(), http.RequestAborted);
        return problems.Count == 0 ? Json(new { Outcome = PhoneReceipt.Word(receipt) }) : Json(new { Outcome = PhoneReceipt.Word(receipt), problems }, StatusCodes.Status422UnprocessableEntity);
    }

    private static async Task<IResult> ShowPhoto(Guid id, HttpContext http, PhotoShelf shelf)
    {
        if (await shelf.FindAsync(id, http.RequestAborted) is not { } image)
        {
            return Results.NotFound();
        }

        http.Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        http.Response.Headers.ContentSecurityPolicy = "default-src 'none'; sandbox";
        return Results.Bytes(image.Bytes, image.MediaType);
    }

    /// <summary>
    /// True for a request of a page of this book. A page of another site can send neither the header nor JSON without asking first,
    /// and it is never told yes.
    /// </summary>
    private static bool IsOwn(HttpContext http) =>
        http.Request.Headers["Lepidary-Pocket"] == "1" && http.Request.Headers["Sec-Fetch-Site"].ToString() is "" or "same-origin";

    private static IResult TooLarge(int most) => Refuse(StatusCodes.Status413PayloadTooLarge, new Problem("request", "more bytes", $"at most {most} bytes"));

    private static IResult Refuse(int status, params IReadOnlyList<Problem> problems) => Json(new { problems }, status);

    private static IResult Json(object value, int status = StatusCodes.Status200OK) => Results.Json(value, FactJson.Options, statusCode: status);
}

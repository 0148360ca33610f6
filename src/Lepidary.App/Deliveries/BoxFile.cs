using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Deliveries;

/// <summary>A box as a script hands it in; docs/handbook/deliveries.md shows one.</summary>
internal sealed record BoxFile
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        NumberHandling = JsonNumberHandling.Strict,
        AllowTrailingCommas = true,
        ReadCommentHandling = JsonCommentHandling.Skip,
    };

    /// <summary>Key; sent twice under one key, it is one box.</summary>
    public Guid? Id { get; init; }

    /// <summary>Key of the order, or its supplier's name where one of its orders is on the way.</summary>
    public string? Order { get; init; }

    /// <summary>Name; not needed with an order.</summary>
    public string? Supplier { get; init; }

    /// <summary>Mark on the box.</summary>
    public string? Box { get; init; }

    /// <summary>The day it came.</summary>
    public DateOnly? On { get; init; }

    /// <summary>The day it was posted.</summary>
    public DateOnly? Posted { get; init; }

    public string? Note { get; init; }

    public string? Condition { get; init; }

    /// <summary>True where a line without <c>alive</c> came as noted.</summary>
    public bool AsNoted { get; init; }

    public IReadOnlyList<BoxFileLine> Lines { get; init; } = [];

    /// <summary>Reads a file.</summary>
    public static Checked<BoxFile> Read(string path)
    {
        try
        {
            return JsonSerializer.Deserialize<BoxFile>(File.ReadAllText(path), Options) is { } box ? box : new Problem(path, "null", "a box: { \"supplier\": …, \"lines\": […] }");
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            return new Problem(path, "no file that can be read", "a file");
        }
        catch (JsonException wrong)
        {
            var where = wrong.LineNumber is { } line ? string.Create(CultureInfo.InvariantCulture, $"{path}, line {line + 1}") : path;
            return new Problem(where, wrong.Path is { Length: > 1 } at ? $"something else at {at}" : "no JSON", "a box as docs/handbook/deliveries.md shows it");
        }
    }

    /// <summary>Reads a line of the command: <c>Morpho helenor=18,dead=2,noted=20,cage=Cage A,row=3</c>.</summary>
    public static Checked<BoxFileLine> ReadLine(string text)
    {
        var where = $"--line {text}";
        var parts = text.Split(',', StringSplitOptions.TrimEntries);
        var (taxon, alive) = Split(parts[0]);
        var problems = new List<Problem>();
        var layers = new BoxLayers();
        var line = new BoxFileLine { Taxon = taxon, Alive = Count(alive, LayerCount.Alive) };
        foreach (var part in parts.Skip(1))
        {
            var (name, value) = Split(part);
            switch (name)
            {
                case "noted": line = line with { Noted = Whole(value) }; break;
                case "dead": line = line with { Dead = Count(value, LayerCount.Dead) ?? 0 }; break;
                case "damaged": line = line with { Damaged = Count(value, LayerCount.Damaged) ?? 0 }; break;
                case "emerged": line = line with { Emerged = Count(value, LayerCount.Emerged) ?? 0 }; break;
                case "wrong": line = line with { Wrong = Count(value, LayerCount.WrongSpecies) ?? 0 }; break;
                case "coloured": line = line with { Coloured = Count(value, LayerCount.ColouredUp) ?? 0 }; break;
                case "instead": line = line with { Instead = value }; break;
                case "form": line = line with { Form = value }; break;
                case "remark": line = line with { Remark = value }; break;
                case "cage": line = line with { Cage = value }; break;
                case "row": line = line with { Row = value }; break;
                case "place": line = line with { Place = Whole(value) }; break;
                case "price": line = line with { Price = Number(value) is { } price ? (decimal)price : null }; break;
                case "looked": line = line with { Looked = Whole(value) }; break;
                case "rest": line = line with { Rest = Number(value) }; break;
                case "portions": line = line with { Portions = Portions(value) }; break;
                default: problems.Add(new(where, part, "noted, price, dead, damaged, emerged, wrong, coloured, looked, portions, rest, instead, form, remark, cage, row or place, each with =")); break;
            }
        }

        line = line with { Layers = layers.Take(where, problems) };
        return problems.Count > 0 ? problems.ToArray() : line;

        static (string Name, string? Value) Split(string part) =>
            part.LastIndexOf('=') is > 0 and var at ? (part[..at].Trim(), part[(at + 1)..].Trim()) : (part, null);

        int? Count(string? value, LayerCount what) => Parts(value) is { } parts ? layers.Sum(parts, what) : null;

        int? Whole(string? value) => Parts(value)?.Sum();

        IReadOnlyList<int>? Parts(string? value)
        {
            if (CountParts.Read(value) is { } parts)
            {
                return parts;
            }

            problems.Add(new(where, value ?? "nothing", $"{CountParts.Expected}, behind ="));
            return null;
        }

        double? Number(string? value)
        {
            if (double.TryParse(value, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number))
            {
                return number;
            }

            problems.Add(new(where, value ?? "nothing", "a number as 12.5, behind ="));
            return null;
        }

        IReadOnlyList<BoxFilePortion> Portions(string? value)
        {
            if (LineEstimates.ReadPortions(value, where) is { Count: > 0 } portions)
            {
                return [.. portions.Select(portion => new BoxFilePortion(portion.Pupae!.Value, portion.Grams!.Value))];
            }

            problems.Add(new(where, value ?? "nothing", "portions as pupae:grams, 20:31.5/20:30.9, behind ="));
            return [];
        }
    }
}

/// <summary>A portion that was counted and weighed.</summary>
internal sealed record BoxFilePortion(int Pupae, double Grams);

/// <summary>One line of <see cref="BoxFile"/>.</summary>
internal sealed record BoxFileLine
{
    /// <summary>A name as printed; in a box of an order, the order's line of that taxon is meant where it has one.</summary>
    public string? Taxon { get; init; }

    public string? Form { get; init; }

    public int? Noted { get; init; }

    public int? Alive { get; init; }

    public int Dead { get; init; }

    public int Damaged { get; init; }

    /// <summary>Emerged in the box.</summary>
    public int Emerged { get; init; }

    /// <summary>Of another species.</summary>
    public int Wrong { get; init; }

    /// <summary>Of the living, those that have coloured up.</summary>
    public int Coloured { get; init; }

    /// <summary>A name of what was ordered and this was sent in place of.</summary>
    public string? Instead { get; init; }

    public string? Remark { get; init; }

    /// <summary>Name of the cage.</summary>
    public string? Cage { get; init; }

    public string? Row { get; init; }

    /// <summary>Place of the first pupa in the row, 1 the first.</summary>
    public int? Place { get; init; }

    /// <summary>For one pupa on the note, in the supplier's currency.</summary>
    public decimal? Price { get; init; }

    /// <summary>The counts layer by layer, the top one first.</summary>
    public IReadOnlyList<BoxLayer> Layers { get; init; } = [];

    /// <summary>Of a big lot, how many were looked at.</summary>
    public int? Looked { get; init; }

    /// <summary>Portions that were counted and weighed.</summary>
    public IReadOnlyList<BoxFilePortion> Portions { get; init; } = [];

    /// <summary>What was not counted weighs so many grams.</summary>
    public double? Rest { get; init; }
}

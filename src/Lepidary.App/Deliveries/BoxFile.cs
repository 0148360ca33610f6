using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using Lepidary.App.Host;

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
        var layers = new List<string>();
        var line = new BoxFileLine { Taxon = taxon, Alive = Whole(alive, "alive") };
        foreach (var part in parts.Skip(1))
        {
            var (name, value) = Split(part);
            switch (name)
            {
                case "noted": line = line with { Noted = Whole(value, name) }; break;
                case "dead": line = line with { Dead = Whole(value, name) ?? 0 }; break;
                case "damaged": line = line with { Damaged = Whole(value, name) ?? 0 }; break;
                case "emerged": line = line with { Emerged = Whole(value, name) ?? 0 }; break;
                case "wrong": line = line with { Wrong = Whole(value, name) ?? 0 }; break;
                case "coloured": line = line with { Coloured = Whole(value, name) ?? 0 }; break;
                case "instead": line = line with { Instead = value }; break;
                case "form": line = line with { Form = value }; break;
                case "remark": line = line with { Remark = value }; break;
                case "cage": line = line with { Cage = value }; break;
                case "row": line = line with { Row = value }; break;
                default: problems.Add(new(where, part, "noted, dead, damaged, emerged, wrong, coloured, instead, form, remark, cage or row, each with =")); break;
            }
        }

        return problems.Count > 0 ? problems.ToArray() : line with { Remark = BoxLayers.Remark(line.Remark, layers) };

        static (string Name, string? Value) Split(string part) =>
            part.LastIndexOf('=') is > 0 and var at ? (part[..at].Trim(), part[(at + 1)..].Trim()) : (part, null);

        int? Whole(string? value, string what)
        {
            if (CountParts.Read(value) is { } parts)
            {
                return BoxLayers.Sum(parts, what, layers);
            }

            problems.Add(new(where, value ?? "nothing", $"{CountParts.Expected}, behind ="));
            return null;
        }
    }
}

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
}

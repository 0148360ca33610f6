using System.Xml.Linq;
using Mono.Cecil;

namespace Lepidary.Architecture.Rooms;

/// <summary>Which room may know which, which package lives where, and which rooms have no clock and no luck of their own.</summary>
internal static class RoomRules
{
    /// <summary>
    /// What each room may reference of Lepidary. App knows everybody, and nobody knows App. The words that all rooms share
    /// (problems, checked values: the namespace <c>Lepidary</c> itself, which lies in science) are everybody's.
    /// </summary>
    private static readonly Dictionary<string, string[]> _directions = new()
    {
        ["Lepidary.Science"] = [],
        ["Lepidary.Taxa"] = ["Lepidary.Science"],
        ["Lepidary.Lists"] = ["Lepidary.Taxa", "Lepidary.Science"],
        ["Lepidary.Planning"] = ["Lepidary.Taxa", "Lepidary.Science"],
        ["Lepidary.Book"] = ["Lepidary.Taxa", "Lepidary.Science"],
        ["Lepidary.Book.Sqlite"] = ["Lepidary.Book"],
        ["Lepidary.Book.Postgres"] = ["Lepidary.Book"],
        ["lepidary"] =
        [
            "Lepidary.Science", "Lepidary.Taxa", "Lepidary.Lists", "Lepidary.Planning", "Lepidary.Book", "Lepidary.Book.Sqlite",
            "Lepidary.Book.Postgres",
        ],
    };

    /// <summary>
    /// An outside library (by the start of its assembly's name) and the only namespaces that may name it. The reason is one of
    /// exchange: what only one room names, only one room changes with.
    /// </summary>
    private static readonly (string Library, string[] Places)[] _confined =
    [
        ("Google.", ["Lepidary.Planning.Solver"]),
        ("Microsoft.EntityFrameworkCore", ["Lepidary.Book", "Lepidary.App", "Program"]),
        ("Microsoft.Data.Sqlite", ["Lepidary.Book.Sqlite"]),
        ("SQLitePCLRaw", ["Lepidary.Book.Sqlite"]),
        ("Npgsql", ["Lepidary.Book.Postgres"]),
        ("CsvHelper", ["Lepidary.Lists"]),
        ("DocumentFormat.OpenXml", ["Lepidary.Lists"]),
        ("UtfUnknown", ["Lepidary.Lists"]),
        ("System.CommandLine", ["Lepidary.App", "Program"]),
        ("Spectre.Console", ["Lepidary.App", "Program"]),
        ("Lepidary.Book.Sqlite", ["Program"]),
        ("Lepidary.Book.Postgres", ["Program"]),
    ];

    /// <summary>Rooms whose answer depends on what they are given and on nothing else.</summary>
    public static readonly IReadOnlyList<string> PureRooms =
        ["Lepidary.Science", "Lepidary.Taxa", "Lepidary.Lists", "Lepidary.Planning"];

    private static readonly (string Type, string Member, string Instead)[] _impure =
    [
        ("System.DateTime", "get_Now(", "take the date as an argument"),
        ("System.DateTime", "get_UtcNow(", "take the date as an argument"),
        ("System.DateTime", "get_Today(", "take the date as an argument"),
        ("System.DateTimeOffset", "get_Now(", "take the date as an argument"),
        ("System.DateTimeOffset", "get_UtcNow(", "take the date as an argument"),
        ("System.TimeProvider", "get_System(", "take the date as an argument"),
        ("System.Guid", "NewGuid(", "take the id as an argument"),
        ("System.Guid", "CreateVersion7(", "take the id as an argument"),
        ("System.Random", ".ctor()", "take a seed as an argument"),
        ("System.Random", "get_Shared(", "take a seed as an argument"),
        ("System.Security.Cryptography.RandomNumberGenerator", "", "take a seed as an argument"),
        ("System.IO.File", "", "take a stream as an argument"),
        ("System.IO.FileStream", "", "take a stream as an argument"),
        ("System.IO.Directory", "", "take a stream as an argument"),
        ("System.Console", "", "return a value"),
    ];

    /// <summary>Names of all rooms, as their assemblies are called.</summary>
    public static IReadOnlyCollection<string> Rooms => _directions.Keys;

    /// <summary>References between rooms that the compiled code has and the directions do not give it.</summary>
    public static IEnumerable<Finding> AgainstDirection(AssemblyDefinition room)
    {
        var may = _directions[room.Name.Name];
        return from use in Use.Of(room)
               where _directions.ContainsKey(use.Assembly) && !may.Contains(use.Assembly) && !IsSharedWord(use)
               select new Finding(use.By, $"names {use.Type} of {use.Assembly}; {room.Name.Name} may know {Or(may)}");
    }

    /// <summary>
    /// The same for what a project file declares: a reference that no code uses yet leaves no trace in the compiled code, and
    /// is an open door all the same.
    /// </summary>
    /// <param name="room">Name of the assembly that the project makes.</param>
    /// <param name="project">The project file's text.</param>
    public static IEnumerable<Finding> DeclaredAgainstDirection(string room, string project)
    {
        var may = _directions[room];
        return from reference in XDocument.Parse(project).Descendants("ProjectReference")
               let name = Path.GetFileNameWithoutExtension(reference.Attribute("Include")!.Value.Replace('\\', '/'))
               where !may.Contains(name)
               select new Finding($"{room}'s project", $"references {name}; it may know {Or(may)}");
    }

    /// <summary>Outside assemblies that Science names although it stands on the runtime alone.</summary>
    public static IEnumerable<Finding> ScienceStandsOn(AssemblyDefinition science) =>
        from use in Use.Of(science)
        where !use.Assembly.StartsWith("System.", StringComparison.Ordinal)
        select new Finding(use.By, $"names {use.Type} of {use.Assembly}; science stands on the runtime alone");

    /// <summary>Outside libraries, and the databases' projects, named away from the one place that may.</summary>
    public static IEnumerable<Finding> OutOfPlace(AssemblyDefinition room) =>
        from use in Use.Of(room)
        from rule in _confined
        where Starts(use.Assembly, rule.Library) && !rule.Places.Any(place => Inside(use.By, place))
            && !Starts(room.Name.Name, rule.Library)
        select new Finding(use.By, $"names {use.Type} of {use.Assembly}, which belongs in {Or(rule.Places)}");

    /// <summary>Clocks, ids, luck and files that a pure room takes for itself.</summary>
    public static IEnumerable<Finding> Impure(AssemblyDefinition room) =>
        from use in Use.Of(room)
        from rule in _impure
        where use.Type == rule.Type && use.Member.StartsWith(rule.Member, StringComparison.Ordinal)
        select new Finding(use.By, $"uses {use.Type} {use.Member}: {rule.Instead}");

    /// <summary>Whether a use is of a word that all rooms share.</summary>
    public static bool IsSharedWord(Use use) => use.Assembly == "Lepidary.Science" && use.Type.LastIndexOf('.') == "Lepidary".Length;

    private static bool Starts(string name, string start) => name.StartsWith(start, StringComparison.Ordinal);

    /// <summary>Whether a type is the place itself or lies in that namespace (not merely in one whose name begins alike).</summary>
    private static bool Inside(string type, string place) => type == place || Starts(type, place + ".");

    private static string Or(string[] names) => names.Length == 0 ? "no other room" : string.Join(", ", names);
}

using Lepidary.Architecture.Planting;

namespace Lepidary.Architecture.Rooms;

public sealed class RoomRulesTests
{
    public static TheoryData<string> Rooms => [.. RoomRules.Rooms];

    public static TheoryData<string> PureRooms => [.. RoomRules.PureRooms];

    [Theory]
    [MemberData(nameof(Rooms))]
    public void AgainstDirection_room_of_the_product_finds_nothing(string room) =>
        Assert.Empty(RoomRules.AgainstDirection(ProductAssemblies.Read(room)));

    /// <summary>Every pair of rooms without an arrow between them, planted once.</summary>
    [Theory]
    [InlineData("Lepidary.Science", "Lepidary.Taxa")]
    [InlineData("Lepidary.Science", "lepidary")]
    [InlineData("Lepidary.Taxa", "Lepidary.Lists")]
    [InlineData("Lepidary.Taxa", "Lepidary.Book")]
    [InlineData("Lepidary.Lists", "Lepidary.Planning")]
    [InlineData("Lepidary.Lists", "Lepidary.Book")]
    [InlineData("Lepidary.Planning", "Lepidary.Lists")]
    [InlineData("Lepidary.Planning", "Lepidary.Book")]
    [InlineData("Lepidary.Book", "Lepidary.Lists")]
    [InlineData("Lepidary.Book", "Lepidary.Planning")]
    [InlineData("Lepidary.Book", "Lepidary.Book.Sqlite")]
    [InlineData("Lepidary.Book", "lepidary")]
    [InlineData("Lepidary.Book.Sqlite", "Lepidary.Book.Postgres")]
    [InlineData("Lepidary.Book.Postgres", "Lepidary.Taxa")]
    public void AgainstDirection_planted_reference_is_found(string from, string to)
    {
        var target = Planted.Assembly(to, "namespace There; public class Thing { public static int Count() => 1; }");
        var room = Planted.Assembly(from, "namespace Here; public class User { public int Ask() => There.Thing.Count(); }", target);

        var finding = Assert.Single(RoomRules.AgainstDirection(room.Read()).Select(f => f.Where).Distinct());
        Assert.Equal("Here.User", finding);
    }

    /// <summary>The places where a reference can hide: each names the forbidden type in another way.</summary>
    [Theory]
    [InlineData("public class User : There.Thing { }")]
    [InlineData("public class User { private There.Thing[] _all = []; }")]
    [InlineData("public class User { public There.Thing Get() => null; }")]
    [InlineData("public class User { public void Set(System.Collections.Generic.List<There.Thing> all) { } }")]
    [InlineData("public class User { public System.Func<object> Later() => () => new There.Thing(); }")]
    [InlineData("public class User { public async System.Threading.Tasks.Task Wait() { await System.Threading.Tasks.Task.Yield(); new There.Thing(); } }")]
    [InlineData("public class User { public bool Is(object o) => o is There.Thing; }")]
    [InlineData("public class User { public object Of() => typeof(There.Thing); }")]
    [InlineData("public class User { public object New<T>() where T : There.Thing => null; }")]
    [InlineData("public class User { public void Try() { try { } catch (There.Wrong) { } } }")]
    [InlineData("[There.Mark] public class User { }")]
    [InlineData("public class User { [System.ComponentModel.TypeConverter(typeof(There.Thing))] public int A { get; } }")]
    public void AgainstDirection_hidden_reference_is_found(string code)
    {
        var target = Planted.Assembly(
            "Lepidary.Book",
            """
            namespace There;
            public class Thing { }
            public class Wrong : System.Exception { }
            public class Mark : System.Attribute { }
            """);
        var room = Planted.Assembly("Lepidary.Planning", "namespace Here; " + code, target);

        Assert.Contains(RoomRules.AgainstDirection(room.Read()), f => f.Where == "Here.User");
    }

    [Fact]
    public void AgainstDirection_reference_along_an_arrow_finds_nothing()
    {
        var science = Planted.Assembly("Lepidary.Science", "namespace There; public class Thing { }");
        var room = Planted.Assembly("Lepidary.Planning", "namespace Here; public class User : There.Thing { }", science);

        Assert.Empty(RoomRules.AgainstDirection(room.Read()));
    }

    [Theory]
    [InlineData("Lepidary", 0)]
    [InlineData("Lepidary.Science.Counts", 1)]
    public void AgainstDirection_shared_word_finds_nothing_and_its_neighbour_does(string place, int findings)
    {
        var science = Planted.Assembly("Lepidary.Science", $"namespace {place}; public class Problem {{ }}");
        var room = Planted.Assembly("Lepidary.Book.Sqlite", $"namespace Here; public class User {{ private {place}.Problem _wrong; }}", science);

        Assert.Equal(findings, RoomRules.AgainstDirection(room.Read()).Count());
    }

    [Theory]
    [MemberData(nameof(Rooms))]
    public void DeclaredAgainstDirection_project_of_the_product_finds_nothing(string room)
    {
        var name = room == "lepidary" ? "Lepidary.App" : room;
        var project = SourceFile.Below($"src/{name}").Single(file => file.Path == $"{name}.csproj");

        Assert.Empty(RoomRules.DeclaredAgainstDirection(room, project.Text));
    }

    [Fact]
    public void DeclaredAgainstDirection_planted_reference_is_found()
    {
        const string Project = """
            <Project Sdk="Microsoft.NET.Sdk">
              <ItemGroup><ProjectReference Include="..\Lepidary.Book\Lepidary.Book.csproj" /></ItemGroup>
            </Project>
            """;

        Assert.Single(RoomRules.DeclaredAgainstDirection("Lepidary.Lists", Project));
    }

    [Fact]
    public void Rooms_are_all_projects_below_src()
    {
        var projects = SourceFile.Below("src").Select(file => file.Path).Where(path => path.EndsWith(".csproj", StringComparison.Ordinal))
            .Select(path => Path.GetFileNameWithoutExtension(path)).Select(name => name == "Lepidary.App" ? "lepidary" : name);

        Assert.Equal(RoomRules.Rooms.Order(StringComparer.Ordinal), projects.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void ScienceStandsOn_product_finds_nothing() =>
        Assert.Empty(RoomRules.ScienceStandsOn(ProductAssemblies.Read("Lepidary.Science")));

    [Fact]
    public void ScienceStandsOn_planted_library_is_found()
    {
        var library = Planted.Assembly("MathNet.Numerics", "namespace Maths; public class Gamma { }");
        var science = Planted.Assembly("Lepidary.Science", "namespace Here; public class User : Maths.Gamma { }", library);

        Assert.Contains(RoomRules.ScienceStandsOn(science.Read()), f => f.Where == "Here.User");
    }

    [Theory]
    [MemberData(nameof(Rooms))]
    public void OutOfPlace_room_of_the_product_finds_nothing(string room) =>
        Assert.Empty(RoomRules.OutOfPlace(ProductAssemblies.Read(room)));

    [Theory]
    [InlineData("Google.OrTools", "Lepidary.Planning", "Lepidary.Planning", 1)]
    [InlineData("Google.OrTools", "Lepidary.Planning", "Lepidary.Planning.Solvers", 1)]
    [InlineData("Google.OrTools", "Lepidary.Planning", "Lepidary.Planning.Solver", 0)]
    [InlineData("Google.OrTools", "Lepidary.Planning", "Lepidary.Planning.Solver.Milp", 0)]
    [InlineData("Google.OrTools", "lepidary", "Lepidary.App.Order", 1)]
    [InlineData("Microsoft.EntityFrameworkCore", "Lepidary.Planning", "Lepidary.Planning", 1)]
    [InlineData("Microsoft.EntityFrameworkCore.Relational", "Lepidary.Lists", "Lepidary.Lists", 1)]
    [InlineData("Microsoft.EntityFrameworkCore", "Lepidary.Book", "Lepidary.Book", 0)]
    [InlineData("Npgsql", "Lepidary.Book", "Lepidary.Book", 1)]
    [InlineData("Npgsql", "lepidary", "Lepidary.App.Host", 1)]
    [InlineData("Microsoft.Data.Sqlite", "Lepidary.Book", "Lepidary.Book", 1)]
    [InlineData("Lepidary.Book.Sqlite", "lepidary", "Lepidary.App.Today", 1)]
    [InlineData("Lepidary.Book.Postgres", "lepidary", "Lepidary.App.Today", 1)]
    [InlineData("System.CommandLine", "Lepidary.Book", "Lepidary.Book", 1)]
    public void OutOfPlace_planted_use_is_found_outside_its_place_only(string library, string room, string place, int findings)
    {
        var outside = Planted.Assembly(library, "namespace There; public class Thing { }");
        var user = Planted.Assembly(room, $"namespace {place}; public class User : There.Thing {{ }}", outside);

        Assert.Equal(findings, RoomRules.OutOfPlace(user.Read()).Select(f => f.Where).Distinct().Count());
    }

    [Fact]
    public void OutOfPlace_provider_named_by_the_program_finds_nothing()
    {
        var provider = Planted.Assembly("Lepidary.Book.Sqlite", "namespace There; public class Thing { public static void Use() { } }");
        var app = Planted.Assembly(
            "lepidary", "internal partial class Program { static void Main() { System.Action later = () => There.Thing.Use(); } }", provider);

        Assert.Empty(RoomRules.OutOfPlace(app.Read()));
    }

    [Theory]
    [MemberData(nameof(PureRooms))]
    public void Impure_pure_room_of_the_product_finds_nothing(string room) => Assert.Empty(RoomRules.Impure(ProductAssemblies.Read(room)));

    [Theory]
    [InlineData("System.DateTime.Now")]
    [InlineData("System.DateTime.UtcNow")]
    [InlineData("System.DateTime.Today")]
    [InlineData("System.DateTimeOffset.Now")]
    [InlineData("System.DateTimeOffset.UtcNow")]
    [InlineData("System.TimeProvider.System")]
    [InlineData("System.Guid.NewGuid()")]
    [InlineData("System.Guid.CreateVersion7()")]
    [InlineData("new System.Random()")]
    [InlineData("System.Random.Shared")]
    [InlineData("System.Security.Cryptography.RandomNumberGenerator.GetInt32(2)")]
    [InlineData("System.IO.File.Exists(\"\")")]
    [InlineData("System.IO.Directory.Exists(\"\")")]
    [InlineData("new System.IO.FileStream(\"\", System.IO.FileMode.Open)")]
    [InlineData("System.Console.Out")]
    public void Impure_planted_use_is_found(string expression)
    {
        var room = Planted.Assembly("Lepidary.Planning", $"public class User {{ public object Get() => {expression}; }}");

        Assert.NotEmpty(RoomRules.Impure(room.Read()));
    }

    [Fact]
    public void Impure_seeded_randomness_and_given_dates_find_nothing()
    {
        var room = Planted.Assembly(
            "Lepidary.Planning",
            "public class User { public object Get(System.DateTime day) => new System.Random(7).Next() + day.AddDays(1).Day; }");

        Assert.Empty(RoomRules.Impure(room.Read()));
    }
}

using Lepidary.Book.Postgres;
using Lepidary.Book.Sqlite;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace Lepidary.Book.Tests.Databases;

/// <summary>A book of its own for one test, with a house and a supplier in it; gone when the test ends.</summary>
public sealed class TestBook : IDbContextFactory<BookContext>, IAsyncDisposable
{
    private static readonly Lazy<Task<string>> SqliteTemplate = new(MakeSqliteTemplateAsync);
    private static readonly Lazy<Task<string>> PostgresTemplate = new(MakePostgresTemplateAsync);

    private readonly DbContextOptions<BookContext> options;

    private TestBook(DatabaseKind kind, string place)
    {
        Kind = kind;
        Place = place;
        options = Options(kind, place);
        Inbox = new(this, Clock);
    }

    public DatabaseKind Kind { get; }

    /// <summary>Path of the file, or connection string.</summary>
    public string Place { get; }

    public SetClock Clock { get; } = new();

    public FactInbox Inbox { get; }

    public House House { get; private set; } = null!;

    public Supplier Supplier { get; private set; } = null!;

    public DateOnly Today => House.DayAt(Clock.GetUtcNow());

    /// <summary>A book with the house Thornmere Glasshouse.</summary>
    public static async Task<TestBook> MakeAsync(DatabaseKind kind, CancellationToken cancellation)
    {
        var book = await MakeEmptyAsync(kind, cancellation);
        book.Supplier = new() { Name = "Quillfeather Pupae" };
        book.House = new()
        {
            Name = "Thornmere Glasshouse",
            Currency = "GBP",
            TimeZone = "Europe/London",
            TaxRate = 0.2m,
            OpenOn = Weekdays.All & ~Weekdays.Mon,
            ClosedDays = [new(2026, 12, 25)],
            Areas = { new() { Name = "Palm hall", FloorM2 = 240, HeightM = 6, Ceiling = 400 } },
            Cages = { new() { Name = "Cage A", Places = 220 }, new() { Name = "Pairing 1", Use = CageUse.Pairing } },
            KeepNots = { new() { Selector = "tag:cites-ii", Reason = "No licence." } },
            Aims = { new() { Kind = AimKind.Display, Selector = "tag:blue", AtLeast = 12, Sure = 0.9, Days = Weekdays.Sat | Weekdays.Sun } },
            Terms =
            {
                new()
                {
                    Supplier = book.Supplier,
                    Currency = "EUR",
                    Rate = 0.86m,
                    Carriage = [new() { From = 1, Cost = 24.5m }, new() { From = 100, Cost = 38m }],
                    Charges = [new() { Name = "permit", Amount = 15.25m, Per = CountedBy.Box }],
                    ArrivesOn = DayOfWeek.Tuesday,
                },
            },
        };
        await using var context = book.CreateDbContext();
        context.Add(book.House);
        await context.SaveChangesAsync(cancellation);
        return book;
    }

    /// <summary>A migrated book with nothing in it.</summary>
    public static async Task<TestBook> MakeEmptyAsync(DatabaseKind kind, CancellationToken cancellation)
    {
        if (kind == DatabaseKind.Sqlite)
        {
            var path = Path.Combine(Directory.CreateTempSubdirectory("lepidary-book-").FullName, "book.db");
            File.Copy(await SqliteTemplate.Value, path);
            return new(kind, path);
        }

        var name = $"book_{Guid.NewGuid():n}";
        await PostgresCluster.ExecuteAsync($"CREATE DATABASE {name} TEMPLATE {await PostgresTemplate.Value}", cancellation);
        return new(kind, PostgresCluster.UrlOf(name));
    }

    public static DbContextOptions<BookContext> Options(DatabaseKind kind, string place)
    {
        var options = new DbContextOptionsBuilder<BookContext>();
        _ = kind == DatabaseKind.Sqlite ? options.UseSqliteBook(place) : options.UsePostgresBook(place);
        return options.EnableSensitiveDataLogging().Options;
    }

    public BookContext CreateDbContext() => new(options);

    public Entry Entry(Lot lot, int male = 0, int female = 0, int unsexed = 0, int dead = 0, DateOnly? on = null, Guid? voids = null) => new()
    {
        HouseId = lot.HouseId,
        LotId = lot.Id,
        OnDay = on ?? Today,
        DeviceTime = Clock.GetUtcNow(),
        Who = "Ines",
        EmergedMale = male,
        EmergedFemale = female,
        EmergedUnsexed = unsexed,
        Dead = dead,
        VoidsId = voids,
    };

    public Lot Lot(string taxon, int received, DateOnly? hungOn = null) => new()
    {
        HouseId = House.Id,
        Taxon = taxon,
        SupplierId = Supplier.Id,
        Received = received,
        HungOn = hungOn ?? Today,
        UnitLanded = 3.25m,
    };

    public Delivery Delivery(params Lot[] lots) => new()
    {
        HouseId = House.Id,
        SupplierId = Supplier.Id,
        OnDay = lots.Length == 0 ? Today : lots[0].HungOn,
        DeviceTime = Clock.GetUtcNow(),
        Who = "Ines",
        Lots = [.. lots],
        Lines = [.. lots.Select(lot => new DeliveryLine { Taxon = lot.Taxon, Alive = lot.Received, Ordered = lot.Received, Noted = lot.Received })],
    };

    /// <summary>Receives facts that must all be accepted.</summary>
    public async Task AcceptAsync(CancellationToken cancellation, params Fact[] facts)
    {
        foreach (var receipt in await Inbox.ReceiveAsync(facts, cancellation))
        {
            Xunit.Assert.True(receipt.Receipt == Receipt.Accepted, $"{receipt.Receipt}: {string.Join("; ", receipt.Problems)}");
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (Kind == DatabaseKind.Sqlite)
        {
            using (var connection = new SqliteConnection(CreateDbContext().Database.GetConnectionString()))
            {
                SqliteConnection.ClearPool(connection);
            }

            Directory.Delete(Path.GetDirectoryName(Place)!, recursive: true);
        }
        else
        {
            var name = new NpgsqlConnectionStringBuilder(Place).Database;
            using (var connection = new NpgsqlConnection(Place))
            {
                NpgsqlConnection.ClearPool(connection);
            }

            await PostgresCluster.ExecuteAsync($"DROP DATABASE {name} WITH (FORCE)", CancellationToken.None);
        }
    }

    private static async Task<string> MakeSqliteTemplateAsync()
    {
        var folder = Directory.CreateTempSubdirectory("lepidary-template-").FullName;
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(folder, recursive: true);
        var path = Path.Combine(folder, "template.db");
        await using (var context = new BookContext(Options(DatabaseKind.Sqlite, path)))
        {
            _ = (await context.BringUpToDateAsync()).Value;
        }

        // The last connection folds the log into the file.
        SqliteConnection.ClearAllPools();
        return path;
    }

    private static async Task<string> MakePostgresTemplateAsync()
    {
        var name = $"template_{Guid.NewGuid():n}";
        await PostgresCluster.ExecuteAsync($"CREATE DATABASE {name}", CancellationToken.None);
        await using (var context = new BookContext(Options(DatabaseKind.Postgres, PostgresCluster.UrlOf(name))))
        {
            _ = (await context.BringUpToDateAsync()).Value;
        }

        using (var connection = new NpgsqlConnection(PostgresCluster.UrlOf(name)))
        {
            NpgsqlConnection.ClearPool(connection);
        }

        AppDomain.CurrentDomain.ProcessExit += (_, _) =>
        {
            try
            {
                PostgresCluster.ExecuteAsync($"DROP DATABASE IF EXISTS {name} WITH (FORCE)", CancellationToken.None).GetAwaiter().GetResult();
            }
            catch (NpgsqlException)
            {
                // The cluster went first.
            }
        };
        return name;
    }
}

/// <summary>A clock that stands still until it is moved: noon in London on a Wednesday.</summary>
public sealed class SetClock : TimeProvider
{
    private DateTimeOffset now = new(2026, 11, 25, 12, 0, 0, TimeSpan.Zero);

    public void Move(TimeSpan by) => now += by;

    public override DateTimeOffset GetUtcNow() => now;
}

using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using RoundEntry = Lepidary.Book.Entry;

namespace Lepidary.Book;

/// <summary>
/// The book: all the facts of one or more houses. Settings (house, aims, terms) may change; whatever was received, ordered or seen
/// is written once and never changed.
/// </summary>
/// <param name="options">Options with a database: see <c>UseSqliteBook</c> and <c>UsePostgresBook</c>.</param>
public sealed class BookContext(DbContextOptions<BookContext> options) : DbContext(options)
{
    private static readonly HashSet<Type> Settings =
        [typeof(House), typeof(FlightArea), typeof(Cage), typeof(KeepNot), typeof(Aim), typeof(Supplier), typeof(SupplierTerms)];

    /// <summary>Houses.</summary>
    public DbSet<House> Houses => Set<House>();

    /// <summary>Flight areas.</summary>
    public DbSet<FlightArea> Areas => Set<FlightArea>();

    /// <summary>Cages.</summary>
    public DbSet<Cage> Cages => Set<Cage>();

    /// <summary>What houses do not keep.</summary>
    public DbSet<KeepNot> KeepNots => Set<KeepNot>();

    /// <summary>Aims.</summary>
    public DbSet<Aim> Aims => Set<Aim>();

    /// <summary>Suppliers.</summary>
    public DbSet<Supplier> Suppliers => Set<Supplier>();

    /// <summary>Suppliers' terms to houses.</summary>
    public DbSet<SupplierTerms> Terms => Set<SupplierTerms>();

    /// <summary>Lists received.</summary>
    public DbSet<ReceivedList> Lists => Set<ReceivedList>();

    /// <summary>The bytes of lists.</summary>
    public DbSet<ListOriginal> ListOriginals => Set<ListOriginal>();

    /// <summary>Offers of lists.</summary>
    public DbSet<OfferRow> Offers => Set<OfferRow>();

    /// <summary>Charges of lists.</summary>
    public DbSet<ChargeRow> ListCharges => Set<ChargeRow>();

    /// <summary>Lines of lists.</summary>
    public DbSet<LineRow> ListLines => Set<LineRow>();

    /// <summary>Orders.</summary>
    public DbSet<Order> Orders => Set<Order>();

    /// <summary>Lines of orders.</summary>
    public DbSet<OrderLine> OrderLines => Set<OrderLine>();

    /// <summary>All facts; ask <see cref="DbContext.Set{TEntity}()"/> for one kind.</summary>
    public DbSet<Fact> Facts => Set<Fact>();

    /// <summary>Entries.</summary>
    public DbSet<Entry> Entries => Set<Entry>();

    /// <summary>Deliveries.</summary>
    public DbSet<Delivery> Deliveries => Set<Delivery>();

    /// <summary>Lines of deliveries.</summary>
    public DbSet<DeliveryLine> DeliveryLines => Set<DeliveryLine>();

    /// <summary>Lots.</summary>
    public DbSet<Lot> Lots => Set<Lot>();

    /// <summary>Counts of walks.</summary>
    public DbSet<WalkCount> WalkCounts => Set<WalkCount>();

    /// <summary>The bytes of photos.</summary>
    public DbSet<PhotoImage> PhotoImages => Set<PhotoImage>();

    /// <summary>Forecasts as they were said.</summary>
    public DbSet<KeptForecast> Forecasts => Set<KeptForecast>();

    /// <summary>Rows that came in under the key of another.</summary>
    public DbSet<FactConflict> Conflicts => Set<FactConflict>();

    /// <inheritdoc/>
    public override int SaveChanges(bool acceptAllChangesOnSuccess)
    {
        RefuseChangedFacts();
        return base.SaveChanges(acceptAllChangesOnSuccess);
    }

    /// <inheritdoc/>
    public override Task<int> SaveChangesAsync(bool acceptAllChangesOnSuccess, CancellationToken cancellationToken = default)
    {
        RefuseChangedFacts();
        return base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
    }

    /// <inheritdoc/>
    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder) =>
        ProviderDifferences.Apply(configurationBuilder, Database.ProviderName);

    /// <inheritdoc/>
    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        ArgumentNullException.ThrowIfNull(modelBuilder);
        MapHouses(modelBuilder);
        MapSuppliers(modelBuilder);
        MapLists(modelBuilder);
        MapOrders(modelBuilder);
        MapFacts(modelBuilder);
        MapLots(modelBuilder);
        MapForecasts(modelBuilder);

        // Keys are made by whoever writes the row first, never by the database.
        foreach (var key in modelBuilder.Model.GetEntityTypes().Select(type => type.FindPrimaryKey()).OfType<IMutableKey>())
        {
            foreach (var property in key.Properties.Where(property => property.ClrType == typeof(Guid)))
            {
                property.ValueGenerated = ValueGenerated.Never;
            }
        }

        // What was written once goes with nothing else.
        foreach (var key in modelBuilder.Model.GetEntityTypes().SelectMany(type => type.GetForeignKeys())
            .Where(key => !key.IsOwnership && !Settings.Contains(key.DeclaringEntityType.ClrType)))
        {
            key.DeleteBehavior = DeleteBehavior.Restrict;
        }
    }

    private static void MapHouses(ModelBuilder model)
    {
        model.Entity<House>(house =>
        {
            house.HasIndex(x => x.Name).IsUnique();
            house.HasMany(x => x.Areas).WithOne().HasForeignKey(x => x.HouseId);
            house.HasMany(x => x.Cages).WithOne().HasForeignKey(x => x.HouseId);
            house.HasMany(x => x.KeepNots).WithOne().HasForeignKey(x => x.HouseId);
            house.HasMany(x => x.Aims).WithOne().HasForeignKey(x => x.HouseId);
            house.HasMany(x => x.Terms).WithOne().HasForeignKey(x => x.HouseId);
        });
        model.Entity<FlightArea>().HasIndex(x => new { x.HouseId, x.Name }).IsUnique();
        model.Entity<Cage>().HasIndex(x => new { x.HouseId, x.Name }).IsUnique();
    }

    private static void MapSuppliers(ModelBuilder model)
    {
        model.Entity<Supplier>(supplier =>
        {
            supplier.HasIndex(x => x.Name).IsUnique();
            supplier.HasMany(x => x.Terms).WithOne(x => x.Supplier).HasForeignKey(x => x.SupplierId);
        });
        model.Entity<SupplierTerms>(terms =>
        {
            terms.HasIndex(x => new { x.HouseId, x.SupplierId }).IsUnique();
            // Terms from before it could be said count pupae.
            terms.Property(x => x.CarriageBy).HasDefaultValue(CarriageCount.Pupae);
            terms.OwnsMany(x => x.Carriage, tier => tier.ToJson());
            terms.OwnsMany(x => x.Charges, charge => charge.ToJson());
        });
    }

    private static void MapLists(ModelBuilder model)
    {
        model.Entity<ReceivedList>(list =>
        {
            list.HasIndex(x => new { x.SupplierId, x.Sha256, x.OnDay }).IsUnique();
            list.HasIndex(x => x.OnDay);
            list.HasOne(x => x.Original).WithOne().HasForeignKey<ListOriginal>(x => x.ListId);
            list.HasMany(x => x.Offers).WithOne().HasForeignKey(x => x.ListId);
            list.HasMany(x => x.Charges).WithOne().HasForeignKey(x => x.ListId);
            list.HasMany(x => x.Lines).WithOne().HasForeignKey(x => x.ListId);
        });
        model.Entity<ListOriginal>().HasKey(x => x.ListId);
        model.Entity<OfferRow>().OwnsMany(x => x.Breaks, step => step.ToJson());
    }

    private static void MapOrders(ModelBuilder model) =>
        model.Entity<Order>(order =>
        {
            order.HasIndex(x => new { x.HouseId, x.OnDay });
            order.HasOne<House>().WithMany().HasForeignKey(x => x.HouseId);
            order.HasOne<ReceivedList>().WithMany().HasForeignKey(x => x.ListId);
            order.HasMany(x => x.Lines).WithOne().HasForeignKey(x => x.OrderId);
        });

    private static void MapFacts(ModelBuilder model)
    {
        model.Entity<LotFact>();
        model.Entity<Fact>(fact =>
        {
            fact.ToTable("Facts");
            fact.HasDiscriminator<string>("Kind")
                .HasValue<Delivery>("delivery").HasValue<Hanging>("hanging")
                .HasValue<Entry>("entry").HasValue<Transfer>("transfer").HasValue<Move>("move").HasValue<Recount>("recount")
                .HasValue<Release>("release").HasValue<FoundDead>("found-dead").HasValue<MarkedAdult>("marked-adult").HasValue<Walk>("walk").HasValue<Reading>("reading").HasValue<Photo>("photo")
                .HasValue<OrderStep>("order-step").HasValue<ClaimStep>("claim-step").HasValue<PackingStep>("packing-step")
                .HasValue<SettledName>("settled-name").HasValue<SettledDiscrepancy>("settled-discrepancy").HasValue<Voiding>("voiding")
                .HasValue<LearntOfList>("learnt-of-list");
            fact.HasOne<House>().WithMany().HasForeignKey(x => x.HouseId);
            fact.HasIndex(x => x.VoidsId).HasFilter("\"VoidsId\" IS NOT NULL");
            fact.HasIndex(x => x.Arrival).IsUnique();
            fact.HasIndex("HouseId", "Kind", "OnDay");
        });
        // What a device sends may name a lot, an order or a fact that comes in later: those are indexed, not enforced.
        Column<LotFact>(model, x => x.LotId, "LotId");
        Column<Release>(model, x => x.LotId, "LotId");
        Column<FoundDead>(model, x => x.LotId, "LotId");
        Column<Release>(model, x => x.Taxon, "Taxon");
        Column<FoundDead>(model, x => x.Taxon, "Taxon");
        Column<MarkedAdult>(model, x => x.Taxon, "Taxon");
        Column<SettledName>(model, x => x.Taxon, "Taxon");
        Column<FoundDead>(model, x => x.Count, "Count");
        Column<Transfer>(model, x => x.Count, "Count");
        Column<Release>(model, x => x.AreaId, "AreaId");
        Column<FoundDead>(model, x => x.AreaId, "AreaId");
        Column<MarkedAdult>(model, x => x.AreaId, "AreaId");
        Column<FoundDead>(model, x => x.Sex, "Sex");
        Column<MarkedAdult>(model, x => x.Sex, "Sex");
        Column<Walk>(model, x => x.AreaId, "AreaId");
        Column<Reading>(model, x => x.AreaId, "AreaId");
        Column<Release>(model, x => x.CageId, "CageId");
        Column<Reading>(model, x => x.CageId, "CageId");
        Column<Move>(model, x => x.CageId, "CageId");
        Column<Delivery>(model, x => x.OrderId, "OrderId");
        Column<OrderStep>(model, x => x.OrderId, "OrderId");
        Column<OrderStep>(model, x => x.State, "State");
        Column<Delivery>(model, x => x.SupplierId, "SupplierId");
        Column<SettledName>(model, x => x.SupplierId, "SupplierId");
        Column<LearntOfList>(model, x => x.SupplierId, "SupplierId");
        // As of a name: a printed text, and what it means.
        Column<LearntOfList>(model, x => x.Matter, "State");
        Column<LearntOfList>(model, x => x.ColumnKey, "TextKey");
        Column<LearntOfList>(model, x => x.Meaning, "Taxon");
        Column<SettledName>(model, x => x.TextKey, "TextKey");
        Column<ClaimStep>(model, x => x.State, "State");
        Column<PackingStep>(model, x => x.State, "State");
        Column<ClaimStep>(model, x => x.DeliveryId, "DeliveryId");
        Column<PackingStep>(model, x => x.DeliveryId, "DeliveryId");
        Column<Reading>(model, x => x.TemperatureC, "TemperatureC");
        Column<Walk>(model, x => x.TemperatureC, "TemperatureC");

        // Sums by lot are read from the index alone: ten years of a large house are half a million entries.
        model.Entity<Entry>().HasIndex(
            "Kind", nameof(RoundEntry.LotId), nameof(RoundEntry.EmergedMale), nameof(RoundEntry.EmergedFemale), nameof(RoundEntry.EmergedUnsexed),
            nameof(RoundEntry.Crippled), nameof(RoundEntry.Dead), nameof(RoundEntry.Parasitised), nameof(RoundEntry.Missing), nameof(RoundEntry.OnDay), nameof(RoundEntry.Id))
            .HasFilter("\"LotId\" IS NOT NULL").HasDatabaseName("IX_Facts_SumsByLot");
        model.Entity<Release>().HasIndex(
            "Kind", nameof(Release.HouseId), nameof(Release.OnDay), nameof(Release.Taxon), nameof(Release.AreaId), nameof(Release.CageId),
            nameof(Release.Male), nameof(Release.Female), nameof(Release.Unsexed), nameof(Release.Id))
            .HasFilter("\"Kind\" = 'release'").HasDatabaseName("IX_Facts_Flying");
        Few<SettledName>(model, "settled-name", nameof(SettledName.TextKey), "IX_Facts_SettledName");
        Few<SettledDiscrepancy>(model, "settled-discrepancy", nameof(SettledDiscrepancy.SubjectId), "IX_Facts_SettledDiscrepancy");
        Few<Photo>(model, "photo", nameof(Photo.AboutId), "IX_Facts_Photo");
        Few<ClaimStep>(model, "claim-step", nameof(ClaimStep.DeliveryId), "IX_Facts_ClaimStep");
        Few<PackingStep>(model, "packing-step", nameof(PackingStep.DeliveryId), "IX_Facts_PackingStep");
        model.Entity<OrderStep>().HasIndex(x => x.OrderId).HasFilter("\"OrderId\" IS NOT NULL");
        model.Entity<Delivery>().HasIndex(x => new { x.SupplierId, x.BoxMark }).HasFilter("\"BoxMark\" IS NOT NULL");
        model.Entity<Walk>().HasMany(x => x.Counts).WithOne().HasForeignKey(x => x.WalkId);
        model.Entity<PhotoImage>().HasKey(x => x.PhotoId);
        model.Entity<FactConflict>().HasIndex(x => new { x.FactId, x.BodySha256 }).IsUnique();
    }

    private static void MapLots(ModelBuilder model)
    {
        model.Entity<LotSource>().HasMany(x => x.Lots).WithOne().HasForeignKey(x => x.SourceId);
        model.Entity<Delivery>().HasMany(x => x.Lines).WithOne().HasForeignKey(x => x.DeliveryId);
        model.Entity<DeliveryLine>().OwnsMany(x => x.Layers, layer => layer.ToJson());
        model.Entity<DeliveryLine>().OwnsOne(x => x.Estimate, estimate => estimate.ToJson());
        model.Entity<Lot>().HasIndex(x => new { x.HouseId, x.HungOn });
    }

    private static void MapForecasts(ModelBuilder model) =>
        model.Entity<KeptForecast>(forecast =>
        {
            forecast.ToTable("Forecasts");
            forecast.HasIndex(x => new { x.HouseId, x.MadeOn });
            forecast.HasOne<House>().WithMany().HasForeignKey(x => x.HouseId);
        });

    /// <summary>Finds the few facts of a kind among all the others.</summary>
    private static void Few<T>(ModelBuilder model, string kind, string by, string name)
        where T : Fact =>
        model.Entity<T>().HasIndex("Kind", by).HasFilter($"\"Kind\" = '{kind}'").HasDatabaseName(name);

    private static void Column<T>(ModelBuilder model, System.Linq.Expressions.Expression<Func<T, object?>> property, string name)
        where T : class =>
        model.Entity<T>().Property(property).HasColumnName(name);

    private void RefuseChangedFacts()
    {
        var changed = ChangeTracker.Entries()
            .FirstOrDefault(entry => entry.State is EntityState.Modified or EntityState.Deleted
                && !Settings.Contains(entry.Metadata.IsOwned() ? entry.Metadata.FindOwnership()!.PrincipalEntityType.ClrType : entry.Metadata.ClrType));
        if (changed is not null)
        {
            throw new InvalidOperationException(
                $"{changed.Metadata.ClrType.Name} is written once: write a fact that voids it instead of changing it.");
        }
    }
}

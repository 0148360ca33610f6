using System;
using System.Collections.Generic;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class First : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "Conflicts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    FactId = table.Column<Guid>(type: "uuid", nullable: false),
                    HouseId = table.Column<Guid>(type: "uuid", nullable: false),
                    ReceivedAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    Body = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    BodySha256 = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Conflicts", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Houses",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Currency = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    TimeZone = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    TaxRate = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: false),
                    TaxReclaimed = table.Column<bool>(type: "boolean", nullable: false),
                    OpenOn = table.Column<string>(type: "text", nullable: false),
                    ClosedDays = table.Column<List<DateOnly>>(type: "date[]", nullable: false),
                    Budget = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: true),
                    ClockStandsAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Houses", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Suppliers",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Email = table.Column<string>(type: "text", nullable: true, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Suppliers", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Aims",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    HouseId = table.Column<Guid>(type: "uuid", nullable: false),
                    Kind = table.Column<string>(type: "text", nullable: false),
                    Selector = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    AtLeast = table.Column<int>(type: "integer", nullable: false),
                    Sure = table.Column<double>(type: "double precision", nullable: false),
                    Importance = table.Column<int>(type: "integer", nullable: false),
                    From = table.Column<DateOnly>(type: "date", nullable: true),
                    To = table.Column<DateOnly>(type: "date", nullable: true),
                    Days = table.Column<string>(type: "text", nullable: true),
                    EndedOn = table.Column<DateOnly>(type: "date", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Aims", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Aims_Houses_HouseId",
                        column: x => x.HouseId,
                        principalTable: "Houses",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "Areas",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    HouseId = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    FloorM2 = table.Column<double>(type: "double precision", nullable: false),
                    HeightM = table.Column<double>(type: "double precision", nullable: false),
                    Ceiling = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Areas", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Areas_Houses_HouseId",
                        column: x => x.HouseId,
                        principalTable: "Houses",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "Cages",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    HouseId = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Places = table.Column<int>(type: "integer", nullable: false),
                    Use = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Cages", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Cages_Houses_HouseId",
                        column: x => x.HouseId,
                        principalTable: "Houses",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "Facts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    HouseId = table.Column<Guid>(type: "uuid", nullable: false),
                    OnDay = table.Column<DateOnly>(type: "date", nullable: false),
                    DeviceTime = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    ReceivedAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    Arrival = table.Column<long>(type: "bigint", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    DeviceId = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    DeviceSequence = table.Column<long>(type: "bigint", nullable: true),
                    VoidsId = table.Column<Guid>(type: "uuid", nullable: true),
                    Note = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Kind = table.Column<string>(type: "character varying(21)", maxLength: 21, nullable: false, collation: "C"),
                    DeliveryId = table.Column<Guid>(type: "uuid", nullable: true),
                    State = table.Column<string>(type: "text", nullable: true),
                    Amount = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: true),
                    LotId = table.Column<Guid>(type: "uuid", nullable: true),
                    Taxon = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    AreaId = table.Column<Guid>(type: "uuid", nullable: true),
                    Count = table.Column<int>(type: "integer", nullable: true),
                    EmergedMale = table.Column<int>(type: "integer", nullable: true),
                    EmergedFemale = table.Column<int>(type: "integer", nullable: true),
                    EmergedUnsexed = table.Column<int>(type: "integer", nullable: true),
                    Crippled = table.Column<int>(type: "integer", nullable: true),
                    Dead = table.Column<int>(type: "integer", nullable: true),
                    Parasitised = table.Column<int>(type: "integer", nullable: true),
                    Missing = table.Column<int>(type: "integer", nullable: true),
                    CageId = table.Column<Guid>(type: "uuid", nullable: true),
                    Row = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Difference = table.Column<int>(type: "integer", nullable: true),
                    To = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    ToHouseId = table.Column<Guid>(type: "uuid", nullable: true),
                    SupplierId = table.Column<Guid>(type: "uuid", nullable: true),
                    OrderId = table.Column<Guid>(type: "uuid", nullable: true),
                    BoxMark = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    NoteText = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Condition = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    From = table.Column<string>(type: "text", nullable: true),
                    TemperatureC = table.Column<double>(type: "double precision", nullable: true),
                    HumidityPercent = table.Column<double>(type: "double precision", nullable: true),
                    Male = table.Column<int>(type: "integer", nullable: true),
                    Female = table.Column<int>(type: "integer", nullable: true),
                    Unsexed = table.Column<int>(type: "integer", nullable: true),
                    SubjectId = table.Column<Guid>(type: "uuid", nullable: true),
                    Excess = table.Column<int>(type: "integer", nullable: true),
                    TextKey = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Form = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Path = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Start = table.Column<TimeOnly>(type: "time without time zone", nullable: true),
                    Minutes = table.Column<int>(type: "integer", nullable: true),
                    Weather = table.Column<string>(type: "text", nullable: true, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Facts", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Facts_Houses_HouseId",
                        column: x => x.HouseId,
                        principalTable: "Houses",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "KeepNots",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    HouseId = table.Column<Guid>(type: "uuid", nullable: false),
                    Selector = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Reason = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_KeepNots", x => x.Id);
                    table.ForeignKey(
                        name: "FK_KeepNots_Houses_HouseId",
                        column: x => x.HouseId,
                        principalTable: "Houses",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "Lists",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    SupplierId = table.Column<Guid>(type: "uuid", nullable: false),
                    FileName = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    ReceivedAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    OnDay = table.Column<DateOnly>(type: "date", nullable: false),
                    Sha256 = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Format = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Currency = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Date = table.Column<DateOnly>(type: "date", nullable: true),
                    PricesExcludeTax = table.Column<bool>(type: "boolean", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Lists", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Lists_Suppliers_SupplierId",
                        column: x => x.SupplierId,
                        principalTable: "Suppliers",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Terms",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    SupplierId = table.Column<Guid>(type: "uuid", nullable: false),
                    HouseId = table.Column<Guid>(type: "uuid", nullable: false),
                    Currency = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Rate = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: false),
                    PricesExcludeTax = table.Column<bool>(type: "boolean", nullable: false),
                    TaxRate = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: true),
                    CarriageTaxed = table.Column<bool>(type: "boolean", nullable: false),
                    BoxPupae = table.Column<int>(type: "integer", nullable: true),
                    MinimumPupae = table.Column<int>(type: "integer", nullable: true),
                    MinimumGoods = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: true),
                    ArrivesOn = table.Column<string>(type: "text", nullable: true),
                    ClaimWindowHours = table.Column<int>(type: "integer", nullable: true),
                    Carriage = table.Column<string>(type: "jsonb", nullable: true),
                    Charges = table.Column<string>(type: "jsonb", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Terms", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Terms_Houses_HouseId",
                        column: x => x.HouseId,
                        principalTable: "Houses",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_Terms_Suppliers_SupplierId",
                        column: x => x.SupplierId,
                        principalTable: "Suppliers",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "DeliveryLines",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    DeliveryId = table.Column<Guid>(type: "uuid", nullable: false),
                    OrderLineId = table.Column<Guid>(type: "uuid", nullable: true),
                    Taxon = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Form = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Ordered = table.Column<int>(type: "integer", nullable: true),
                    Noted = table.Column<int>(type: "integer", nullable: true),
                    Alive = table.Column<int>(type: "integer", nullable: false),
                    Dead = table.Column<int>(type: "integer", nullable: false),
                    Damaged = table.Column<int>(type: "integer", nullable: false),
                    Emerged = table.Column<int>(type: "integer", nullable: false),
                    WrongSpecies = table.Column<int>(type: "integer", nullable: false),
                    Remark = table.Column<string>(type: "text", nullable: true, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_DeliveryLines", x => x.Id);
                    table.ForeignKey(
                        name: "FK_DeliveryLines_Facts_DeliveryId",
                        column: x => x.DeliveryId,
                        principalTable: "Facts",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Lots",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    HouseId = table.Column<Guid>(type: "uuid", nullable: false),
                    SourceId = table.Column<Guid>(type: "uuid", nullable: false),
                    DeliveryLineId = table.Column<Guid>(type: "uuid", nullable: true),
                    SupplierId = table.Column<Guid>(type: "uuid", nullable: true),
                    BroodId = table.Column<Guid>(type: "uuid", nullable: true),
                    FromLotId = table.Column<Guid>(type: "uuid", nullable: true),
                    Taxon = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Form = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CageId = table.Column<Guid>(type: "uuid", nullable: true),
                    Row = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    HungOn = table.Column<DateOnly>(type: "date", nullable: false),
                    Received = table.Column<int>(type: "integer", nullable: false),
                    UnitLanded = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: true),
                    EmergenceRate = table.Column<double>(type: "double precision", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Lots", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Lots_Facts_SourceId",
                        column: x => x.SourceId,
                        principalTable: "Facts",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "WalkCounts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    WalkId = table.Column<Guid>(type: "uuid", nullable: false),
                    Taxon = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Count = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_WalkCounts", x => x.Id);
                    table.ForeignKey(
                        name: "FK_WalkCounts_Facts_WalkId",
                        column: x => x.WalkId,
                        principalTable: "Facts",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "ListCharges",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    ListId = table.Column<Guid>(type: "uuid", nullable: false),
                    Line = table.Column<int>(type: "integer", nullable: false),
                    Text = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Amount = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: true),
                    Per = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ListCharges", x => x.Id);
                    table.ForeignKey(
                        name: "FK_ListCharges_Lists_ListId",
                        column: x => x.ListId,
                        principalTable: "Lists",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "ListLines",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    ListId = table.Column<Guid>(type: "uuid", nullable: false),
                    Line = table.Column<int>(type: "integer", nullable: false),
                    Sheet = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Text = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Kind = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Why = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ListLines", x => x.Id);
                    table.ForeignKey(
                        name: "FK_ListLines_Lists_ListId",
                        column: x => x.ListId,
                        principalTable: "Lists",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "ListOriginals",
                columns: table => new
                {
                    ListId = table.Column<Guid>(type: "uuid", nullable: false),
                    Bytes = table.Column<byte[]>(type: "bytea", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ListOriginals", x => x.ListId);
                    table.ForeignKey(
                        name: "FK_ListOriginals_Lists_ListId",
                        column: x => x.ListId,
                        principalTable: "Lists",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Offers",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    ListId = table.Column<Guid>(type: "uuid", nullable: false),
                    Line = table.Column<int>(type: "integer", nullable: false),
                    Sheet = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Text = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Taxon = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Form = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Kind = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Price = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: true),
                    Pack = table.Column<int>(type: "integer", nullable: false),
                    Minimum = table.Column<int>(type: "integer", nullable: true),
                    Available = table.Column<int>(type: "integer", nullable: true),
                    SoldOut = table.Column<bool>(type: "boolean", nullable: false),
                    Note = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CommonName = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Doubts = table.Column<List<string>>(type: "text[]", nullable: false),
                    Candidates = table.Column<List<string>>(type: "text[]", nullable: false),
                    Breaks = table.Column<string>(type: "jsonb", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Offers", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Offers_Lists_ListId",
                        column: x => x.ListId,
                        principalTable: "Lists",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Orders",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    HouseId = table.Column<Guid>(type: "uuid", nullable: false),
                    SupplierId = table.Column<Guid>(type: "uuid", nullable: false),
                    ListId = table.Column<Guid>(type: "uuid", nullable: true),
                    OnDay = table.Column<DateOnly>(type: "date", nullable: false),
                    MadeAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    ArrivesOn = table.Column<DateOnly>(type: "date", nullable: true),
                    Currency = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Rate = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: false),
                    Goods = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: false),
                    Carriage = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: false),
                    Charges = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: false),
                    Tax = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: false),
                    Landed = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Orders", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Orders_Houses_HouseId",
                        column: x => x.HouseId,
                        principalTable: "Houses",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Orders_Lists_ListId",
                        column: x => x.ListId,
                        principalTable: "Lists",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Orders_Suppliers_SupplierId",
                        column: x => x.SupplierId,
                        principalTable: "Suppliers",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "OrderLines",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    OrderId = table.Column<Guid>(type: "uuid", nullable: false),
                    Number = table.Column<int>(type: "integer", nullable: false),
                    OfferId = table.Column<Guid>(type: "uuid", nullable: true),
                    Text = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Taxon = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Form = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Pupae = table.Column<int>(type: "integer", nullable: false),
                    UnitPrice = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: false),
                    UnitLanded = table.Column<decimal>(type: "numeric(18,6)", precision: 18, scale: 6, nullable: false),
                    EmergenceRate = table.Column<double>(type: "double precision", nullable: true),
                    Chance = table.Column<double>(type: "double precision", nullable: true),
                    Reason = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_OrderLines", x => x.Id);
                    table.ForeignKey(
                        name: "FK_OrderLines_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Aims_HouseId",
                table: "Aims",
                column: "HouseId");

            migrationBuilder.CreateIndex(
                name: "IX_Areas_HouseId_Name",
                table: "Areas",
                columns: new[] { "HouseId", "Name" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Cages_HouseId_Name",
                table: "Cages",
                columns: new[] { "HouseId", "Name" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Conflicts_FactId_BodySha256",
                table: "Conflicts",
                columns: new[] { "FactId", "BodySha256" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_DeliveryLines_DeliveryId",
                table: "DeliveryLines",
                column: "DeliveryId");

            migrationBuilder.CreateIndex(
                name: "IX_Facts_Arrival",
                table: "Facts",
                column: "Arrival",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Facts_HouseId_Kind_OnDay",
                table: "Facts",
                columns: new[] { "HouseId", "Kind", "OnDay" });

            migrationBuilder.CreateIndex(
                name: "IX_Facts_OrderId",
                table: "Facts",
                column: "OrderId",
                filter: "\"OrderId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Facts_SumsByLot",
                table: "Facts",
                columns: new[] { "Kind", "LotId", "EmergedMale", "EmergedFemale", "EmergedUnsexed", "Crippled", "Dead", "Parasitised", "Missing", "OnDay", "Id" },
                filter: "\"LotId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Facts_SupplierId_BoxMark",
                table: "Facts",
                columns: new[] { "SupplierId", "BoxMark" },
                filter: "\"BoxMark\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Facts_VoidsId",
                table: "Facts",
                column: "VoidsId",
                filter: "\"VoidsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Houses_Name",
                table: "Houses",
                column: "Name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_KeepNots_HouseId",
                table: "KeepNots",
                column: "HouseId");

            migrationBuilder.CreateIndex(
                name: "IX_ListCharges_ListId",
                table: "ListCharges",
                column: "ListId");

            migrationBuilder.CreateIndex(
                name: "IX_ListLines_ListId",
                table: "ListLines",
                column: "ListId");

            migrationBuilder.CreateIndex(
                name: "IX_Lists_OnDay",
                table: "Lists",
                column: "OnDay");

            migrationBuilder.CreateIndex(
                name: "IX_Lists_SupplierId_Sha256",
                table: "Lists",
                columns: new[] { "SupplierId", "Sha256" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Lots_HouseId_HungOn",
                table: "Lots",
                columns: new[] { "HouseId", "HungOn" });

            migrationBuilder.CreateIndex(
                name: "IX_Lots_SourceId",
                table: "Lots",
                column: "SourceId");

            migrationBuilder.CreateIndex(
                name: "IX_Offers_ListId",
                table: "Offers",
                column: "ListId");

            migrationBuilder.CreateIndex(
                name: "IX_OrderLines_OrderId",
                table: "OrderLines",
                column: "OrderId");

            migrationBuilder.CreateIndex(
                name: "IX_Orders_HouseId_OnDay",
                table: "Orders",
                columns: new[] { "HouseId", "OnDay" });

            migrationBuilder.CreateIndex(
                name: "IX_Orders_ListId",
                table: "Orders",
                column: "ListId");

            migrationBuilder.CreateIndex(
                name: "IX_Orders_SupplierId",
                table: "Orders",
                column: "SupplierId");

            migrationBuilder.CreateIndex(
                name: "IX_Suppliers_Name",
                table: "Suppliers",
                column: "Name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Terms_HouseId_SupplierId",
                table: "Terms",
                columns: new[] { "HouseId", "SupplierId" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Terms_SupplierId",
                table: "Terms",
                column: "SupplierId");

            migrationBuilder.CreateIndex(
                name: "IX_WalkCounts_WalkId",
                table: "WalkCounts",
                column: "WalkId");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Aims");

            migrationBuilder.DropTable(
                name: "Areas");

            migrationBuilder.DropTable(
                name: "Cages");

            migrationBuilder.DropTable(
                name: "Conflicts");

            migrationBuilder.DropTable(
                name: "DeliveryLines");

            migrationBuilder.DropTable(
                name: "KeepNots");

            migrationBuilder.DropTable(
                name: "ListCharges");

            migrationBuilder.DropTable(
                name: "ListLines");

            migrationBuilder.DropTable(
                name: "ListOriginals");

            migrationBuilder.DropTable(
                name: "Lots");

            migrationBuilder.DropTable(
                name: "Offers");

            migrationBuilder.DropTable(
                name: "OrderLines");

            migrationBuilder.DropTable(
                name: "Terms");

            migrationBuilder.DropTable(
                name: "WalkCounts");

            migrationBuilder.DropTable(
                name: "Orders");

            migrationBuilder.DropTable(
                name: "Facts");

            migrationBuilder.DropTable(
                name: "Lists");

            migrationBuilder.DropTable(
                name: "Houses");

            migrationBuilder.DropTable(
                name: "Suppliers");
        }
    }
}

using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class KeptForecasts : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "Mark",
                table: "Facts",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "PostedOn",
                table: "Facts",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Sex",
                table: "Facts",
                type: "TEXT",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "Forecasts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    HouseId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    MadeOn = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    ForDay = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    AboutId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Subject = table.Column<string>(type: "TEXT", nullable: false),
                    Wish = table.Column<string>(type: "TEXT", nullable: true),
                    AtLeast = table.Column<int>(type: "INTEGER", nullable: true),
                    Seen = table.Column<double>(type: "REAL", nullable: true),
                    Said = table.Column<string>(type: "TEXT", nullable: false),
                    Rival = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Forecasts", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Forecasts_Houses_HouseId",
                        column: x => x.HouseId,
                        principalTable: "Houses",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Forecasts_HouseId_MadeOn",
                table: "Forecasts",
                columns: new[] { "HouseId", "MadeOn" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Forecasts");

            migrationBuilder.DropColumn(
                name: "Mark",
                table: "Facts");

            migrationBuilder.DropColumn(
                name: "PostedOn",
                table: "Facts");

            migrationBuilder.DropColumn(
                name: "Sex",
                table: "Facts");
        }
    }
}

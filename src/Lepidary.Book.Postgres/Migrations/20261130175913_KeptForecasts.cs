using System;
using System.Collections.Generic;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Postgres.Migrations
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
                type: "text",
                nullable: true,
                collation: "C");

            migrationBuilder.AddColumn<DateOnly>(
                name: "PostedOn",
                table: "Facts",
                type: "date",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Sex",
                table: "Facts",
                type: "text",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "Forecasts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    HouseId = table.Column<Guid>(type: "uuid", nullable: false),
                    Kind = table.Column<string>(type: "text", nullable: false),
                    MadeOn = table.Column<DateOnly>(type: "date", nullable: false),
                    ForDay = table.Column<DateOnly>(type: "date", nullable: false),
                    AboutId = table.Column<Guid>(type: "uuid", nullable: false),
                    Subject = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Wish = table.Column<string>(type: "text", nullable: true),
                    AtLeast = table.Column<int>(type: "integer", nullable: true),
                    Seen = table.Column<double>(type: "double precision", nullable: true),
                    Said = table.Column<List<double>>(type: "double precision[]", nullable: false),
                    Rival = table.Column<List<double>>(type: "double precision[]", nullable: false)
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

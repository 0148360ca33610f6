using System.Collections.Generic;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class HandsOnTheCage : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "Section",
                table: "WalkCounts",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "Position",
                table: "Lots",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<List<string>>(
                name: "Languages",
                table: "Houses",
                type: "text[]",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "Beaufort",
                table: "Facts",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "Position",
                table: "Facts",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "Sections",
                table: "Facts",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "SunPercent",
                table: "Facts",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "ColouredUp",
                table: "DeliveryLines",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<string>(
                name: "SubstituteFor",
                table: "DeliveryLines",
                type: "text",
                nullable: true,
                collation: "C");

            migrationBuilder.AddColumn<int>(
                name: "ReachRows",
                table: "Cages",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "RowCm",
                table: "Cages",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "Rows",
                table: "Cages",
                type: "integer",
                nullable: true);

            migrationBuilder.CreateIndex(
                name: "IX_Facts_PackingStep",
                table: "Facts",
                columns: new[] { "Kind", "DeliveryId" },
                filter: "\"Kind\" = 'packing-step'");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Facts_PackingStep",
                table: "Facts");

            migrationBuilder.DropColumn(
                name: "Section",
                table: "WalkCounts");

            migrationBuilder.DropColumn(
                name: "Position",
                table: "Lots");

            migrationBuilder.DropColumn(
                name: "Languages",
                table: "Houses");

            migrationBuilder.DropColumn(
                name: "Beaufort",
                table: "Facts");

            migrationBuilder.DropColumn(
                name: "Position",
                table: "Facts");

            migrationBuilder.DropColumn(
                name: "Sections",
                table: "Facts");

            migrationBuilder.DropColumn(
                name: "SunPercent",
                table: "Facts");

            migrationBuilder.DropColumn(
                name: "ColouredUp",
                table: "DeliveryLines");

            migrationBuilder.DropColumn(
                name: "SubstituteFor",
                table: "DeliveryLines");

            migrationBuilder.DropColumn(
                name: "ReachRows",
                table: "Cages");

            migrationBuilder.DropColumn(
                name: "RowCm",
                table: "Cages");

            migrationBuilder.DropColumn(
                name: "Rows",
                table: "Cages");
        }
    }
}

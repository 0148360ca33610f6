using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class Settled : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateIndex(
                name: "IX_Facts_ClaimStep",
                table: "Facts",
                columns: new[] { "Kind", "DeliveryId" },
                filter: "\"Kind\" = 'claim-step'");

            migrationBuilder.CreateIndex(
                name: "IX_Facts_SettledDiscrepancy",
                table: "Facts",
                columns: new[] { "Kind", "SubjectId" },
                filter: "\"Kind\" = 'settled-discrepancy'");

            migrationBuilder.CreateIndex(
                name: "IX_Facts_SettledName",
                table: "Facts",
                columns: new[] { "Kind", "TextKey" },
                filter: "\"Kind\" = 'settled-name'");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Facts_ClaimStep",
                table: "Facts");

            migrationBuilder.DropIndex(
                name: "IX_Facts_SettledDiscrepancy",
                table: "Facts");

            migrationBuilder.DropIndex(
                name: "IX_Facts_SettledName",
                table: "Facts");
        }
    }
}

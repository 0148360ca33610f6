using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class ListsOfEachWeek : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Lists_SupplierId_Sha256",
                table: "Lists");

            migrationBuilder.CreateIndex(
                name: "IX_Lists_SupplierId_Sha256_OnDay",
                table: "Lists",
                columns: new[] { "SupplierId", "Sha256", "OnDay" },
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Lists_SupplierId_Sha256_OnDay",
                table: "Lists");

            migrationBuilder.CreateIndex(
                name: "IX_Lists_SupplierId_Sha256",
                table: "Lists",
                columns: new[] { "SupplierId", "Sha256" },
                unique: true);
        }
    }
}

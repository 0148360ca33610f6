using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class Flying : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateIndex(
                name: "IX_Facts_Flying",
                table: "Facts",
                columns: new[] { "Kind", "HouseId", "OnDay", "Taxon", "AreaId", "CageId", "Male", "Female", "Unsexed", "Id" },
                filter: "\"Kind\" = 'release'");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Facts_Flying",
                table: "Facts");
        }
    }
}

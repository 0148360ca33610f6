using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class CountedInParts : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "Estimate",
                table: "DeliveryLines",
                type: "jsonb",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Layers",
                table: "DeliveryLines",
                type: "jsonb",
                nullable: true);

            migrationBuilder.AddColumn<decimal>(
                name: "NotedPrice",
                table: "DeliveryLines",
                type: "numeric(18,6)",
                precision: 18,
                scale: 6,
                nullable: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "Estimate",
                table: "DeliveryLines");

            migrationBuilder.DropColumn(
                name: "Layers",
                table: "DeliveryLines");

            migrationBuilder.DropColumn(
                name: "NotedPrice",
                table: "DeliveryLines");
        }
    }
}

using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Sqlite.Migrations
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
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Layers",
                table: "DeliveryLines",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "NotedPrice",
                table: "DeliveryLines",
                type: "INTEGER",
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

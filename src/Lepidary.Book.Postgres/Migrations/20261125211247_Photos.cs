using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class Photos : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<Guid>(
                name: "AboutId",
                table: "Facts",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "MediaType",
                table: "Facts",
                type: "text",
                nullable: true,
                collation: "C");

            migrationBuilder.AddColumn<string>(
                name: "Sha256",
                table: "Facts",
                type: "text",
                nullable: true,
                collation: "C");

            migrationBuilder.CreateTable(
                name: "PhotoImages",
                columns: table => new
                {
                    PhotoId = table.Column<Guid>(type: "uuid", nullable: false),
                    MediaType = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Sha256 = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    ReceivedAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    Bytes = table.Column<byte[]>(type: "bytea", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PhotoImages", x => x.PhotoId);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Facts_Photo",
                table: "Facts",
                columns: new[] { "Kind", "AboutId" },
                filter: "\"Kind\" = 'photo'");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "PhotoImages");

            migrationBuilder.DropIndex(
                name: "IX_Facts_Photo",
                table: "Facts");

            migrationBuilder.DropColumn(
                name: "AboutId",
                table: "Facts");

            migrationBuilder.DropColumn(
                name: "MediaType",
                table: "Facts");

            migrationBuilder.DropColumn(
                name: "Sha256",
                table: "Facts");
        }
    }
}

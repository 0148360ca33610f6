using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Sqlite.Migrations
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
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "MediaType",
                table: "Facts",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Sha256",
                table: "Facts",
                type: "TEXT",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "PhotoImages",
                columns: table => new
                {
                    PhotoId = table.Column<Guid>(type: "TEXT", nullable: false),
                    MediaType = table.Column<string>(type: "TEXT", nullable: false),
                    Sha256 = table.Column<string>(type: "TEXT", nullable: false),
                    ReceivedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    Bytes = table.Column<byte[]>(type: "BLOB", nullable: false)
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

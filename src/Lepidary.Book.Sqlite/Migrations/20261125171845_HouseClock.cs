using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class HouseClock : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<DateTime>(
                name: "ClockStandsAt",
                table: "Houses",
                type: "TEXT",
                nullable: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "ClockStandsAt",
                table: "Houses");
        }
    }
}

using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class HouseClock : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "ClockStandsAt",
                table: "Houses",
                type: "timestamp with time zone",
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

using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class TermsOfPlanning : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "AlsoArrivesOn",
                table: "Terms",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "Avoided",
                table: "Terms",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<bool>(
                name: "BreaksFromThere",
                table: "Terms",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<string>(
                name: "CarriageBy",
                table: "Terms",
                type: "TEXT",
                nullable: false,
                defaultValue: "Pupae");

            migrationBuilder.AddColumn<string>(
                name: "ClosedDays",
                table: "Terms",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "FavouredBy",
                table: "Terms",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0L);

            migrationBuilder.AddColumn<int>(
                name: "OrderAheadDays",
                table: "Terms",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "PupaGrams",
                table: "Terms",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "AtMost",
                table: "KeepNots",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "NoBoxesOn",
                table: "Houses",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "SeasonBudget",
                table: "Houses",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "SeasonFrom",
                table: "Houses",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "SeasonTo",
                table: "Houses",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "ShutFrom",
                table: "Cages",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "ShutTo",
                table: "Cages",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "NewBlood",
                table: "Aims",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "AlsoArrivesOn",
                table: "Terms");

            migrationBuilder.DropColumn(
                name: "Avoided",
                table: "Terms");

            migrationBuilder.DropColumn(
                name: "BreaksFromThere",
                table: "Terms");

            migrationBuilder.DropColumn(
                name: "CarriageBy",
                table: "Terms");

            migrationBuilder.DropColumn(
                name: "ClosedDays",
                table: "Terms");

            migrationBuilder.DropColumn(
                name: "FavouredBy",
                table: "Terms");

            migrationBuilder.DropColumn(
                name: "OrderAheadDays",
                table: "Terms");

            migrationBuilder.DropColumn(
                name: "PupaGrams",
                table: "Terms");

            migrationBuilder.DropColumn(
                name: "AtMost",
                table: "KeepNots");

            migrationBuilder.DropColumn(
                name: "NoBoxesOn",
                table: "Houses");

            migrationBuilder.DropColumn(
                name: "SeasonBudget",
                table: "Houses");

            migrationBuilder.DropColumn(
                name: "SeasonFrom",
                table: "Houses");

            migrationBuilder.DropColumn(
                name: "SeasonTo",
                table: "Houses");

            migrationBuilder.DropColumn(
                name: "ShutFrom",
                table: "Cages");

            migrationBuilder.DropColumn(
                name: "ShutTo",
                table: "Cages");

            migrationBuilder.DropColumn(
                name: "NewBlood",
                table: "Aims");
        }
    }
}

using System;
using System.Collections.Generic;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Lepidary.Book.Postgres.Migrations
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
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "Avoided",
                table: "Terms",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<bool>(
                name: "BreaksFromThere",
                table: "Terms",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<string>(
                name: "CarriageBy",
                table: "Terms",
                type: "text",
                nullable: false,
                defaultValue: "Pupae");

            migrationBuilder.AddColumn<List<DateOnly>>(
                name: "ClosedDays",
                table: "Terms",
                type: "date[]",
                nullable: true);

            migrationBuilder.AddColumn<decimal>(
                name: "FavouredBy",
                table: "Terms",
                type: "numeric(18,6)",
                precision: 18,
                scale: 6,
                nullable: false,
                defaultValue: 0m);

            migrationBuilder.AddColumn<int>(
                name: "OrderAheadDays",
                table: "Terms",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<decimal>(
                name: "PupaGrams",
                table: "Terms",
                type: "numeric(18,6)",
                precision: 18,
                scale: 6,
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "AtMost",
                table: "KeepNots",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<List<DateOnly>>(
                name: "NoBoxesOn",
                table: "Houses",
                type: "date[]",
                nullable: true);

            migrationBuilder.AddColumn<decimal>(
                name: "SeasonBudget",
                table: "Houses",
                type: "numeric(18,6)",
                precision: 18,
                scale: 6,
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "SeasonFrom",
                table: "Houses",
                type: "date",
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "SeasonTo",
                table: "Houses",
                type: "date",
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "ShutFrom",
                table: "Cages",
                type: "date",
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "ShutTo",
                table: "Cages",
                type: "date",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "NewBlood",
                table: "Aims",
                type: "boolean",
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

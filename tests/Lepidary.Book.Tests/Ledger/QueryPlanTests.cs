using System.Data.Common;
using Lepidary.Book.Tests.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Xunit;

namespace Lepidary.Book.Tests.Ledger;

/// <summary>
/// What a page asks of the book must not take longer as the book grows: no reading after the first walks through all facts. Holds without a
/// clock, by SQLite's own plan of each statement.
/// </summary>
public sealed class QueryPlanTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Read_afterTheFirstTime_walksThroughNoFactsButThoseItNeeds()
    {
        await using var book = await TestBook.MakeAsync(DatabaseKind.Sqlite, Token);
        var watch = new Plans();
        var factory = new Watched(book, watch);
        var open = new OpenLots(factory);
        var (stock, discrepancies, inbox) = (new StockReader(factory, open), new DiscrepancyReader(factory, open), new FactInbox(factory, book.Clock));
        var lot = book.Lot("Morpho helenor", 10);
        await book.AcceptAsync(Token, book.Delivery(lot));
        await stock.ReadAsync(book.House.Id, book.Today, Token);
        await discrepancies.ReadAsync(book.House.Id, Token);
        var walksOfTheFirst = watch.Walks.Count;
        watch.Walks.Clear();

        await inbox.ReceiveAsync([book.Entry(lot, male: 1), book.Entry(book.Lot("Idea leuconoe", 3), dead: 1)], Token);
        await stock.ReadAsync(book.House.Id, book.Today, Token);
        await discrepancies.ReadAsync(book.House.Id, Token);
        await using (var context = factory.CreateDbContext())
        {
            await SettledNames.ReadAsync(context, Token);
        }

        // The first reading does walk, or this test would see nothing.
        Assert.NotEqual(0, walksOfTheFirst);
        Assert.True(watch.Walks.Count == 0, string.Join("\n\n", watch.Walks));
    }

    private sealed class Watched(TestBook book, Plans plans) : IDbContextFactory<BookContext>
    {
        public BookContext CreateDbContext() =>
            new(new DbContextOptionsBuilder<BookContext>(TestBook.Options(book.Kind, book.Place)).AddInterceptors(plans).Options);
    }

    /// <summary>Asks for the plan of each statement before it is run.</summary>
    private sealed class Plans : DbCommandInterceptor
    {
        public List<string> Walks { get; } = [];

        public override ValueTask<InterceptionResult<DbDataReader>> ReaderExecutingAsync(
            DbCommand command, CommandEventData eventData, InterceptionResult<DbDataReader> result, CancellationToken cancellationToken = default)
        {
            using var explain = command.Connection!.CreateCommand();
            explain.Transaction = command.Transaction;
            explain.CommandText = "EXPLAIN QUERY PLAN " + command.CommandText;
            foreach (DbParameter parameter in command.Parameters)
            {
                var copy = explain.CreateParameter();
                (copy.ParameterName, copy.Value) = (parameter.ParameterName, parameter.Value);
                explain.Parameters.Add(copy);
            }

            using var plan = explain.ExecuteReader();
            while (plan.Read())
            {
                if (plan.GetString(3) is var step && IsWalkThroughFacts(step))
                {
                    Walks.Add($"{step}\n{command.CommandText}");
                }
            }

            return new(result);
        }

        /// <summary>
        /// EF Core calls the table of facts f, f0, f1…. All rows, or all of one kind, is a walk; the few that are voided or settled, and the last
        /// by a key, are not.
        /// </summary>
        private static bool IsWalkThroughFacts(string step) =>
            System.Text.RegularExpressions.Regex.IsMatch(step, @"^SCAN f\d*(?! USING( COVERING)? INDEX IX_Facts_(VoidsId|Arrival))|^SEARCH f\d* (?!.*IX_Facts_(Settled|Claim)).*\(Kind=\?\)$");
    }
}

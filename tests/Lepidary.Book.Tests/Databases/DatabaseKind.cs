using System.Reflection;
using Xunit;
using Xunit.Sdk;
using Xunit.v3;

namespace Lepidary.Book.Tests.Databases;

/// <summary>The databases that a book can live in.</summary>
public enum DatabaseKind
{
    Sqlite,
    Postgres,
}

/// <summary>Runs a test once on each database; the test takes the kind.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class OnBothDatabasesAttribute : DataAttribute
{
    public override ValueTask<IReadOnlyCollection<ITheoryDataRow>> GetData(MethodInfo testMethod, DisposalTracker disposalTracker) =>
        new([.. Enum.GetValues<DatabaseKind>().Select(kind => new TheoryDataRow<DatabaseKind>(kind))]);

    public override bool SupportsDiscoveryEnumeration() => true;
}

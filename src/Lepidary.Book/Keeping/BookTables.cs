using System.Reflection;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace Lepidary.Book;

/// <summary>Every table of the book, as its model says: a table that is added to the model is in the export from that hour.</summary>
internal static class BookTables
{
    /// <summary>The member that holds a fact's kind.</summary>
    internal const string Kind = "Kind";

    /// <summary>How a value is written: as <see cref="FactJson"/> does.</summary>
    internal static JsonSerializerOptions Json => FactJson.Options;

    /// <summary>The tables, each after those that it refers to.</summary>
    internal static IReadOnlyList<IEntityType> InOrder(IModel model)
    {
        var left = model.GetEntityTypes().Where(type => !type.IsOwned() && type.BaseType is null)
            .OrderBy(type => type.GetTableName(), StringComparer.Ordinal).ToList();
        var done = new List<IEntityType>();
        while (left.Count > 0)
        {
            var next = left.First(type => type.GetDerivedTypesInclusive().SelectMany(one => one.GetForeignKeys())
                .All(key => key.PrincipalEntityType.GetRootType() == type || done.Contains(key.PrincipalEntityType.GetRootType())));
            left.Remove(next);
            done.Add(next);
        }

        return done;
    }

    /// <summary>What a row of a type is made of: its columns, and the lists that are kept as JSON in one.</summary>
    internal static IEnumerable<PropertyInfo> Members(IEntityType type) =>
    [
        .. type.GetProperties().Where(property => !property.IsShadowProperty()).Select(property => property.PropertyInfo!),
        .. type.GetNavigations().Where(navigation => navigation.TargetEntityType.IsOwned()).Select(navigation => navigation.PropertyInfo!),
    ];

    /// <summary>The rows of a table by key.</summary>
    internal static IAsyncEnumerable<object> Rows(BookContext book, IEntityType table) =>
        (IAsyncEnumerable<object>)typeof(BookTables).GetMethod(nameof(RowsOf), BindingFlags.NonPublic | BindingFlags.Static)!
            .MakeGenericMethod(table.ClrType).Invoke(null, [book, table.FindPrimaryKey()!.Properties[0].Name])!;

    private static IAsyncEnumerable<object> RowsOf<T>(BookContext book, string key)
        where T : class =>
        book.Set<T>().AsNoTracking().OrderBy(row => EF.Property<Guid>(row, key)).AsAsyncEnumerable();
}

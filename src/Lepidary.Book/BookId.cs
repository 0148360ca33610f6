using UUIDNext;

namespace Lepidary.Book;

/// <summary>Keys made here. Devices make their own the same way, so that a row keeps one key wherever it is written first.</summary>
public static class BookId
{
    /// <summary>A UUIDv7 that sorts after the ones this process made before, also within a millisecond.</summary>
    public static Guid New() => Uuid.NewDatabaseFriendly(UUIDNext.Database.PostgreSql);
}

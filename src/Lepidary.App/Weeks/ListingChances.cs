using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using Lepidary.Science.Listing;

namespace Lepidary.App.Weeks;

/// <summary>Forecasts of suppliers' next lists, each kept as long as the lists it was learnt from are the same.</summary>
internal sealed class ListingChances
{
    private const int Most = 64;

    private readonly ConcurrentDictionary<string, Lazy<ListingForecast>> forecasts = new(StringComparer.Ordinal);

    /// <summary>Every supplier's forecast, by its name.</summary>
    /// <param name="suppliers">All of the house: what one lists, another may.</param>
    /// <param name="next">The day of the next lists.</param>
    public IReadOnlyDictionary<string, ListingForecast> Of(IReadOnlyList<SupplierWeeks> suppliers, DateOnly next)
    {
        var names = suppliers.SelectMany(supplier => supplier.Taxa).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToList();
        return suppliers.ToDictionary(supplier => supplier.Name, supplier => Of(supplier, names, next), StringComparer.Ordinal);
    }

    private ListingForecast Of(SupplierWeeks supplier, List<string> names, DateOnly next)
    {
        if (forecasts.Count > Most)
        {
            forecasts.Clear();
        }

        return forecasts.GetOrAdd(Key(supplier, names, next), _ => new(() => new(supplier.Seen, names, next))).Value;
    }

    private static string Key(SupplierWeeks supplier, List<string> names, DateOnly next)
    {
        var said = new StringBuilder().Append(next.DayNumber).AppendJoin('\n', names);
        foreach (var list in supplier.Seen)
        {
            said.Append('\f').Append(list.Day.DayNumber).AppendJoin('\n', list.Listed).Append('?').AppendJoin('\n', list.InDoubt);
        }

        return Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(said.ToString())));
    }
}

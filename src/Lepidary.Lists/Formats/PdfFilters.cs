using System.IO.Compression;
using UglyToad.PdfPig.Filters;
using UglyToad.PdfPig.Tokens;

namespace Lepidary.Lists.Formats;

/// <summary>
/// Unpacks the streams of a PDF and counts what comes out. A stream that unpacks to gigabytes and pictures that draw one another for ever are
/// both met here, because every stream passes by each time it is used.
/// </summary>
internal sealed class PdfFilters(CancellationToken cancellation) : IFilterProvider
{
    /// <summary>Most bytes of all streams together.</summary>
    private const long MostUnpacked = 100L * 1024 * 1024;

    /// <summary>Most times that streams are used.</summary>
    private const int MostUses = 20_000;

    /// <summary>Longer streams are unpacked once without keeping anything, to see how long they are.</summary>
    private const int Short = 16 * 1024;

    private readonly IFilterProvider inner = DefaultFilterProvider.Instance;
    private long unpacked;
    private int uses;

    /// <summary>True once a bound was met; the library may have gone on without the stream.</summary>
    public bool Exceeded { get; private set; }

    public IReadOnlyList<IFilter> GetFilters(DictionaryToken dictionary)
    {
        Use();
        return Bounded(inner.GetFilters(dictionary));
    }

    public IReadOnlyList<IFilter> GetNamedFilters(IReadOnlyList<NameToken> names)
    {
        Use();
        return Bounded(inner.GetNamedFilters(names));
    }

    public IReadOnlyList<IFilter> GetAllFilters() => Bounded(inner.GetAllFilters());

    private void Use()
    {
        cancellation.ThrowIfCancellationRequested();
        if (Exceeded || ++uses > MostUses)
            Refuse();
    }

    private void Refuse()
    {
        Exceeded = true;
        throw new TooLargeException("a PDF that unpacks to far more than it holds");
    }

    private void Add(long bytes)
    {
        unpacked += bytes;
        if (unpacked > MostUnpacked)
            Refuse();
    }

    private IReadOnlyList<IFilter> Bounded(IReadOnlyList<IFilter> filters) => [.. filters.Select(filter => new BoundedFilter(this, filter))];

    private sealed class BoundedFilter(PdfFilters owner, IFilter filter) : IFilter
    {
        public bool IsSupported => filter.IsSupported;

        public Memory<byte> Decode(Memory<byte> input, DictionaryToken streamDictionary, IFilterProvider filterProvider, int filterIndex)
        {
            owner.Check();
            if (filter is FlateFilter && input.Length > Short)
                owner.Measure(input);
            else if (filter is LzwFilter or RunLengthFilter && input.Length > 100 * Short)
                owner.Refuse();
            var output = filter.Decode(input, streamDictionary, filterProvider, filterIndex);
            owner.Add(output.Length);
            return output;
        }
    }

    private void Check() => cancellation.ThrowIfCancellationRequested();

    /// <summary>Unpacks without keeping; a damaged stream is left to the library.</summary>
    private void Measure(Memory<byte> input)
    {
        var length = 0L;
        var buffer = new byte[81920];
        try
        {
            using var packed = new ZLibStream(new MemoryStream(input.ToArray(), writable: false), CompressionMode.Decompress);
            for (int read; (read = packed.Read(buffer)) > 0;)
            {
                length += read;
                if (unpacked + length > MostUnpacked)
                    break;
            }
        }
        catch (InvalidDataException)
        {
            return;
        }
        if (unpacked + length > MostUnpacked)
            Refuse();
    }
}

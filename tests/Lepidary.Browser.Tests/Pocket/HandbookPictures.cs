using System.Buffers.Binary;
using System.IO.Compression;
using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>The handbook's pictures, kept only where <c>tools/pocket-pictures</c> asks for them.</summary>
internal static class HandbookPictures
{
    /// <summary>Names the folder that they are kept in.</summary>
    private const string FolderVariable = "LEPIDARY_POCKET_PICTURES";

    /// <summary>Steps of each of red, green and blue that are told apart: a page of few inks needs no more.</summary>
    private const int Shades = 32;

    private static readonly byte[] _signature = [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A];

    /// <summary>Keeps the screen as it stands, as high as a browser leaves it between its own bars.</summary>
    /// <param name="page">The page, 390 px wide.</param>
    /// <param name="name">Of the file, without its ending.</param>
    /// <param name="height">Of the picture, px.</param>
    public static async Task Keep(IPage page, string name, int height)
    {
        if (Environment.GetEnvironmentVariable(FolderVariable) is not { Length: > 0 } folder || page.ViewportSize is not { } before)
        {
            return;
        }

        await page.SetViewportSizeAsync(before.Width, height);
        await File.WriteAllBytesAsync(Path.Combine(folder, $"{name}.png"), Small(await page.ScreenshotAsync()));
        await page.SetViewportSizeAsync(before.Width, before.Height);
    }

    /// <summary>The same picture with at most 256 colours, the commonest: a third of the bytes. PNG, ISO/IEC 15948.</summary>
    internal static byte[] Small(byte[] picture)
    {
        var header = Chunks(picture).First(chunk => chunk.Kind == "IHDR").Data.ToArray();
        var (width, height, channels) = (BinaryPrimitives.ReadInt32BigEndian(header), BinaryPrimitives.ReadInt32BigEndian(header.AsSpan(4)), header[9] == 6 ? 4 : 3);
        var pixels = Pixels(picture, width, height, channels);
        var common = pixels.CountBy(Shade).OrderByDescending(shade => shade.Value).ThenBy(shade => shade.Key).Take(256).Select(shade => shade.Key).ToArray();
        var palette = common.Select(shade => pixels.Where(pixel => Shade(pixel) == shade).CountBy(pixel => pixel).MaxBy(pixel => pixel.Value).Key).ToArray();
        var places = new Dictionary<int, byte>();
        var rows = new byte[(width + 1) * height];
        for (var at = 0; at < pixels.Length; at++)
        {
            if (!places.TryGetValue(pixels[at], out var place))
            {
                places.Add(pixels[at], place = Nearest(palette, pixels[at]));
            }

            rows[(at / width * (width + 1)) + 1 + (at % width)] = place;
        }

        using var packed = new MemoryStream();
        using (var zip = new ZLibStream(packed, CompressionLevel.SmallestSize, leaveOpen: true))
        {
            zip.Write(rows);
        }

        header[9] = 3;
        using var small = new MemoryStream();
        small.Write(_signature);
        Write(small, "IHDR", header);
        Write(small, "PLTE", [.. palette.SelectMany(colour => new[] { (byte)(colour >> 16), (byte)(colour >> 8), (byte)colour })]);
        Write(small, "IDAT", packed.ToArray());
        Write(small, "IEND", []);
        return small.ToArray();
    }

    private static int Shade(int colour) => ((colour >> 16) / (256 / Shades) << 16) | ((colour >> 8 & 255) / (256 / Shades) << 8) | ((colour & 255) / (256 / Shades));

    private static byte Nearest(int[] palette, int colour)
    {
        var (best, distance) = (0, int.MaxValue);
        for (var at = 0; at < palette.Length; at++)
        {
            var (red, green, blue) = ((palette[at] >> 16) - (colour >> 16), (palette[at] >> 8 & 255) - (colour >> 8 & 255), (palette[at] & 255) - (colour & 255));
            var apart = (red * red) + (green * green) + (blue * blue);
            (best, distance) = apart < distance ? (at, apart) : (best, distance);
        }

        return (byte)best;
    }

    /// <summary>The picture's pixels, red, green and blue; what each row says of its neighbours is undone (section 9 of the standard).</summary>
    private static int[] Pixels(byte[] picture, int width, int height, int channels)
    {
        using var packed = new MemoryStream([.. Chunks(picture).Where(chunk => chunk.Kind == "IDAT").SelectMany(chunk => chunk.Data.ToArray())]);
        using var zip = new ZLibStream(packed, CompressionMode.Decompress);
        var (row, above, pixels) = (new byte[width * channels], new byte[width * channels], new int[width * height]);
        for (var y = 0; y < height; y++)
        {
            var filter = zip.ReadByte();
            zip.ReadExactly(row);
            for (var at = 0; at < row.Length; at++)
            {
                var (left, up, corner) = (at < channels ? 0 : row[at - channels], above[at], at < channels ? 0 : above[at - channels]);
                row[at] += (byte)(filter switch { 0 => 0, 1 => left, 2 => up, 3 => (left + up) / 2, 4 => Paeth(left, up, corner), _ => throw new InvalidDataException($"Filter {filter}.") });
            }

            for (var x = 0; x < width; x++)
            {
                pixels[(y * width) + x] = row[x * channels] << 16 | row[(x * channels) + 1] << 8 | row[(x * channels) + 2];
            }

            (row, above) = (above, row);
        }

        return pixels;
    }

    private static int Paeth(int left, int up, int corner)
    {
        var (toLeft, toUp, toCorner) = (Math.Abs(up - corner), Math.Abs(left - corner), Math.Abs(left + up - corner - corner));
        return toLeft <= toUp && toLeft <= toCorner ? left : toUp <= toCorner ? up : corner;
    }

    private static IEnumerable<(string Kind, ReadOnlyMemory<byte> Data)> Chunks(byte[] picture)
    {
        for (var at = _signature.Length; at < picture.Length;)
        {
            var length = BinaryPrimitives.ReadInt32BigEndian(picture.AsSpan(at));
            yield return (System.Text.Encoding.ASCII.GetString(picture, at + 4, 4), picture.AsMemory(at + 8, length));
            at += length + 12;
        }
    }

    private static void Write(Stream to, string kind, byte[] data)
    {
        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(number, data.Length);
        to.Write(number);
        byte[] marked = [.. System.Text.Encoding.ASCII.GetBytes(kind), .. data];
        to.Write(marked);
        BinaryPrimitives.WriteUInt32BigEndian(number, Check(marked));
        to.Write(number);
    }

    /// <summary>The check sum of a chunk (annex D of the standard).</summary>
    private static uint Check(byte[] data)
    {
        var sum = uint.MaxValue;
        foreach (var one in data)
        {
            sum ^= one;
            for (var bit = 0; bit < 8; bit++)
            {
                sum = (sum & 1) == 1 ? 0xEDB88320 ^ (sum >> 1) : sum >> 1;
            }
        }

        return ~sum;
    }
}

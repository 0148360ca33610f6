using System.IO.Compression;
using System.Text;

namespace Lepidary.Lists.Tests;

/// <summary>Changes a list as accidents and malice do: bytes, lines and words; of a package the parts within, packed anew, so that the change gets past the lid.</summary>
internal sealed class Mutator(int seed)
{
    private static readonly byte[][] Splices =
    [
        [0], [0xFF, 0xFE], [0xEF, 0xBB, 0xBF], [0x80], [0xC3], "\""u8.ToArray(), "\r"u8.ToArray(), "\n\n"u8.ToArray(), "999999999999999999999"u8.ToArray(), "-0"u8.ToArray(), "1,2.3,4"u8.ToArray(),
        "\u202E\u200B\u00A0"u8.ToArray(), "=HYPERLINK(\"x\")"u8.ToArray(), "£"u8.ToArray(), ";;;;"u8.ToArray(), ",,,,"u8.ToArray(), "\t"u8.ToArray(), "32.13.2026"u8.ToArray(), "pack of 0"u8.ToArray(), "min -5"u8.ToArray(),
        "(((((((((("u8.ToArray(), "10+ 20+ 30+"u8.ToArray(), "0 for 0.00"u8.ToArray(), "\U0001F98B"u8.ToArray(), "ß̈́"u8.ToArray(), "from from from"u8.ToArray(), "1-0 5.00"u8.ToArray(), "€€€"u8.ToArray(), "x99999999"u8.ToArray(),
        "<!DOCTYPE a [<!ENTITY b \"c\">]>"u8.ToArray(), [0xED, 0xA0, 0x80], "100000000000000000000000000.00"u8.ToArray(), "per 0"u8.ToArray(), "Week 99"u8.ToArray(), "P. "u8.ToArray(), "from 10: -5 %"u8.ToArray(), "from 2: -99 %"u8.ToArray(),
        "20 each of memnon, sara and "u8.ToArray(), "same price as the memnon"u8.ToArray(), "three dozen "u8.ToArray(), "per pupa / per 10 / per 50\n"u8.ToArray(), "no palinurus\n"u8.ToArray(), "stock 0"u8.ToArray(), "<table><tr><td>"u8.ToArray(), "</table>"u8.ToArray(),
        "<td rowspan=\"999999\" colspan=\"999999\">"u8.ToArray(), "<s>"u8.ToArray(), "endstream endobj"u8.ToArray(), "[ [ [ [ [ ["u8.ToArray(), "<< /Kids [2 0 R] >>"u8.ToArray(), " 99999999 0 R "u8.ToArray(), "\nFrom a@b Fri Nov 20 08:00:00 2026\n"u8.ToArray(),
        "=?utf-8?B?////?="u8.ToArray(), "Content-Type: multipart/mixed; boundary=a\r\n"u8.ToArray(), "A1048576"u8.ToArray(), "&#x1F;"u8.ToArray(), "1e308"u8.ToArray(), "NaN"u8.ToArray(),
    ];

    private readonly Random random = new(seed);

    /// <summary>A mutant of a file.</summary>
    /// <param name="original">The file.</param>
    /// <param name="other">Another file, of which a piece may be put in.</param>
    public byte[] Mutate(byte[] original, byte[] other) =>
        original.AsSpan().StartsWith("PK\u0003\u0004"u8) && random.Next(10) > 0 ? Package(original, other) : Bytes(original, other);

    private byte[] Package(byte[] original, byte[] other)
    {
        using var from = new ZipArchive(new MemoryStream(original));
        using var made = new MemoryStream();
        var chosen = random.Next(from.Entries.Count);
        using (var to = new ZipArchive(made, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (entry, i) in from.Entries.Select((entry, i) => (entry, i)))
            {
                using var stream = entry.Open();
                using var part = new MemoryStream();
                stream.CopyTo(part);
                using var into = to.CreateEntry(entry.FullName, CompressionLevel.Fastest).Open();
                into.Write(i == chosen || random.Next(4) == 0 ? Bytes(part.ToArray(), other) : part.ToArray());
            }
        }

        return made.ToArray();
    }

    private byte[] Bytes(byte[] original, byte[] other)
    {
        var bytes = original.ToList();
        for (var changes = random.Next(1, 9); changes > 0 && bytes.Count > 0; changes--)
        {
            var at = random.Next(bytes.Count);
            switch (random.Next(10))
            {
                case 0:
                    bytes[at] = (byte)random.Next(256);
                    break;
                case 1:
                    bytes.RemoveRange(at, Math.Min(random.Next(1, 40), bytes.Count - at));
                    break;
                case 2 or 3:
                    bytes.InsertRange(at, Splices[random.Next(Splices.Length)]);
                    break;
                case 4:
                    bytes.InsertRange(at, bytes.GetRange(at, Math.Min(random.Next(1, 200), bytes.Count - at)));
                    break;
                case 5 when random.Next(4) == 0:
                    bytes.RemoveRange(at, bytes.Count - at);
                    break;
                case 6:
                    var second = random.Next(bytes.Count);
                    (bytes[at], bytes[second]) = (bytes[second], bytes[at]);
                    break;
                case 7 when other.Length > 0:
                    var begin = random.Next(other.Length);
                    bytes.InsertRange(at, other[begin..Math.Min(other.Length, begin + random.Next(1, 300))]);
                    break;
                case 8:
                    Number(bytes, at);
                    break;
                default:
                    bytes[at] ^= (byte)(1 << random.Next(8));
                    break;
            }
        }

        return [.. bytes];
    }

    /// <summary>The next number becomes another one.</summary>
    private void Number(List<byte> bytes, int at)
    {
        var begin = bytes.FindIndex(at, b => b is >= (byte)'0' and <= (byte)'9');
        if (begin < 0)
            return;
        var end = begin;
        while (end < bytes.Count && bytes[end] is >= (byte)'0' and <= (byte)'9')
            end++;
        bytes.RemoveRange(begin, end - begin);
        string[] numbers = ["0", "1", "-1", "2147483648", "99999999999999999999", "0.0", "1,0", "00", "4294967295", "12.5.7"];
        bytes.InsertRange(begin, Encoding.ASCII.GetBytes(numbers[random.Next(numbers.Length)]));
    }
}

using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Lepidary.App.Host;

/// <summary>Keys made from what a row is, so that doing the same thing twice makes the same row: UUID version 8, SHA-256 of the words.</summary>
internal static class NamedKey
{
    public static Guid Of(params object[] words)
    {
        var said = string.Join('|', words.Select(word => Convert.ToString(word, CultureInfo.InvariantCulture)));
        var bytes = SHA256.HashData(Encoding.UTF8.GetBytes("lepidary|" + said))[..16];
        bytes[6] = (byte)((bytes[6] & 0x0f) | 0x80);
        bytes[8] = (byte)((bytes[8] & 0x3f) | 0x80);
        return new Guid(bytes, bigEndian: true);
    }
}

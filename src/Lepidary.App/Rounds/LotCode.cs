using System.Buffers.Binary;
using System.Security.Cryptography;

namespace Lepidary.App.Rounds;

/// <summary>
/// A lot's short name for labels and for the command line: six signs made from its key and a seventh that checks them, as
/// <c>K7Q-2M9D</c>. The signs are Crockford's: no I, L, O or U; small letters are as good, I and L are read as 1, O as 0.
/// </summary>
/// <remarks>The check sign is Luhn's for base 32: it finds every single wrong sign and nearly every pair of neighbours exchanged.</remarks>
internal static class LotCode
{
    /// <summary>Signs without the check sign.</summary>
    public const int Signs = 6;

    private const string Alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

    /// <summary>The code of a lot. Always the same for the same key; two lots in a billion pairs share one.</summary>
    public static string Of(Guid lotId)
    {
        var hash = BinaryPrimitives.ReadUInt32BigEndian(SHA256.HashData(lotId.ToByteArray(bigEndian: true)));
        Span<int> signs = stackalloc int[Signs + 1];
        for (var place = 0; place < Signs; place++)
        {
            signs[place] = (int)(hash >> (27 - 5 * place)) & 31;
        }

        signs[Signs] = Check(signs[..Signs]);
        Span<char> text = stackalloc char[Signs + 2];
        for (int place = 0, at = 0; place <= Signs; place++)
        {
            if (place == 3)
            {
                text[at++] = '-';
            }

            text[at++] = Alphabet[signs[place]];
        }

        return text.ToString();
    }

    /// <summary>A code as <see cref="Of"/> writes it from what was typed; null where it is none or a sign is wrong.</summary>
    public static string? Read(string typed)
    {
        ArgumentNullException.ThrowIfNull(typed);
        Span<int> signs = stackalloc int[Signs + 1];
        var count = 0;
        foreach (var letter in typed.ToUpperInvariant())
        {
            if (letter is '-' or ' ')
            {
                continue;
            }

            var sign = Alphabet.IndexOf(letter switch { 'I' or 'L' => '1', 'O' => '0', _ => letter }, StringComparison.Ordinal);
            if (sign < 0 || count > Signs)
            {
                return null;
            }

            signs[count++] = sign;
        }

        if (count != Signs + 1 || Check(signs[..Signs]) != signs[Signs])
        {
            return null;
        }

        var text = string.Concat(signs.ToArray().Select(sign => Alphabet[sign]));
        return $"{text[..3]}-{text[3..]}";
    }

    private static int Check(ReadOnlySpan<int> signs)
    {
        var sum = 0;
        for (var place = signs.Length - 1; place >= 0; place--)
        {
            var doubled = (signs.Length - 1 - place) % 2 == 0 ? signs[place] * 2 : signs[place];
            sum += doubled / 32 + doubled % 32;
        }

        return (32 - sum % 32) % 32;
    }
}

using System.Globalization;
using System.Text;
using QRCoder;

namespace Lepidary.App.Labels;

/// <summary>A QR code (ISO/IEC 18004) as a path to draw: square modules of 1 with the quiet zone of 4 around them.</summary>
/// <param name="Modules">Modules from edge to edge, quiet zone included.</param>
/// <param name="Path">SVG path of the dark modules.</param>
public sealed record LotQr(int Modules, string Path)
{
    /// <summary>
    /// The code of a text, at level Q (ISO/IEC 18004: about a quarter of the code words can be mended). What a torn corner leaves of it was counted: docs/handbook/paper.md.
    /// </summary>
    public static LotQr Of(string text)
    {
        using var data = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.Q);
        var matrix = data.ModuleMatrix;
        var path = new StringBuilder();
        for (var y = 0; y < matrix.Count; y++)
        {
            for (var x = 0; x < matrix.Count; x++)
            {
                if (!matrix[y][x])
                {
                    continue;
                }

                var from = x;
                while (x + 1 < matrix.Count && matrix[y][x + 1])
                {
                    x++;
                }

                path.Append(CultureInfo.InvariantCulture, $"M{from} {y}h{x - from + 1}v1h-{x - from + 1}z");
            }
        }

        return new(matrix.Count, path.ToString());
    }
}

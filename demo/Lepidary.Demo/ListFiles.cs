using System.Globalization;
using System.Text;

namespace Lepidary.Demo;

/// <summary>A list as its sender sends it.</summary>
internal static class ListFiles
{
    /// <summary>Path in the public house's folder; lists of earlier weeks lie in a folder of their date.</summary>
    public static string PathOf(Supplier supplier, int day) =>
        day == 0 ? $"lists/{supplier.File}" : $"lists/earlier/{History.OrderDate.AddDays(day):yyyy-MM-dd}/{supplier.File}";

    /// <summary>The bytes of the list; <paramref name="meant"/> receives what each of its offers means.</summary>
    public static byte[] Write(WeekList list, List<Meant> meant) => list.Supplier.Key switch
    {
        'Q' => SemicolonList.Write(list, meant),
        'B' => WorkbookList.Write(list, meant),
        _ => LetterList.Write(list, meant),
    };
}

/// <summary>Quillfeather: a table from an office program, semicolons and decimal commas, Windows-1252.</summary>
internal static class SemicolonList
{
    public static byte[] Write(WeekList list, List<Meant> meant)
    {
        List<string> lines =
        [
            "QUILLFEATHER PUPAE;;;;;",
            string.Create(CultureInfo.InvariantCulture, $"Stock list week {ISOWeek.GetWeekOfYear(list.Date)};{list.Date:dd.MM.yyyy};;;;"),
            "All prices in € for one pupa, without VAT;;;;;",
            "Orders by mail to Renske till Sunday 18:00. Boxes leave on Monday – not below –5 °C;;;;;",
            ";;;;;",
            "No.;Species;€ each;Available;Pack;Remarks",
        ];
        string section = "";
        int number = 100;
        foreach (WeekOffer offer in list.Offers)
        {
            Ware ware = offer.Ware;
            if (ware.Section != section)
            {
                section = ware.Section;
                number = ((number / 50) + 1) * 50;
                lines.Add($";{section};;;;");
            }

            List<string> remarks = [.. offer.Breaks.Select(b => $"from {b.From}: {Comma(b.Price)}")];
            if (ware.Minimum > 1)
            {
                remarks.Add($"min. {ware.Minimum}");
            }

            if (offer.SoldOut)
            {
                remarks.Add("SOLD OUT");
            }

            if (ware.Note.Length > 0)
            {
                remarks.Add(ware.Note);
            }

            string available = offer.SoldOut ? "0" : offer.Available.ToString(CultureInfo.InvariantCulture);
            string pack = ware.Pack > 1 ? ware.Pack.ToString(CultureInfo.InvariantCulture) : "";
            lines.Add($"{++number};{ware.Printed};{Comma(offer.Price)};{available};{pack};{string.Join(" / ", remarks)}");
            meant.Add(new(null, lines.Count, offer));
        }

        foreach ((int from, decimal cost) in list.Supplier.Carriage)
        {
            string what = from == 1 ? "Postage and box, up to 99 pupae" : $"Postage and box, {from} pupae and more";
            lines.Add($";{what};{Comma(cost)};;;per order");
        }

        lines.Add($";Health certificate;{Comma(list.Supplier.Charge)};;;per order");
        lines.Add(";Minimum order 50 pupae;;;;");
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        return Encoding.GetEncoding(1252).GetBytes(string.Join("\r\n", lines) + "\r\n");
    }

    private static string Comma(decimal money) => money.ToString("0.00", CultureInfo.InvariantCulture).Replace('.', ',');
}

/// <summary>Kessom Farm: a letter that Ambrel types each Friday, one offer a line, never quite the same way twice.</summary>
internal static class LetterList
{
    private static readonly string[] Openings =
    [
        "rain at last, so the charaxes are slow but the swallowtails are many.",
        "a good week here, the new net house is full.",
        "short list today, two of the girls are down with fever.",
        "cold nights now, I pack with a heat bag from this week on.",
        "hope the last box came well. Please tell me about the dead ones, with a photo.",
    ];

    public static byte[] Write(WeekList list, List<Meant> meant)
    {
        Chance chance = new(Truth.Seed, "letter", list.Day);
        List<string> lines =
        [
            "From: Ambrel, Kessom Farm",
            string.Create(CultureInfo.InvariantCulture, $"Subject: pupae list {list.Date:d MMMM yyyy}"),
            "",
            "Dear friends,",
            "",
            Openings[Math.Abs(list.Day / 7) % Openings.Length],
            "Prices in EUR, for one pupa, no tax in it. First come first served.",
        ];
        string section = "";
        foreach (WeekOffer offer in list.Offers)
        {
            if (offer.Ware.Section != section)
            {
                section = offer.Ware.Section;
                lines.AddRange(["", $"{section}:"]);
            }

            lines.Add(Line(offer, chance));
            meant.Add(new(null, lines.Count, offer));
        }

        decimal[] carriage = [.. list.Supplier.Carriage.Select(c => c.Cost)];
        lines.AddRange(
        [
            "",
            string.Create(CultureInfo.InvariantCulture, $"Air freight {carriage[0]:0} EUR per box up to 120 pupae"),
            string.Create(CultureInfo.InvariantCulture, $"Air freight {carriage[1]:0} EUR per box above 120 pupae"),
            string.Create(CultureInfo.InvariantCulture, $"Papers {list.Supplier.Charge:0} EUR per order"),
            "Not under 60 pupae please, it does not pay the freight.",
            "",
            "Order till Sunday night, I harvest on Monday.",
            "Ambrel",
        ]);
        return Encoding.UTF8.GetBytes(string.Join('\n', lines) + "\n");
    }

    private static string Line(WeekOffer offer, Chance chance)
    {
        Ware ware = offer.Ware;
        int habit = chance.Whole(0, 9);
        if (offer.SoldOut)
        {
            return $"{ware.Printed} - sold out sorry";
        }

        string line = habit switch
        {
            < 6 => string.Create(CultureInfo.InvariantCulture, $"{ware.Printed} - {offer.Price:0.00} - {offer.Available} pcs"),
            < 8 => string.Create(CultureInfo.InvariantCulture, $"{ware.Printed}  {offer.Price:0.00}  ({offer.Available})"),
            8 => string.Create(CultureInfo.InvariantCulture, $"{ware.Printed} {offer.Price:0.00} each, have {offer.Available}"),
            _ => string.Create(CultureInfo.InvariantCulture, $"{ware.Printed}: {offer.Price:0.00} EUR, {offer.Available} available"),
        };
        foreach ((int from, decimal price) in offer.Breaks)
        {
            line += string.Create(CultureInfo.InvariantCulture, $", {from}+ {price:0.00}");
        }

        line += ware.Pack > 1 && !ware.Mix ? $", in packs of {ware.Pack}" : "";
        line += ware.Mix ? ", each pack 25" : "";
        line += ware.Minimum > 1 ? $", min {ware.Minimum}" : "";
        line += ware.Note.Length > 0 ? $" ({ware.Note})" : "";
        return line;
    }
}

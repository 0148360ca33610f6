using System.Globalization;

namespace Lepidary.Demo;

/// <summary>Brackenfold: a workbook of two sheets with title rows, merged cells, a column to order in, and sums.</summary>
internal static class WorkbookList
{
    public static byte[] Write(WeekList list, List<Meant> meant)
    {
        Workbook book = new();
        Butterflies(book.Add("Butterflies"), list, meant);
        Cocoons(book.Add("Cocoons & others"), list, meant);
        return book.ToBytes(list.Date);
    }

    private static void Butterflies(Workbook.Sheet sheet, WeekList list, List<Meant> meant)
    {
        sheet.Widths(7, 30, 24, 10, 10, 10, 12, 12, 34, 8);
        sheet.Hide(10);
        Title(sheet, list, "I", "Pupae for the week from");
        int head = sheet.Row("Code", "Species", "Common name", "1 to 9", "10 or more", "In stock", "Your order", "Line total", "Remarks", "Shelf");
        sheet.Bold(head);
        string section = "";
        int first = head + 1;
        foreach (WeekOffer offer in list.Offers.Where(o => o.Ware.Section != "Cocoons"))
        {
            Ware ware = offer.Ware;
            if (ware.Section != section)
            {
                section = ware.Section;
                int heading = sheet.Row(section.ToUpperInvariant());
                sheet.Merge($"A{heading}:I{heading}");
                sheet.Bold(heading);
            }

            int row = sheet.Next;
            object? cheaper = offer.Breaks.Length > 0 ? offer.Breaks[0].Price : null;
            string unit = cheaper is null ? $"D{row}" : $"IF(G{row}>=10,E{row},D{row})";
            string[] remarks =
            [
                .. new[] { ware.Minimum > 1 ? $"min. {ware.Minimum}" : "", ware.Mix ? "" : ware.Pack > 1 ? $"packs of {ware.Pack}" : "", ware.Note }
                    .Where(remark => remark.Length > 0),
            ];
            sheet.Row(
                string.Create(CultureInfo.InvariantCulture, $"BF{ware.Index:000}"), ware.Printed, ware.Common, offer.Price, cheaper,
                offer.SoldOut ? "Sold out" : offer.Available, null, new Workbook.Formula($"G{row}*{unit}", 0m), string.Join("; ", remarks),
                string.Create(CultureInfo.InvariantCulture, $"R{(ware.Index % 7) + 1}"));
            meant.Add(new(sheet.Name, row, offer));
        }

        int last = sheet.Next - 1;
        sheet.Row();
        Sum(sheet, "Goods", $"SUM(H{first}:H{last})");
        sheet.Row(null, "Carriage, a box up to 150 pupae", null, list.Supplier.Carriage[0].Cost);
        sheet.Row(null, "Carriage, more than 150 pupae", null, list.Supplier.Carriage[1].Cost);
        sheet.Row(null, "Minimum order £60 of goods");
    }

    private static void Cocoons(Workbook.Sheet sheet, WeekList list, List<Meant> meant)
    {
        sheet.Widths(30, 26, 12, 12, 12, 12, 34);
        Title(sheet, list, "G", "Cocoons, hawkmoths and birdwings for the week from");
        sheet.Bold(sheet.Row("Species", "Common name", "In stock", "Price each", "Your order", "Line total", "Remarks"));
        int first = sheet.Next;
        foreach (WeekOffer offer in list.Offers.Where(o => o.Ware.Section == "Cocoons"))
        {
            Ware ware = offer.Ware;
            int row = sheet.Next;
            string remarks = string.Join("; ", new[] { ware.Pack > 1 ? $"packs of {ware.Pack}" : "", ware.Note }.Where(remark => remark.Length > 0));
            sheet.Row(
                ware.Printed, ware.Common, offer.SoldOut ? "Sold out" : offer.Available, offer.Price, null,
                new Workbook.Formula($"E{row}*D{row}", 0m), remarks);
            meant.Add(new(sheet.Name, row, offer));
        }

        sheet.Row();
        sheet.Row(null, null, null, null, "Goods", new Workbook.Formula($"SUM(F{first}:F{sheet.Next - 2})", 0m));
        sheet.Row("Birdwings leave here with their papers; ask your licensing authority what you need to hold them.");
    }

    private static void Title(Workbook.Sheet sheet, WeekList list, string lastColumn, string what)
    {
        int name = sheet.Row("Brackenfold Lepidoptera");
        sheet.Merge($"A{name}:{lastColumn}{name}");
        sheet.Bold(name);
        sheet.Row(what, null, list.Date);
        int terms = sheet.Row("Prices in £ for one, VAT to be added. Please type your numbers under Your order and send the file back by Sunday noon.");
        sheet.Merge($"A{terms}:{lastColumn}{terms}");
        sheet.Row();
    }

    private static void Sum(Workbook.Sheet sheet, string what, string formula)
    {
        int row = sheet.Row(null, what, null, null, null, null, null, new Workbook.Formula(formula, 0m));
        sheet.Bold(row);
    }
}

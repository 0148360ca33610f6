using System.Text.RegularExpressions;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>What a list says about itself as a whole: supplier, day, currency, tax, and rules for all its offers.</summary>
internal sealed partial class Statements
{
    public string? Supplier { get; private set; }

    public string? Currency { get; private set; }

    public DateOnly? Date { get; private set; }

    public bool? PricesExcludeTax { get; private set; }

    private readonly Dictionary<Formats.Sheet, SheetRules> rules = [];

    private SheetRules everywhere = new();

    private SheetRules together = new();

    /// <summary>What holds for an offer: what its sheet says, what sheets without offers say of all, and where its sheet is silent what the others say.</summary>
    public SheetRules For(Draft draft)
    {
        var own = rules.GetValueOrDefault(draft.Sheet) ?? new SheetRules();
        return own.SpeaksOfPrices ? own.Or(everywhere) : own.Or(everywhere).Or(together);
    }

    public List<Doubt> Doubts { get; } = [];

    private readonly ReadOptions options;
    private readonly IReadOnlyList<Draft> drafts;
    private readonly int firstOffer;

    public Statements(IReadOnlyList<Draft> drafts, ReadOptions options, string fileName)
    {
        this.drafts = drafts;
        this.options = options;
        firstOffer = drafts.ToList().FindIndex(draft => draft.Kind == LineKind.Offer);
        if (firstOffer < 0)
            firstOffer = drafts.Count;
        FindCurrency();
        FindTax();
        FindDate(fileName);
        FindSupplier();
        FindRules();
    }

    private IEnumerable<Draft> Spoken => drafts.Where(draft => draft.Kind is LineKind.Note or LineKind.Heading or LineKind.Doubt && draft.Text.Length <= Tokeniser.LongestLine);

    private void FindCurrency()
    {
        var signs = drafts
            .Where(draft => draft.Kind is LineKind.Offer or LineKind.Charge)
            .SelectMany(draft => draft.Facts.Prices.Select(price => (price.Currency, draft)))
            .Where(pair => pair.Currency is not (null or FactReader.Minor))
            .GroupBy(pair => pair.Currency!)
            .OrderByDescending(group => group.Count())
            .ToList();
        var stated = drafts
            .Where(draft => (draft.Kind is not (LineKind.Offer or LineKind.Blank)) || draft.IsProse)
            .DistinctBy(draft => draft.Row)
            .SelectMany(draft => Tokeniser.Cut(draft.Spoken, null))
            .Where(token => token.Kind == TokenKind.Currency)
            .GroupBy(token => token.Currency!)
            .OrderByDescending(group => group.Count())
            .Select(group => group.Key)
            .ToList();
        Currency = signs.Count > 0 ? signs[0].Key : stated.FirstOrDefault() ?? (SaysPence() ? "GBP" : null) ?? options.Layout.Currency;
        // "$" is the dollar of whoever writes; a list that names its dollar settles it.
        if (Currency == "USD" && stated.Find(code => code is "CAD" or "AUD" or "NZD" or "SGD") is { } dollar)
            Currency = dollar;
        if (Currency is null && drafts.Any(draft => draft.Kind == LineKind.Offer && draft.HasPrice))
            Doubts.Add(new Doubt(0, "", "The list does not say its currency: say which it is.") { About = DoubtAbout.Currency });
        if (signs.Count > 1)
        {
            foreach (var (other, draft) in signs.Where(group => group.Key != Currency && !(Currency is "CAD" or "AUD" or "NZD" or "SGD" && group.Key == "USD")).SelectMany(group => group.Select(pair => (pair.Currency!, pair.draft))))
            {
                var why = $"This price is in {other}, while the list is in {Currency}: ask the supplier which is meant.";
                if (draft.Kind == LineKind.Offer && !draft.Doubts.Contains(why) && draft.Facts.Prices.TrueForAll(price => price.Currency != Currency))
                    draft.Doubts.Add(why);
            }
            if (signs.Where(group => group.Key != Currency).Sum(group => group.Count()) is var others and > 0)
                Doubts.Add(new Doubt(0, "", $"The list shows prices in {string.Join(" and ", signs.Select(group => group.Key))}: {Currency} was taken as its currency; {others} prices are in another."));
        }
        else if (signs.Count == 1 && stated.Count > 0 && !stated.Contains(signs[0].Key) && Currency == signs[0].Key && !(stated.Count == 1 && stated[0] == "USD"))
        {
            Doubts.Add(new Doubt(0, "", $"The prices are marked {Currency}, while the text speaks of {string.Join(" and ", stated)}: check the currency."));
        }
    }

    private bool SaysPence() => drafts.Any(draft => draft.Kind == LineKind.Offer && draft.Facts.Prices.Exists(price => price.Currency == FactReader.Minor))
        && drafts.Any(draft => draft.Text.Split(' ', '|', ',', ';').Any(word => word.Length > 1 && word[^1] == 'p' && char.IsAsciiDigit(word[^2])))
        || drafts.Any(draft => draft.IsTitles && draft.Spoken.Contains("pence", StringComparison.OrdinalIgnoreCase));

    private void FindTax()
    {
        var found = Spoken
            // A row of titles with both kinds of price says nothing about the list; the price that is read is the one without tax.
            .Select(draft => (draft, text: draft.IsTitles && BothTaxes(draft) ? "netto" : draft.Spoken))
            .Concat(drafts.Where(draft => draft.Kind == LineKind.Charge).SelectMany(draft => Sentences(draft.Spoken).Select(text => (draft, text))))
            .Concat(drafts.Where(draft => draft.IsProse || (draft is { Kind: LineKind.Offer, InTable: false, Words: > 8 })).DistinctBy(draft => draft.Row).SelectMany(draft => SentenceEnd().Split(draft.Spoken).Where(SpeaksOfTax).Select(text => (draft, text))))
            .Select(pair => (pair.draft, excluded: TaxExcluded(pair.text, pair.draft.IsTitles)))
            .Where(pair => pair.excluded is not null)
            .ToList();
        PricesExcludeTax = found.Count > 0 ? found[0].excluded : options.Layout.PricesExcludeTax ?? options.Layout.PricesExcludeTaxUsually;
        if (found.Find(pair => pair.excluded != PricesExcludeTax) is not { draft: { } contrary })
            return;
        if (options.Layout.PricesExcludeTax is { } told)
            PricesExcludeTax = told;
        else
            Doubts.Add(new Doubt(contrary.Row.Number, contrary.Text, "The list says both that prices are with and without tax: ask the supplier which.") { About = DoubtAbout.Tax });
    }

    private static bool SpeaksOfTax(string sentence) => Tokeniser.Cut(sentence, null) is var tokens
        && tokens.Exists(token => token.Is(Meaning.Tax) || token.Is(Meaning.NetPrices) || token.Is(Meaning.GrossPrices)) && tokens.Exists(token => token.Is(Meaning.Prices) || token.Is(Meaning.Price) || token.Is(Meaning.All));

    private static bool BothTaxes(Draft titles)
    {
        var said = titles.Row.Content.Select(cell => TaxExcluded(cell.Text, titles: true)).ToList();
        return said.Contains(true) && said.Contains(false);
    }

    [GeneratedRegex(@"(?<=\p{L}{3}|\d)(?<!\b(?i:zzgl|inkl|exkl|excl|incl|escl|min|max|mind|approx|disp|verf|stk|pcs|uds))\.\s+(?=\p{Lu})|\s\|\s")]
    private static partial Regex SentenceEnd();

    /// <summary>The sentences of a line of charges that speak of something else; of a sentence that speaks of both, its clauses.</summary>
    private static IEnumerable<string> Sentences(string text) => SentenceEnd().Split(text)
        .SelectMany(sentence => SpeaksOfCharges(sentence) ? ClauseEnd().Split(sentence).Where(clause => !SpeaksOfCharges(clause) && Tokeniser.Cut(clause, null) is var tokens && tokens.Exists(token => token.Is(Meaning.Tax) || token.Is(Meaning.NetPrices) || token.Is(Meaning.GrossPrices)) && tokens.Exists(token => token.Is(Meaning.Prices) || token.Is(Meaning.Price))) : [sentence]);

    private static bool SpeaksOfCharges(string text) => Classifier.IsCharge([.. Tokeniser.Cut(text, null).SelectMany(token => token.Meanings)]);

    [GeneratedRegex(@"[,;]\s+|\s(?:and|und|et|y|e|en)\s")]
    private static partial Regex ClauseEnd();

    /// <summary>True when a text says that prices are without tax, false when with it, null when it says neither.</summary>
    internal static bool? TaxExcluded(string text, bool titles)
    {
        var tokens = Tokeniser.Cut(text, null);
        for (var i = 0; i < tokens.Count; i++)
        {
            if (tokens[i].Is(Meaning.Tax))
            {
                var near = tokens.Skip(Math.Max(0, i - 5)).Take(11).ToList();
                var including = near.Exists(token => (token.Is(Meaning.Including) && !token.Is(Meaning.Excluding)) || token.Is(Meaning.GrossPrices));
                // "2.40 and VAT" adds it; "one pupa and the VAT is in it" does not.
                var excluding = near.Exists(token => (token.Is(Meaning.Excluding) && !(including && token.Text.Equals("and", StringComparison.OrdinalIgnoreCase))) || token.Is(Meaning.NetPrices) || token.IsSign('+'));
                var not = near.Exists(token => token.Is(Meaning.Not));
                var answer = (including, excluding) switch
                {
                    (true, false) => not,
                    (false, true) => true,
                    // "incl. box, excl. VAT": the word nearest before the tax.
                    (true, true) => tokens.Take(i).Reverse().FirstOrDefault(token => token.Is(Meaning.Including) || token.Is(Meaning.Excluding))?.Is(Meaning.Excluding) ?? !tokens.Skip(i).First(token => token.Is(Meaning.Including) || token.Is(Meaning.Excluding)).Is(Meaning.Including),
                    _ => (bool?)null,
                };
                if (answer is not null)
                    return answer;
            }
        }
        var net = tokens.Exists(token => token.Is(Meaning.NetPrices));
        var gross = tokens.Exists(token => token.Is(Meaning.GrossPrices));
        var speaks = titles || tokens.Exists(token => token.Is(Meaning.Prices) || token.Is(Meaning.Price)) || tokens.Count(token => token.Kind == TokenKind.Word) <= 3;
        return speaks && net != gross ? net : null;
    }

    private void FindDate(string fileName)
    {
        DateOnly? best = null;
        var bestScore = 0;
        Draft? bestDraft = null;
        for (var i = 0; i < drafts.Count; i++)
        {
            var draft = drafts[i];
            if (draft.Kind is not (LineKind.Note or LineKind.Heading or LineKind.Charge) || (i > firstOffer && bestScore > 4))
                continue;
            foreach (var date in DateReader.Find(draft.Spoken))
            {
                if (Day(date) is not { } day)
                    continue;
                var score = Score(draft, date, i < firstOffer);
                if (score > bestScore)
                    (best, bestScore, bestDraft) = (day, score, draft);
            }
        }
        best ??= DispatchDay();
        if (best is null)
        {
            var names = drafts.Select(draft => draft.Sheet.Name).OfType<string>().Distinct().Append(Path.GetFileNameWithoutExtension(fileName).Replace('_', ' '));
            best = names.SelectMany(DateReader.Find).Select(Day).FirstOrDefault(day => day is not null);
        }
        Date = best;
        if (best is { } listDay && options.Today is { } today && Monday(listDay) != Monday(today))
            Doubts.Add(new Doubt(bestDraft?.Row.Number ?? 0, bestDraft?.Text ?? fileName, $"The list is of {listDay:yyyy-MM-dd}, which is not in the week of {today:yyyy-MM-dd}: check that it is this week's."));
    }

    /// <summary>The day on which the boxes go, where the head of the list names no day of its own.</summary>
    private DateOnly? DispatchDay() => drafts.Take(firstOffer)
        .Where(draft => draft.Says(Meaning.DispatchDate) && draft.Kind is LineKind.Note or LineKind.Heading or LineKind.Charge)
        .SelectMany(draft => DateReader.Find(draft.Spoken)
            .Where(date => Tokeniser.Cut(draft.Spoken, null).Where(token => token.End <= date.Start).Reverse().Take(7).FirstOrDefault(token => token.Is(Meaning.OtherDate) || token.Is(Meaning.ListDate)) is { } label && label.Is(Meaning.DispatchDate)))
        .Select(Day)
        .FirstOrDefault(day => day is not null);

    private static DateOnly Monday(DateOnly day) => day.AddDays(-(((int)day.DayOfWeek + 6) % 7));

    private DateOnly? Day(PrintedDate date)
    {
        var dayFirst = date.On(options.Today, monthFirst: false);
        if (!date.Swappable)
            return dayFirst;
        var monthFirst = date.On(options.Today, monthFirst: true);
        if (options.Today is { } today && dayFirst is { } a && monthFirst is { } b)
        {
            var (far, near) = (Math.Abs(a.DayNumber - today.DayNumber), Math.Abs(b.DayNumber - today.DayNumber));
            if (far > 45 && near <= 45)
                return monthFirst;
            if (near > 45 && far <= 45)
                return dayFirst;
        }
        return Currency is "USD" ? monthFirst ?? dayFirst : dayFirst ?? monthFirst;
    }

    private static int Score(Draft draft, PrintedDate date, bool above)
    {
        var tokens = Tokeniser.Cut(draft.Spoken, null);
        var before = tokens.Where(token => token.End <= date.Start).ToList();
        var score = above ? 3 : 0;
        if (date.Week is not null)
            score += 2;
        // The word nearest before the date says what it is the date of.
        for (var i = before.Count - 1; i >= 0 && before.Count - i <= 7; i--)
        {
            var strength = before.Count - i <= 3 ? 2 : 1;
            if (before[i].Is(Meaning.ListTitle) || (before[i].Is(Meaning.ListDate) && !before[i].Is(Meaning.OtherDate)))
                return score + 2 + strength;
            if (before[i].Is(Meaning.OtherDate))
                return score - 3 - strength;
        }
        if (tokens.Exists(token => token.Is(Meaning.OtherDate) && !token.Is(Meaning.ListTitle) && !token.Is(Meaning.Order)))
            score -= 3;
        if (tokens.Exists(token => token.Is(Meaning.ListTitle) || token.Is(Meaning.ListDate)))
            score += 2;
        return score;
    }

    private void FindSupplier()
    {
        string? best = null;
        var bestScore = 4.0;
        var filled = drafts.Where(draft => draft.Kind != LineKind.Blank).ToList();
        var above = filled.TakeWhile(draft => draft.Kind != LineKind.Offer && !draft.IsTitles).Take(10).ToList();
        var below = filled.Skip(Math.Max(above.Count, filled.Count - 8)).Where(draft => draft.Kind is LineKind.Note or LineKind.Heading).ToList();
        foreach (var (draft, place) in above.Select((draft, i) => (draft, 3.5 - (i * 0.5))).Concat(below.Select(draft => (draft, -1.5))))
        {
            if (draft.Kind is not (LineKind.Note or LineKind.Heading) || draft.Text.Length > 300)
                continue;
            foreach (var (candidate, score) in SupplierName.Candidates(draft.Spoken))
            {
                if (score + place > bestScore)
                    (best, bestScore) = (candidate, score + place);
            }
        }
        Supplier = best ?? options.Supplier;
    }

    private void FindRules()
    {
        var layout = new SheetRules { PricesPerPack = options.Layout.PricesPerPack };
        foreach (var sheet in drafts.GroupBy(draft => draft.Sheet))
        {
            var said = RulesOf([.. sheet.Where(draft => !draft.IsFootnote)]);
            rules[sheet.Key] = said;
            together = together.Or(said);
            if (!sheet.Any(draft => draft.Kind == LineKind.Offer))
                everywhere = everywhere.Or(said);
        }
        everywhere = everywhere.Or(layout);
        foreach (var draft in Spoken.Where(draft => !draft.IsTitles && !draft.IsFootnote && draft.Kind is LineKind.Note or LineKind.Heading && !draft.HasPrice && draft.Facts.Pack > 1 && draft.Facts.Pack != For(draft).Pack && (draft.Says(Meaning.PackOf) || draft.Text.TrimStart().StartsWith('('))
            && (draft.Kind == LineKind.Note || draft.Text.TrimStart().StartsWith('('))))
            Doubts.Add(new Doubt(draft.Row.Number, draft.Text, $"This line may say that something is sold in packs of {draft.Facts.Pack}: check the offers that it is about."));
    }

    private SheetRules RulesOf(IReadOnlyList<Draft> sheet)
    {
        var found = new SheetRules();
        foreach (var draft in sheet.Where(draft => !draft.IsTitles && draft.Kind == LineKind.Note && draft.Text.Length <= Tokeniser.LongestLine))
        {
            if (draft.Says(Meaning.All) && draft.Facts.Prices is [{ From: 1 } price])
                found = found with { Price = found.Price ?? price };
        }
        // Of offers in sentences the rules stand among them, and only what speaks of each species is one.
        foreach (var draft in sheet.Where(draft => draft.Kind is LineKind.Note or LineKind.Heading or LineKind.Doubt or LineKind.Charge && !draft.IsTitles && draft.Text.Length <= LongestRule))
        {
            foreach (var clause in Clauses().Split(draft.Spoken))
                found = With(found, ListRule.Of(clause), draft);
            if (found.PercentBreaks.Count < 2 && PercentSteps(draft) is { Count: > 0 } steps && steps.Count > found.PercentBreaks.Count)
                found = found with { PercentBreaks = steps };
            foreach (var sentence in SentenceEnd().Split(draft.Spoken).SelectMany(text => text.Split(". ")))
            {
                if (AmountOff(sentence) is { } off && !found.AmountsOff.Contains(off))
                    found = found with { AmountsOff = [.. found.AmountsOff, off] };
            }
            if (!draft.HasPrice)
                found = found with { Numbers = found.Numbers.Concat(Tokeniser.Cut(draft.Spoken, null).Where(token => token.Currency is null).Select(FactReader.CountOrWord).OfType<int>().Where(number => number is > 1 and <= 100)).ToHashSet() };
            if (!draft.HasPrice && found.Thresholds.Count == 0)
                found = found with { Thresholds = Thresholds(draft) };
            if (found.PriceSteps.Count == 0)
                found = found with { PriceSteps = Steps(draft.Spoken) };
        }
        // A sentence beside offers can speak of all: "Minimum 25 of a species."
        foreach (var draft in sheet.Where(draft => draft is { Kind: LineKind.Offer, InTable: false } && draft.Says(Meaning.PerSpecies)).DistinctBy(draft => draft.Row))
        {
            foreach (var clause in SentenceEnd().Split(draft.Spoken))
            {
                if (ListRule.Of(clause) is { Minimum: { } least })
                    found = found with { Minimum = found.Minimum ?? least };
            }
        }
        return found;
    }

    /// <summary>
    /// "10+ of one kind: 10 % off, 25+: 20 % off", "10 % ab 10 Stück, 20 % ab 25 Stück je Art": numbers of pupae and per cents by turns, both rising.
    /// What speaks of the order as a whole, or does not say that each species counts by itself, is none.
    /// </summary>
    private static IReadOnlyList<(int From, decimal Percent)> PercentSteps(Draft draft)
    {
        if (!draft.Text.Contains('%', StringComparison.Ordinal) || !draft.Says(Meaning.PerSpecies) || draft.Says(Meaning.WholeOrder) || draft.Says(Meaning.Tax) || draft.Says(Meaning.Carriage))
            return [];
        var items = new List<(bool IsPercent, decimal Value)>();
        foreach (var sentence in SentenceEnd().Split(draft.Spoken).SelectMany(text => text.Split(". ")).Where(text => text.Contains('%', StringComparison.Ordinal)))
        {
            var tokens = Tokeniser.Cut(sentence, null);
            for (var i = 0; i < tokens.Count; i++)
            {
                if (tokens[i].Kind == TokenKind.Number && i + 1 < tokens.Count && tokens[i + 1].IsSign('%'))
                    items.Add((true, tokens[i].Value));
                else if (tokens[i].Currency is null && !tokens[i].Is(Meaning.Packs) && FactReader.CountOrWord(tokens[i]) is > 1 and <= 1000 and var number)
                    items.Add((false, number));
            }
        }
        if (items.Count is < 2 or > 12 || items.Count % 2 != 0 || items.Where((item, i) => item.IsPercent != (items[0].IsPercent == (i % 2 == 0))).Any())
            return [];
        var steps = items.Chunk(2).Select(pair => ((int)pair.First(item => !item.IsPercent).Value, pair.First(item => item.IsPercent).Value)).ToList();
        return steps.TrueForAll(step => step.Value is > 0 and < 60) && steps.Zip(steps.Skip(1)).All(pair => pair.First.Item1 < pair.Second.Item1 && pair.First.Value < pair.Second.Value) ? steps : [];
    }

    /// <summary>"Ten or more of one kind: 20p off each": a number of pupae and a small sum that each costs less.</summary>
    private static (int From, decimal Less)? AmountOff(string sentence)
    {
        if (!LessEach().IsMatch(sentence) || SpeaksOfCharges(sentence) || SmallSum().Matches(sentence) is not [{ } sum])
            return null;
        var less = sum.Groups["minor"].Success ? int.Parse(sum.Groups["minor"].ValueSpan, System.Globalization.CultureInfo.InvariantCulture) / 100m : NumberText.Read(sum.Groups["main"].Value, null)?.Value;
        if (less is not (> 0 and < 2))
            return null;
        var tokens = Tokeniser.Cut(sentence, null);
        for (var i = 0; i < tokens.Count; i++)
        {
            if (FactReader.CountOrWord(tokens[i]) is > 1 and <= 500 and var number && tokens[i].Currency is null && ((i + 1 < tokens.Count && (tokens[i + 1].Is(Meaning.OrMore) || tokens[i + 1].IsSign('+'))) || (i > 0 && tokens[i - 1].Is(Meaning.From))))
                return (number, less.Value);
        }
        return null;
    }

    [GeneratedRegex(@"(?<![\d.,])(?:(?<minor>\d{1,2})\s?(?:p|ct|c|¢|cts|cents?|pence|céntimos|centesimi|centimes)\b|(?<main>[01][.,]\d{2})(?!\d))", RegexOptions.IgnoreCase)]
    private static partial Regex SmallSum();

    [GeneratedRegex(@"\b(?:off each|less each|off the price|cheaper|weniger|günstiger|billiger|abzug|nachlass|moins cher|de moins|de remise|menos|más barat[ao]s?|de descuento|goedkoper|korting|minder|in meno|di sconto|meno car[ei])\b", RegexOptions.IgnoreCase)]
    private static partial Regex LessEach();

    /// <summary>"In brackets the price from ten on" gives 10; "from 10 the second, from 50 the third" gives 10 and 50.</summary>
    private static IReadOnlyList<int> Thresholds(Draft draft)
    {
        if (draft.Says(Meaning.Box) || draft.Says(Meaning.Carriage) || draft.Says(Meaning.Discount) || draft.Says(Meaning.WholeOrder) || draft.Says(Meaning.PackOf) || draft.Text.Contains('%', StringComparison.Ordinal))
            return [];
        var tokens = Tokeniser.Cut(draft.Spoken, null);
        var found = new List<int>();
        for (var i = 0; i < tokens.Count; i++)
        {
            if (FactReader.CountOrWord(tokens[i]) is not (> 1 and <= 1000) || tokens[i].Currency is not null || tokens[i].Is(Meaning.Packs))
                continue;
            var before = i > 0 ? tokens[i - 1] : null;
            var after = i + 1 < tokens.Count && tokens[i + 1].Is(Meaning.Pieces) && !tokens[i + 1].Is(Meaning.OrMore) ? i + 2 : i + 1;
            var from = before is { Kind: TokenKind.Word } && before.Is(Meaning.From) || (after < tokens.Count && (tokens[after].Is(Meaning.OrMore) || tokens[after].IsSign('+')));
            if (from && FactReader.CountOrWord(tokens[i])!.Value is var number && (found.Count == 0 || number > found[^1]))
                found.Add(number);
        }
        return found;
    }

    /// <summary>"per pupa / per 10 / per 50" gives 1, 10, 50.</summary>
    private static IReadOnlyList<int> Steps(string text)
    {
        if (text.Length > LongestRule || !text.Contains('/', StringComparison.Ordinal) && !text.Contains('|', StringComparison.Ordinal))
            return [];
        var steps = new List<int>();
        foreach (var part in text.Split('/', '|', '(', ')', ':', ';'))
        {
            var tokens = Tokeniser.Cut(part, null);
            var numbers = tokens.FindAll(token => token.IsWhole && token.Currency is null);
            if (tokens.Count is > 0 and <= 4 && numbers is [{ Value: > 1 and <= 1000 } number] && tokens.Exists(token => token.Is(Meaning.Per) || token.Is(Meaning.For) || token.Is(Meaning.From) || token.Is(Meaning.OrMore) || token.IsSign('+')) && steps.Count > 0 && (int)number.Value > steps[^1])
                steps.Add((int)number.Value);
            else if (tokens.Count is > 0 and <= 3 && numbers.Count == 0 && tokens.Exists(token => token.Is(Meaning.Each)) && steps.Count == 0)
                steps.Add(1);
            else if (steps.Count < 2)
                steps.Clear();
            else
                break;
        }
        return steps.Count > 1 ? steps : [];
    }

    private const int LongestRule = 400;

    /// <summary>A heading over all offers speaks of all; one between them of those below it.</summary>
    private bool AboveAll(Draft draft) => drafts.Take(firstOffer).Contains(draft);

    private SheetRules With(SheetRules found, ListRule rule, Draft draft)
    {
        if (rule.InPence)
            Currency ??= "GBP";
        var packHere = (draft.Kind is LineKind.Note || (draft.Kind == LineKind.Heading && AboveAll(draft))) && !draft.Facts.Mix && !draft.Text.TrimEnd().EndsWith(':');
        // "each, unless a pack is named": what a price is for stands on its line.
        var perPack = rule.PerPack == false && draft.Says(Meaning.Unless) ? null : rule.PerPack;
        return found with
        {
            Minimum = found.Minimum ?? (draft.Text.Contains('%', StringComparison.Ordinal) && !draft.Says(Meaning.Minimum) ? null : rule.Minimum),
            StockInPacks = found.StockInPacks || rule.StockInPacks,
            Pack = found.Pack ?? (packHere ? rule.Pack : null),
            PercentBreaks = rule.Less is { } less && (rule.OfEach || found.PercentBreaks.Count > 0) && !found.PercentBreaks.Contains(less) ? [.. found.PercentBreaks, less] : found.PercentBreaks,
            PricesInMinor = found.PricesInMinor || (rule.InMinor && !draft.HasPrice),
            PricesPer = found.PricesPer ?? (draft.HasPrice ? null : rule.Per),
            PricesPerPack = found.PricesPerPack ?? perPack,
        };
    }

    [GeneratedRegex(@"(?<=\p{L}{3}|\d)(?<!\b(?i:zzgl|inkl|exkl|excl|incl|escl|min|max|mind))[.!]\s+(?=\p{Lu})|(?<=\p{L}{4}|%)(?<!\b(?i:approx|disp|verf|mind))[.!]\s+(?=\d)|\s*[;|•·–—,()]\s+|\s+[-/]\s+|\.$|[()]|\s(?:and|und|et)\s(?=\p{L}{4,})")]
    private static partial Regex Clauses();
}

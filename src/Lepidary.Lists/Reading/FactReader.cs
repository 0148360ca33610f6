using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>
/// Reads what a text says about an offer: a whole line of a text list or one cell of a table. The words are the vocabulary's; the rules here
/// know no language, only what stands beside what.
/// </summary>
internal sealed class FactReader
{
    private readonly string text;
    private readonly List<Token> tokens;
    private readonly Facts facts = new();

    private FactReader(string text, char? decimalMark)
    {
        this.text = text;
        tokens = Tokeniser.Cut(text, decimalMark);
    }

    /// <summary>Reads a text.</summary>
    /// <param name="text">A line or a cell.</param>
    /// <param name="decimalMark">Decimal mark of the list, or null where it is not known.</param>
    public static Facts Read(string text, char? decimalMark)
    {
        var reader = new FactReader(text, decimalMark);
        reader.MarkMoney();
        reader.SideCharges();
        reader.Discounts();
        reader.Arrows();
        reader.Mixes();
        reader.Packs();
        reader.Pairs();
        reader.Minimums();
        reader.PricesForSeveral();
        reader.Breaks();
        reader.Availability();
        reader.SoldOut();
        reader.SinglePrices();
        reader.Leftovers();
        return reader.facts;
    }

    /// <summary>Gives each number beside a currency that currency, and turns pence into pounds.</summary>
    private void MarkMoney()
    {
        for (var i = 0; i < tokens.Count; i++)
        {
            if (tokens[i].Kind != TokenKind.Currency)
                continue;
            var before = At(i - 1);
            var after = At(i + 1);
            var tight = before is { Kind: TokenKind.Number } && before.End == tokens[i].Start;
            var isSign = Currencies.IsSign(tokens[i].Text[0]);
            // "2.40 €" and "€ 2.40": a sign belongs to what it touches; a code to what stands before it, if that is an amount.
            var target = (before, after) switch
            {
                ({ Kind: TokenKind.Number, Currency: null }, { Kind: TokenKind.Number }) when !tight && (isSign ? after!.Start == tokens[i].End : before!.Decimals == 0 && after!.Decimals > 0) => after,
                ({ Kind: TokenKind.Number, Currency: null }, _) => before,
                (_, { Kind: TokenKind.Number }) => after,
                _ => null,
            };
            if (target is null)
                continue;
            // From here on the amount and its currency are one.
            var (first, last) = target.Start < tokens[i].Start ? (target, tokens[i]) : (tokens[i], target);
            var at = tokens.IndexOf(first);
            tokens[at] = new Token { Kind = TokenKind.Number, Start = first.Start, End = last.End, Text = text[first.Start..last.End], Value = target.Value, Decimals = target.Decimals, Currency = tokens[i].Currency };
            tokens.RemoveAt(at + 1);
            i = at;
        }
        for (var i = 0; i + 1 < tokens.Count; i++)
        {
            if (tokens[i] is { Kind: TokenKind.Number, Currency: null } number && tokens[i + 1].Is(Meaning.Pence) && (tokens[i + 1].Start - number.End) <= 1 && tokens[i + 1].Kind == TokenKind.Word)
            {
                tokens[i] = new Token { Kind = TokenKind.Number, Start = number.Start, End = tokens[i + 1].End, Text = number.Text, Value = number.Value / 100, Decimals = 2, Currency = Minor };
                tokens.RemoveAt(i + 1);
            }
        }
    }

    /// <summary>Stands for the currency of an amount in pence or cents: whatever the list's is.</summary>
    public const string Minor = "minor";

    private static bool IsMoney(Token? token) => token is { Kind: TokenKind.Number } && (token.Currency is not null || token.Decimals is 1 or 2);

    private static bool IsCount(Token? token) => token is { IsWhole: true, Currency: null, Used: false } && token.Value is >= 1 and <= 100_000;

    private Token? At(int i) => i >= 0 && i < tokens.Count ? tokens[i] : null;

    /// <summary>The next token that is no separator between a word and its number.</summary>
    private int Over(int i, params ReadOnlySpan<char> signs)
    {
        while (At(i) is { Kind: TokenKind.Sign } sign && signs.Contains(sign.Text[0]))
            i++;
        return i;
    }

    private int BackOver(int i, params ReadOnlySpan<char> signs)
    {
        while (At(i) is { Kind: TokenKind.Sign } sign && signs.Contains(sign.Text[0]))
            i--;
        return i;
    }

    private static int Count(Token token) => (int)token.Value;

    /// <summary>A number in digits, or a word that is one (tens, dozen).</summary>
    internal static int? CountOrWord(Token? token)
    {
        if (token is null || token.Used)
            return null;
        if (IsCount(token))
            return Count(token);
        if (token.Kind != TokenKind.Word)
            return null;
        if (token.Value > 0)
            return (int)token.Value;
        foreach (var meaning in token.Meanings)
        {
            if (meaning is >= Meaning.Number2 and <= Meaning.Number200)
                return int.Parse(meaning.ToString().AsSpan("Number".Length), System.Globalization.CultureInfo.InvariantCulture);
        }
        return null;
    }

    private static void Use(params ReadOnlySpan<Token?> used)
    {
        foreach (var token in used)
        {
            if (token is not null)
                token.Used = true;
        }
    }

    private void UseRange(int from, int to)
    {
        for (var i = Math.Max(0, from); i <= to && i < tokens.Count; i++)
            tokens[i].Used = true;
    }

    /// <summary>"from 10: -5 %", "5 % off from 10": a price break. Of any other discount no number is a price or a count.</summary>
    private void Discounts()
    {
        for (var i = 0; i + 1 < tokens.Count; i++)
        {
            if (tokens[i] is not { Kind: TokenKind.Number, Used: false } || !(tokens[i + 1].IsSign('%') || tokens[i + 1].Is(Meaning.Discount)))
                continue;
            facts.Remarks.Add(text[tokens[i].Start..tokens[i + 1].End]);
            var end = i + 1;
            while (At(end + 1) is { Kind: TokenKind.Word } word && (word.Is(Meaning.Discount) || word.Text.ToLowerInvariant() is "less" or "weniger" or "de" or "off" or "menos" or "di"))
                end++;
            if (tokens[i].Value is > 0 and < 60 && tokens[i + 1].IsSign('%'))
            {
                var before = BackOver(i - 1, '-', '–', '—', ':', '=', '(');
                while (At(before) is { Kind: TokenKind.Word } word && !word.Is(Meaning.OrMore) && !word.Is(Meaning.From) && (word.Is(Meaning.Discount) || word.Is(Meaning.PerSpecies) || word.Is(Meaning.Species) || word.Text.ToLowerInvariant() is "of" or "one" or "minus" or "less" or "moins" or "menos" or "meno" or "min"))
                    before = BackOver(before - 1, '-', ':', '=', '(', ',');
                if (QuantityMarkBefore(before) is var (begin, from) && from > 1 && !tokens[begin].Used)
                {
                    facts.PercentBreaks.Add((from, tokens[i].Value));
                    UseRange(begin, i - 1);
                }
                else if (QuantityMarkAfter(end + 1) is var (last, least) && least > 1 && !tokens.Skip(end + 1).Take(last - end).Any(token => token.Used))
                {
                    facts.PercentBreaks.Add((least, tokens[i].Value));
                    UseRange(end + 1, last);
                }
            }
            UseRange(i, end);
            if (At(i - 1) is { } minus && minus.IsSign('-'))
                minus.Used = true;
        }
    }

    /// <summary>"Troides helena 9.50, with papers (15.00 per shipment)": of several amounts those that a word marks as a charge are none of the animal.</summary>
    private void SideCharges()
    {
        var amounts = tokens.FindAll(IsMoney);
        if (amounts.Count < 2)
            return;
        var found = new List<(int At, int End, HashSet<Meaning> Says)>();
        for (var i = 0; i < tokens.Count; i++)
        {
            if (!IsMoney(tokens[i]))
                continue;
            var says = new HashSet<Meaning>();
            var end = i;
            if (At(i + 1) is { Kind: TokenKind.Word } per && (per.Is(Meaning.PerShipment) || per.Is(Meaning.PerPermit) || per.Is(Meaning.PerOrder)) && !per.Is(Meaning.Each))
            {
                says.UnionWith(per.Meanings);
                end = i + 1;
            }
            // "(CITES) 9.50" is the price of what needs papers; an amount behind the price is theirs.
            for (var j = BackOver(i - 1, ':', '=', '+', '('); tokens[i] != amounts[0] && j >= 0 && i - j < 4 && tokens[j].Kind == TokenKind.Word; j--)
            {
                if (tokens[j].Is(Meaning.Permit) || tokens[j].Is(Meaning.Document))
                    says.UnionWith(tokens[j].Meanings);
            }
            if (says.Count > 0)
                found.Add((i, end, says));
        }
        if (found.Count == amounts.Count)
            return;
        foreach (var (at, end, says) in found)
        {
            facts.Charges.Add((Price(tokens[at]), says));
            facts.Remarks.Add(text[tokens[at].Start..tokens[end].End]);
            UseRange(at, end);
        }
    }

    /// <summary>"3.00 -> 2.50": what stands before an arrow was the price.</summary>
    private void Arrows()
    {
        for (var i = 0; i + 2 < tokens.Count; i++)
        {
            var to = Over(i + 1, '-', '=', '–', '>', '→', '»', '➔', '⇒');
            if (to > i + 1 && IsMoney(tokens[i]) && IsMoney(At(to)) && tokens.GetRange(i + 1, to - i - 1).Exists(sign => !sign.IsSign('-') && !sign.IsSign('=') && !sign.IsSign('–')))
            {
                facts.OldPrices.Add(Price(tokens[i]));
                UseRange(i, to - 1);
            }
        }
    }

    private void Mixes()
    {
        foreach (var token in tokens)
        {
            if (token.Is(Meaning.NotMix))
                facts.Remarks.Add(token.Text);
            else if (token.Is(Meaning.Mix))
                facts.Mix = true;
            if (token.Is(Meaning.Cocoon))
                facts.Cocoon = true;
            if (token.Is(Meaning.Pupa))
                facts.Pupa = true;
        }
    }

    /// <summary>"pack of 5", "5er-Pack", "x5", "sold in tens", "10 per pack".</summary>
    private void Packs()
    {
        for (var i = 0; i < tokens.Count && facts.Pack is null; i++)
        {
            var token = tokens[i];
            if (token.Used || token.Kind == TokenKind.Number)
                continue;
            // "Fünferpackung"; "in fives", "by the dozen"
            if (token.Kind == TokenKind.Word && CountOrWord(token) is > 1 and var together && (token.Is(Meaning.PackOf) || InPlural(i)))
            {
                facts.Pack = together;
                token.Used = true;
                if (At(i - 1) is { Kind: TokenKind.Word, Text.Length: < 5 } small && small.Text.ToLowerInvariant() is "in" or "by" or "zu" or "nur")
                    small.Used = true;
                continue;
            }
            // "mixed box of 50", "lote sorpresa de 25"
            if (facts.Mix && token.Kind == TokenKind.Word && token.Text.Length <= 5 && char.IsLower(token.Text[0]) && i > 0 && !token.Is(Meaning.Minimum) && !token.Is(Meaning.Each) && !token.Is(Meaning.Only)
                && tokens.Take(i).Any(before => before.Is(Meaning.Mix)) && IsCount(At(i + 1)) && At(i + 1)!.Value > 1 && !IsPriced(i + 1) && !(At(i + 2) is { } what && what.Is(Meaning.Species)))
            {
                facts.Pack = Count(At(i + 1)!);
                UseRange(i, i + 1);
                Use(At(i + 2) is { } unit && unit.Is(Meaning.Pieces) ? unit : null);
                continue;
            }
            if (token.Is(Meaning.PackOf) || token.Is(Meaning.Packs) || (token.Is(Meaning.SoldIn) && EndsPack(i + 2)))
            {
                var n = Over(i + 1, ':', '=', '(', '/', 'x');
                // "in", "ve", "er" and their like are pack words only tight beside a number.
                if (CountOrWord(At(n)) is { } size and > 1 && !IsPriced(n))
                {
                    facts.Pack = size;
                    UseRange(i, n);
                    Use(At(n + 1) is { } pieces && (pieces.Is(Meaning.Pieces) || pieces.Is(Meaning.PackOf) || (pieces.Text is "s" or "'s" or "er" && pieces.Start == At(n)!.End)) ? pieces : null);
                    TakePriceOfPack(n + 1, size);
                }
                else if (IsCount(At(i - 1)) && At(i - 1)!.Value > 1 && token.Is(Meaning.PackOf) && IsSuffix(token, At(i - 1)!) && !token.Is(Meaning.Only))
                {
                    facts.Pack = Count(At(i - 1)!);
                    UseRange(i - 1, i);
                }
                else if (At(i - 1) is { } dash && dash.IsSign('-') && IsCount(At(i - 2)) && dash.Start == At(i - 2)!.End && dash.End == token.Start)
                {
                    facts.Pack = Count(At(i - 2)!);
                    UseRange(i - 2, i);
                }
            }
            else if (token.Is(Meaning.Packed) && CountOrWord(At(At(i - 1) is { } unit2 && unit2.Is(Meaning.Pieces) ? i - 2 : i - 1)) is { } wrapped and > 1)
            {
                var n = At(i - 1)!.Is(Meaning.Pieces) ? i - 2 : i - 1;
                if (IsPriced(n))
                    continue;
                facts.Pack = wrapped;
                UseRange(At(n - 1) is { Kind: TokenKind.Word } joins && (joins.Is(Meaning.Per) || joins.Is(Meaning.For) || joins.Is(Meaning.At)) ? n - 1 : n, i);
            }
            else if (token.Is(Meaning.PerPack) && IsCount(At(i - 1)) && At(i - 1)!.Currency is null)
            {
                facts.Pack = Count(At(i - 1)!);
                UseRange(i - 1, i);
            }
            else if (token.IsSign('x') && i > 0 && IsCount(At(i + 1)) && At(i + 1)!.Start == token.End && !IsPriced(i + 1) && At(i + 1)!.Value > 1)
            {
                // "x5" behind a name; "5 x 12.00" is met elsewhere.
                if (At(i - 1)!.Kind != TokenKind.Number && At(i + 2) is { } at && (at.IsSign('@') || (at.Is(Meaning.At) && at.Kind == TokenKind.Word)) && IsMoney(At(i + 3)))
                {
                    // "x20 @ 3.95": so many at that price each.
                    TakeAvailable(Count(At(i + 1)!), i, i + 1, null);
                }
                else if (At(i - 1)!.Kind != TokenKind.Number)
                {
                    facts.Pack = Count(At(i + 1)!);
                    facts.PackByTimes = true;
                    UseRange(i, i + 1);
                }
            }
        }
    }

    /// <summary>"in fives", "by the dozen": English numbers of packs.</summary>
    private bool InPlural(int i) => tokens[i].Text.ToLowerInvariant() is "twos" or "threes" or "fours" or "fives" or "sixes" or "eights" or "tens" or "dozens" or "twenties" or "fifties" or "hundreds"
        && At(i - 1) is { } before && before.Text.ToLowerInvariant() is "in" or "by" or "as" or "sold in" or "packed in" or "only in" or "come in"
        && !(At(i + 1) is { } of && of.Text == "of");

    /// <summary>True when nothing behind a number says that it counts anything but animals: no days, no weeks.</summary>
    private bool EndsPack(int i) => At(i) is null or { Kind: TokenKind.Sign } || At(i)!.Is(Meaning.Pieces) || At(i)!.Is(Meaning.PackOf) || At(i)!.Text is "s" or "'s" or "er";

    /// <summary>"pair 28.00": two come together; whether the price is theirs, the other prices say.</summary>
    private void Pairs()
    {
        for (var i = 0; i + 1 < tokens.Count && facts.Pack is null; i++)
        {
            if (tokens[i] is { Kind: TokenKind.Word, Used: false } pair && pair.Is(Meaning.Number2) && Folded.Of(pair.Text) is "pair" or "pairs" or "paar" or "paare" or "paire" or "paires" or "pareja" or "coppia" && IsMoney(At(Over(i + 1, ':', '='))))
            {
                facts.Pack = 2;
                pair.Used = true;
            }
        }
    }

    /// <summary>"lot de 10 à 21": the amount joined to a pack is the pack's.</summary>
    private void TakePriceOfPack(int i, int size)
    {
        var joined = false;
        while (At(i) is { } between && (between.Used || between.IsSign(':') || between.IsSign('=') || between.IsSign('@') || (between.Kind == TokenKind.Word && (between.Is(Meaning.At) || between.Is(Meaning.For)))))
        {
            joined |= !between.Used;
            i++;
        }
        if (joined && IsMoney(At(i)) && !At(i)!.Used && !(At(i + 1) is { Kind: TokenKind.Word } each && each.Is(Meaning.Each)))
        {
            facts.Prices.Add(Price(At(i)!) with { Per = size, Marked = true });
            Use(At(i));
        }
    }

    /// <summary>"er", "pk", "pack" written onto the number or right behind it.</summary>
    private static bool IsSuffix(Token word, Token number) =>
        word.Start == number.End || (word.Start - number.End == 1 && word.Text.Length > 2 && Vocabulary.Of(word.Text).Contains(Meaning.PackOf) && !word.Is(Meaning.Packs));

    private bool IsPriced(int i) => At(i) is { } number && (number.Currency is not null || number.Decimals > 0);

    private void Minimums()
    {
        for (var i = 0; i < tokens.Count && facts.Minimum is null; i++)
        {
            if (tokens[i].Used || !tokens[i].Is(Meaning.Minimum))
                continue;
            var n = i + 1;
            while (At(n) is { } between && n - i < 4 && ((between.Kind == TokenKind.Sign && ":.=(-".Contains(between.Text[0], StringComparison.Ordinal)) || between.Is(Meaning.Order) || between.Is(Meaning.WholeOrder) || between.Is(Meaning.Quantity)))
                n++;
            if (CountOrWord(At(n)) is not null && At(n + 1) is { } of && of.Is(Meaning.Species))
            {
                facts.Remarks.Add(text[tokens[i].Start..of.End]);
                UseRange(i, n + 1);
            }
            else if (CountOrWord(At(n)) is { } least && !IsPriced(n))
            {
                TakeMinimum(least, i, n);
            }
            else if (BackOver(i - 1, '(') is var b && IsCount(At(b)))
            {
                facts.Minimum = Count(At(b)!);
                UseRange(b, i);
            }
            else if (At(i - 1) is { } pieces && pieces.Is(Meaning.Pieces) && IsCount(At(i - 2)))
            {
                facts.Minimum = Count(At(i - 2)!);
                UseRange(i - 2, i);
            }
        }
    }

    private void TakeMinimum(int least, int from, int number)
    {
        // "Minimum 25 of a species" speaks of all of them.
        if (tokens.Skip(number + 1).Take(2).FirstOrDefault(token => token.Is(Meaning.PerSpecies)) is { } each)
        {
            facts.Remarks.Add(text[tokens[from].Start..each.End]);
            UseRange(from, tokens.IndexOf(each));
            facts.Minimum = least;
            return;
        }
        facts.Minimum = least;
        UseRange(from, number);
        if (At(number + 1) is { } unit && !unit.Used)
        {
            facts.MinimumInPacks = unit.Is(Meaning.Packs) && !unit.Is(Meaning.Pieces);
            if (facts.MinimumInPacks || unit.Is(Meaning.Pieces))
                Use(unit);
        }
    }

    /// <summary>"24.00 per 10", "12 for 5", "5 for 12.00", "12.00 per pack", "2.40 each": what a price pays for.</summary>
    private void PricesForSeveral()
    {
        for (var i = 0; i < tokens.Count; i++)
        {
            if (tokens[i] is not { Kind: TokenKind.Number, Used: false } number)
                continue;
            var slash = At(i + 1) is { } sign && sign.IsSign('/') && sign.Start == number.End && At(i + 2)?.Start == sign.End;
            var next = slash ? i + 2 : i + 1;
            if (At(next) is { Used: false } word && (IsMoney(number) || word.Kind == TokenKind.Word))
            {
                // "48.00 per box of 20", "26.00 par lot de 10"
                if ((word.Is(Meaning.PerPack) || word.Is(Meaning.PerBox)) && IsMoney(number) && At(next + 1) is { Kind: TokenKind.Word } of && of.Text.ToLowerInvariant() is "of" or "de" or "mit" or "von" or "van" or "da" or "zu" or "à" && IsCount(At(next + 2)) && At(next + 2)!.Value > 1)
                {
                    facts.Pack ??= Count(At(next + 2)!);
                    Take(number, 0, i, next + 2);
                    continue;
                }
                if (word.Is(Meaning.PerPack) && (IsMoney(number) || !word.Is(Meaning.PackOf)))
                {
                    Take(number, per: IsCount(At(next + 1)) ? Count(At(next + 1)!) : 0, i, next);
                    facts.Pack ??= IsCount(At(next + 1)) ? Count(At(next + 1)!) : null;
                    Use(facts.Pack is null ? null : At(next + 1) is { } size && IsCount(size) ? size : null);
                    continue;
                }
                var joins = slash || word.Is(Meaning.Per) || word.Is(Meaning.For);
                var count = slash ? next : next + 1;
                var packWord = At(count) is { } maybe && !maybe.Used && maybe.Kind == TokenKind.Word && maybe.Is(Meaning.PackOf) && CountOrWord(At(count + 1)) is not null;
                if (packWord)
                    count++;
                if (IsMoney(number) && joins && CountOrWord(At(count)) is { } several and > 1 && !IsPriced(count) && !IsQuantityMark(count + 1))
                {
                    Take(number, several, i, count);
                    if (packWord || At(count)!.Kind == TokenKind.Word)
                        facts.Pack ??= several;
                    else if (word.Is(Meaning.For) && !word.Is(Meaning.Per))
                        facts.Lot = several;
                    Use(At(count + 1) is { } pieces && pieces.Is(Meaning.Pieces) ? pieces : null);
                    continue;
                }
                if (word.Is(Meaning.Each) && (IsMoney(number) || !word.Is(Meaning.Pieces) || slash) && !(slash && !IsMoney(number) && word.Is(Meaning.Pieces)))
                {
                    if (IsMoney(number) || (number.Value < 100 && At(i - 1) is { } at && (at.IsSign('@') || at.Is(Meaning.Price))))
                    {
                        Take(number, 1, i, next);
                        continue;
                    }
                }
            }
            // "2.20 each, 10 pcs 20.00": beside a price for one, what ten cost or what one costs from ten.
            if (IsCount(number) && number.Value > 1 && At(i + 1) is { Used: false } unitOfCount && unitOfCount.Is(Meaning.Pieces) && Over(i + 2, ':', '=') is var priced && IsMoney(At(priced)) && !At(priced)!.Used
                && tokens.Take(i).FirstOrDefault(IsMoney) is { } forOne && QuantityMarkBefore(i + 1) is null)
            {
                var forSeveral = At(priced)!;
                facts.Prices.Add(forSeveral.Value > forOne.Value * 1.5m ? Price(forSeveral) with { Per = Count(number), Marked = true } : Price(forSeveral) with { From = Count(number), Marked = true });
                UseRange(i, priced);
                continue;
            }
            // "goes per five: 35.00": what so many cost, where no price for one stands before.
            if (IsMoney(number) && BackOver(i - 1, ':', '=') is var many && many > 0 && At(many) is { Used: false } size2 && CountOrWord(size2) is > 1 and var together && size2.Currency is null && At(many - 1) is { Kind: TokenKind.Word, Used: false } per && per.Is(Meaning.Per) && !per.Is(Meaning.From) && !per.Is(Meaning.At)
                && !facts.Prices.Exists(price => price.From == 1) && !tokens.Take(many).Any(IsMoney))
            {
                facts.Pack ??= together;
                facts.Prices.Add(Price(number) with { Per = together, Marked = true });
                UseRange(many - 1, i);
                continue;
            }
            // "£43.00 a dozen", "30,00 das Dutzend"
            if (IsMoney(number) && Dozen(i + 1) is var (last, dozen))
            {
                Take(number, dozen, i, last);
                continue;
            }
            // "5 for 12.00", "5 pcs for 12.00"
            var join = At(i + 1) is { Used: false } unit && (unit.Is(Meaning.Pieces) || unit.Is(Meaning.Packs)) && !unit.Is(Meaning.For) ? i + 2 : i + 1;
            if (IsCount(number) && number.Value > 1 && At(join) is { Used: false } joiner && joiner.Is(Meaning.For) && Over(join + 1, ':') is var sum && (IsMoney(At(sum)) || (At(sum) is { IsWhole: true } whole && whole.Value > number.Value)) && !At(sum)!.Used)
            {
                facts.Lot = Count(number);
                Take(At(sum)!, Count(number), i, sum);
            }
        }
    }

    /// <summary>"a dozen", "das Dutzend", "la decena" right behind a price: where it ends and how many they are.</summary>
    private (int Last, int Count)? Dozen(int i)
    {
        if (At(i) is not { Kind: TokenKind.Word, Used: false } word)
            return null;
        if (CountOrWord(word) is > 1 and var joined)
            return Articles.Contains(word.Text.Split(' ', 2)[0].ToLowerInvariant()) && word.Text.Contains(' ', StringComparison.Ordinal) ? (i, joined) : null;
        return Articles.Contains(word.Text.ToLowerInvariant()) && At(i + 1) is { Kind: TokenKind.Word } count && CountOrWord(count) is > 1 and var several ? (i + 1, several) : null;
    }

    private static readonly HashSet<string> Articles = ["a", "the", "das", "die", "la", "le", "les", "una", "une", "el", "los", "las", "het", "il", "lo", "per", "pro", "je", "par", "por"];

    private void Take(Token amount, int? per, int from, int to)
    {
        // "from 10: 2.40 each" still is a break; leave the number to that rule and only note that it is for one.
        if (per == 1 && QuantityMarkBefore(from - 1) is not null)
        {
            UseRange(from + 1, to);
            return;
        }
        // "2.75 each if you take twenty or more"
        if (per == 1 && QuantityMarkAfter(to + 1) is var (end, least) && least > 1 && !MoneyRightAfter(end) && (facts.Prices.Count > 0 || tokens.Exists(other => other != amount && IsMoney(other) && !other.Used)))
        {
            AddBreak(amount, least, from, end);
            return;
        }
        if (IsOld(from))
            facts.OldPrices.Add(Price(amount) with { Per = per });
        else
            facts.Prices.Add(Price(amount) with { Per = per, Marked = true });
        UseRange(from, to);
    }

    private static PrintedPrice Price(Token amount) => new(amount.Value, amount.Currency, Marked: amount.Currency is not null);

    private bool IsOld(int i)
    {
        var before = BackOver(i - 1, ':', '(', '-');
        return At(before) is { } word && word.Is(Meaning.Old) && word.Kind == TokenKind.Word && (facts.Prices.Count > 0 || tokens.Skip(i + 1).Any(IsMoney));
    }

    private bool IsQuantityMark(int i) => At(i) is { } mark && (mark.IsSign('+') || mark.Is(Meaning.OrMore));

    /// <summary>A quantity from which a price holds, ending at a place: <c>10+</c>, <c>1-9</c>, <c>from 10 pcs</c>, <c>10 or more</c>. Gives where it begins and the number.</summary>
    private (int Begin, int From)? QuantityMarkBefore(int end)
    {
        var i = BackOver(end, ':', '=', '@', '-', '(', '>');
        while (At(i) is { Kind: TokenKind.Word } between && (between.Is(Meaning.At) || between.Is(Meaning.Only) || between.Is(Meaning.Now) || between.Is(Meaning.For) || between.Is(Meaning.Each)) && !between.Is(Meaning.From) && !between.Is(Meaning.Left))
            i = BackOver(i - 1, ':', '=', '@', '-', '(', '>');
        if (At(i) is { Kind: TokenKind.Word } pieces && pieces.Is(Meaning.Pieces))
            i--;
        // "50 pcs up"
        if (At(i) is { Kind: TokenKind.Word } && IsQuantityMark(i) && At(i - 1) is { Kind: TokenKind.Word } unit && unit.Is(Meaning.Pieces) && IsCount(At(i - 2)))
            return (i - 2, Count(At(i - 2)!));
        if (At(i) is { Kind: TokenKind.Sign } or { Kind: TokenKind.Word } && IsQuantityMark(i) && IsCount(At(i - 1)))
            return (i - 1, Count(At(i - 1)!));
        // "twenty or more"
        if (At(i) is { Kind: TokenKind.Word, Used: false } more && more.Is(Meaning.OrMore) && CountOrWord(At(i - 1)) is > 1 and var inWords)
            return At(i - 2) is { Used: false, Kind: TokenKind.Word } taking && taking.Is(Meaning.From) ? (i - 2, inWords) : (i - 1, inWords);
        if (At(i) is { Kind: TokenKind.Word } pieces2 && pieces2.Is(Meaning.Pieces) && IsQuantityMark(i - 1) && IsCount(At(i - 2)))
            return (i - 2, Count(At(i - 2)!));
        if (At(i - 1) is { Used: false } wanted && wanted.Is(Meaning.From) && !IsCount(At(i)) && CountOrWord(At(i)) is { } word)
            return (i - 1, word);
        if (!IsCount(At(i)))
            return null;
        // 1-9, 10 to 49, 10 bis 49
        if (IsCount(At(i - 2)) && (At(i - 1)!.IsSign('-') || At(i - 1)!.Is(Meaning.UpTo)) && At(i - 2)!.Value < At(i)!.Value)
            return (FromWord(i - 2), Count(At(i - 2)!));
        if (At(i - 1) is { } sign && (sign.IsSign('≥') || sign.IsSign('>')))
            return (i - 1, Count(At(i)!) + (sign.IsSign('>') && !(At(i) is { } n && n.Value % 10 == 0) ? 1 : 0));
        if (At(i - 1) is { Used: false } from && from.Is(Meaning.From))
            return (i - 1, Count(At(i)!) + (ColumnTitles.IsOver(from.Text) && At(i)!.Value % 5 == 4 ? 1 : 0));
        if (At(i - 1) is { Used: false } to && (to.Is(Meaning.UpTo) || to.IsSign('<')) && to.Kind != TokenKind.Number && !to.Is(Meaning.At))
            return (i - 1, 1);
        return null;

        int FromWord(int first) => At(first - 1) is { Used: false } word && word.Is(Meaning.From) ? first - 1 : first;
    }

    /// <summary>The same, beginning at a place. Gives where it ends.</summary>
    private (int End, int From)? QuantityMarkAfter(int begin)
    {
        var i = Over(begin, '(', '/', '-');
        if (At(i) is { } joins && joins.Is(Meaning.For) && !joins.Is(Meaning.From))
            i++;
        for (var end = Math.Min(i + 4, tokens.Count - 1); end >= i; end--)
        {
            if (At(end) is { Kind: TokenKind.Sign } closes && !closes.IsSign('+'))
                continue;
            if (QuantityMarkBefore(end) is var (first, from) && first == i)
                return (end, from);
        }
        return null;
    }

    private void Breaks()
    {
        for (var i = 0; i < tokens.Count; i++)
        {
            if (tokens[i] is not { Kind: TokenKind.Number, Used: false } amount)
                continue;
            var money = IsMoney(amount);
            // "10+ 2.20": the mark stands before, and no comma parts them.
            if (QuantityMarkBefore(i - 1) is var (begin, from) && !tokens[begin].Used && (money || IsSmall(amount)))
            {
                if (from > 1 && begin > 0 && tokens[begin].Is(Meaning.From) && !money)
                    continue;
                AddBreak(amount, from, begin, i);
                continue;
            }
            // "bij 25 of meer rekenen we 2,10": words that say nothing between the mark and the amount.
            var verb = i - 1;
            while (money && i - verb <= 3 && At(verb) is { Kind: TokenKind.Word, Used: false, Meanings.Count: 0 } plain && char.IsLower(plain.Text[0]) && CountOrWord(plain) is null)
                verb--;
            if (verb < i - 1 && QuantityMarkBefore(verb) is var (mark, number) && number > 1 && !tokens[mark].Used)
            {
                AddBreak(amount, number, mark, i);
                continue;
            }
            // "2.20 from 10": the mark stands behind.
            // With no other price on the line, "1.80 (100+)" says how many there are.
            // "2.40, 20-30 available" says that too.
            if (money && QuantityMarkAfter(i + 1) is var (end, least) && !MoneyRightAfter(end) && !(At(end + 1) is { Kind: TokenKind.Word } there && (there.Is(Meaning.Available) || there.Is(Meaning.Left)) && At(end - 1)!.IsSign('-')) && (!At(end)!.IsSign('+') || facts.Prices.Count > 0 || tokens.Exists(other => other != amount && IsMoney(other) && !other.Used)))
                AddBreak(amount, least, i, end);
        }
    }

    private static bool IsSmall(Token amount) => amount.Value is > 0 and < 100;

    private bool MoneyRightAfter(int end) => Over(end + 1, ':', '=', '@', ')') is var n && IsMoney(At(n)) && !At(n)!.Used && !tokens[(end + 1)..n].Exists(sign => sign.IsSign(')'));

    private void AddBreak(Token amount, int from, int begin, int end)
    {
        facts.Prices.Add(Price(amount) with { From = from, Marked = true });
        UseRange(begin, end);
        if (At(end + 1) is { } each && each.Is(Meaning.Each))
            Use(each);
    }

    private void Availability()
    {
        for (var i = 0; i < tokens.Count; i++)
        {
            var token = tokens[i];
            if (token.Used || token.Kind != TokenKind.Word)
                continue;
            if (token.Is(Meaning.Left) || (token.Is(Meaning.Available) && !token.Is(Meaning.At)))
            {
                // "30 available", "30 pcs in stock", "only 3 left"
                var n = BackOver(i - 1, '(', ':');
                var unit = At(n) is { Kind: TokenKind.Word, Used: false } word && (word.Is(Meaning.Pieces) || word.Is(Meaning.Packs)) ? At(n) : null;
                if (unit is not null)
                    n--;
                if (At(n) is { } plus && (plus.IsSign('+') || plus.Is(Meaning.OrMore)))
                    n--;
                if (CountOrWord(At(n)) is { } count && facts.Available is null && !At(n)!.Used)
                {
                    // "20-30 available": twenty are sure.
                    if (At(n - 1) is { } dash && dash.IsSign('-') && IsCount(At(n - 2)) && Count(At(n - 2)!) < count)
                        (count, n) = (Count(At(n - 2)!), n - 2);
                    TakeAvailable(count, n, i, unit);
                    continue;
                }
            }
            // "stock 0", "0 left"
            if ((token.Is(Meaning.Available) || token.Is(Meaning.Left)) && (IsZero(Over(i + 1, ':', '=')) ? Over(i + 1, ':', '=') : IsZero(i - 1) ? i - 1 : -1) is >= 0 and var zero)
            {
                facts.SoldOut = true;
                UseRange(Math.Min(zero, i), Math.Max(zero, i));
                continue;
            }
            // "12 only"
            if (token.Is(Meaning.Only) && facts.Available is null && IsCount(At(i - 1)) && !IsPriced(i - 1) && (At(i + 1) is null or { Kind: TokenKind.Sign }))
            {
                TakeAvailable(Count(At(i - 1)!), i - 1, i, null);
                continue;
            }
            if (token.Is(Meaning.Available))
            {
                // "stock: 30", "available approx. 30"
                var n = i + 1;
                while (At(n) is { } between && n - i < 5 && ((between.Kind == TokenKind.Sign && ":=>~(.≥≈".Contains(between.Text[0], StringComparison.Ordinal)) || (!between.Used && between.Kind == TokenKind.Word && (between.Is(Meaning.Approx) || between.Is(Meaning.Only) || between.Is(Meaning.Available)))))
                    n++;
                if (facts.Available is null && CountOrWord(At(n)) is { } count && !IsPriced(n))
                {
                    // "I have four such lots"
                    if (At(n + 1) is { Kind: TokenKind.Word, Used: false } such && such.Text.ToLowerInvariant() is "such" or "solche" or "solcher" or "zulke" or "tali" or "tels" or "telles" or "tales" && At(n + 2) is { } packs && packs.Is(Meaning.Packs))
                        such.Used = true;
                    TakeAvailable(count, i, n, At(At(n + 1) is { Used: true } ? n + 2 : n + 1) is { Used: false } unit && (unit.Is(Meaning.Pieces) || unit.Is(Meaning.Packs)) ? unit : null);
                    continue;
                }
                facts.InStock = true;
            }
            else if (token.Is(Meaning.Only) && facts.Available is null)
            {
                var n = Over(i + 1, ':');
                if (CountOrWord(At(n)) is { } count && !IsPriced(n) && !NextIsMoneyUnit(n))
                {
                    var unit = At(n + 1) is { Used: false } word && (word.Is(Meaning.Pieces) || word.Is(Meaning.Packs)) ? word : null;
                    var left = At(n + (unit is null ? 1 : 2));
                    TakeAvailable(count, i, left is { Used: false } l && (l.Is(Meaning.Left) || l.Is(Meaning.Available)) ? n + (unit is null ? 1 : 2) : n, unit);
                }
            }
        }
        // "5 at 9.50", "30 à 2,40 €": so many at that price each.
        for (var i = 0; i + 2 < tokens.Count && facts.Available is null; i++)
        {
            if (IsCount(tokens[i]) && !tokens.Take(i).Any(IsMoney) && tokens[i + 1] is { Used: false, Kind: TokenKind.Word } at && at.Is(Meaning.At) && !at.Is(Meaning.For) && IsMoney(tokens[i + 2]) && !(At(i - 1) is { Kind: TokenKind.Word } before && (before.Is(Meaning.From) || before.Is(Meaning.Per) || before.Is(Meaning.PackOf))))
                TakeAvailable(Count(tokens[i]), i, i, null);
        }
        // "about 15", "20+": so many there are, where no price goes with the number.
        for (var i = 0; i < tokens.Count && facts.Available is null; i++)
        {
            if (!IsCount(tokens[i]) || IsMoney(At(i + 1)) || (At(i + 1) is { Kind: TokenKind.Word } more && !more.Is(Meaning.Pieces) && !more.Is(Meaning.Available)))
                continue;
            if (At(i - 1) is { Used: false, Kind: TokenKind.Word } about && about.Is(Meaning.Approx))
                TakeAvailable(Count(tokens[i]), i, i, null);
            else if (i > 0 && At(i + 1) is { } plus && plus.IsSign('+') && plus.Start == tokens[i].End && (At(i + 2) is null or { Kind: TokenKind.Sign }) && tokens.Take(i).Any(before => before.Used && before.Kind == TokenKind.Number || IsMoney(before)))
                TakeAvailable(Count(tokens[i]), i, i + 1, null);
        }
        // "30 pcs", "30 pupae": a count with a unit and nothing else said.
        for (var i = 0; i + 1 < tokens.Count && facts.Available is null; i++)
        {
            // "1 pupa £2.50": what the price is for.
            if (IsCount(tokens[i]) && Count(tokens[i]) == 1 && tokens[i + 1] is { Used: false, Kind: TokenKind.Word } single && (single.Is(Meaning.Pupa) || single.Is(Meaning.Cocoon)) && tokens.Exists(IsMoney) && !(At(i - 1) is { } left && (left.Is(Meaning.Only) || left.Is(Meaning.Left))))
            {
                facts.PriceForOne = true;
                UseRange(i, i + 1);
                continue;
            }
            if (IsCount(tokens[i]) && tokens[i + 1] is { Used: false, Kind: TokenKind.Word } unit && (unit.Is(Meaning.Pieces) || unit.Is(Meaning.Packs)) && !(At(i - 1) is { } before && (before.Is(Meaning.From) || before.Is(Meaning.Per)) && before.Kind == TokenKind.Word && !before.Used && !before.Is(Meaning.Approx)))
                TakeAvailable(Count(tokens[i]), i, i, unit);
        }
    }

    private bool IsZero(int n) => At(n) is { Kind: TokenKind.Number, Value: 0, Decimals: 0, Currency: null, Used: false };

    private bool NextIsMoneyUnit(int n) => At(n + 1) is { } unit && (unit.Kind == TokenKind.Currency || unit.Is(Meaning.Each));

    private void TakeAvailable(int count, int from, int to, Token? unit)
    {
        facts.Available = count;
        facts.AvailableInPacks = unit is not null && unit.Is(Meaning.Packs) && !unit.Is(Meaning.Pieces);
        facts.InStock = true;
        if (At(from - 1) is { } only && (only.Is(Meaning.Only) || only.Is(Meaning.Approx) || only.IsSign('~') || only.IsSign('>')))
            only.Used = true;
        UseRange(from, to);
        Use(unit);
    }

    private void SoldOut()
    {
        foreach (var token in tokens)
        {
            if (token.Used || token.Kind != TokenKind.Word)
                continue;
            var index = tokens.IndexOf(token);
            // "op" and "sold" alone are too short to be trusted inside a longer text.
            var trusted = token.Text.Length > 4 || tokens.Count <= 2 || At(index - 1) is { Kind: TokenKind.Sign } || index == tokens.Count - 1;
            if (token.Is(Meaning.SoldOut) && trusted)
            {
                facts.SoldOut = true;
                facts.Remarks.Add(token.Text);
                token.Used = true;
            }
            else if (token.Is(Meaning.Later) && trusted && facts.Available is null)
            {
                facts.SoldOut = true;
                facts.Remarks.Add(token.Text);
                token.Used = true;
            }
        }
    }

    private void SinglePrices()
    {
        for (var i = 0; i < tokens.Count; i++)
        {
            if (tokens[i] is not { Kind: TokenKind.Number, Used: false } amount)
                continue;
            var before = At(BackOver(i - 1, ':', '='));
            var marked = amount.Currency is not null || (before is { Used: false } word && (word.IsSign('@') || word.Is(Meaning.Price)));
            if (!IsMoney(amount) && !marked)
                continue;
            var negative = i == 1 && At(0) is { } minus && minus.IsSign('-') && minus.End == amount.Start;
            var price = Price(amount) with { Amount = negative ? -amount.Value : amount.Value, Marked = marked };
            // "10 @ 2.20 = 22.00": a sum.
            if (At(i - 1) is { } equals && equals.IsSign('=') && facts.Prices.Count > 0)
            {
                Use(amount);
                continue;
            }
            // "Min order 40": the same.
            if (before is { Kind: TokenKind.Word } term && (term.Is(Meaning.WholeOrder) || term.Is(Meaning.Minimum)) && !term.Is(Meaning.PerOrder))
            {
                facts.Remarks.Add(text[term.Start..amount.End]);
                Use(amount, term);
                continue;
            }
            // "free with orders over 100": a term of the order and no price.
            if (before is { Kind: TokenKind.Word } over && (over.Is(Meaning.From) || over.Is(Meaning.Minimum) || over.Is(Meaning.UpTo)) && At(BackOver(i - 1, ':', '=') - 1) is { } orders && (orders.Is(Meaning.WholeOrder) || orders.Is(Meaning.Order)))
            {
                Use(amount, over, orders);
                continue;
            }
            if (IsOld(i))
                facts.OldPrices.Add(price);
            else
                facts.Prices.Add(price);
            if (before is { Used: false, Kind: TokenKind.Word } from && from.Is(Meaning.From) && !from.Is(Meaning.At) && facts.Prices.Count == 1)
                facts.FromPrice = true;
            if (before is { Kind: TokenKind.Word } label && (label.Is(Meaning.Price) || label.Is(Meaning.At) || label.Is(Meaning.Now) || label.Is(Meaning.Each) || label.Is(Meaning.From)))
                Use(label);
            Use(amount);
            if (At(i + 1) is { Kind: TokenKind.Word } each && each.Is(Meaning.Each))
                Use(each);
        }
    }

    /// <summary>What no rule took: bare numbers, and texts.</summary>
    private void Leftovers()
    {
        var begin = -1;
        var end = -1;
        for (var i = 0; i < tokens.Count; i++)
        {
            var token = tokens[i];
            if (token is { Kind: TokenKind.Word, Used: false } && CountOrWord(token) is { } inWords)
                facts.CountWords.Add(inWords);
            if (token is { Kind: TokenKind.Number, Used: false })
            {
                if (token.IsWhole && i == 0 && At(1) is { } times && (times.IsSign('x') || times.IsSign('×')))
                {
                    facts.Times = Count(token);
                    Use(token, times);
                }
                else
                {
                    facts.Bare.Add(token);
                }
                Flush();
                continue;
            }
            if (token.Kind == TokenKind.Code && !token.Text.Any(char.IsLetter) && token.Text.Any(c => c is '.' or ','))
                facts.Unread.Add(token.Text);
            var parts = token.Used || token.Kind is TokenKind.Currency || IsSeparator(i);
            if (parts)
            {
                Flush();
                continue;
            }
            if (begin < 0)
                begin = token.Start;
            end = token.End;
        }
        Flush();

        void Flush()
        {
            if (begin >= 0 && end - begin == 1 && text[begin] is 'x' or 'X')
                begin = -1;
            if (begin >= 0 && ColumnEvidence.Whole(text[begin..end]) is var whole && (whole.Contains(Meaning.Each) || whole.Contains(Meaning.For) || whole.Contains(Meaning.At) || whole.Contains(Meaning.Old) || whole.Contains(Meaning.Now) || text[begin..end] is "or" or "oder" or "ou" or "o" or "of" or "and" or "et" or "und"))
                begin = -1;
            if (begin >= 0 && text[begin..end].Trim(' ', '\t', '.', ',', ';', ':', '-', '–', '*', '•', '·', '/', '=', '|') is { Length: > 0 } piece && piece.Any(char.IsLetter))
                facts.Texts.Add(piece);
            begin = -1;
        }
    }

    /// <summary>Signs that part a name from what follows. A hyphen inside a word is none, a bracket is, unless it holds a subgenus.</summary>
    private bool IsSeparator(int i)
    {
        if (tokens[i].Kind != TokenKind.Sign)
            return false;
        var c = tokens[i].Text[0];
        if (c is ';' or '|' or '@' or '=' or '*' or '•' or '·' or '…' or '_' or '~' or '>' or '<' or '[' or ']' or '{' or '}' or '"' or '!' or '?' or ':')
            return true;
        if (c is '(' or ')')
            return !HoldsSubgenusOrAuthor(i);
        var spaced = (i == 0 || tokens[i - 1].End < tokens[i].Start) || (i + 1 == tokens.Count || tokens[i + 1].Start > tokens[i].End);
        return c is '-' or '/' && spaced || c is ',' && spaced && !(At(i + 1) is { Kind: TokenKind.Number });
    }

    /// <summary>"Papilio (Achillides) palinurus": one capitalised word in brackets with a lower-case word behind it.</summary>
    private bool HoldsSubgenusOrAuthor(int i)
    {
        var open = tokens[i].IsSign('(') ? i : i - 2;
        return At(open) is { } bracket && bracket.IsSign('(')
            && At(open + 1) is { } inside && char.IsUpper(inside.Text[0]) && inside.Text.Skip(1).All(char.IsLower)
            && At(open + 2) is { } close && close.IsSign(')')
            && At(open + 3) is { } next && next.Kind == TokenKind.Word && char.IsLower(next.Text[0]) && !next.Used && next.Meanings.Count == 0
            && At(open - 1) is { } genus && char.IsUpper(genus.Text[0]);
    }
}

using Lepidary.Planning.Model;

namespace Lepidary.Planning.Search;

/// <summary>
/// Finds good orders fast: one block at a time to its best choice given the rest, deliveries given up or shrunk where that
/// saves more than it costs, and shakes from a seeded generator.
/// </summary>
internal sealed class LocalSearch
{
    private readonly PlanModel model;
    private readonly Random random;
    private readonly double breachPrice;
    private readonly Dictionary<int[], Column>[] all;
    private readonly List<Column>[] pool;
    private readonly Func<bool> stop;

    public LocalSearch(PlanModel model, int seed, double breachPrice, Func<bool> stop)
    {
        this.model = model;
        this.breachPrice = breachPrice;
        this.stop = stop;
        random = new(seed);
        all = [.. model.Blocks.Select(_ => new Dictionary<int[], Column>(new ChoiceComparer()))];
        pool = [.. model.Blocks.Select(_ => new List<Column>())];
    }

    /// <summary>Sets the choices worth trying for each block, besides the neighbours of the present one.</summary>
    public void Learn(IEnumerable<Column> columns)
    {
        foreach (var choices in pool)
            choices.Clear();
        foreach (var column in columns)
            pool[column.Block.Index].Add(column);
    }

    /// <summary>Improves an order in place until no single change helps.</summary>
    public void Descend(Order order)
    {
        var turn = Enumerable.Range(0, model.Blocks.Count).ToArray();
        var any = true;
        while (any && !stop())
        {
            any = false;
            random.Shuffle(turn);
            foreach (var b in turn)
                any |= Improve(order, model.Blocks[b]);
        }

        order.Recompute();
    }

    /// <summary>Tries to give up each delivery in turn and to order again without it; keeps what helps.</summary>
    public Order GiveUpDeliveries(Order order)
    {
        foreach (var slot in model.Slots.Where(s => !s.IsFree).OrderBy(order.PupaeOf))
        {
            if (order.PupaeOf(slot) <= 0 || stop())
                continue;
            var other = Copy(order);
            foreach (var block in model.Blocks)
            {
                var column = other.Chosen[block.Index];
                var without = (int[])column.Pupae.Clone();
                for (var place = 0; place < without.Length; place++)
                {
                    if (block.Items[place].Slot == slot)
                        without[place] = block.Items[place].Choices[0];
                }

                if (!without.AsSpan().SequenceEqual(column.Pupae) && block.Allows(without))
                    other.Take(ColumnOf(block, without));
            }

            Descend(other);
            if (other.Cost < order.Cost - 1e-9)
                order = other;
        }

        return order;
    }

    /// <summary>
    /// Improves an order by changing two blocks at once: where a limit or a step of carriage is met exactly, one block can only gain
    /// what another gives up. Returns when no pair of the given choices helps.
    /// </summary>
    /// <param name="order">Changed in place.</param>
    /// <param name="choices">What to try, the most promising first.</param>
    public void Exchange(Order order, IReadOnlyList<Column> choices)
    {
        var any = true;
        while (any && !stop())
        {
            any = false;
            foreach (var first in choices)
            {
                var before = order.Chosen[first.Block.Index];
                if (first.Block == before.Block && first.Pupae.AsSpan().SequenceEqual(before.Pupae))
                    continue;
                if (stop())
                    break;
                var best = order.Cost - 1e-7;
                Column? second = null;
                var alone = order.CostWith(first);
                order.Take(first);
                foreach (var other in choices)
                {
                    if (other.Block == first.Block)
                        continue;
                    var cost = order.CostWith(other);
                    if (cost < best)
                        (best, second) = (cost, other);
                }

                if (second is not null)
                {
                    order.Take(second);
                    any = true;
                }
                else if (alone >= best)
                {
                    order.Take(before);
                }
                else
                {
                    any = true;
                }
            }
        }

        order.Recompute();
    }

    /// <summary>Changes some blocks at random and improves again, a few times; keeps what helps.</summary>
    public Order Shake(Order order, IReadOnlyList<Column> choices, int shakes)
    {
        for (var shake = 0; shake < shakes && choices.Count > 0 && !stop(); shake++)
        {
            var other = Copy(order);
            var hit = 3 + random.Next(4);
            for (var i = 0; i < hit; i++)
                other.Take(choices[random.Next(choices.Count)]);
            Descend(other);
            Exchange(other, choices);
            if (other.Cost < order.Cost - 1e-9)
                order = other;
        }

        return order;
    }

    /// <summary>A copy that can be changed.</summary>
    public Order Copy(Order order) => new(model, (Column[])order.Chosen.Clone(), breachPrice);

    /// <summary>The column of a choice.</summary>
    public Column ColumnOf(Block block, int[] pupae)
    {
        if (!all[block.Index].TryGetValue(pupae, out var column))
        {
            column = new(block, pupae, model.GroupDays);
            all[block.Index].Add(pupae, column);
        }

        return column;
    }

    private bool Improve(Order order, Block block)
    {
        var best = order.Cost - 1e-7;
        Column? better = null;
        void Try(Column column)
        {
            var cost = order.CostWith(column);
            if (cost < best)
                (best, better) = (cost, column);
        }

        var now = order.Chosen[block.Index];
        foreach (var neighbour in Neighbours(block, now.Pupae))
        {
            if (block.Allows(neighbour))
                Try(ColumnOf(block, neighbour));
        }

        foreach (var column in pool[block.Index])
        {
            if (column != now)
                Try(column);
        }

        if (better is null)
            return false;
        order.Take(better);
        return true;
    }

    // One number one step up or down, to nothing, or moved to another item.
    private static IEnumerable<int[]> Neighbours(Block block, int[] pupae)
    {
        for (var place = 0; place < pupae.Length; place++)
        {
            var choices = block.Items[place].Choices;
            var at = Array.BinarySearch(choices, pupae[place]);
            foreach (var to in new[] { at - 1, at + 1, 0 })
            {
                if (to >= 0 && to < choices.Length && to != at)
                    yield return With(pupae, place, choices[to]);
            }

            if (at == 0)
                continue;
            for (var other = 0; other < pupae.Length; other++)
            {
                if (other == place)
                    continue;
                var toChoices = block.Items[other].Choices;
                var wanted = pupae[other] + pupae[place];
                var target = Array.BinarySearch(toChoices, wanted);
                target = Math.Min(toChoices.Length - 1, target < 0 ? ~target : target);
                if (toChoices[target] != pupae[other])
                    yield return With(With(pupae, place, choices[0]), other, toChoices[target]);
            }
        }
    }

    private static int[] With(int[] pupae, int place, int n)
    {
        var changed = (int[])pupae.Clone();
        changed[place] = n;
        return changed;
    }
}

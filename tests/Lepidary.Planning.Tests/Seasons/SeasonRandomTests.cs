using Lepidary.Planning.Seasons;
using Xunit;

namespace Lepidary.Planning.Tests.Seasons;

public class SeasonRandomTests
{
    /// <summary>Known answers of philox4x32 with ten rounds as its authors publish them with their library (kat_vectors); here from memory.</summary>
    [Theory]
    [InlineData("00000000 00000000 00000000 00000000", "00000000 00000000", "6627e8d5 e169c58d bc57ac4c 9b00dbd8")]
    [InlineData("ffffffff ffffffff ffffffff ffffffff", "ffffffff ffffffff", "408f276d 41c83b0e a20bc7c6 6d5451fd")]
    [InlineData("243f6a88 85a308d3 13198a2e 03707344", "a4093822 299f31d0", "d16cfe09 94fdcceb 5001e420 24126ea1")]
    public void Block_publishedVectors_areMet(string counter, string key, string expected)
    {
        static uint[] Words(string hex) => [.. hex.Split(' ').Select(w => Convert.ToUInt32(w, 16))];
        var (c, k) = (Words(counter), Words(key));
        var words = new uint[4];

        SeasonRandom.Block(c[0], c[1], c[2], c[3], k[0], k[1], words);

        Assert.Equal(Words(expected), words);
    }

    [Theory]
    [InlineData(0UL, 0UL)]
    [InlineData(8UL, 0x299f31d0a4093822UL)]
    [InlineData(0xfffffff8UL, 77UL)]
    [InlineData(0x1234567fffffff0UL, ulong.MaxValue)]
    public void Eight_sideBySide_isTheSameAsOneAfterTheOther(ulong from, ulong key)
    {
        var (fast, plain) = (new uint[32], new uint[32]);
        SeasonRandom.EightPlain(from, key, plain);
        if (System.Runtime.Intrinsics.X86.Avx2.IsSupported)
            SeasonRandom.Eight(from, key, fast);
        else
            plain.CopyTo(fast, 0);

        Assert.Equal(plain, fast);
        var words = new uint[4];
        SeasonRandom.Block((uint)(from + 3), (uint)((from + 3) >> 32), 0, 0, (uint)key, (uint)(key >> 32), words);
        Assert.Equal(words, Enumerable.Range(0, 4).Select(w => plain[(8 * w) + 3]));
    }

    [Fact]
    public void Take_inAnyPieces_readsTheSameStream()
    {
        var whole = new SeasonRandom(7);
        var expected = Enumerable.Range(0, 1000).Select(_ => whole.Next()).ToList();
        var pieces = new SeasonRandom(7);
        var read = new List<uint>();
        for (var size = 1; read.Count < 700; size = (size * 5 % 127) + 1)
            read.AddRange(pieces.Take(size).ToArray());

        Assert.Equal(expected.Take(read.Count), read);
    }

    [Fact]
    public void Split_byLabel_isAnotherStreamAndLeavesItsOwnAlone()
    {
        var (one, other) = (new SeasonRandom(5), new SeasonRandom(5));
        var keys = Enumerable.Range(0, 2000).Select(label => one.Split((ulong)label)).ToList();
        Assert.Equal(2000, keys.Distinct().Count());
        Assert.Equal(other.Next(), one.Next());
        one.Restart(5);
        Assert.Equal(new SeasonRandom(5).NextShare(), one.NextShare());
    }

    [Fact]
    public void NextBeta_manyDraws_haveMeanAndVariance()
    {
        // Beta(6, 2): mean 3/4, variance 12 / (64 · 9) = 1/48. Five standard errors.
        var random = new SeasonRandom(11);
        var draws = Enumerable.Range(0, 100_000).Select(_ => random.NextBeta(6, 2)).ToList();
        var mean = draws.Average();
        Assert.Equal(0.75, mean, 5 * Math.Sqrt(1 / 48.0 / draws.Count));
        Assert.Equal(1 / 48.0, draws.Average(x => (x - mean) * (x - mean)), 5 * Math.Sqrt(2.5) / 48 / Math.Sqrt(draws.Count));
        // Below shape 1, where the other branch is used: Gamma(0.3) has mean and variance 0.3.
        var gamma = Enumerable.Range(0, 100_000).Select(_ => random.NextGamma(0.3)).ToList();
        Assert.Equal(0.3, gamma.Average(), 5 * Math.Sqrt(0.3 / gamma.Count));
    }
}

using Lepidary.Lists.Formats;
using Xunit;

namespace Lepidary.Lists.Tests.Formats;

/// <summary>A library that does not come back is not waited for.</summary>
public sealed class OwnThreadTests
{
    private static readonly TimeSpan Long = TimeSpan.FromMinutes(5);

    [Fact]
    public void Run_workThatEnds_givesItsResult() =>
        Assert.Equal("read", OwnThread.Run(_ => "read", Long, TestContext.Current.CancellationToken));

    [Fact]
    public void Run_workThatThrows_throwsTheSame() =>
        Assert.Throws<FormatException>(() => OwnThread.Run<string>(_ => throw new FormatException(), Long, TestContext.Current.CancellationToken));

    [Fact]
    public void Run_workThatNeverEnds_isLeftBehindAndTold()
    {
        using var end = new ManualResetEventSlim();
        using var told = new ManualResetEventSlim();

        // It heeds nothing until the test is over.
        var result = OwnThread.Run(
            stop =>
            {
                stop.Register(told.Set);
                end.Wait(CancellationToken.None);
                return "too late";
            },
            TimeSpan.FromMilliseconds(20),
            TestContext.Current.CancellationToken);

        Assert.Null(result);
        Assert.True(told.Wait(Long, TestContext.Current.CancellationToken));
        Assert.True(OwnThread.Left >= 1);
        end.Set();
    }

    [Fact]
    public void Run_whenTheCallerStops_throwsToTheCaller()
    {
        using var stop = new CancellationTokenSource();
        using var end = new ManualResetEventSlim();

        Assert.ThrowsAny<OperationCanceledException>(() => OwnThread.Run(
            _ =>
            {
                stop.Cancel();
                end.Wait(CancellationToken.None);
                return "too late";
            },
            Long,
            stop.Token));
        end.Set();
    }
}

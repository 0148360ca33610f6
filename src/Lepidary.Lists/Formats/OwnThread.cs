using System.Runtime.ExceptionServices;

namespace Lepidary.Lists.Formats;

/// <summary>
/// Runs what a library does on a thread of its own, so that the caller goes on when the library does not come back: a thread can't be stopped from
/// outside, but it need not be waited for.
/// </summary>
internal static class OwnThread
{
    /// <summary>Threads that were left behind and still run; with so many no further work of this kind is begun.</summary>
    private const int MostLeft = 3;

    /// <summary>Deep nesting costs stack, and a stack that overflows ends the whole program.</summary>
    private const int Stack = 64 * 1024 * 1024;

    private static int left;

    /// <summary>How many threads were left behind and have not ended yet.</summary>
    public static int Left => Volatile.Read(ref left);

    /// <summary>Runs the work and waits for it.</summary>
    /// <param name="work">Is told by its token when it is no longer waited for; it may not heed it.</param>
    /// <param name="longest">Waited no longer than this.</param>
    /// <param name="cancellation">Ends the waiting; it then throws.</param>
    /// <returns>What the work returned; null where it did not come back in time, or was not begun because too many have not.</returns>
    /// <exception cref="Exception">What the work threw.</exception>
    public static T? Run<T>(Func<CancellationToken, T> work, TimeSpan longest, CancellationToken cancellation)
        where T : class
    {
        if (Left >= MostLeft)
            return null;
        var stop = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        var done = new ManualResetEventSlim();
        T? result = null;
        ExceptionDispatchInfo? thrown = null;
        var state = 0;
        var thread = new Thread(
            () =>
            {
                try
                {
                    result = work(stop.Token);
                }
                catch (Exception exception)
                {
                    // Handed on to the one who waits; nobody else is there to see it.
                    thrown = ExceptionDispatchInfo.Capture(exception);
                }
                if (Interlocked.Exchange(ref state, 1) == 2)
                    Interlocked.Decrement(ref left);
                done.Set();
            },
            Stack)
        { IsBackground = true, Name = "reads a list" };
        thread.Start();
        var came = false;
        try
        {
            came = done.Wait(longest, cancellation);
        }
        finally
        {
            if (!came && Interlocked.Exchange(ref state, 2) == 0)
            {
                Interlocked.Increment(ref left);
                stop.Cancel();
            }
        }
        if (!came)
            return null;
        thrown?.Throw();
        stop.Dispose();
        done.Dispose();
        return result;
    }
}

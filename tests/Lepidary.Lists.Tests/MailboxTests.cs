using System.Text;
using Xunit;

namespace Lepidary.Lists.Tests;

/// <summary>Mailboxes of any length, one mail at a time.</summary>
public sealed class MailboxTests
{
    private static string Mail(string subject, string text) =>
        $"From ann@farm.invalid Fri Nov 20 08:00:00 2026\nFrom: <ann@farm.invalid>\nSubject: {subject}\nDate: Fri, 20 Nov 2026 08:00:00 +0000\nMIME-Version: 1.0\nContent-Type: text/plain; charset=utf-8\n\n{text}\n\n";

    private static MemoryStream Stream(string text) => new(Encoding.UTF8.GetBytes(text));

    [Fact]
    public void Each_mailboxLongerThanAnyList_givesEveryMail()
    {
        var text = new StringBuilder();
        for (var i = 0; i < 300; i++)
            text.Append(Mail($"week {i}", $"Papilio memnon £2.40\nIdea leuconoe £2.30\n{new string('-', 70)}\n" + string.Concat(Enumerable.Repeat("What else there is to say of the week, at some length and without a price.\n", 1000))));
        using var stream = Stream(text.ToString());
        Assert.True(stream.Length > 20 * 1024 * 1024);

        var mails = Mailbox.Each(stream, "all.mbox").Select(mail => mail.Value.Subject).ToList();

        Assert.Equal(Enumerable.Range(0, 300).Select(i => $"week {i}"), mails);
    }

    [Fact]
    public void Each_mailThatIsTooLong_isRefusedAndTheNextIsRead()
    {
        using var stream = Stream(Mail("photos", string.Concat(Enumerable.Repeat(new string('x', 1000) + "\n", 22_000))) + Mail("pupae", "Papilio memnon £2.40"));

        var mails = Mailbox.Each(stream, "all.mbox").ToList();

        Assert.Equal(2, mails.Count);
        Assert.Contains("20 MB", Assert.Single(mails[0].Problems).Found, StringComparison.Ordinal);
        Assert.Equal("pupae", mails[1].Value.Subject);
    }

    [Fact]
    public void Each_lineThatBeginsWithFrom_isNoNewMail()
    {
        using var stream = Stream(Mail("pupae", "Hello\n\n>From 10: 2.20 each\nFrom 20: 2.10 each\n\nFrom Monday on we ship."));

        var mail = Assert.Single(Mailbox.Each(stream, "all.mbox").ToList()).Value;

        Assert.Contains("\nFrom 10: 2.20", Encoding.UTF8.GetString(mail.Content), StringComparison.Ordinal);
    }

    [Fact]
    public void Each_lineWithoutAnEnd_isNoMailAndEnds()
    {
        using var stream = Stream(new string('x', 3_000_000));

        Assert.Empty(Mailbox.Each(stream, "all.mbox"));
    }
}

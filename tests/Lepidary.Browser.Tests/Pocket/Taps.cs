namespace Lepidary.Browser.Pocket;

/// <summary>A keeper's taps, made inside the page so that thousands of them take seconds.</summary>
internal static class Taps
{
    /// <summary>
    /// Counts one dead, or one out and let go, on each of the lots named, by the buttons that a finger taps, and waits each time until
    /// the page says that it is kept. Gives the number of counts that were said to be kept. Says so where the page does not follow within a minute. Tells <c>told</c> of each, where the page has one.
    /// </summary>
    public const string Count =
        """
        async ({ lots, released }) => {
          const turn = () => new Promise(done => { const { port1, port2 } = new MessageChannel(); port1.onmessage = done; port2.postMessage(0); });
          const until = async is => { for (const end = Date.now() + 60_000; !is(); await turn()) if (Date.now() > end) throw new Error('the page did not follow: ' + location.hash); };
          const button = words => [...document.querySelectorAll('#thumb button')].find(one => one.textContent === words);
          let kept = 0;
          for (const lot of lots) {
            const hash = '#lot/' + lot;
            location.hash = 'phone';
            await until(() => !document.getElementById('n-dead'));
            location.hash = hash;
            await until(() => document.getElementById('n-dead') && button('Write it down'));
            document.querySelector(released ? "button[aria-label='Emerged: one more']" : "button[aria-label='Dead: one more']").click();
            if (released) document.getElementById('released').click();
            button('Write it down').click();
            await until(() => location.hash !== hash);
            kept++;
            globalThis.told?.(kept);
          }
          return kept;
        }
        """;

    /// <summary>The orders whose boxes the phone carries.</summary>
    public const string Boxes =
        """
        () => new Promise(done => {
          const open = indexedDB.open('lepidary-pocket');
          open.onsuccess = () => {
            const asked = open.result.transaction('kept').objectStore('kept').get('day');
            asked.onsuccess = () => { open.result.close(); done(asked.result.boxes.map(box => box.orderId)); };
          };
        })
        """;

    /// <summary>The lots that the phone carries.</summary>
    public const string Lots =
        """
        () => new Promise(done => {
          const open = indexedDB.open('lepidary-pocket');
          open.onsuccess = () => {
            const asked = open.result.transaction('kept').objectStore('kept').get('day');
            asked.onsuccess = () => { open.result.close(); done(asked.result.lots.map(lot => lot.id)); };
          };
        })
        """;
}

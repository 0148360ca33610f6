import { codeIn } from "../core/ids.js";
import { send } from "./send.js";
import { Store } from "./store.js";

/** Both are put before this script by the server: see PocketFiles. */
declare const pocketVersion: string;
declare const pocketFiles: readonly string[];

interface Lasting extends Event {
  waitUntil(work: Promise<unknown>): void;
}

interface Asked extends Lasting {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

const scope = self as unknown as {
  addEventListener(kind: "install" | "activate" | "sync", listen: (event: Lasting) => void): void;
  addEventListener(kind: "fetch", listen: (event: Asked) => void): void;
  addEventListener(kind: "message", listen: (event: MessageEvent) => void): void;
  skipWaiting(): Promise<void>;
  clients: { claim(): Promise<void> };
};

const shelf = `lepidary-pocket-${pocketVersion}`;

// All files of one version or none: a phone never runs half of one version and half of the next. A newer version waits until the
// keeper takes it or closes the page, so that nothing changes in the middle of a round.
// What the page has just loaded is not carried twice: the server is asked whether it still holds; an address that bears a file's hash need not be.
scope.addEventListener("install", event => event.waitUntil(
  caches.open(shelf).then(cache => cache.addAll(pocketFiles.map(file => new Request(file, { cache: file.startsWith("/assets/") ? "default" : "no-cache" }))))));

scope.addEventListener("activate", event => event.waitUntil((async () => {
  for (const name of await caches.keys()) {
    if (name.startsWith("lepidary-pocket-") && name !== shelf) {
      await caches.delete(name);
    }
  }

  await scope.clients.claim();
})()));

scope.addEventListener("fetch", event => {
  const address = new URL(event.request.url);
  const file = codeIn(address.pathname) === null ? address.pathname : "/pocket/"; // a label opens its lot in the page that is kept here
  if (event.request.method === "GET" && address.origin === location.origin && pocketFiles.includes(file)) {
    event.respondWith(caches.open(shelf).then(cache => cache.match(file)).then(kept => kept ?? fetch(event.request)));
  }
});

scope.addEventListener("sync", event => event.waitUntil(send(new Store(), "never").then(({ trouble }) => {
  new BroadcastChannel("lepidary-pocket").postMessage("rows");
  if (trouble === "no answer") {
    throw new Error("Not sent: the browser tries again.");
  }
})));

scope.addEventListener("message", event => {
  if (event.data === "take over") {
    void scope.skipWaiting();
  }
});

import { isAnswer, mostRows, settled, type Trouble } from "../core/outbox.js";
import type { Day } from "../core/round.js";
import type { Contact, Store } from "./store.js";

/** How long an answer may take, milliseconds. */
const longest = 15_000;

/** How old the day that the phone carries may be before it is asked for anew, milliseconds. */
const dayAge = 5 * 60_000;

const ownHeaders = { "Lepidary-Pocket": "1" };

/** Whether the day is asked for once everything is sent. */
export type DayWish = "now" | "if old" | "never";

/** How a try ended. */
export interface Sent {
  readonly trouble: Trouble;
  readonly news: boolean;
}

/** Ends a try: what kept it from getting through. */
class NotSent extends Error {
  constructor(readonly trouble: Trouble) {
    super(trouble);
  }
}

/**
 * Sends what waits, in the order in which it was written, and then asks for the day. One page or worker of this phone at a time:
 * two would only send the same twice, which changes nothing.
 *
 * @param day whether to ask for the day afterwards.
 * @returns how it ended, and whether anything on the phone is other than before.
 */
export async function send(store: Store, day: DayWish): Promise<Sent> {
  return navigator.locks === undefined ? sendAll(store, day) : navigator.locks.request("lepidary-pocket-outbox", () => sendAll(store, day));
}

async function sendAll(store: Store, wish: DayWish): Promise<Sent> {
  let trouble: Trouble = "none";
  let news = false;
  try {
    for (let rows = await store.waiting(mostRows); rows.length > 0; rows = await store.waiting(mostRows)) {
      const asked = Date.now();
      const body = await answerOf("/pocket/inbox", { method: "POST", headers: { ...ownHeaders, "Content-Type": "application/json" }, body: JSON.stringify({ format: 1, facts: rows.map(row => row.fact) }) });
      if (!isAnswer(body)) {
        throw new NotSent("another answer");
      }

      const changed = settled(rows, body.receipts);
      await store.replace(changed);
      news = true;
      await meet(store, { lastSent: changed.some(row => row.state === "sent") ? Date.now() : undefined, ahead: Date.parse(body.now) - (asked + Date.now()) / 2 });
      if (changed.length === 0) {
        throw new NotSent("another answer");
      }
    }

    for (const photo of await store.photos()) {
      const body = await answerOf(`/pocket/photos/${photo.id}`, { method: "POST", headers: { ...ownHeaders, "Content-Type": photo.bytes.type }, body: photo.bytes }, 422);
      if (typeof (body as { outcome?: unknown }).outcome !== "string" && !Array.isArray((body as { problems?: unknown }).problems)) {
        throw new NotSent("another answer");
      }

      if (typeof (body as { outcome?: unknown }).outcome === "string") {
        await store.forgetPhoto(photo.id);
        news = true;
      }
    }

    if (wish === "now" || (wish === "if old" && await isOld(store))) {
      await fetchDay(store);
      news = true;
    }
  } catch (wrong) {
    if (!(wrong instanceof NotSent)) {
      throw wrong;
    }

    trouble = wrong.trouble;
  }

  await meet(store, { trouble });
  return { trouble, news };
}

let dayAsked = 0;

async function isOld(store: Store): Promise<boolean> {
  return await store.kept("contact") === undefined || Date.now() - dayAsked > dayAge;
}

async function fetchDay(store: Store): Promise<void> {
  const counted = await store.sent();
  const asked = Date.now();
  const day = await answerOf("/pocket/day", { headers: ownHeaders }) as Day;
  if (!Array.isArray(day.lots) || typeof day.zone !== "string") {
    throw new NotSent("another answer");
  }

  dayAsked = Date.now();
  const before = await store.kept("contact");
  const contact: Contact = { lastSent: before?.lastSent ?? null, trouble: "none", zone: day.zone, ahead: Date.parse(day.now) - (asked + Date.now()) / 2 };
  await store.carry(day, contact, counted, Date.now());
}

async function meet(store: Store, news: { lastSent?: number | undefined; ahead?: number; trouble?: Trouble }): Promise<void> {
  const before = await store.kept("contact");
  if (before !== undefined) {
    await store.keep("contact", { ...before, lastSent: news.lastSent ?? before.lastSent, ahead: news.ahead ?? before.ahead, trouble: news.trouble ?? before.trouble });
  }
}

/** The server's answer, read whole. */
async function answerOf(address: string, request: RequestInit, alsoGood = 200): Promise<unknown> {
  let answer: Response;
  let text: string;
  try {
    answer = await fetch(address, { ...request, redirect: "manual", cache: "no-store", credentials: "same-origin", signal: AbortSignal.timeout(longest) });
    text = await answer.text();
  } catch {
    throw new NotSent("no answer");
  }

  if (answer.type === "opaqueredirect" || answer.status === 401 || answer.status === 403) {
    throw new NotSent("sign in");
  }

  if (!answer.ok && answer.status !== alsoGood) {
    throw new NotSent(answer.status >= 500 ? "server failed" : "another answer");
  }

  try {
    return JSON.parse(text);
  } catch {
    throw new NotSent("another answer");
  }
}

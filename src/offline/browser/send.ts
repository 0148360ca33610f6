import { isAnswer, mostCharacters, mostRows, problemsOf, settled, type Trouble } from "../core/outbox.js";
import type { Day } from "../core/round.js";
import type { Contact, Store } from "./store.js";

/** How long an answer may take, milliseconds. */
const longest = 15_000;

/** How old the day that the phone carries may be before it is asked for anew, milliseconds. */
const dayAge = 5 * 60_000;

/** Statuses with which the server says why it takes something as it is never. */
const refusals: readonly number[] = [400, 413, 422];

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
    let most = mostRows;
    for (let rows = await store.waiting(most); rows.length > 0; rows = await store.waiting(most)) {
      const asked = Date.now();
      const text = JSON.stringify({ format: 1, facts: rows.map(row => row.fact) });
      const body = text.length > mostCharacters
        ? { problems: [{ where: "row", found: `${text.length} characters`, expected: `at most ${mostCharacters}` }] }
        : await answerOf("/pocket/inbox", { method: "POST", headers: { ...ownHeaders, "Content-Type": "application/json" }, body: text }, refusals);
      const refused = problemsOf(body);
      if (refused?.some(problem => problem.where === "format")) {
        throw new NotSent("other version");
      }

      if (refused !== null) {
        // One row that cannot be taken must not hold up the others: half as many, until it stands alone and is kept as refused.
        if (rows.length === 1) {
          await store.replace([{ ...rows[0]!, state: "refused", problems: refused }]);
          news = true;
        }

        most = Math.max(1, Math.floor(rows.length / 2));
        continue;
      }

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

      most = Math.min(mostRows, most * 2);
    }

    for (const photo of (await store.photos()).filter(one => one.problems === undefined)) {
      const body = await answerOf(`/pocket/photos/${photo.id}`, { method: "POST", headers: { ...ownHeaders, "Content-Type": photo.bytes.type }, body: photo.bytes }, refusals);
      const refused = problemsOf(body);
      if (refused !== null) {
        // Sent again it would be refused again: it is kept, and shown with the reason.
        await store.refusePhoto(photo.id, refused);
      } else if (typeof (body as { outcome?: unknown } | null)?.outcome === "string") {
        await store.forgetPhoto(photo.id);
      } else {
        throw new NotSent("another answer");
      }

      news = true;
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
async function answerOf(address: string, request: RequestInit, alsoRead: readonly number[] = []): Promise<unknown> {
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

  if (!answer.ok && !alsoRead.includes(answer.status)) {
    throw new NotSent(answer.status >= 500 ? "server failed" : "another answer");
  }

  let body: unknown;
  try {
    body = JSON.parse(text);
  } catch {
    throw new NotSent("another answer");
  }

  if (!answer.ok && problemsOf(body) === null) {
    throw new NotSent("another answer");
  }

  return body;
}

import { boxDrafts, inAll, type Box } from "../core/box.js";
import { clockWords, dayWords, houseDay, houseTime } from "../core/clock.js";
import { entryDrafts, releaseKey, voidingDraft, type Counts, type Draft, type Fact, type Place, type Stamp } from "../core/facts.js";
import { Keys } from "../core/ids.js";
import { outboxWords, patience, troubleWords, type Row, type Trouble } from "../core/outbox.js";
import { inOrder, nextLot, roundOf, type Day, type Lot, type LotToday } from "../core/round.js";
import { send } from "./send.js";
import { Store, type Contact, type PhotoBytes, type Settings } from "./store.js";

/** SHA-1, as keys that follow from others need it. */
export async function sha1(bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array> {
  return new Uint8Array(await crypto.subtle.digest("SHA-1", bytes));
}

/** What was done last, so that it can be undone. */
export interface Done {
  /** The species that it is about, where it is one. */
  readonly taxon?: string;
  readonly words: string;
  /** Rows to take back. */
  readonly rows: readonly string[];
  /** Where to go when it is undone. */
  readonly back: string;
}

/** The pocket book as a whole: what it carries, what it has written, and what it does when a keeper taps. It draws nothing. */
export class Pocket {
  readonly store = new Store();
  private readonly keys = new Keys(bytes => void crypto.getRandomValues(bytes));
  private readonly others = new BroadcastChannel("lepidary-pocket");
  private failures = 0;
  private timer: number | undefined;
  private sending = false;
  private more = false;
  private wantsDay = false;
  /** Done when the try to send that runs now is over. */
  ended: Promise<void> = Promise.resolve();

  day: Day | null = null;
  contact: Contact | null = null;
  settings: Settings = { who: "", urgentFirst: false, thumb: "right", light: "auto" };
  rows: Row[] = [];
  photos: PhotoBytes[] = [];
  /** Boxes that are being counted. */
  boxes: readonly Box[] = [];
  /** Whether the browser promised to keep what is here; null where it was not asked yet. */
  persisted: boolean | null = null;
  skipped = new Set<string>();
  done: Done | null = null;
  /** Why something could not be kept: shown until it can. */
  notKept: string | null = null;

  /** @param told called whenever something changed that a screen shows. */
  constructor(private readonly told: () => void) {
    this.others.onmessage = () => void this.read().then(() => this.told());
  }

  /** Reads what the phone keeps. */
  async read(): Promise<void> {
    this.rows = await this.store.rows();
    this.day = await this.store.kept("day") ?? null;
    this.contact = await this.store.kept("contact") ?? null;
    this.settings = await this.store.kept("settings") ?? this.settings;
    this.persisted = await this.store.kept("persisted") ?? null;
    this.photos = await this.store.photos();
    this.boxes = await this.store.kept("boxes") ?? [];
    const skipped = await this.store.kept("skipped");
    this.skipped = new Set(skipped !== undefined && this.day !== null && skipped.onDay === this.today ? skipped.lots : []);
  }

  /** The house's day. */
  get today(): string {
    return this.contact === null ? this.day?.today ?? "" : houseDay(Date.now(), this.contact);
  }

  get todayWords(): string {
    return dayWords(this.today);
  }

  get who(): string {
    return this.settings.who === "" ? this.day?.who ?? "" : this.settings.who;
  }

  get waiting(): Row[] {
    return this.rows.filter(row => row.state === "waiting");
  }

  get refused(): Row[] {
    return this.rows.filter(row => row.state === "refused");
  }

  get thrownAway(): Row[] {
    return this.rows.filter(row => row.state === "thrown away");
  }

  get photosWaiting(): number {
    return this.photos.filter(photo => photo.problems === undefined).length;
  }

  get photosRefused(): PhotoBytes[] {
    return this.photos.filter(photo => photo.problems !== undefined);
  }

  get trouble(): Trouble {
    return this.contact?.trouble ?? "none";
  }

  /** The line about the outbox. */
  get line(): string {
    const last = this.contact?.lastSent ?? null;
    return outboxWords(this.waiting.length + this.photosWaiting, this.refused.length + this.photosRefused.length, last === null || this.contact === null ? null : houseTime(last, this.contact), this.trouble);
  }

  get troubleLine(): string | null {
    return troubleWords(this.trouble);
  }

  get clockLine(): string | null {
    return this.contact === null ? null : clockWords(this.contact);
  }

  timeOf(at: number): string {
    return this.contact === null ? "" : houseTime(at, this.contact);
  }

  /** Every lot as it stands, in the order of the round. */
  lots(): LotToday[] {
    return this.day === null ? [] : inOrder(roundOf(this.day, this.rows, this.today), this.settings.urgentFirst);
  }

  next(after: string | null): LotToday | null {
    return nextLot(this.lots(), after, this.skipped);
  }

  newKey(): string {
    return this.keys.make(Date.now());
  }

  stamp(): Stamp {
    return { houseId: this.day!.houseId, onDay: this.today, deviceTime: new Date().toISOString(), who: this.who };
  }

  /** Writes facts down on this phone. Says so only when they are on its disk. */
  async write(drafts: readonly Draft[], done: Omit<Done, "rows"> | null, photo?: PhotoBytes): Promise<boolean> {
    try {
      const written = await this.store.write(drafts, Date.now(), photo);
      this.rows.push(...written);
      if (photo !== undefined) {
        this.photos.push(photo);
      }

      this.done = done === null ? null : { ...done, rows: drafts.map(draft => draft.id) };
      this.notKept = null;
    } catch (wrong) {
      this.notKept = `Not kept: ${wrong instanceof Error ? wrong.message : String(wrong)}. What you typed is still here; tap again.`;
      this.told();
      return false;
    }

    this.others.postMessage("rows");
    void this.askToPersist();
    this.sendSoon();
    return true;
  }

  /** Writes a count on a lot. */
  async count(lot: Lot, counts: Counts, note: string, released: boolean, to: Place | undefined, words: string): Promise<boolean> {
    return this.write(await entryDrafts(this.stamp(), this.newKey(), lot, counts, note, to, released, sha1), { taxon: lot.taxon, words, back: `lot/${lot.id}` });
  }

  /** Writes down that a lot hangs in another place, whole. */
  hang(lot: Lot, cage: Place, row: string, place: number | undefined): Promise<boolean> {
    return this.write([{ ...this.stamp(), kind: "move", id: this.newKey(), lotId: lot.id, cageId: cage.id, ...(row === "" ? {} : { row, ...(place === undefined ? {} : { position: place }) }) }],
      { taxon: lot.taxon, words: `hangs in ${cage.name}${row === "" ? "" : `, row ${row}`}`, back: `lot/${lot.id}` });
  }

  /** Keeps a box as far as it is counted. */
  async keepBox(box: Box): Promise<void> {
    this.boxes = [...this.boxes.filter(other => other.key !== box.key), box];
    await this.store.keep("boxes", this.boxes);
  }

  async forgetBox(key: string): Promise<void> {
    this.boxes = this.boxes.filter(box => box.key !== key);
    await this.store.keep("boxes", this.boxes);
  }

  /** Takes a box in: its delivery and its lots. */
  async takeIn(box: Box): Promise<boolean> {
    const alive = box.lines.reduce((sum, line) => sum + inAll(line).alive, 0);
    const good = this.rows.some(row => row.fact.id === box.id)
      || await this.write(boxDrafts(this.stamp(), box, () => this.newKey()), { words: `Box of ${box.supplier}: ${alive} hung`, back: "box" });
    if (good) {
      await this.forgetBox(box.key);
    }

    return good;
  }

  /** Takes rows back. */
  async takeBack(ids: readonly string[], done: Omit<Done, "rows" | "back">): Promise<boolean> {
    const there = new Set(this.rows.map(row => row.fact.id));
    const all = new Set<string>();
    for (const id of ids) {
      all.add(id);
      const release = await releaseKey(id, sha1);
      if (there.has(release)) {
        all.add(release);
      }
    }

    const stamp = this.stamp();
    const good = await this.write([...all].map(id => voidingDraft(stamp, this.newKey(), id)), null);
    if (good) {
      this.done = { ...done, rows: [], back: "" };
    }

    return good;
  }

  /** Sends a refused row again as it was mended. */
  async mend(row: Row, fact: Fact): Promise<void> {
    const { problems: _problems, ...rest } = row;
    await this.change([{ ...rest, state: "waiting", fact }]);
    this.sendSoon();
  }

  /** Throws a refused row away. It stays on the phone as long as what was sent, and can be put back. */
  async throwAway(row: Row): Promise<void> {
    await this.change([{ ...row, state: "thrown away", at: Date.now() }]);
  }

  async putBack(row: Row): Promise<void> {
    await this.change([{ ...row, state: "refused" }]);
  }

  private async change(rows: readonly Row[]): Promise<void> {
    await this.store.replace(rows);
    await this.read();
    this.others.postMessage("rows");
    this.told();
  }

  /** Sends a refused photo once more. */
  async sendPhotoAgain(photo: PhotoBytes): Promise<void> {
    await this.store.keepPhoto({ id: photo.id, bytes: photo.bytes });
    await this.change([]);
    this.sendSoon();
  }

  async throwPhotoAway(photo: PhotoBytes): Promise<void> {
    await this.store.forgetPhoto(photo.id);
    await this.change([]);
  }

  async skip(lot: Lot): Promise<void> {
    this.skipped.add(lot.id);
    await this.store.keep("skipped", { onDay: this.today, lots: [...this.skipped] });
  }

  async choose(changed: Partial<Settings>): Promise<void> {
    this.settings = { ...this.settings, ...changed };
    await this.store.keep("settings", this.settings);
    this.others.postMessage("settings");
  }

  /**
   * Sends now, and again as long as something waits.
   *
   * @param freshDay true to ask for the day although it is young.
   */
  sendSoon(freshDay = false): void {
    window.clearTimeout(this.timer);
    this.wantsDay ||= freshDay;
    if (this.sending) {
      this.more = true;
      return;
    }

    this.sending = true;
    this.ended = this.sendNow().finally(() => {
      this.sending = false;
      if (this.more) {
        this.more = false;
        this.sendSoon();
      }
    });
  }

  private async sendNow(): Promise<void> {
    const wanted = this.wantsDay;
    this.wantsDay = false;
    let trouble: Trouble;
    try {
      const sent = await send(this.store, wanted ? "now" : "if old");
      trouble = sent.trouble;
      if (sent.news) {
        await this.read();
        this.others.postMessage("rows");
      } else {
        this.contact = await this.store.kept("contact") ?? null;
      }
    } catch {
      trouble = "no answer"; // the store was lost for a moment; what is in it is not
    }

    this.failures = trouble === "none" ? 0 : this.failures + 1;
    this.told();
    if (trouble !== "none") {
      void this.askForSync();
    }

    if (this.waiting.length + this.photosWaiting > 0 || this.day === null) {
      // Where a browser has no sync in the background, this page goes on trying as long as it is open.
      this.timer = window.setTimeout(() => this.sendSoon(), patience(this.failures, Math.random()));
    }
  }

  private async askToPersist(): Promise<void> {
    if (this.persisted !== true && navigator.storage?.persist !== undefined) {
      const granted = await navigator.storage.persist();
      if (granted !== this.persisted) {
        this.persisted = granted;
        await this.store.keep("persisted", granted);
      }
    }
  }

  private async askForSync(): Promise<void> {
    try {
      const registration = await navigator.serviceWorker?.getRegistration() as (ServiceWorkerRegistration & { sync?: { register(tag: string): Promise<void> } }) | undefined;
      await registration?.sync?.register("outbox");
    } catch {
      // A browser that has no sync, or forbids it: the page sends.
    }
  }
}

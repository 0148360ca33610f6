import type { Box } from "../core/box.js";
import type { Draft, Fact } from "../core/facts.js";
import { keptAfterSending, type Problem, type Row, type Trouble } from "../core/outbox.js";
import type { Day } from "../core/round.js";
import type { Meeting } from "../core/clock.js";

/** A photo on its way. */
export interface PhotoBytes {
  readonly id: string;
  readonly bytes: Blob;
  /** Why the server refused it for good; left out while it waits. */
  readonly problems?: readonly Problem[];
}

/** How the phone and the server last met. */
export interface Contact extends Meeting {
  /** When the last row was acknowledged, the phone's clock, milliseconds; null where none was. */
  readonly lastSent: number | null;
  readonly trouble: Trouble;
}

/** What the keeper chose on this phone. */
export interface Settings {
  readonly who: string;
  readonly urgentFirst: boolean;
  readonly thumb: "right" | "left";
  readonly light: "auto" | "bright" | "dark";
}

/** What stands in the kept store, by key. */
interface Kept {
  day: Day;
  contact: Contact;
  settings: Settings;
  device: { id: string; last: number };
  persisted: boolean;
  skipped: { onDay: string; lots: string[] };
  boxes: readonly Box[];
}

const storeName = "lepidary-pocket";

/**
 * What the phone keeps, in IndexedDB. A write is done when its promise is: the browser has then been told to put it on the disk
 * (`strict` durability). Browsers lose the connection when they sleep; it is opened anew, once, for the same work.
 */
export class Store {
  private opened: Promise<IDBDatabase> | null = null;

  private open(): Promise<IDBDatabase> {
    return this.opened ??= new Promise<IDBDatabase>((done, failed) => {
      const request = indexedDB.open(storeName, 1);
      request.onupgradeneeded = () => {
        request.result.createObjectStore("rows", { keyPath: "sequence" }).createIndex("state", "state");
        request.result.createObjectStore("photos", { keyPath: "id" });
        request.result.createObjectStore("kept");
      };
      request.onsuccess = () => {
        const database = request.result;
        database.onclose = () => this.opened = null;
        database.onversionchange = () => {
          database.close();
          this.opened = null;
        };
        done(database);
      };
      request.onerror = () => failed(request.error);
      request.onblocked = () => failed(new Error("An older page of this book holds the store. Close it."));
    }).catch((wrong: unknown) => {
      this.opened = null;
      throw wrong;
    });
  }

  private async transact<T>(mode: IDBTransactionMode, work: (rows: IDBObjectStore, photos: IDBObjectStore, kept: IDBObjectStore) => Promise<T>): Promise<T> {
    for (let attempt = 1; ; attempt++) {
      try {
        const transaction = (await this.open()).transaction(["rows", "photos", "kept"], mode, { durability: "strict" });
        const committed = new Promise<void>((done, failed) => {
          transaction.oncomplete = () => done();
          transaction.onabort = () => failed(transaction.error ?? new Error("The phone did not keep it."));
          transaction.onerror = () => failed(transaction.error);
        });
        committed.catch(() => undefined);
        const result = await work(transaction.objectStore("rows"), transaction.objectStore("photos"), transaction.objectStore("kept"));
        await committed;
        return result;
      } catch (wrong) {
        const lost = wrong instanceof DOMException && (wrong.name === "InvalidStateError" || wrong.name === "UnknownError");
        this.opened = lost ? null : this.opened;
        if (!lost || attempt > 1) {
          throw wrong;
        }
      }
    }
  }

  /** Writes facts down, all or none, each with the next number of this phone. */
  write(drafts: readonly Draft[], now: number, photo?: PhotoBytes): Promise<Row[]> {
    return this.transact("readwrite", async (rows, photos, kept) => {
      const device = await result<Kept["device"] | undefined>(kept.get("device")) ?? { id: crypto.randomUUID(), last: 0 };
      const written = drafts.map((draft, at): Row => {
        const sequence = device.last + at + 1;
        const fact: Fact = { ...draft, deviceId: device.id, deviceSequence: sequence };
        return { sequence, fact, state: "waiting", at: now, inDay: false };
      });
      kept.put({ ...device, last: device.last + written.length }, "device");
      written.forEach(row => rows.add(row));
      if (photo !== undefined) {
        photos.put(photo);
      }

      return written;
    });
  }

  /** Every row, the oldest first. */
  rows(): Promise<Row[]> {
    return this.transact("readonly", rows => result<Row[]>(rows.getAll()));
  }

  /** The oldest rows that wait. */
  async waiting(most: number): Promise<Row[]> {
    const found = await this.transact("readonly", rows => result<Row[]>(rows.index("state").getAll("waiting", most)));
    return found.sort((a, b) => a.sequence - b.sequence);
  }

  countWaiting(): Promise<number> {
    return this.transact("readonly", rows => result(rows.index("state").count("waiting")));
  }

  /** Puts rows in place of those of the same number. */
  replace(changed: readonly Row[]): Promise<void> {
    return this.transact("readwrite", async rows => changed.forEach(row => rows.put(row)));
  }

  /** Puts a new day in place of the old one. It counts what was sent before it was asked for: those rows are marked. */
  carry(day: Day, contact: Contact, counted: readonly number[], now: number): Promise<void> {
    return this.transact("readwrite", async (rows, _photos, kept) => {
      const numbers = new Set(counted);
      for (const row of await result<Row[]>(rows.getAll())) {
        if ((row.state === "sent" || row.state === "thrown away") && now - row.at > keptAfterSending) {
          rows.delete(row.sequence);
        } else if (!row.inDay && numbers.has(row.sequence)) {
          rows.put({ ...row, inDay: true });
        }
      }

      kept.put(day, "day");
      kept.put(contact, "contact");
    });
  }

  /** Numbers of the rows that the server has. */
  async sent(): Promise<number[]> {
    return (await this.rows()).filter(row => row.state === "sent").map(row => row.sequence);
  }

  photos(): Promise<PhotoBytes[]> {
    return this.transact("readonly", (_rows, photos) => result<PhotoBytes[]>(photos.getAll()));
  }

  async keepPhoto(photo: PhotoBytes): Promise<void> {
    await this.transact("readwrite", async (_rows, photos) => void photos.put(photo));
  }

  /** Writes down why a photo was refused; not where it was thrown away meanwhile. */
  async refusePhoto(id: string, problems: readonly Problem[]): Promise<void> {
    await this.transact("readwrite", async (_rows, photos) => {
      const there = await result<PhotoBytes | undefined>(photos.get(id));
      if (there !== undefined) {
        photos.put({ ...there, problems });
      }
    });
  }

  async forgetPhoto(id: string): Promise<void> {
    await this.transact("readwrite", async (_rows, photos) => void photos.delete(id));
  }

  kept<K extends keyof Kept>(key: K): Promise<Kept[K] | undefined> {
    return this.transact("readonly", (_rows, _photos, kept) => result<Kept[K] | undefined>(kept.get(key)));
  }

  keep<K extends keyof Kept>(key: K, value: Kept[K]): Promise<void> {
    return this.transact("readwrite", async (_rows, _photos, kept) => void kept.put(value, key));
  }

  /** What was typed and not written down yet. */
  draft(screen: string): Promise<Record<string, string> | undefined> {
    return this.transact("readonly", (_rows, _photos, kept) => result<Record<string, string> | undefined>(kept.get(`draft/${screen}`)));
  }

  keepDraft(screen: string, typed: Record<string, string> | null): Promise<void> {
    return this.transact("readwrite", async (_rows, _photos, kept) => void (typed === null ? kept.delete(`draft/${screen}`) : kept.put(typed, `draft/${screen}`)));
  }
}

function result<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
}

import type { Fact } from "./facts.js";

/** What the server found wrong. */
export interface Problem {
  readonly where: string;
  readonly found: string;
  readonly expected: string;
}

/** A fact on this phone. */
export interface Row {
  /** Its number on this phone. */
  readonly sequence: number;
  readonly fact: Fact;
  readonly state: "waiting" | "sent" | "refused" | "thrown away";
  /** When it was written, the phone's clock, milliseconds. */
  readonly at: number;
  /** True where the day that the phone carries counts it already. */
  readonly inDay: boolean;
  /** True where the book has another row under its key: both are kept, and shown among what does not add up. */
  readonly conflict?: boolean;
  readonly problems?: readonly Problem[];
}

/** What became of one row at the server. */
export interface Receipt {
  readonly id: string | null;
  readonly outcome: "written" | "there" | "conflict" | "refused";
  readonly problems: readonly Problem[];
}

/** Most rows in one batch: few enough to get through a poor signal before it goes again. */
export const mostRows = 100;

/** Most characters in one batch: the server takes no more than a million bytes, and cuts the line rather than read on. */
export const mostCharacters = 300_000;

/** How long a row that was sent is kept on the phone, milliseconds: a second chance, should the server lose its disk. */
export const keptAfterSending = 14 * 86_400_000;

/**
 * What a batch's answer makes of its rows. A row is done with only where the server names it; what it does not name, or calls by a
 * word that this program does not know, stays as it was.
 */
export function settled(rows: readonly Row[], receipts: readonly Receipt[]): Row[] {
  const told = new Map(receipts.filter(receipt => receipt.id !== null).map(receipt => [receipt.id!.toLowerCase(), receipt]));
  return rows.flatMap((row): Row[] => {
    const receipt = told.get(row.fact.id);
    switch (receipt?.outcome) {
      case "written":
      case "there": return [{ ...row, state: "sent" }];
      case "conflict": return [{ ...row, state: "sent", conflict: true }];
      case "refused": return [{ ...row, state: "refused", problems: receipt.problems }];
      default: return [];
    }
  });
}

/** True for a row that counts: the server has it, or will be asked to take it. */
export function stillCounts(row: Row): boolean {
  return row.state === "waiting" || row.state === "sent";
}

/** What the server found wrong, where its answer says so; null for any other answer. */
export function problemsOf(body: unknown): readonly Problem[] | null {
  const problems = (body as { problems?: unknown } | null)?.problems;
  return Array.isArray(problems) && problems.length > 0 ? problems as Problem[] : null;
}

/** Why it was refused, in words. */
export function problemWords(problems: readonly Problem[]): string {
  return problems.map(problem => `${problem.where}: ${problem.found}; expected ${problem.expected}`).join(". ");
}

/** True for an answer of this program's server, and not of a sign-in page or a hotel's network. */
export function isAnswer(body: unknown): body is { receipts: Receipt[]; now: string; today: string } {
  return typeof body === "object" && body !== null && Array.isArray((body as { receipts?: unknown }).receipts) && typeof (body as { now?: unknown }).now === "string";
}

/** How long to wait before the next try, milliseconds: twice as long each time up to half a minute, and not all phones at once. */
export function patience(failures: number, chance: number): number {
  return Math.min(30_000, 500 * 2 ** Math.min(failures, 10)) * (0.75 + chance / 2);
}

/** How the last try to send ended. */
export type Trouble = "none" | "no answer" | "sign in" | "another answer" | "other version" | "server failed";

/** The line that stands on every screen. */
export function outboxWords(waiting: number, refused: number, lastSent: string | null, trouble: Trouble): string {
  const last = lastSent === null ? "none sent yet" : `last sent ${lastSent}`;
  const parts = [waiting === 0 ? (lastSent === null ? "Nothing waiting" : `All sent, ${lastSent}`) : `${waiting} waiting, ${last}`];
  if (refused > 0) {
    parts.push(`${refused} to mend`);
  }

  if (trouble === "sign in") {
    parts.push("sign in to send");
  }

  return parts.join("; ");
}

/** Why it was not sent, in a sentence; null where nothing is wrong. */
export function troubleWords(trouble: Trouble): string | null {
  switch (trouble) {
    case "none": return null;
    case "no answer": return "The book's server does not answer. It is tried again and again; nothing is lost meanwhile.";
    case "sign in": return "The server wants you to sign in. Open the book and sign in; what waits here stays here and goes then.";
    case "another answer": return "Something else answered in the server's place, such as the sign-in page of a network. What waits here stays here.";
    case "other version": return "This page and the book's program are of different versions. Close the page and open it again; what waits here stays here.";
    case "server failed": return "The server could not write. It is tried again; what waits here stays here.";
  }
}

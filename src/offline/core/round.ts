import { daysBetween } from "./clock.js";
import type { DueBox } from "./box.js";
import { addCounts, countsOf, nothingCounted, takenOff, type Counts, type Place } from "./facts.js";
import { stillCounts, type Row } from "./outbox.js";

/** A lot as the server gives it along. */
export interface Lot {
  readonly id: string;
  readonly code: string;
  readonly taxon: string;
  readonly form?: string;
  readonly cage?: string;
  readonly row?: string;
  readonly yesterday: number;
  readonly now: number;
  readonly toRelease: number;
  readonly overdue: boolean;
  readonly colouredUp?: boolean;
  readonly mark?: string;
  readonly countedToday?: string;
  readonly ahead: readonly { readonly likely: number; readonly words: string }[];
  /** Hours that wings dry before an adult may be let go. */
  readonly dryingHours: number;
}

/** All that the phone carries for a week without a signal. */
export interface Day {
  readonly houseId: string;
  readonly house: string;
  readonly now: string;
  readonly today: string;
  readonly zone: string;
  readonly who: string;
  readonly lots: readonly Lot[];
  readonly release: readonly Place[];
  readonly climate: readonly Place[];
  readonly flying: readonly { readonly taxon: string; readonly about: number }[];
  readonly taxa: readonly string[];
  readonly paths: readonly string[];
  /** Into how many sections a path was divided when it was last walked; a path that had none is not named. */
  readonly sections?: readonly { readonly path: string; readonly sections: number }[];
  readonly hygiene: readonly string[];
  /** Cages in which pupae hang. */
  readonly cages?: readonly Place[];
  /** Boxes that are on their way. */
  readonly boxes?: readonly DueBox[];
  readonly suppliers?: readonly { readonly id: string; readonly name: string }[];
  /** What to mind when a box is opened. */
  readonly cautions?: readonly string[];
  readonly discrepancies: number;
}

/** A note that makes a lot one to look at first. */
export const colouredUpNote = "coloured up";

/** A lot as the round comes to it on a day. */
export interface LotToday {
  readonly lot: Lot;
  /** Pupae there at the end of the day before. */
  readonly yesterday: number;
  /** Pupae there now. */
  readonly now: number;
  /** Adults that wait to be let go. */
  readonly toRelease: number;
  /** Likely out today; never more than hang. */
  readonly likely: number;
  readonly expected: string;
  readonly colouredUp: boolean;
  /** True where somebody counted it today. */
  readonly visited: boolean;
  /** True where nothing hung yesterday or does now, such as a lot whose last adults wait to be let go: there is nothing to look at. */
  readonly empty: boolean;
  /** What this phone counted on it today; null where nothing. */
  readonly counted: Counts | null;
  /** This phone's entry of today that stands, the newest; null where none. */
  readonly entryId: string | null;
}

/** The rows that count: not taken back, not refused, not thrown away. */
export function standing(rows: readonly Row[]): Row[] {
  const voided = new Set(rows.filter(row => stillCounts(row) && row.fact.voidsId !== undefined).map(row => row.fact.voidsId));
  return rows.filter(row => stillCounts(row) && row.fact.kind !== "voiding" && !voided.has(row.fact.id));
}

/** Every lot in the order in which they hang, with what this phone has written and the server has not counted yet. */
export function roundOf(day: Day, rows: readonly Row[], onDay: string): LotToday[] {
  const byLot = grouped(standing(rows));
  const takenBackSince = new Set(rows.filter(row => stillCounts(row) && !row.inDay && row.fact.voidsId !== undefined).map(row => row.fact.voidsId));
  const noLonger = grouped(rows.filter(row => row.inDay && takenBackSince.has(row.fact.id)));
  const since = daysBetween(day.today, onDay);
  const hung = newLots(day, rows, onDay);
  const isNew = new Set(hung.map(lot => lot.id));
  return withNew(day.lots, hung).map(carried => {
    const own = byLot.get(carried.id) ?? [];
    const lot = whereNow(day, carried, own);
    let [now, yesterday, toRelease] = [lot.now, since > 0 && !isNew.has(lot.id) ? lot.now : lot.yesterday, lot.toRelease];
    const apply = (row: Row, sign: number): void => {
      const { fact } = row;
      if (fact.kind === "entry") {
        const counts = countsOf(fact);
        now -= sign * takenOff(counts);
        yesterday -= fact.onDay < onDay ? sign * takenOff(counts) : 0;
        toRelease += sign * (counts.male + counts.female + counts.unsexed);
      } else if (fact.kind === "release") {
        toRelease -= sign * ((fact.male ?? 0) + (fact.female ?? 0) + (fact.unsexed ?? 0));
      } else if (fact.kind === "found-dead") {
        toRelease -= sign * (fact.count ?? 0);
      }
    };
    own.filter(row => !row.inDay).forEach(row => apply(row, 1));
    (noLonger.get(lot.id) ?? []).forEach(row => apply(row, -1));
    const today = own.filter(row => row.fact.kind === "entry" && row.fact.onDay === onDay);
    const ahead = lot.ahead[Math.min(Math.max(since, 0), lot.ahead.length - 1)];
    const recent = own.filter(row => row.fact.kind === "entry").at(-1);
    return {
      lot,
      yesterday: Math.max(0, yesterday),
      now: Math.max(0, now),
      toRelease: Math.max(0, toRelease),
      likely: Math.min(ahead?.likely ?? 0, Math.max(0, yesterday)),
      expected: yesterday <= 0 && now <= 0 ? "nothing hangs any more" : ahead?.words ?? "nothing yet",
      colouredUp: recent === undefined ? lot.colouredUp === true : recent.fact.note?.startsWith(colouredUpNote) === true && daysBetween(recent.fact.onDay, onDay) <= 2,
      visited: today.length > 0 || (since === 0 && lot.countedToday !== undefined),
      empty: yesterday <= 0 && now <= 0,
      counted: today.length === 0 ? null : today.reduce((sum, row) => addCounts(sum, countsOf(row.fact)), nothingCounted),
      entryId: today.at(-1)?.fact.id ?? null,
    };
  });
}

/** Lots of boxes that this phone took in and the server has not counted yet. */
function newLots(day: Day, rows: readonly Row[], onDay: string): Lot[] {
  return standing(rows).filter(row => row.fact.kind === "delivery" && !row.inDay).flatMap(row => row.fact.lots ?? []).map(lot => ({
    id: lot.id, code: "new", taxon: lot.taxon, ...(lot.form === undefined ? {} : { form: lot.form }), ...placeNamed(day, lot.cageId, lot.row),
    yesterday: lot.hungOn < onDay ? lot.received : 0, now: lot.received, toRelease: 0, overdue: false, ahead: [], dryingHours: 5,
  }));
}

/** New lots behind those that hang in the same cage. */
function withNew(lots: readonly Lot[], hung: readonly Lot[]): Lot[] {
  const all = [...lots];
  for (const lot of hung) {
    const last = all.map(other => other.cage).lastIndexOf(lot.cage);
    all.splice(last < 0 ? all.length : last + 1, 0, lot);
  }

  return all;
}

/** The lot where this phone has hung it since. */
function whereNow(day: Day, lot: Lot, own: readonly Row[]): Lot {
  const moved = own.filter(row => row.fact.kind === "move" && !row.inDay).at(-1)?.fact;
  if (moved === undefined) {
    return lot;
  }

  const { cage: _cage, row: _row, ...rest } = lot;
  return { ...rest, ...placeNamed(day, moved.cageId, moved.row) };
}

function placeNamed(day: Day, cageId: string | undefined, row: string | undefined): { cage?: string; row?: string } {
  const cage = day.cages?.find(place => place.id === cageId)?.name;
  return { ...(cage === undefined ? {} : { cage }), ...(row === undefined ? {} : { row }) };
}

function grouped(rows: readonly Row[]): Map<string, Row[]> {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const key = row.fact.lotId ?? "";
    const group = groups.get(key);
    if (group === undefined) {
      groups.set(key, [row]);
    } else {
      group.push(row);
    }
  }

  return groups;
}

/**
 * How long wings dry, as a hint.
 *
 * @param now time of day in the house, as `09:14`.
 */
export function dryingWords(lot: Lot, now: string): string {
  const hour = Number(now.slice(0, 2)) + lot.dryingHours;
  const earliest = hour < 15 ? `not before ${String(hour).padStart(2, "0")}${now.slice(2)}` : "tomorrow morning";
  return `Let wings dry about ${lot.dryingHours} hours (one that has just come out: ${earliest}). From memory; look at the wings, not at the clock.`;
}

/** The order of the round: as they hang, or those first that are overdue or coloured up. */
export function inOrder(lots: readonly LotToday[], urgentFirst: boolean): LotToday[] {
  const urgent = (item: LotToday): boolean => item.lot.overdue || item.colouredUp;
  return urgentFirst ? [...lots.filter(urgent), ...lots.filter(item => !urgent(item))] : [...lots];
}

/** The lot to look at after one: the next that was neither visited nor skipped, round to the beginning; null where there is none. */
export function nextLot(ordered: readonly LotToday[], after: string | null, skipped: ReadonlySet<string>): LotToday | null {
  const at = ordered.findIndex(item => item.lot.id === after);
  return [...ordered.slice(at + 1), ...ordered.slice(0, at + 1)].find(item => !item.visited && !item.empty && !skipped.has(item.lot.id) && item.lot.id !== after) ?? null;
}

/** What the round found by species, as this phone knows it. */
export function summaryOf(day: Day, rows: readonly Row[], onDay: string): { taxon: string; counts: Counts; released: number }[] {
  const taxa = new Map(day.lots.map(lot => [lot.id, lot.taxon]));
  const sums = new Map<string, { counts: Counts; released: number }>();
  for (const { fact } of standing(rows).filter(row => row.fact.onDay === onDay && (row.fact.kind === "entry" || row.fact.kind === "release"))) {
    const taxon = fact.taxon ?? taxa.get(fact.lotId ?? "") ?? "a lot that no longer hangs";
    const sum = sums.get(taxon) ?? { counts: nothingCounted, released: 0 };
    sums.set(taxon, fact.kind === "entry"
      ? { ...sum, counts: addCounts(sum.counts, countsOf(fact)) }
      : { ...sum, released: sum.released + (fact.male ?? 0) + (fact.female ?? 0) + (fact.unsexed ?? 0) });
  }

  return [...sums].map(([taxon, sum]) => ({ taxon, ...sum })).filter(sum => takenOff(sum.counts) + sum.released > 0).sort((a, b) => a.taxon.localeCompare(b.taxon));
}

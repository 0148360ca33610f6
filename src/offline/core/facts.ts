import { nameBased, type Digest } from "./ids.js";

/** What a keeper saw or did, before it has its number on this phone. The server knows the same members. */
export interface Draft {
  readonly kind: "entry" | "release" | "found-dead" | "walk" | "reading" | "photo" | "voiding" | "move" | "delivery" | "packing-step";
  readonly id: string;
  readonly houseId: string;
  /** The house's day. */
  readonly onDay: string;
  /** The phone's clock, as it is, right or wrong. */
  readonly deviceTime: string;
  readonly who: string;
  readonly voidsId?: string;
  readonly note?: string;
  readonly lotId?: string;
  readonly emergedMale?: number;
  readonly emergedFemale?: number;
  readonly emergedUnsexed?: number;
  readonly crippled?: number;
  readonly dead?: number;
  readonly parasitised?: number;
  readonly missing?: number;
  readonly taxon?: string;
  readonly areaId?: string;
  readonly cageId?: string;
  readonly male?: number;
  readonly female?: number;
  readonly unsexed?: number;
  readonly count?: number;
  readonly path?: string;
  readonly start?: string;
  readonly minutes?: number;
  readonly weather?: string;
  readonly sunPercent?: number;
  readonly beaufort?: number;
  /** Sections into which the path is divided. */
  readonly sections?: number;
  readonly counts?: readonly WalkCount[];
  readonly temperatureC?: number;
  readonly humidityPercent?: number;
  readonly aboutId?: string;
  readonly mediaType?: string;
  readonly sha256?: string;
  readonly row?: string;
  readonly position?: number;
  readonly supplierId?: string;
  readonly orderId?: string;
  readonly boxMark?: string;
  readonly condition?: string;
  readonly lines?: readonly { readonly id: string; readonly alive: number }[];
  readonly lots?: readonly LotDraft[];
  readonly deliveryId?: string;
  readonly state?: string;
}

/** A lot that a box brings. */
export interface LotDraft {
  readonly id: string;
  readonly houseId: string;
  readonly deliveryLineId: string;
  readonly supplierId: string;
  readonly taxon: string;
  readonly form?: string;
  readonly hungOn: string;
  readonly received: number;
  readonly cageId?: string;
  readonly row?: string;
  readonly position?: number;
  readonly unitLanded?: number;
}

/** Adults of one species seen on a walk. */
export interface WalkCount {
  readonly id: string;
  readonly taxon: string;
  /** 1 the first; left out where the path has none. */
  readonly section?: number;
  readonly count: number;
}

/** A fact as it is sent. */
export interface Fact extends Draft {
  readonly deviceId: string;
  /** 1, 2, 3… on this phone: a gap is a row that is missing. */
  readonly deviceSequence: number;
}

/** Who, where and when, the same for all that one tap writes. */
export interface Stamp {
  readonly houseId: string;
  readonly onDay: string;
  readonly deviceTime: string;
  readonly who: string;
}

/** What was counted on a lot. All at least 0. */
export interface Counts {
  readonly male: number;
  readonly female: number;
  readonly unsexed: number;
  readonly crippled: number;
  readonly dead: number;
  readonly parasitised: number;
  readonly missing: number;
}

/** Where adults can be let go or a reading be taken. */
export interface Place {
  readonly id: string;
  readonly name: string;
  readonly isCage: boolean;
}

/** A count with nothing in it. */
export const nothingCounted: Counts = { male: 0, female: 0, unsexed: 0, crippled: 0, dead: 0, parasitised: 0, missing: 0 };

/** Adults that came out whole. */
export function emergedOf(counts: Counts): number {
  return counts.male + counts.female + counts.unsexed;
}

/** The place as a fact names it. */
export function placeOf(place: Place | undefined): Pick<Draft, "areaId" | "cageId"> {
  return place === undefined ? {} : place.isCage ? { cageId: place.id } : { areaId: place.id };
}

/** A count on a lot, and the release that goes with it where those that came out are let go at once. */
export async function entryDrafts(
  stamp: Stamp, id: string, lot: { readonly id: string; readonly taxon: string }, counts: Counts, note: string, release: Place | undefined, released: boolean, sha1: Digest,
): Promise<Draft[]> {
  const entry: Draft = {
    ...stamp, kind: "entry", id, lotId: lot.id, emergedMale: counts.male, emergedFemale: counts.female, emergedUnsexed: counts.unsexed,
    crippled: counts.crippled, dead: counts.dead, parasitised: counts.parasitised, missing: counts.missing, ...(note === "" ? {} : { note }),
  };
  if (!released || emergedOf(counts) === 0) {
    return [entry];
  }

  return [entry, {
    ...stamp, kind: "release", id: await releaseKey(id, sha1), lotId: lot.id, taxon: lot.taxon, ...placeOf(release),
    male: counts.male, female: counts.female, unsexed: counts.unsexed,
  }];
}

/** The key of the release that goes with an entry, so that undoing the one undoes the other. */
export function releaseKey(entryId: string, sha1: Digest): Promise<string> {
  return nameBased(entryId, "release", sha1);
}

/** Takes a fact back and puts nothing in its place. */
export function voidingDraft(stamp: Stamp, id: string, voidsId: string): Draft {
  return { ...stamp, kind: "voiding", id, voidsId };
}

/** Counts in words, nothing of what is nought. */
export function countWords(counts: Counts): string {
  const out = emergedOf(counts);
  const sexes = [counts.male > 0 ? `${counts.male} ${counts.male === 1 ? "male" : "males"}` : "", counts.female > 0 ? `${counts.female} ${counts.female === 1 ? "female" : "females"}` : "", counts.male + counts.female > 0 && counts.unsexed > 0 ? `${counts.unsexed} not sexed` : ""].filter(part => part !== "");
  const parts = [
    out === 0 ? "" : sexes.length === 0 ? `${out} out` : `${out} out (${sexes.join(", ")})`,
    ...(["crippled", "dead", "parasitised", "missing"] as const).map(name => counts[name] === 0 ? "" : `${counts[name]} ${name}`),
  ].filter(part => part !== "");
  return parts.length === 0 ? "nothing new" : parts.join(", ");
}

/** The counts of an entry. */
export function countsOf(fact: Draft): Counts {
  return {
    male: fact.emergedMale ?? 0, female: fact.emergedFemale ?? 0, unsexed: fact.emergedUnsexed ?? 0,
    crippled: fact.crippled ?? 0, dead: fact.dead ?? 0, parasitised: fact.parasitised ?? 0, missing: fact.missing ?? 0,
  };
}

/** Two counts together. */
export function addCounts(a: Counts, b: Counts): Counts {
  return {
    male: a.male + b.male, female: a.female + b.female, unsexed: a.unsexed + b.unsexed,
    crippled: a.crippled + b.crippled, dead: a.dead + b.dead, parasitised: a.parasitised + b.parasitised, missing: a.missing + b.missing,
  };
}

/** Pupae that a count takes off the row. */
export function takenOff(counts: Counts): number {
  return emergedOf(counts) + counts.crippled + counts.dead + counts.parasitised + counts.missing;
}

/** One fact in words, for the outbox: the species apart, where there is one. */
export function factWords(fact: Draft, lots: ReadonlyMap<string, { readonly taxon: string }>): { readonly taxon: string | null; readonly words: string } {
  const taxon = fact.taxon ?? (fact.lotId === undefined ? null : lots.get(fact.lotId)?.taxon ?? null);
  switch (fact.kind) {
    case "entry": return { taxon, words: countWords(countsOf(fact)) };
    case "release": return { taxon, words: `${(fact.male ?? 0) + (fact.female ?? 0) + (fact.unsexed ?? 0)} released` };
    case "found-dead": return { taxon, words: `${fact.count} found dead` };
    case "walk": return { taxon: null, words: `Walk ${fact.path}: ${fact.counts?.reduce((sum, count) => sum + count.count, 0) ?? 0} seen` };
    case "reading": return { taxon: null, words: `Climate: ${[fact.temperatureC === undefined ? "" : `${fact.temperatureC} °C`, fact.humidityPercent === undefined ? "" : `${fact.humidityPercent} %`].filter(part => part !== "").join(", ")}` };
    case "photo": return { taxon: null, words: "A photo" };
    case "voiding": return { taxon: null, words: "A row taken back" };
    case "move": return { taxon, words: `hung elsewhere${fact.row === undefined ? "" : `, row ${fact.row}`}` };
    case "delivery": return { taxon: null, words: `A box: ${fact.lots?.reduce((sum, lot) => sum + lot.received, 0) ?? 0} hung in ${fact.lots?.length ?? 0} lots` };
    case "packing-step": return { taxon: null, words: `Packing: ${fact.state?.toLowerCase()}` };
  }
}

/**
 * What of a fact can be mended where the server refused it: its numbers, each with a label. A walk's counts are named by their key.
 */
export function mendable(fact: Draft): { readonly member: string; readonly label: string; readonly is: number | undefined }[] {
  const fields: readonly (readonly [keyof Draft, string])[] = {
    entry: [["emergedUnsexed", "Emerged"], ["emergedMale", "Emerged, male"], ["emergedFemale", "Emerged, female"], ["crippled", "Crippled"], ["dead", "Dead"], ["parasitised", "Parasitised"], ["missing", "Missing"]],
    release: [["unsexed", "Sex not told"], ["male", "Males"], ["female", "Females"]],
    "found-dead": [["count", "Found dead"]],
    walk: [["minutes", "Minutes"], ["temperatureC", "Temperature, °C"], ["sunPercent", "Sun, %"], ["beaufort", "Wind, Beaufort"]],
    reading: [["temperatureC", "Temperature, °C"], ["humidityPercent", "Humidity, %"]],
    photo: [], voiding: [], move: [], delivery: [], "packing-step": [],
  }[fact.kind] as readonly (readonly [keyof Draft, string])[];
  return [
    ...fields.map(([member, label]) => ({ member, label, is: fact[member] as number | undefined })),
    ...(fact.counts ?? []).map(count => ({ member: count.id, label: `${count.taxon}${count.section === undefined ? "" : `, section ${count.section}`}`, is: count.count })),
  ];
}

/** A fact with other numbers and another day, under the same key: the server never wrote the first. A number that is undefined is left out. */
export function mended(fact: Fact, onDay: string, numbers: ReadonlyMap<string, number | undefined>): Fact {
  const changed = Object.fromEntries(mendable(fact).filter(field => !fact.counts?.some(count => count.id === field.member)).map(field => [field.member, numbers.has(field.member) ? numbers.get(field.member) : field.is]));
  const whole = { ...fact, ...changed, onDay, ...(fact.counts === undefined ? {} : { counts: fact.counts.map(count => ({ ...count, count: numbers.get(count.id) ?? count.count })) }),
    ...(fact.lots === undefined ? {} : { lots: fact.lots.map(lot => ({ ...lot, hungOn: onDay })) }) };
  return Object.fromEntries(Object.entries(whole).filter(([, value]) => value !== undefined)) as unknown as Fact;
}

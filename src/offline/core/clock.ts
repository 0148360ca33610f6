/** How the house's clock stood beside the phone's when the two last met. */
export interface Meeting {
  /** The house's clock less the phone's, milliseconds. */
  readonly ahead: number;
  /** IANA zone of the house. */
  readonly zone: string;
}

/** Above this the keeper is told that the phone's clock is wrong, milliseconds. */
export const clockTolerance = 5 * 60_000;

/** The house's clock now, as far as the phone can know: its own, put right by as much as it was wrong when it last met the server. */
export function houseNow(phone: number, met: Meeting): number {
  return phone + met.ahead;
}

/** The day that it is in the house, as `2026-11-27`. */
export function houseDay(phone: number, met: Meeting): string {
  return new Intl.DateTimeFormat("en-CA", { timeZone: met.zone, year: "numeric", month: "2-digit", day: "2-digit" }).format(houseNow(phone, met));
}

/** The time of day in the house, as `09:14`. */
export function houseTime(phone: number, met: Meeting): string {
  return new Intl.DateTimeFormat("en-GB", { timeZone: met.zone, hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).format(houseNow(phone, met));
}

/** Whole days from one day to another. */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(to) - Date.parse(from)) / 86_400_000);
}

/** A day in words, as `Friday 27 November`. */
export function dayWords(day: string): string {
  return new Intl.DateTimeFormat("en-GB", { timeZone: "UTC", weekday: "long", day: "numeric", month: "long" }).format(Date.parse(day));
}

/** How wrong the phone's clock is, in words; null where it is right enough. */
export function clockWords(met: Meeting): string | null {
  const off = Math.abs(met.ahead);
  if (off < clockTolerance) {
    return null;
  }

  const hours = Math.round(off / 3_600_000);
  const much = off < 5_400_000 ? `${Math.round(off / 60_000)} minutes` : hours < 36 ? `${hours} hours` : `${Math.round(hours / 24)} days`;
  return `This phone's clock is ${much} ${met.ahead > 0 ? "behind" : "ahead of"} the house's. The house's day is used.`;
}

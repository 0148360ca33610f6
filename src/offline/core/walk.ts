/** The sky and the air at the start of a walk; what was not looked at is left out. */
export interface Sky {
  /** Degrees Celsius, in the shade. */
  readonly temperature?: number | undefined;
  /** Share of the walk in sun, percent. */
  readonly sun?: number | undefined;
  /** Wind, Beaufort. */
  readonly wind?: number | undefined;
}

/**
 * What of a walk lies outside the conditions of the fixed-path count: begun 10:45 to 15:45, from 13 °C on, below 17 °C only with
 * 60 % of sun, wind up to force 5 (Pollard 1977, Biological Conservation 12:115-134; hours, degrees and sun as the UK Environmental
 * Change Network's protocol gives them; the wind from a second source). Made for the open: under glass it is a hint, and the walk
 * counts all the same.
 *
 * @param start time of day of the first step, as `11:05`.
 */
export function outsidePollard(start: string, sky: Sky): string[] {
  const { temperature, sun, wind } = sky;
  return [
    start < "10:45" || start > "15:45" ? "begun outside 10:45 to 15:45" : "",
    temperature !== undefined && temperature < 13 ? "colder than 13 °C" : "",
    temperature !== undefined && temperature >= 13 && temperature < 17 && sun !== undefined && sun < 60 ? "below 17 °C with less than 60 % sun" : "",
    wind !== undefined && wind > 5 ? "wind above force 5" : "",
  ].filter(words => words !== "");
}

/** What was tapped on a walk: a count for each section and species. */
export class Tally {
  private readonly counts = new Map<string, number>();

  /** Adds to a count, which does not go below 0. */
  add(section: number, taxon: string, by: number): void {
    this.counts.set(`${section} ${taxon}`, Math.max(0, this.of(section, taxon) + by));
  }

  of(section: number, taxon: string): number {
    return this.counts.get(`${section} ${taxon}`) ?? 0;
  }

  /** Every count that was touched; one brought back to 0 says: looked for, and not seen. */
  all(): { section: number; taxon: string; count: number }[] {
    return [...this.counts].map(([key, count]) => ({ section: Number(key.slice(0, key.indexOf(" "))), taxon: key.slice(key.indexOf(" ") + 1), count }));
  }

  get total(): number {
    return [...this.counts.values()].reduce((sum, count) => sum + count, 0);
  }

  /** As text, to be kept while the walk goes on. */
  text(): string {
    return JSON.stringify([...this.counts]);
  }

  /** Takes up what {@link text} gave. */
  take(text: string | undefined): void {
    for (const [key, count] of JSON.parse(text ?? "[]") as [string, number][]) {
      // A walk begun by an earlier version of this page knew no sections.
      this.counts.set(/^\d+ /.test(key) ? key : `1 ${key}`, count);
    }
  }
}

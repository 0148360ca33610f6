import { placeOf, type Draft } from "../core/facts.js";
import { dryingWords } from "../core/round.js";
import { outsidePollard, Tally } from "../core/walk.js";
import { el, latin, Stepper, type Ink } from "./paper.js";
import type { Pocket } from "./pocket.js";
import { button, placeChoice, placeWords, turn, type Screen, type Turning } from "./screens.js";

export function releaseScreen(pocket: Pocket, turning: Turning, lotId: string | undefined): Screen {
  const lots = pocket.lots();
  const item = lots.find(other => other.lot.id === lotId);
  if (item === undefined) {
    const waiting = lots.filter(other => other.toRelease > 0);
    return {
      title: "Release",
      heading: waiting.length === 0 ? "Nobody waits to be let go" : `${waiting.reduce((sum, other) => sum + other.toRelease, 0)} wait to be let go`,
      inside: el("ul", { class: "lots" }, waiting.map(other => el("li", {}, el("a", { href: `#release/${other.lot.id}` },
        el("span", { class: "lot-name" }, latin(other.lot.taxon, other.lot.form)), el("span", { class: "lot-count" }, `${other.toRelease}`, el("span", { class: "unseen" }, " to let go")), el("span", { class: "soft" }, placeWords(other)))))),
      thumb: [turn("Round", "round")],
    };
  }

  const { lot } = item;
  const total = el("p", { class: "field wrong", role: "status" });
  const changed = (): void => {
    const sum = steppers.reduce((all, stepper) => all + stepper.value, 0);
    total.textContent = sum > item.toRelease ? `That is ${sum}, and ${item.toRelease} wait. It can be written all the same.` : "";
  };
  const steppers = [new Stepper("unsexed", "Sex not told", changed, item.toRelease), new Stepper("male", "Males", changed), new Stepper("female", "Females", changed), new Stepper("died", "Died in the cage", changed)];
  const to = placeChoice("to", "Into", pocket.day!.release);
  return {
    title: `Release ${lot.taxon}`,
    above: el("p", { class: "place" }, placeWords(item)),
    heading: [latin(lot.taxon, lot.form), `: ${item.toRelease} to be let go`],
    inside: [el("p", { class: "lead" }, dryingWords(lot, pocket.timeOf(Date.now()))), el("section", { class: "steppers", "aria-label": "Let go" }, steppers.map(stepper => stepper.element)), total, to.element],
    thumb: [
      button("Let go", () => {
        const [unsexed, male, female, died] = steppers.map(stepper => stepper.value) as [number, number, number, number];
        const drafts: Draft[] = [];
        if (unsexed + male + female > 0) {
          drafts.push({ ...pocket.stamp(), kind: "release", id: pocket.newKey(), lotId: lot.id, taxon: lot.taxon, ...placeOf(to.chosen()), unsexed, male, female });
        }

        if (died > 0) {
          drafts.push({ ...pocket.stamp(), kind: "found-dead", id: pocket.newKey(), lotId: lot.id, taxon: lot.taxon, count: died });
        }

        if (drafts.length === 0) {
          total.textContent = "Nobody: males, females or not told above 0.";
        } else {
          void pocket.write(drafts, { taxon: lot.taxon, words: `${unsexed + male + female} released${died > 0 ? `, ${died} died in the cage` : ""}`, back: `release/${lot.id}` }).then(kept => kept && turning.go("release"));
        }
      }, "big"),
      turn("Others", "release"),
    ],
  };
}

/** Species to tap, the commonest first, and any other by its name. Every tap is kept at once. */
function speciesTaps(pocket: Pocket, draftName: string, extra: () => Record<string, string>, section: () => number = () => 1): { element: Ink; tally: Tally; show: () => void; restored: Promise<Record<string, string> | undefined> } {
  const tally = new Tally();
  const list = el("ul", { class: "taps" });
  const numbers = new Map<string, HTMLElement>();
  const keep = (): void => void pocket.store.keepDraft(draftName, { ...extra(), counts: tally.text() });
  const show = (): void => numbers.forEach((number, taxon) => number.textContent = String(tally.of(section(), taxon)));
  const offer = (taxon: string, about: number | undefined): void => {
    const number = el("b", {}, 0);
    const add = (by: number): void => {
      tally.add(section(), taxon, by);
      number.textContent = String(tally.of(section(), taxon));
      keep();
    };
    numbers.set(taxon, number);
    list.append(el("li", { "data-taxon": taxon },
      el("button", { type: "button", class: "less", "aria-label": `${taxon}: one less`, onclick: () => add(-1) }, "−"),
      el("button", { type: "button", class: "tap", onclick: () => add(1) }, latin(taxon), about === undefined ? null : el("span", { class: "soft" }, ` about ${about} fly`), " ", number, el("span", { class: "unseen" }, " counted; one more"))));
  };
  pocket.day!.flying.forEach(flyer => offer(flyer.taxon, flyer.about));
  const other = el("input", { id: "other", type: "text", list: "taxa", autocomplete: "off" });
  const offerAlso = (taxon: string): void => {
    if (taxon !== "" && !numbers.has(taxon)) {
      offer(taxon, undefined);
    }
  };
  const wrong = el("span", { class: "wrong", role: "status" });
  const restored = pocket.store.draft(draftName).then(kept => {
    tally.take(kept?.["counts"]);
    tally.all().forEach(count => offerAlso(count.taxon));
    show();
    return kept;
  });
  return {
    tally,
    show,
    restored,
    element: [
      list,
      el("p", { class: "field" }, el("label", { for: "other" }, "Another species"), other, el("datalist", { id: "taxa" }, pocket.day!.taxa.map(taxon => el("option", { value: taxon }))),
        button("Add", () => {
          const taxon = pocket.day!.taxa.find(known => known.toLowerCase() === other.value.trim().toLowerCase());
          wrong.textContent = taxon === undefined ? " Not a species of the table: choose one that is offered." : "";
          if (taxon !== undefined) {
            offerAlso(taxon);
            other.value = "";
          }
        }, "quiet"), wrong),
    ],
  };
}

export function deadScreen(pocket: Pocket, turning: Turning): Screen {
  const areas = pocket.day!.release.filter(place => !place.isCage);
  const where = placeChoice("area", "Where", areas);
  const taps = speciesTaps(pocket, "dead", () => ({}));
  const wrong = el("p", { class: "field wrong", role: "status" });
  return {
    title: "Found dead",
    heading: "Who was found dead?",
    inside: [areas.length > 1 ? where.element : null, taps.element, wrong],
    thumb: [button("Write it down", () => {
      const stamp = pocket.stamp();
      const drafts = taps.tally.all().filter(({ count }) => count > 0).map(({ taxon, count }): Draft => ({ ...stamp, kind: "found-dead", id: pocket.newKey(), taxon, count, ...placeOf(where.chosen()) }));
      if (drafts.length === 0) {
        wrong.textContent = "Nobody yet: tap a species.";
      } else {
        void pocket.write(drafts, { words: `${drafts.reduce((sum, draft) => sum + draft.count!, 0)} found dead`, back: "dead" }).then(kept => {
          if (kept) {
            void pocket.store.keepDraft("dead", null).then(() => turning.go("round"));
          }
        });
      }
    }, "big"), turn("Round", "round")],
  };
}

/** The most sections that a path may have. */
const mostSections = 15;

export function walkScreen(pocket: Pocket, turning: Turning): Screen {
  const day = pocket.day!;
  const areas = day.release.filter(place => !place.isCage);
  const where = placeChoice("area", "Area", areas);
  const few = (id: string, value: string | number = ""): HTMLInputElement => el("input", { id, type: "text", inputmode: "decimal", autocomplete: "off", class: "few", value, onchange: () => changed() });
  const path = el("input", { id: "path", type: "text", maxlength: 80, list: "paths", autocomplete: "off", value: day.paths[0] ?? "The path", onchange: () => {
    sections.value = String(day.sections?.find(known => known.path === path.value.trim())?.sections ?? 1);
    changed();
  } });
  const sections = few("sections", day.sections?.find(known => known.path === path.value)?.sections ?? 1);
  const [warmth, sun, wind] = [few("temperature"), few("sun"), few("wind")];
  const weather = el("input", { id: "weather", type: "text", maxlength: 120, autocomplete: "off", placeholder: "sun, lamps on", onchange: () => changed() });
  let begun = Date.now();
  let section = 1;
  const began = el("b", {}, pocket.timeOf(begun));
  const here = el("b", { id: "section", role: "status" });
  const outside = el("p", { class: "soft", role: "status" });
  const wrong = el("p", { class: "field wrong", role: "status" });
  const typed = (): Record<string, string> => ({ begun: String(begun), section: String(section), path: path.value, sections: sections.value, temperature: warmth.value, sun: sun.value, wind: wind.value, weather: weather.value });
  const taps = speciesTaps(pocket, "walk", typed, () => section);
  const read = (input: HTMLInputElement): number | undefined => input.value.trim() === "" ? undefined : Number(input.value.trim().replace(",", "."));
  const manySections = (): number => Math.min(mostSections, Math.max(1, Math.floor(read(sections) ?? 1) || 1));
  const changed = (): void => {
    taps.show();
    void pocket.store.keepDraft("walk", { ...typed(), counts: taps.tally.text() });
    show();
  };
  const turnTo = (to: number): void => {
    section = Math.min(manySections(), Math.max(1, to));
    changed();
    window.scrollTo(0, 0);
  };
  const back = button("Back", () => turnTo(section - 1), "quiet");
  const end = button("End the walk", () => finish(), "big");
  const next = button("", () => turnTo(section + 1), "big");
  const show = (): void => {
    const many = manySections();
    section = Math.min(section, many);
    here.textContent = many === 1 ? "" : `Section ${section} of ${many}. `;
    next.hidden = section >= many;
    next.textContent = `Section ${section + 1}`;
    back.hidden = section === 1;
    end.className = section >= many ? "big" : "quiet";
    began.textContent = pocket.timeOf(begun);
    const words = outsidePollard(pocket.timeOf(begun), { temperature: read(warmth), sun: read(sun), wind: read(wind) });
    outside.textContent = words.length === 0 ? "" : `Outside the conditions of the count in the open: ${words.join(", ")}. It counts all the same; compare it with walks like it.`;
  };
  void taps.restored.then(kept => {
    if (kept !== undefined) {
      begun = Number(kept["begun"]);
      section = Number(kept["section"] ?? 1);
      [path.value, weather.value, warmth.value, sun.value, wind.value] = [kept["path"] ?? path.value, kept["weather"] ?? "", kept["temperature"] ?? "", kept["sun"] ?? "", kept["wind"] ?? ""];
      sections.value = kept["sections"] ?? sections.value;
    }

    taps.show();
    show();
  });
  const finish = (): void => {
    const [temperatureC, sunPercent, beaufort] = [read(warmth), read(sun), read(wind)];
    const good = (value: number | undefined, from: number, to: number, whole: boolean): boolean => value === undefined || (value >= from && value <= to && (!whole || Number.isInteger(value)));
    if (path.value.trim() === "") {
      wrong.textContent = "The path has no name yet.";
      return;
    }

    if (!good(temperatureC, -50, 80, false) || !good(sunPercent, 0, 100, true) || !good(beaufort, 0, 12, true)) {
      wrong.textContent = "Degrees from -50 to 80, percent of sun from 0 to 100, wind from 0 to 12.";
      return;
    }

    const many = manySections();
    const counts = taps.tally.all().filter(count => count.section <= many || count.count > 0).map(count => ({ id: pocket.newKey(), taxon: count.taxon, count: count.count, ...(many === 1 ? {} : { section: Math.min(many, count.section) }) }));
    const minutes = Math.min(600, Math.max(1, Math.round((Date.now() - begun) / 60_000)));
    const sky = weather.value.trim();
    const walk: Draft = {
      ...pocket.stamp(), kind: "walk", id: pocket.newKey(), path: path.value.trim(), ...placeOf(where.chosen()), start: `${pocket.timeOf(begun)}:00`, minutes,
      ...(sky === "" ? {} : { weather: sky }), ...(temperatureC === undefined ? {} : { temperatureC }), ...(sunPercent === undefined ? {} : { sunPercent }), ...(beaufort === undefined ? {} : { beaufort }),
      ...(many === 1 ? {} : { sections: many }), counts,
    };
    void pocket.write([walk], { words: `Walk: ${taps.tally.total} seen in ${minutes} min`, back: "walk" }).then(kept => {
      if (kept) {
        void pocket.store.keepDraft("walk", null).then(() => turning.go("round"));
      }
    });
  };
  show();
  return {
    title: "Walk",
    heading: "What flies along the path?",
    inside: [
      el("p", {}, here, "The same path at the same pace. Count what flies or sits within 2.5 m to either side and 5 m ahead, each animal once."),
      taps.element,
      el("p", {}, "Began at ", began, ". ", button("Begin now", () => {
        begun = Date.now();
        changed();
      }, "quiet")),
      el("p", { class: "field" }, el("label", { for: "path" }, "Path"), path, el("datalist", { id: "paths" }, day.paths.map(known => el("option", { value: known })))),
      el("p", { class: "field" }, el("label", { for: "sections" }, "Sections of the path"), sections),
      areas.length > 1 ? where.element : null,
      el("p", { class: "field" }, el("label", { for: "weather" }, "Weather"), weather),
      el("p", { class: "field" }, el("label", { for: "temperature" }, "Temperature, °C"), warmth),
      el("p", { class: "field" }, el("label", { for: "sun" }, "Sun, % of the walk"), sun),
      el("p", { class: "field" }, el("label", { for: "wind" }, "Wind, Beaufort"), wind),
      outside,
      wrong,
    ],
    thumb: [next, end, back, turn("Round", "round")],
  };
}

export function climateScreen(pocket: Pocket, turning: Turning): Screen {
  const where = placeChoice("place", "Where", pocket.day!.climate);
  const number = (id: string): HTMLInputElement => el("input", { id, type: "text", inputmode: "decimal", autocomplete: "off", class: "few" });
  const [warmth, damp] = [number("temperature"), number("humidity")];
  const wrong = el("p", { class: "field wrong", role: "status" });
  const read = (input: HTMLInputElement): number | undefined => input.value.trim() === "" ? undefined : Number(input.value.trim().replace(",", "."));
  return {
    title: "Climate",
    heading: "How warm, how humid?",
    inside: [where.element, el("p", { class: "field" }, el("label", { for: "temperature" }, "Temperature, °C"), warmth), el("p", { class: "field" }, el("label", { for: "humidity" }, "Humidity, %"), damp), wrong],
    thumb: [button("Write it down", () => {
      const [t, h] = [read(warmth), read(damp)];
      const good = (value: number | undefined, from: number, to: number): boolean => value === undefined || (value >= from && value <= to);
      if ((t === undefined && h === undefined) || !good(t, -50, 80) || !good(h, 0, 100)) {
        wrong.textContent = "Degrees from -50 to 80, percent from 0 to 100; one of the two at least.";
        return;
      }

      void pocket.write([{ ...pocket.stamp(), kind: "reading", id: pocket.newKey(), ...placeOf(where.chosen()), ...(t === undefined ? {} : { temperatureC: t }), ...(h === undefined ? {} : { humidityPercent: h }) }],
        { words: `${where.chosen()?.name ?? "Climate"}: ${[t === undefined ? "" : `${t} °C`, h === undefined ? "" : `${h} %`].filter(part => part !== "").join(", ")}`, back: "climate" }).then(kept => kept && turning.go("round"));
    }, "big"), turn("Round", "round")],
  };
}

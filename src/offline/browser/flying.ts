import { placeOf, type Draft } from "../core/facts.js";
import { dryingWords } from "../core/round.js";
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
          void pocket.write(drafts, { words: `${lot.taxon}: ${unsexed + male + female} released${died > 0 ? `, ${died} died in the cage` : ""}`, back: `release/${lot.id}` }).then(kept => kept && turning.go("release"));
        }
      }, "big"),
      turn("Others", "release"),
    ],
  };
}

/** Species to tap, the commonest first, and any other by its name. Every tap is kept at once. */
function speciesTaps(pocket: Pocket, draftName: string, extra: () => Record<string, string>): { element: Ink; counts: Map<string, number>; restored: Promise<Record<string, string> | undefined> } {
  const counts = new Map<string, number>();
  const list = el("ul", { class: "taps" });
  const keep = (): void => void pocket.store.keepDraft(draftName, { ...extra(), counts: JSON.stringify([...counts]) });
  const show = (taxon: string, about: number | undefined): void => {
    const number = el("b", {}, counts.get(taxon) ?? 0);
    const set = (by: number): void => {
      counts.set(taxon, Math.max(0, (counts.get(taxon) ?? 0) + by));
      number.textContent = String(counts.get(taxon));
      keep();
    };
    list.append(el("li", { "data-taxon": taxon },
      el("button", { type: "button", class: "less", "aria-label": `${taxon}: one less`, onclick: () => set(-1) }, "−"),
      el("button", { type: "button", class: "tap", onclick: () => set(1) }, latin(taxon), about === undefined ? null : el("span", { class: "soft" }, ` about ${about} fly`), " ", number, el("span", { class: "unseen" }, " counted; one more"))));
  };
  pocket.day!.flying.forEach(flyer => show(flyer.taxon, flyer.about));
  const other = el("input", { id: "other", type: "text", list: "taxa", autocomplete: "off" });
  const add = (taxon: string): void => {
    if (taxon !== "" && !pocket.day!.flying.some(flyer => flyer.taxon === taxon) && list.querySelector(`[data-taxon="${CSS.escape(taxon)}"]`) === null) {
      show(taxon, undefined);
    }
  };
  const wrong = el("span", { class: "wrong", role: "status" });
  const restored = pocket.store.draft(draftName).then(kept => {
    for (const [taxon, count] of JSON.parse(kept?.["counts"] ?? "[]") as [string, number][]) {
      counts.set(taxon, count);
      add(taxon);
      const number = list.querySelector(`[data-taxon="${CSS.escape(taxon)}"] b`);
      if (number !== null) {
        number.textContent = String(count);
      }
    }

    return kept;
  });
  return {
    counts,
    restored,
    element: [
      list,
      el("p", { class: "field" }, el("label", { for: "other" }, "Another species"), other, el("datalist", { id: "taxa" }, pocket.day!.taxa.map(taxon => el("option", { value: taxon }))),
        button("Add", () => {
          const taxon = pocket.day!.taxa.find(known => known.toLowerCase() === other.value.trim().toLowerCase());
          wrong.textContent = taxon === undefined ? " Not a species of the table: choose one that is offered." : "";
          if (taxon !== undefined) {
            add(taxon);
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
      const drafts = [...taps.counts].filter(([, count]) => count > 0).map(([taxon, count]): Draft => ({ ...stamp, kind: "found-dead", id: pocket.newKey(), taxon, count, ...placeOf(where.chosen()) }));
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

export function walkScreen(pocket: Pocket, turning: Turning): Screen {
  const areas = pocket.day!.release.filter(place => !place.isCage);
  const where = placeChoice("area", "Area", areas);
  const path = el("input", { id: "path", type: "text", maxlength: 80, list: "paths", autocomplete: "off", value: pocket.day!.paths[0] ?? "The path" });
  const weather = el("input", { id: "weather", type: "text", maxlength: 120, autocomplete: "off", placeholder: "sun, lamps on" });
  let begun = Date.now();
  const began = el("b", {}, pocket.timeOf(begun));
  const taps = speciesTaps(pocket, "walk", () => ({ begun: String(begun), path: path.value, weather: weather.value }));
  void taps.restored.then(kept => {
    if (kept !== undefined) {
      begun = Number(kept["begun"]);
      began.textContent = pocket.timeOf(begun);
      [path.value, weather.value] = [kept["path"] ?? path.value, kept["weather"] ?? ""];
    }
  });
  const wrong = el("p", { class: "field wrong", role: "status" });
  return {
    title: "Walk",
    heading: "What flies along the path?",
    inside: [
      el("p", {}, "The same path at the same pace. Count what flies or sits within 2.5 m to either side and 5 m ahead, each animal once."),
      el("p", {}, "Began at ", began, ". ", button("Begin now", () => {
        begun = Date.now();
        began.textContent = pocket.timeOf(begun);
      }, "quiet")),
      el("p", { class: "field" }, el("label", { for: "path" }, "Path"), path, el("datalist", { id: "paths" }, pocket.day!.paths.map(known => el("option", { value: known })))),
      areas.length > 1 ? where.element : null,
      taps.element,
      el("p", { class: "field" }, el("label", { for: "weather" }, "Weather"), weather),
      wrong,
    ],
    thumb: [button("End the walk", () => {
      if (path.value.trim() === "") {
        wrong.textContent = "The path has no name yet.";
        return;
      }

      const counts = [...taps.counts].map(([taxon, count]) => ({ id: pocket.newKey(), taxon, count }));
      const minutes = Math.min(600, Math.max(1, Math.round((Date.now() - begun) / 60_000)));
      const sky = weather.value.trim();
      const walk: Draft = { ...pocket.stamp(), kind: "walk", id: pocket.newKey(), path: path.value.trim(), ...placeOf(where.chosen()), start: `${pocket.timeOf(begun)}:00`, minutes, ...(sky === "" ? {} : { weather: sky }), counts };
      void pocket.write([walk], { words: `Walk: ${counts.reduce((sum, count) => sum + count.count, 0)} seen in ${minutes} min`, back: "walk" }).then(kept => {
        if (kept) {
          void pocket.store.keepDraft("walk", null).then(() => turning.go("round"));
        }
      });
    }, "big"), turn("Round", "round")],
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

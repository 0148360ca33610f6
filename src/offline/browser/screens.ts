import { colouredUpNote, dryingWords, summaryOf, type LotToday } from "../core/round.js";
import { countWords, emergedOf, nothingCounted, takenOff, type Counts, type Place } from "../core/facts.js";
import { codeIn, codeTyped } from "../core/ids.js";
import { el, latin, Stepper, type Ink } from "./paper.js";
import type { Pocket } from "./pocket.js";

/** A screen: its heading and what stands under it. */
export interface Screen {
  readonly title: string;
  readonly heading: Ink;
  readonly above?: Ink;
  readonly inside: Ink;
  /** True where what it should show may still come with the next day that is fetched. */
  readonly lacking?: boolean;
  /** Buttons under the thumb. */
  readonly thumb?: readonly HTMLElement[];
}

/** What a screen may ask for. */
export interface Turning {
  /** Goes to another screen. */
  readonly go: (screen: string) => void;
  /** Goes on to the next lot after one was written down. */
  readonly onward: (screen: string) => void;
  /** Draws this one again. */
  readonly again: () => void;
}

/** Where a lot hangs. */
export function placeWords(item: LotToday): string {
  return `${item.lot.cage ?? "No cage written down"}${item.lot.row === undefined ? "" : `, row ${item.lot.row}`}`;
}

/** A big button. */
export function button(words: Ink, tap: () => void, kind = ""): HTMLButtonElement {
  return el("button", { type: "button", class: kind, onclick: tap }, words);
}

/** A link that looks and works like a button's equal. */
export function turn(words: string, screen: string, kind = "button quiet"): HTMLElement {
  return el("a", { class: kind, href: `#${screen}` }, words);
}

/** Places to choose from. */
export function placeChoice(id: string, label: string, places: readonly Place[]): { element: Ink; chosen: () => Place | undefined } {
  const choice = el("select", { id, name: id }, places.map(place => el("option", { value: place.id }, place.isCage && id === "to" ? `${place.name} (pairs)` : place.name)));
  return { element: places.length === 0 ? null : el("p", { class: "field" }, el("label", { for: id }, label), choice), chosen: () => places.find(place => place.id === choice.value) };
}

/** The cleaning steps where parasitoids came out. */
export function hygieneNotice(pocket: Pocket): HTMLElement {
  return el("section", { class: "notice trouble", role: "alert" }, el("h2", {}, "Parasitoids: do this now"), el("ol", {}, pocket.day!.hygiene.map(step => el("li", {}, step))));
}

export function roundScreen(pocket: Pocket, turning: Turning): Screen {
  const lots = pocket.lots();
  const hanging = lots.filter(item => !item.empty);
  const visited = hanging.filter(item => item.visited).length;
  const next = pocket.next(null);
  const cages = new Map<string, LotToday[]>();
  for (const item of lots) {
    const name = pocket.settings.urgentFirst && (item.lot.overdue || item.colouredUp) ? "Look at these first" : item.lot.cage ?? "No cage written down";
    cages.set(name, [...cages.get(name) ?? [], item]);
  }

  return {
    title: "Round",
    heading: hanging.length === 0 ? "Nothing hangs" : visited === hanging.length ? "The round is done" : `${visited} of ${hanging.length} lots looked at`,
    inside: [
      next === null ? null : el("p", {}, turn(`${visited === 0 ? "Begin" : "Go on"}: ${placeWords(next)}`, `lot/${next.lot.id}`, "button big")),
      el("p", { class: "pair" }, turn("Summary", "summary"), turn("Release", "release")),
      el("p", {}, el("label", { class: "tick" }, el("input", { type: "checkbox", id: "urgent", checked: pocket.settings.urgentFirst, onchange: (event: Event) => void pocket.choose({ urgentFirst: (event.target as HTMLInputElement).checked }).then(turning.again) }), " Overdue and coloured-up lots first")),
      [...cages].map(([cage, inCage]) => [
        el("h2", {}, cage),
        el("ul", { class: "lots" }, inCage.map(item => el("li", {}, el("a", { href: `#lot/${item.lot.id}` },
          el("span", { class: "lot-name" }, latin(item.lot.taxon, item.lot.form)),
          el("span", { class: "lot-count" }, `${item.now}`, el("span", { class: "unseen" }, " hanging")),
          el("span", { class: "soft" }, [cage === item.lot.cage ? item.lot.row === undefined ? null : `row ${item.lot.row}` : placeWords(item), lotMark(item)].filter(part => part !== null).join(", ")),
          el("span", { class: "lot-state" }, item.visited ? `✓ ${item.counted === null ? item.lot.countedToday ?? "" : countWords(item.counted)}` : pocket.skipped.has(item.lot.id) ? "skipped" : item.expected))))),
      ]),
      byLabel(lots, turning),
    ],
  };
}

/** Opens a lot by the code on its label, where a camera does not. */
function byLabel(lots: readonly LotToday[], turning: Turning): Ink {
  const wrong = el("p", { class: "field wrong", role: "status" });
  const code = el("input", { id: "code", type: "text", maxlength: 12, autocomplete: "off", autocapitalize: "characters", spellcheck: false });
  return lots.length === 0 ? null : el("form", { onsubmit: (event: Event) => {
    event.preventDefault();
    const found = lots.find(item => item.lot.code === codeTyped(code.value));
    if (found === undefined) {
      wrong.textContent = "This phone carries no lot with that code.";
    } else {
      turning.go(`lot/${found.lot.id}`);
    }
  } }, el("p", { class: "field" }, el("label", { for: "code" }, "Code on a label"), code), wrong, el("p", {}, el("button", { class: "quiet" }, "Open the lot")));
}

function lotMark(item: LotToday): string | null {
  return [item.lot.mark, item.colouredUp && item.lot.mark?.includes("coloured up") !== true ? "coloured up" : undefined].filter(mark => mark !== undefined).join(", ") || null;
}

export function lotScreen(pocket: Pocket, turning: Turning, lotId: string): Screen {
  const lots = pocket.lots();
  const item = lots.find(other => other.lot.id === lotId || other.lot.code === lotId);
  if (item === undefined) {
    const code = codeIn(`/pocket/${lotId}`);
    return code === null
      ? { title: "Lot", heading: "This lot no longer hangs", inside: el("p", {}, turn("All lots", "round")) }
      : { title: `Lot ${code}`, heading: `Lot ${code} is not on this phone`, lacking: true, inside: [
        el("p", {}, "Nothing of it hangs any more, or it came after this phone last had a connection."),
        el("p", {}, el("a", { href: `/round/${code}` }, "Its page in the book"), " (needs a connection)"), el("p", {}, turn("All lots", "round"))] };
  }

  const { lot } = item;
  const draftName = `lot/${lot.id}`;
  const usual = pocket.day!.release.find(place => !place.isCage);
  const goOn = (parasitised = 0): void => {
    void pocket.store.keepDraft(draftName, null);
    const next = pocket.next(lot.id);
    turning.onward(parasitised > 0 ? `hygiene/${lot.id}` : next === null ? "summary" : `lot/${next.lot.id}`);
  };

  let busy = false;
  const once = async (work: () => Promise<boolean>, parasitised = 0): Promise<void> => {
    if (!busy) {
      busy = true;
      if (await work()) {
        goOn(parasitised);
      }

      busy = false;
    }
  };

  const likely = item.likely;
  const asExpectedWords = likely > 0 ? `${likely} out, all fine, released` : "nothing new";
  const asExpected = button(`As expected: ${asExpectedWords}`, () => void once(() => pocket.count(lot, { ...nothingCounted, unsexed: likely }, "", likely > 0, usual, asExpectedWords)), "big");
  const nothingNew = button("None out", () => void once(() => pocket.count(lot, nothingCounted, "", false, undefined, countWords(nothingCounted))), "quiet");

  const hygiene = el("div", {});
  const total = el("p", { class: "field wrong", role: "status" });
  const typed = (): Record<string, string> => Object.fromEntries([...steppers.map(stepper => [stepper.name, stepper.input.value]), ["note", note.value], ["released", released.checked ? "yes" : ""], ["coloured", coloured.checked ? "yes" : ""]]);
  let begun = false;
  const changed = (): void => {
    begun = true;
    buttons();
    hygiene.replaceChildren(...value("parasitised") > 0 ? [hygieneNotice(pocket)] : []);
    const counts = counted();
    total.textContent = steppers.some(stepper => !stepper.isGood) ? "Whole numbers only." : takenOff(counts) > item.now ? `That is ${takenOff(counts)}, and ${item.now} hang. It can be written all the same, and is then shown as something that does not add up.` : "";
    void pocket.store.keepDraft(draftName, typed());
  };
  const steppers: Stepper[] = [
    new Stepper("unsexed", "Emerged", changed), new Stepper("crippled", "Crippled", changed), new Stepper("dead", "Dead", changed), new Stepper("parasitised", "Parasitised", changed),
    new Stepper("male", "Emerged, male", changed), new Stepper("female", "Emerged, female", changed), new Stepper("missing", "Missing", changed),
  ];
  const value = (name: string): number => steppers.find(stepper => stepper.name === name)!.value;
  const counted = (): Counts => ({ male: value("male"), female: value("female"), unsexed: value("unsexed"), crippled: value("crippled"), dead: value("dead"), parasitised: value("parasitised"), missing: value("missing") });
  const note = el("input", { id: "note", type: "text", maxlength: 500, autocomplete: "off", oninput: changed });
  const released = el("input", { type: "checkbox", id: "released", onchange: changed });
  const coloured = el("input", { type: "checkbox", id: "coloured", onchange: changed });
  const to = placeChoice("to", "Let go into", pocket.day!.release);
  const sexes = el("details", {}, el("summary", {}, "Sexes, missing"), el("p", { class: "soft" }, "Males and females beside those not told."), steppers.slice(4).map(stepper => stepper.element));
  const photo = photoField(pocket, lot.id, `lot/${lot.id}`);

  void pocket.store.draft(draftName).then(kept => {
    if (kept !== undefined && !begun && note.isConnected) {
      steppers.forEach(stepper => stepper.input.value = kept[stepper.name] ?? "0");
      [note.value, released.checked, coloured.checked] = [kept["note"] ?? "", kept["released"] === "yes", kept["coloured"] === "yes"];
      sexes.open = value("male") + value("female") + value("missing") > 0;
      changed();
    }
  });

  const write = button("Write it down", () => {
    const counts = counted();
    if (steppers.some(stepper => !stepper.isGood)) {
      total.textContent = "Whole numbers only.";
      return;
    }

    const words = [coloured.checked ? colouredUpNote : "", note.value.trim()].filter(part => part !== "").join("; ");
    const letGo = released.checked && emergedOf(counts) > 0;
    void once(() => pocket.count(lot, counts, words, letGo, to.chosen(), `${countWords(counts)}${letGo ? ", released" : ""}`), counts.parasitised);
  }, "big");

  // One big button under the thumb: as expected, until something is typed that is not.
  const buttons = (): void => {
    const simple = !begun && item.now > 0 && !item.visited;
    asExpected.hidden = !simple;
    nothingNew.hidden = !simple || likely === 0;
    write.hidden = simple;
  };
  buttons();

  const at = lots.indexOf(item);
  return {
    title: `${lot.taxon}, ${placeWords(item)}`,
    above: el("p", { class: "place" }, placeWords(item), " ", turn(`lot ${at + 1} of ${lots.length}`, "round", "all")),
    heading: [latin(lot.taxon, lot.form), item.yesterday === 0 && item.now > 0 ? `: ${item.now} hung today` : `: ${item.yesterday} there yesterday`],
    inside: [
      el("p", { class: "lead" }, item.now > 0 ? `Expected: ${item.expected}.` : "Nothing hangs any more.", lotMark(item) === null ? null : el("span", { class: "mark" }, ` ${lotMark(item)}`)),
      item.visited ? el("section", { class: "notice" }, el("p", {}, `Counted today${item.counted === null ? " by another" : ""}: ${item.counted === null ? item.lot.countedToday : countWords(item.counted)}. What you add now counts besides it.`),
        item.entryId === null ? null : button("Take that back", () => void pocket.takeBack([item.entryId!], { taxon: lot.taxon, words: "taken back" }).then(turning.again), "quiet")) : null,
      el("section", { class: "steppers", "aria-label": "Count" }, steppers.slice(0, 4).map(stepper => stepper.element)),
      hygiene,
      sexes,
      total,
      el("p", {}, el("label", { class: "tick" }, released, " Those out are let go now")),
      pocket.day!.release.length > 1 ? to.element : null,
      el("p", { class: "soft" }, dryingWords(lot, pocket.timeOf(Date.now()))),
      el("p", {}, el("label", { class: "tick" }, coloured, " Some have coloured up")),
      el("p", { class: "field" }, el("label", { for: "note" }, "Note"), note),
      photo,
      hungElsewhere(pocket, turning, item),
      item.toRelease > 0 ? el("p", {}, turn(`${item.toRelease} wait to be let go`, `release/${lot.id}`)) : null,
      el("p", { class: "soft code" }, lot.code),
    ],
    thumb: [
      asExpected,
      write,
      nothingNew,
      button("Skip", () => void pocket.skip(lot).then(() => goOn()), "quiet"),
    ],
  };
}

/** Where the lot hangs now, if not where it did. */
function hungElsewhere(pocket: Pocket, turning: Turning, item: LotToday): Ink {
  const cages = pocket.day!.cages ?? [];
  if (cages.length === 0) {
    return null;
  }

  const cage = el("select", { id: "hang-cage" }, cages.map(place => el("option", { value: place.id, selected: place.name === item.lot.cage }, place.name)));
  const row = el("input", { id: "hang-row", type: "text", maxlength: 20, autocomplete: "off", class: "few", value: item.lot.row ?? "" });
  const place = el("input", { id: "hang-place", type: "text", inputmode: "numeric", maxlength: 4, autocomplete: "off", class: "few" });
  const wrong = el("p", { class: "field wrong", role: "status" });
  return el("details", {}, el("summary", {}, "Hung elsewhere"),
    el("p", { class: "field" }, el("label", { for: "hang-cage" }, "Cage"), cage),
    el("p", { class: "field" }, el("label", { for: "hang-row" }, "Row"), row),
    el("p", { class: "field" }, el("label", { for: "hang-place" }, "Place of the first in the row"), place),
    wrong,
    button("It hangs there now", () => {
      const first = place.value.trim();
      if (first !== "" && (!/^[1-9]\d{0,2}$/.test(first) || row.value.trim() === "")) {
        wrong.textContent = "A place from 1 to 999, and its row.";
        return;
      }

      void pocket.hang(item.lot, cages.find(one => one.id === cage.value)!, row.value.trim(), first === "" ? undefined : Number(first)).then(kept => kept && turning.again());
    }, "quiet"));
}

/** A photo of something, made smaller and kept on the phone until it is sent. */
export function photoField(pocket: Pocket, aboutId: string, back: string, before: () => Promise<void> = () => Promise.resolve()): HTMLElement {
  const said = el("span", { role: "status" });
  const file = el("input", {
    type: "file", id: "photo", accept: "image/*", capture: "environment", onchange: () => {
      const chosen = file.files?.[0];
      if (chosen !== undefined) {
        said.textContent = " Keeping it…";
        void before().then(() => keepPhoto(pocket, chosen, aboutId, back)).then(kept => said.textContent = kept ? " Kept on this phone." : " Not kept: no picture, or no room.");
      }
    },
  });
  return el("p", { class: "field" }, el("label", { for: "photo" }, "Photo"), file, said);
}

async function keepPhoto(pocket: Pocket, chosen: File, aboutId: string, back: string): Promise<boolean> {
  try {
    const picture = await createImageBitmap(chosen);
    const scale = Math.min(1, 1600 / Math.max(picture.width, picture.height));
    const canvas = el("canvas", { width: Math.round(picture.width * scale), height: Math.round(picture.height * scale) });
    canvas.getContext("2d")!.drawImage(picture, 0, 0, canvas.width, canvas.height);
    const bytes = await new Promise<Blob | null>(done => canvas.toBlob(done, "image/jpeg", 0.8));
    const room = await navigator.storage?.estimate?.();
    if (bytes === null || (room?.quota !== undefined && room.usage !== undefined && room.quota - room.usage < 20_000_000)) {
      return false; // counts need the room
    }

    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await bytes.arrayBuffer()));
    const id = pocket.newKey();
    const sha256 = [...digest].map(byte => byte.toString(16).padStart(2, "0")).join("");
    return await pocket.write([{ ...pocket.stamp(), kind: "photo", id, aboutId, mediaType: "image/jpeg", sha256 }], { words: "A photo", back }, { id, bytes });
  } catch {
    return false;
  }
}

export function hygieneScreen(pocket: Pocket, lotId: string): Screen {
  const next = pocket.next(lotId);
  return {
    title: "Parasitoids",
    heading: "Parasitoids came out",
    inside: [hygieneNotice(pocket), el("p", { class: "soft" }, "Common practice; whatever your licence says goes before it.")],
    thumb: [turn(next === null ? "Done: to the summary" : "Done: next lot", next === null ? "summary" : `lot/${next.lot.id}`, "button big")],
  };
}

export function summaryScreen(pocket: Pocket): Screen {
  const lots = pocket.lots();
  const hanging = lots.filter(item => !item.empty);
  const missed = hanging.filter(item => !item.visited);
  const found = summaryOf(pocket.day!, pocket.rows, pocket.today);
  const waiting = lots.filter(item => item.toRelease > 0);
  return {
    title: "Summary",
    heading: hanging.length === 0 ? "Nothing hangs" : missed.length === 0 ? "The round is done" : `${hanging.length - missed.length} of ${hanging.length} lots were looked at`,
    inside: [
      found.length === 0 ? el("p", {}, "This phone has counted nothing new today.") : el("ul", { class: "found" }, found.map(row => el("li", {}, latin(row.taxon), `: ${countWords(row.counts)}${row.released > 0 ? `, ${row.released} released` : ""}`))),
      found.some(row => row.counts.parasitised > 0) ? hygieneNotice(pocket) : null,
      missed.length === 0 ? null : [el("h2", {}, "Not visited"), el("ul", { class: "lots" }, missed.map(item => el("li", {}, el("a", { href: `#lot/${item.lot.id}` }, el("span", { class: "lot-name" }, latin(item.lot.taxon)), el("span", { class: "lot-count" }, `${item.now}`, el("span", { class: "unseen" }, " hanging")), el("span", { class: "soft" }, placeWords(item)), el("span", { class: "lot-state" }, pocket.skipped.has(item.lot.id) ? "skipped" : "")))))],
      waiting.length === 0 ? null : el("p", {}, turn(`${waiting.reduce((sum, item) => sum + item.toRelease, 0)} wait to be let go`, "release")),
      pocket.day!.discrepancies === 0 ? null : el("p", { class: "notice" }, el("a", { href: "/round/discrepancies" }, pocket.day!.discrepancies === 1 ? "One thing does not add up" : `${pocket.day!.discrepancies} things do not add up`), ". They are settled there, with a connection."),
    ],
    thumb: [turn("All lots", "round")],
  };
}

export function settingsScreen(pocket: Pocket, turning: Turning): Screen {
  const choice = <K extends "thumb" | "light">(key: K, label: string, values: readonly (readonly [Pocket["settings"][K], string])[]): Ink => el("fieldset", {}, el("legend", {}, label), values.map(([is, words]) =>
    el("label", { class: "tick" }, el("input", { type: "radio", name: key, value: is, checked: pocket.settings[key] === is, onchange: () => void pocket.choose({ [key]: is }).then(turning.again) }), ` ${words}`)));
  const who = el("input", { id: "who", type: "text", maxlength: 80, autocomplete: "name", value: pocket.who, onchange: () => void pocket.choose({ who: who.value.trim() }) });
  return {
    title: "This phone",
    heading: "This phone",
    inside: [
      el("p", { class: "field" }, el("label", { for: "who" }, "Who counts"), who),
      choice("thumb", "Thumb", [["right", "right"], ["left", "left"]]),
      choice("light", "Light", [["auto", "as the phone"], ["bright", "bright: sun, glare"], ["dark", "dark: night round"]]),
      el("p", { class: "soft" }, "To open without a signal: “Add to home screen” or “Install” in the browser's menu."),
      el("p", {}, turn("Outbox", "outbox")),
      el("p", {}, el("a", { href: "/" }, "The whole book"), " (needs a connection)"),
    ],
  };
}

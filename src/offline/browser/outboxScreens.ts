import { factWords, mendable, mended, type Draft } from "../core/facts.js";
import { problemWords } from "../core/outbox.js";
import { el, latin, type Ink } from "./paper.js";
import type { Pocket } from "./pocket.js";
import { button, turn, type Screen, type Turning } from "./screens.js";

export function outboxScreen(pocket: Pocket, turning: Turning): Screen {
  const words = inkOf(pocket);
  const line = (rows: readonly { at: number; fact: Draft }[]): Ink => el("ul", { class: "rows" }, rows.map(row => el("li", {}, `${row.fact.onDay === pocket.today ? "" : `${row.fact.onDay.slice(5)} `}${pocket.timeOf(row.at)} `, words(row.fact))));
  const sent = pocket.rows.filter(row => row.state === "sent");
  const conflicts = sent.filter(row => row.conflict === true).length;
  const { refused, photosRefused, thrownAway, waiting } = pocket;
  return {
    title: "Outbox",
    heading: pocket.line,
    inside: [
      pocket.troubleLine === null ? null : el("p", { class: "notice" }, pocket.troubleLine, pocket.trouble === "sign in" ? [" ", el("a", { href: "/" }, "Open the book")] : null),
      pocket.clockLine === null ? null : el("p", { class: "notice" }, pocket.clockLine),
      refused.length + photosRefused.length === 0 ? null : [
        el("h2", {}, "To mend"),
        el("p", { class: "soft" }, "The book does not take these as they are. They are not sent again until you mend them."),
        el("ul", { class: "rows" },
          refused.map(row => el("li", {}, el("p", {}, words(row.fact), el("span", { class: "wrong" }, ` ${problemWords(row.problems ?? [])}`)), turn("Mend or throw away", `mend/${row.sequence}`))),
          photosRefused.map(photo => el("li", {}, el("p", {}, "A photo", el("span", { class: "wrong" }, ` ${problemWords(photo.problems ?? [])}`)), el("p", { class: "pair" }, button("Send it again", () => void pocket.sendPhotoAgain(photo), "quiet"), twice("Throw the photo away", photo.id, () => void pocket.throwPhotoAway(photo)))))),
      ],
      waiting.length + pocket.photosWaiting === 0 ? null : el("h2", {}, "Waiting"),
      waiting.length === 0 ? null : [line(waiting.slice(-50).reverse()), waiting.length > 50 ? el("p", { class: "soft" }, `and ${waiting.length - 50} older`) : null],
      pocket.photosWaiting === 0 ? null : el("p", {}, pocket.photosWaiting === 1 ? "A photo's picture" : `${pocket.photosWaiting} photos' pictures`),
      conflicts === 0 ? null : el("p", { class: "notice" }, el("a", { href: "/round/discrepancies" }, `${conflicts} kept twice`), ": the book has another row under the same key."),
      sent.length === 0 ? null : [el("h2", {}, "Sent"), line(sent.slice(-10).reverse()), sent.length > 10 ? el("p", { class: "soft" }, `and ${sent.length - 10} older. Kept here for 14 days.`) : null],
      thrownAway.length === 0 ? null : [el("h2", {}, "Thrown away"), el("ul", { class: "rows" }, thrownAway.map(row => el("li", {}, words(row.fact), " ", button("Put back", () => void pocket.putBack(row).then(turning.again), "quiet"))))],
      el("p", {}, button("Save all rows as a file", () => saveAsFile(pocket), "quiet")),
      el("h2", {}, "How safe is it here?"),
      el("p", {}, pocket.persisted === true ? "This browser has promised to keep what is written until it is sent." : "This browser has not promised to keep it: when the phone runs out of room, or when the page is not opened for a week (on iPhones), it may wipe what is not sent. Put the page on the home screen, and open it with a connection once a day."),
    ],
    thumb: [button("Send now", () => pocket.sendSoon(true), "big"), turn("Round", "round")],
  };
}

/** Says a fact in words, its species as a name. */
function inkOf(pocket: Pocket): (fact: Draft) => Ink {
  const lots = new Map(pocket.day?.lots.map(lot => [lot.id, lot]) ?? []);
  return fact => {
    const said = factWords(fact, lots);
    return said.taxon === null ? said.words : [latin(said.taxon), `: ${said.words}`];
  };
}

/** What was asked about once, so that a list that is drawn anew remembers. */
const askedAbout = new Set<string>();

/** A button that asks once more before it does what cannot be undone. */
function twice(words: string, about: string, act: () => void): HTMLButtonElement {
  const again = `${words}: tap again`;
  const it = button(askedAbout.has(about) ? again : words, () => {
    if (askedAbout.has(about)) {
      act();
    }

    askedAbout.add(about);
    it.textContent = again;
  }, "quiet");
  return it;
}

/** A refused row: why, and its numbers and day to be put right. */
export function mendScreen(pocket: Pocket, turning: Turning, sequence: string): Screen {
  const row = pocket.refused.find(one => one.sequence === Number(sequence));
  if (row === undefined) {
    return { title: "Mend", heading: "Nothing to mend here", inside: el("p", {}, turn("Outbox", "outbox")) };
  }

  const words = inkOf(pocket);
  const day = el("input", { id: "mend-day", type: "date", max: pocket.today, value: row.fact.onDay });
  const fields = mendable(row.fact).map((field, at) => ({ ...field, input: el("input", { id: `mend-${at}`, type: "text", inputmode: "decimal", autocomplete: "off", class: "few", value: field.is ?? "" }) }));
  const wrong = el("p", { class: "field wrong", role: "status" });
  return {
    title: "Mend",
    heading: ["To mend: ", words(row.fact)],
    inside: [
      el("p", { class: "notice trouble" }, problemWords(row.problems ?? [])),
      el("p", { class: "field" }, el("label", { for: "mend-day" }, "Day"), day),
      fields.map((field, at) => el("p", { class: "field" }, el("label", { for: `mend-${at}` }, field.label), field.input)),
      wrong,
    ],
    thumb: [
      button("Send it so", () => {
        const numbers = new Map(fields.map(field => [field.member, field.input.value.trim() === "" ? undefined : Number(field.input.value.trim().replace(",", "."))]));
        if (day.value === "" || [...numbers.values()].some(number => Number.isNaN(number))) {
          wrong.textContent = "A day, and numbers only.";
          return;
        }

        void pocket.mend(row, mended(row.fact, day.value, numbers)).then(() => turning.go("outbox"));
      }, "big"),
      button("Throw away", () => void pocket.throwAway(row).then(() => turning.go("outbox")), "quiet"),
    ],
  };
}

function saveAsFile(pocket: Pocket): void {
  const text = JSON.stringify({ format: 1, facts: pocket.rows.filter(row => row.state !== "thrown away").map(row => row.fact) }, null, 1);
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  el("a", { href: address, download: `pocket-${pocket.today}.json` }).click();
  window.setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

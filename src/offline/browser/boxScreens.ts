import { badWords, boxOf, freshLine, inAll, notReady, nothingInLayer, type Box, type BoxLine, type LayerCounts } from "../core/box.js";
import { dayWords } from "../core/clock.js";
import { standing } from "../core/round.js";
import { el, latin, Stepper, type Ink } from "./paper.js";
import type { Pocket } from "./pocket.js";
import { button, photoField, turn, type Screen, type Turning } from "./screens.js";

/** Which box came? */
export function boxesScreen(pocket: Pocket): Screen {
  const day = pocket.day!;
  const taken = new Set(standing(pocket.rows).filter(row => row.fact.kind === "delivery").map(row => row.fact.orderId));
  const due = (day.boxes ?? []).filter(box => !taken.has(box.orderId) || pocket.boxes.some(begun => begun.key === box.orderId));
  const line = (key: string, supplier: string, words: string): Ink => el("li", {}, el("a", { href: `#box/${key}` },
    el("span", { class: "lot-name" }, supplier), el("span", { class: "lot-count" }, pocket.boxes.some(box => box.key === key) ? "begun" : ""), el("span", { class: "soft" }, words)));
  return {
    title: "A box",
    heading: due.length === 0 ? "No box is on its way" : due.length === 1 ? "One box is on its way" : `${due.length} boxes are on their way`,
    inside: [
      (day.cautions ?? []).map(caution => el("p", { class: "notice" }, caution)),
      el("ul", { class: "lots" }, due.map(box => line(box.orderId, box.supplier, `${box.lines.length} lines, ${box.lines.reduce((sum, one) => sum + one.pupae, 0)} pupae${box.arrivesOn === undefined ? "" : `, due ${dayWords(box.arrivesOn)}`}`))),
      el("h2", {}, "Nobody ordered it"),
      el("ul", { class: "lots" }, (day.suppliers ?? []).map(supplier => line(supplier.id, supplier.name, "a box without an order"))),
    ],
    thumb: [turn("Round", "round")],
  };
}

function begunBox(pocket: Pocket, key: string): Box | null {
  const there = pocket.boxes.find(box => box.key === key);
  if (there !== undefined) {
    return there;
  }

  const due = pocket.day!.boxes?.find(box => box.orderId === key);
  const supplier = pocket.day!.suppliers?.find(one => one.id === key);
  return due !== undefined ? boxOf(due, pocket.newKey())
    : supplier !== undefined ? { id: pocket.newKey(), key, supplierId: supplier.id, supplier: supplier.name, mark: "", condition: "", packing: "", lines: [] }
    : null;
}

function noBox(): Screen {
  return { title: "A box", heading: "This box is not on its way any more", inside: el("p", {}, turn("Boxes", "box")) };
}

function nameOf(line: BoxLine): Ink {
  return line.taxon === null ? line.text ?? "A species" : latin(line.taxon, line.form);
}

/** One box: its lines, and what is said of all of it. */
export function boxScreen(pocket: Pocket, turning: Turning, key: string): Screen {
  const opened = begunBox(pocket, key);
  if (opened === null) {
    return noBox();
  }

  let box = opened;
  const keep = (changed: Partial<Box>): Promise<void> => pocket.keepBox(box = { ...box, ...changed });
  const text = (id: string, label: string, value: string, most: number, changed: (value: string) => Partial<Box>): Ink => {
    const input = el("input", { id, type: "text", maxlength: most, autocomplete: "off", value, oninput: () => void keep(changed(input.value)) });
    return el("p", { class: "field" }, el("label", { for: id }, label), input);
  };
  const other = el("input", { id: "other", type: "text", list: "taxa", autocomplete: "off" });
  const wrong = el("p", { class: "field wrong", role: "status" });
  const add = (): void => {
    const taxon = pocket.day!.taxa.find(known => known.toLowerCase() === other.value.trim().toLowerCase());
    if (taxon === undefined) {
      wrong.textContent = "Not a species of the table: choose one that is offered.";
      return;
    }

    void keep({ lines: [...box.lines, freshLine(taxon)] }).then(() => turning.go(`box/${key}/${box.lines.length - 1}`));
  };
  const packing = el("select", { id: "packing", onchange: () => void keep({ packing: packing.value as Box["packing"] }) },
    (["", "Kept", "Sealed", "Destroyed"] as const).map(state => el("option", { value: state, selected: state === box.packing }, state === "" ? "nothing yet" : state.toLowerCase())));
  const next = box.lines.findIndex(line => !line.counted);
  const alive = box.lines.reduce((sum, line) => sum + inAll(line).alive, 0);
  const takeIn = button(`Take it in: ${alive} hung`, () => {
    const missing = notReady(box);
    wrong.textContent = missing ?? "";
    if (missing === null) {
      takeIn.disabled = true;
      void pocket.takeIn(box).then(kept => {
        takeIn.disabled = false;
        if (kept) {
          turning.go("round");
        }
      });
    }
  }, next < 0 ? "big" : "quiet");
  return {
    title: "A box",
    above: el("p", { class: "place" }, box.supplier, " ", turn("all boxes", "box", "all")),
    heading: box.lines.length === 0 ? "What is in it?" : `${box.lines.filter(line => line.counted).length} of ${box.lines.length} lines counted`,
    inside: [
      el("ul", { class: "lots" }, box.lines.map((line, at) => {
        const counts = inAll(line);
        const bad = badWords(counts);
        return el("li", {}, el("a", { href: `#box/${key}/${at}` }, el("span", { class: "lot-name" }, nameOf(line)), el("span", { class: "lot-count" }, line.counted ? `${counts.alive}` : ""),
          el("span", { class: "soft" }, line.ordered === undefined ? "not ordered" : `${line.ordered} ordered`), el("span", { class: "lot-state" }, line.counted ? `✓ ${counts.alive} alive${bad === "" ? "" : `, ${bad}`}` : "not counted")));
      })),
      el("p", { class: "field" }, el("label", { for: "other" }, "Another species in it"), other, el("datalist", { id: "taxa" }, pocket.day!.taxa.map(taxon => el("option", { value: taxon }))), button("Add", add, "quiet")),
      text("mark", "Mark on the box", box.mark, 80, mark => ({ mark })),
      text("condition", "State of the box", box.condition, 200, condition => ({ condition })),
      el("p", { class: "field" }, el("label", { for: "packing" }, "Packing"), packing),
      photoField(pocket, box.id, `box/${key}`, () => keep({})),
      wrong,
    ],
    thumb: [...next < 0 ? [] : [turn("Next line", `box/${key}/${next}`, "button big")], takeIn],
  };
}

const layerLabels: readonly (readonly [keyof LayerCounts, string])[] = [
  ["alive", "Alive"], ["dead", "Dead"], ["damaged", "Damaged"], ["emerged", "Emerged in the box"], ["wrongSpecies", "Another species"], ["colouredUp", "Of the living, coloured up"],
];

/** One line of a box, layer by layer where there are some. */
export function boxLineScreen(pocket: Pocket, turning: Turning, key: string, at: number): Screen {
  const box = begunBox(pocket, key);
  const opened = box?.lines[at];
  if (box === null || opened === undefined) {
    return noBox();
  }

  let line = opened;
  let layer = line.layers.length - 1;
  const keep = (changed: Partial<BoxLine>): Promise<void> => {
    line = { ...line, ...changed };
    const now = pocket.boxes.find(other => other.key === key) ?? box;
    return pocket.keepBox({ ...now, lines: now.lines.map((other, number) => number === at ? line : other) });
  };
  const wrong = el("p", { class: "field wrong", role: "status" });
  const heading = el("p", { class: "lead", role: "status" });
  const changed = (): void => {
    const typed = Object.fromEntries(layerLabels.map(([name], number) => [name, steppers[number]!.value])) as unknown as LayerCounts;
    void keep({ layers: line.layers.map((other, number) => number === layer ? typed : other), noted: noted.input.value.trim() === "" ? null : noted.value });
    show();
  };
  const steppers = layerLabels.map(([name, label]) => new Stepper(name, label, changed));
  const noted = new Stepper("noted", "On the note", changed, line.noted ?? 0);
  const input = (id: string, label: string, value: string, most: number, put: (value: string) => Partial<BoxLine>, list?: string): Ink => {
    const field = el("input", { id, type: "text", maxlength: most, autocomplete: "off", value, list: list ?? null, oninput: () => void keep(put(field.value.trim())) });
    return el("p", { class: "field" }, el("label", { for: id }, label), field);
  };
  const cage = el("select", { id: "cage", onchange: () => void keepCage() }, el("option", { value: "" }, "no cage yet"), (pocket.day!.cages ?? []).map(place => el("option", { value: place.id, selected: place.id === line.cageId }, place.name)));
  const keepCage = (): Promise<void> => {
    const { cageId: _before, ...rest } = line;
    line = rest;
    return keep(cage.value === "" ? {} : { cageId: cage.value });
  };
  const onward = (finished: Partial<BoxLine>): void => {
    const bad = steppers.some(stepper => !stepper.isGood) || !noted.isGood ? "Whole numbers only."
      : inAll({ ...line, ...finished }).colouredUp > inAll({ ...line, ...finished }).alive ? "More coloured up than are alive: those are counted among the living."
      : line.place !== null && line.row === "" ? "A place, and no row."
      : null;
    wrong.textContent = bad ?? "";
    if (bad === null) {
      void keep({ ...finished, counted: true }).then(() => {
        const lines = pocket.boxes.find(other => other.key === key)!.lines;
        const next = [...lines.keys()].find(number => number > at && !lines[number]!.counted) ?? lines.findIndex(other => !other.counted);
        turning.onward(next < 0 ? `box/${key}` : `box/${key}/${next}`);
      });
    }
  };
  const came = line.noted ?? line.ordered ?? 0;
  const asNoted = button(`As noted: ${came} alive`, () => onward({ layers: [{ ...nothingInLayer, alive: came }] }), "big");
  const counted = button("Counted", () => onward({}), "big");
  const below = button("Next layer", () => {
    layer = line.layers.length;
    void keep({ layers: [...line.layers, nothingInLayer] });
    fill();
  }, "quiet");
  const show = (): void => {
    const sum = inAll(line);
    const simple = came > 0 && !line.counted && line.layers.length === 1 && sum.alive + sum.dead + sum.damaged + sum.emerged + sum.wrongSpecies === 0;
    asNoted.hidden = !simple;
    counted.className = simple ? "quiet" : "big";
    const all = badWords(sum);
    heading.textContent = line.layers.length === 1 ? "" : `Layer ${layer + 1}, from the top; in all ${sum.alive} alive${all === "" ? "" : `, ${all}`}`;
  };
  const fill = (): void => {
    layerLabels.forEach(([name], number) => steppers[number]!.value = line.layers[layer]![name]);
    show();
  };
  fill();
  return {
    title: "A line of the box",
    above: el("p", { class: "place" }, box.supplier, " ", turn(`line ${at + 1} of ${box.lines.length}`, `box/${key}`, "all")),
    heading: [nameOf(line), line.ordered === undefined ? "" : `: ${line.ordered} ordered`],
    inside: [
      line.orderLineId !== undefined && opened.text !== undefined && opened.taxon === null ? input("species", "Which species", "", 120, name => {
        const taxon = pocket.day!.taxa.find(known => known.toLowerCase() === name.toLowerCase());
        return taxon === undefined ? {} : { taxon };
      }, "taxa") : null,
      heading,
      el("section", { class: "steppers", "aria-label": "Count" }, steppers.map(stepper => stepper.element)),
      wrong,
      noted.element,
      el("p", { class: "field" }, el("label", { for: "cage" }, "Hung in"), cage),
      input("row", "Row", line.row, 20, row => ({ row })),
      input("place", "Place of the first in the row", line.place === null ? "" : String(line.place), 4, place => ({ place: /^[1-9]\d{0,2}$/.test(place) ? Number(place) : null })),
      line.orderLineId === undefined ? input("instead", "Sent in place of", line.insteadOf, 120, name => ({ insteadOf: pocket.day!.taxa.find(known => known.toLowerCase() === name.toLowerCase()) ?? "" }), "taxa") : null,
      input("remark", "Remark", line.remark, 200, remark => ({ remark })),
      el("datalist", { id: "taxa" }, pocket.day!.taxa.map(taxon => el("option", { value: taxon }))),
    ],
    thumb: [asNoted, counted, below],
  };
}

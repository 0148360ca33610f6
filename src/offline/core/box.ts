import type { Draft, LotDraft, Stamp } from "./facts.js";

/** What one layer of a box held of one line; a box counted as one has one layer. */
export interface LayerCounts {
  readonly alive: number;
  readonly dead: number;
  readonly damaged: number;
  readonly emerged: number;
  readonly wrongSpecies: number;
  /** Of the living. */
  readonly colouredUp: number;
}

/** A line of a box while it is counted. */
export interface BoxLine {
  readonly taxon: string | null;
  readonly form?: string;
  readonly orderLineId?: string;
  /** What the order says, where it names no species. */
  readonly text?: string;
  readonly ordered?: number;
  readonly unitLanded?: number;
  readonly noted: number | null;
  /** The top one first. */
  readonly layers: readonly LayerCounts[];
  readonly counted: boolean;
  readonly cageId?: string;
  readonly row: string;
  readonly place: number | null;
  readonly insteadOf: string;
  readonly remark: string;
}

/** A box while it is counted. It is kept on the phone at every tap. */
export interface Box {
  /** Key of the delivery to be. */
  readonly id: string;
  /** The order that it answers, else its supplier: one box of each is counted at a time. */
  readonly key: string;
  readonly supplierId: string;
  readonly supplier: string;
  readonly orderId?: string;
  readonly mark: string;
  readonly condition: string;
  readonly packing: "" | "Kept" | "Sealed" | "Destroyed";
  readonly lines: readonly BoxLine[];
}

/** A box that is on its way, as the server gives it along. */
export interface DueBox {
  readonly orderId: string;
  readonly supplierId: string;
  readonly supplier: string;
  readonly arrivesOn?: string;
  readonly lines: readonly { readonly id: string; readonly taxon?: string; readonly form?: string; readonly text: string; readonly pupae: number; readonly unitLanded?: number }[];
}

export const nothingInLayer: LayerCounts = { alive: 0, dead: 0, damaged: 0, emerged: 0, wrongSpecies: 0, colouredUp: 0 };

/** A line before anything of it is counted. */
export function freshLine(taxon: string | null): BoxLine {
  return { taxon, noted: null, layers: [nothingInLayer], counted: false, row: "", place: null, insteadOf: "", remark: "" };
}

/** A box that answers an order, before anything of it is counted. */
export function boxOf(due: DueBox, id: string): Box {
  return {
    id, key: due.orderId, orderId: due.orderId, supplierId: due.supplierId, supplier: due.supplier, mark: "", condition: "", packing: "",
    lines: due.lines.map(line => ({
      ...freshLine(line.taxon ?? null), orderLineId: line.id, text: line.text, ordered: line.pupae, noted: line.pupae,
      ...(line.form === undefined ? {} : { form: line.form }), ...(line.unitLanded === undefined ? {} : { unitLanded: line.unitLanded }),
    })),
  };
}

/** The layers of a line together. */
export function inAll(line: BoxLine): LayerCounts {
  return line.layers.reduce((sum, layer) => ({
    alive: sum.alive + layer.alive, dead: sum.dead + layer.dead, damaged: sum.damaged + layer.damaged, emerged: sum.emerged + layer.emerged,
    wrongSpecies: sum.wrongSpecies + layer.wrongSpecies, colouredUp: sum.colouredUp + layer.colouredUp,
  }), nothingInLayer);
}

/** What was not well, in words: `2 dead, 1 damaged`; empty where nothing was. */
export function badWords(counts: LayerCounts): string {
  const parts: readonly (readonly [number, string])[] = [[counts.dead, "dead"], [counts.damaged, "damaged"], [counts.emerged, "emerged in the box"], [counts.wrongSpecies, "of another species"]];
  return parts.filter(([count]) => count > 0).map(([count, words]) => `${count} ${words}`).join(", ");
}

/** What keeps a box from being written down, in a sentence; null where nothing does. */
export function notReady(box: Box): string | null {
  const open = box.lines.filter(line => !line.counted).length;
  return box.lines.length === 0 ? "Nothing was in it: add a species."
    : open > 0 ? `${open === 1 ? "One line is" : `${open} lines are`} not counted yet.`
    : box.lines.some(line => line.taxon === null) ? "A line has no species yet."
    : null;
}

/** The box as rows: the delivery with a lot for each line that is hung, and what becomes of the packing. */
export function boxDrafts(stamp: Stamp, box: Box, newKey: () => string): Draft[] {
  const lots: LotDraft[] = [];
  const lines = box.lines.map(line => {
    const id = newKey();
    const counts = inAll(line);
    const taxon = line.taxon!;
    const form = line.form === undefined ? {} : { form: line.form };
    if (counts.alive > 0) {
      lots.push({
        id: newKey(), houseId: stamp.houseId, deliveryLineId: id, supplierId: box.supplierId, taxon, ...form, hungOn: stamp.onDay, received: counts.alive,
        ...(line.cageId === undefined ? {} : { cageId: line.cageId }), ...(line.row === "" ? {} : { row: line.row, ...(line.place === null ? {} : { position: line.place }) }),
        ...(line.unitLanded === undefined ? {} : { unitLanded: line.unitLanded }),
      });
    }

    return {
      id, taxon, ...form, ...(line.orderLineId === undefined ? {} : { orderLineId: line.orderLineId, ordered: line.ordered }), ...(line.noted === null ? {} : { noted: line.noted }),
      ...counts, ...(line.insteadOf === "" ? {} : { substituteFor: line.insteadOf }), ...(line.remark === "" ? {} : { remark: line.remark }), layers: line.layers.length > 1 ? line.layers : [],
    };
  });
  const delivery: Draft = {
    ...stamp, kind: "delivery", id: box.id, supplierId: box.supplierId, ...(box.orderId === undefined ? {} : { orderId: box.orderId }),
    ...(box.mark.trim() === "" ? {} : { boxMark: box.mark.trim() }), ...(box.condition.trim() === "" ? {} : { condition: box.condition.trim() }), lines, lots,
  };
  return box.packing === "" ? [delivery] : [delivery, { ...stamp, kind: "packing-step", id: newKey(), deliveryId: box.id, state: box.packing }];
}

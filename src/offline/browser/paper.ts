/** What can stand in an element. */
export type Ink = Node | string | number | null | undefined | false | readonly Ink[];

/** Makes an element. Attributes that are null or false are left out; `on…` is a listener. */
export function el<K extends keyof HTMLElementTagNameMap>(name: K, attributes: Record<string, unknown> = {}, ...inside: Ink[]): HTMLElementTagNameMap[K] {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (typeof value === "function") {
      element.addEventListener(key.slice(2), value as EventListener);
    } else if (value !== null && value !== undefined && value !== false) {
      element.setAttribute(key, value === true ? "" : String(value));
    }
  }

  put(element, inside);
  return element;
}

/** Adds what stands in an element. */
export function put(element: Element, inside: Ink): void {
  if (inside === null || inside === undefined || inside === false) {
    return;
  }

  if (Array.isArray(inside)) {
    (inside as readonly Ink[]).forEach(part => put(element, part));
  } else {
    element.append(inside as Node | string);
  }
}

/** A scientific name, a form behind it upright. */
export function latin(taxon: string, form?: string): HTMLElement {
  return el("span", { class: "name" }, el("i", { lang: "la" }, taxon), form === undefined ? null : ` ${form}`);
}

/** A count with a big button on either side. Can be typed too. */
export class Stepper {
  readonly element: HTMLElement;
  readonly input: HTMLInputElement;

  constructor(readonly name: string, label: string, private readonly changed: () => void, start = 0) {
    this.input = el("input", { id: `n-${name}`, name, type: "text", inputmode: "numeric", pattern: "[0-9]*", autocomplete: "off", value: start, onfocus: () => this.input.select(), oninput: () => changed() });
    this.element = el("div", { class: "stepper", role: "group", "aria-label": label },
      el("label", { for: `n-${name}` }, label),
      el("button", { type: "button", class: "less", "aria-label": `${label}: one less`, onclick: () => this.step(-1) }, "−"),
      this.input,
      el("button", { type: "button", class: "more", "aria-label": `${label}: one more`, onclick: () => this.step(1) }, "+"));
  }

  /** At least 0; what cannot be read counts as nothing and is marked. */
  get value(): number {
    const text = this.input.value.trim();
    return /^\d{1,5}$/.test(text) ? Number(text) : 0;
  }

  set value(count: number) {
    this.input.value = String(count);
  }

  get isGood(): boolean {
    return /^\d{0,5}$/.test(this.input.value.trim());
  }

  private step(by: number): void {
    this.value = Math.max(0, this.value + by);
    this.changed();
  }
}

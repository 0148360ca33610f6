import { codeIn } from "../core/ids.js";
import { boxLineScreen, boxScreen, boxesScreen } from "./boxScreens.js";
import { climateScreen, deadScreen, releaseScreen, walkScreen } from "./flying.js";
import { el, latin, put } from "./paper.js";
import { Pocket } from "./pocket.js";
import { mendScreen, outboxScreen } from "./outboxScreens.js";
import { button, hygieneScreen, lotScreen, roundScreen, settingsScreen, summaryScreen, type Screen, type Turning } from "./screens.js";

const main = document.getElementById("page")!;
const foot = document.getElementById("thumb")!;
const line = document.getElementById("outbox-line")!;
const said = document.getElementById("said")!;
const newer = document.getElementById("newer")!;
const contents = document.getElementById("contents")!;

const turning: Turning = {
  onward: screen => {
    settle();
    turning.go(screen);
  },
  go: screen => {
    if (location.hash === `#${screen}`) {
      draw(true);
    } else {
      location.hash = screen;
    }
  },
  again: () => draw(false),
};

const pocket = new Pocket(tell);

/** True while a screen is drawn. */
let drawing = false;

/** What is said above the screen. */
let told: unknown = null;

/** True between a finger's coming down and its going up: what it is on must not be drawn anew, or the tap would be lost. */
let touched = false;
let tellLater = false;
let drawLater = false;
addEventListener("pointerdown", () => touched = true, true);
for (const end of ["pointerup", "pointercancel"]) {
  addEventListener(end, () => window.setTimeout(() => {
    touched = false;
    if (drawLater) {
      arrive();
    } else if (tellLater) {
      tell();
    }
  }, 50), true);
}

/** What stands outside the screen: it may change at any time and never takes away what is being typed. */
function tell(): void {
  if (touched && !drawing) {
    tellLater = true;
    return;
  }

  tellLater = false;
  line.textContent = pocket.line;
  document.getElementById("house")!.textContent = pocket.day?.house ?? "Pocket book";
  document.getElementById("today")!.textContent = pocket.day === null ? "" : pocket.todayWords;
  document.documentElement.dataset["thumb"] = pocket.settings.thumb;
  document.documentElement.dataset["light"] = pocket.settings.light;
  if (told !== (pocket.notKept ?? pocket.done)) {
    told = pocket.notKept ?? pocket.done;
    said.replaceChildren();
    if (pocket.notKept !== null) {
      said.append(el("p", { class: "notice trouble" }, pocket.notKept));
    } else if (pocket.done !== null) {
      const { rows, back, ...done } = pocket.done;
      said.append(el("p", { class: "kept" }, el("span", {}, done.taxon === undefined ? "" : [latin(done.taxon), ": "], `${done.words}. Kept on this phone.`),
        rows.length === 0 ? "" : button("Undo", () => void pocket.takeBack(rows, { ...done, words: `${done.words}: taken back` }).then(good => good && turning.go(back)), "quiet")));
    }
  }

  // A list of rows is read, not typed into: it may be drawn anew.
  if (name() === "outbox" || main.dataset["empty"] === "yes" || main.dataset["lacking"] === "yes" || (name() === "round" && !main.contains(document.activeElement))) {
    draw(false);
  }
}

/** The screen's own part of the address. The way past the menu has one too, and leads to no other screen. */
let at = location.hash;

function name(): string {
  const named = at.slice(1).split("/")[0] ?? "";
  return named === "" || named === "page" ? "round" : named;
}

function screen(): Screen {
  if (pocket.day === null) {
    return { title: "Pocket book", heading: "Fetching today's lots", inside: el("p", {}, pocket.troubleLine ?? "This needs a connection once. After that it opens without one.") };
  }

  const [, what, part] = at.slice(1).split("/");
  switch (name()) {
    case "box": return what === undefined ? boxesScreen(pocket) : part === undefined ? boxScreen(pocket, turning, what) : boxLineScreen(pocket, turning, what, Number(part));
    case "lot": return lotScreen(pocket, turning, what ?? "");
    case "hygiene": return hygieneScreen(pocket, what ?? "");
    case "summary": return summaryScreen(pocket);
    case "release": return releaseScreen(pocket, turning, what);
    case "dead": return deadScreen(pocket, turning);
    case "walk": return walkScreen(pocket, turning);
    case "climate": return climateScreen(pocket, turning);
    case "outbox": return outboxScreen(pocket, turning);
    case "mend": return mendScreen(pocket, turning, what ?? "");
    case "phone": return settingsScreen(pocket, turning);
    default: return roundScreen(pocket, turning);
  }
}

/**
 * How long the buttons under the thumb do nothing after a count was written, milliseconds: a wet screen tells one tap as two, and the
 * second would write down the next lot unseen.
 */
const bounce = 250;

/** Lets the thumb's buttons settle: the style lays a pane over them. A keyboard and a reader do not bounce and are not kept waiting. */
function settle(): void {
  document.body.dataset["settling"] = "yes";
  window.setTimeout(() => delete document.body.dataset["settling"], bounce);
}

/** Draws the screen that the address names. */
function draw(arrived: boolean): void {
  if (drawing) {
    return;
  }

  drawing = true;
  const shown = screen();
  const here = arrived ? null : document.activeElement;
  const onHeading = here instanceof HTMLHeadingElement && main.contains(here); // it has no name to be found by: a reader who stands on it stays there
  document.title = `${shown.title} – ${pocket.day?.house ?? "Lepidary"}`;
  main.dataset["empty"] = pocket.day === null ? "yes" : "no";
  main.dataset["lacking"] = shown.lacking === true ? "yes" : "no";
  const heading = el("h1", { tabindex: -1 });
  put(heading, shown.heading);
  const inside = el("div", {});
  put(inside, [shown.above, heading, shown.inside]);
  main.replaceChildren(...inside.childNodes);
  foot.replaceChildren(...shown.thumb ?? []);
  foot.hidden = (shown.thumb ?? []).length === 0;
  for (const link of contents.querySelectorAll("a")) {
    const here = link.getAttribute("href") === `#${name()}` || (name() === "lot" && link.getAttribute("href") === "#round");
    here ? link.setAttribute("aria-current", "page") : link.removeAttribute("aria-current");
  }

  tell();
  drawing = false;
  if (arrived) {
    window.scrollTo(0, 0);
  }

  if (arrived || onHeading) {
    heading.focus({ preventScroll: true });
  } else if (here?.id) {
    document.getElementById(here.id)?.focus({ preventScroll: true });
  }
}

/** Shows the screen that the address came to; not under a finger, whose tap would go to what moved there. */
function arrive(): void {
  drawLater = touched;
  if (!touched) {
    (document.getElementById("menu") as HTMLDetailsElement).open = false;
    draw(true);
  }
}

/** Keeps the page itself on the phone. A newer one waits until the keeper takes it. */
async function install(): Promise<void> {
  if (navigator.serviceWorker === undefined) {
    return;
  }

  // The first worker takes over a page that it did not load; every later one is a newer version that the keeper took.
  let controlled = navigator.serviceWorker.controller !== null;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (controlled) {
      location.reload();
    }

    controlled = true;
  });
  const registration = await navigator.serviceWorker.register("/pocket/worker.js", { scope: "/pocket/" });
  let wanted = false;
  const offer = (): void => {
    const waiting = registration.waiting;
    if (waiting === null || navigator.serviceWorker.controller === null) {
      return;
    }

    if (wanted) {
      waiting.postMessage("take over");
    } else {
      newer.replaceChildren(el("p", { class: "kept" }, el("span", {}, "A newer version is here."), button("Take it", take, "quiet")));
    }
  };
  // The one that was offered may meanwhile have given way to a newer still, which is on its way: then that is taken when it is here.
  const take = (): void => {
    wanted = true;
    newer.replaceChildren(el("p", { class: "kept" }, "Taking it."));
    offer();
  };
  // One may be on its way already: found by the browser, or by another page of this phone, before this page could listen.
  const watch = (): void => registration.installing?.addEventListener("statechange", offer);
  watch();
  offer();
  registration.addEventListener("updatefound", watch);
  document.addEventListener("visibilitychange", () => void (document.visibilityState === "visible" && registration.update().then(offer, () => undefined)));
}

async function begin(): Promise<void> {
  if (!isSecureContext || typeof indexedDB === "undefined") {
    main.replaceChildren(el("h1", {}, "This address cannot be kept on a phone"), el("p", {}, "Browsers keep a page for times without a signal only when it comes over https, or from the machine itself (localhost). Ask who runs the book for its https address. Until then, make the round with a connection: ", el("a", { href: "/round" }, "the round"), "."));
    return;
  }

  try {
    await pocket.read();
  } catch (wrong) {
    main.replaceChildren(el("h1", {}, "This browser keeps nothing"), el("p", {}, `It may be a private window. Open the page in an ordinary one, or make the round with a connection: `, el("a", { href: "/round" }, "the round"), "."), el("p", { class: "soft" }, String(wrong)));
    return;
  }

  const scanned = codeIn(location.pathname);
  if (scanned !== null) {
    at = `#lot/${pocket.day?.lots.find(lot => lot.code === scanned)?.id ?? scanned}`;
    history.replaceState(null, "", `/pocket/${at}`);
  }

  draw(false); // the first screen takes no focus: who reads begins at the top, with the link to the page
  window.addEventListener("hashchange", () => {
    if (location.hash !== "#page") {
      at = location.hash;
      arrive();
    }
  });
  window.addEventListener("online", () => pocket.sendSoon(true));
  document.addEventListener("visibilitychange", () => void (document.visibilityState === "visible" && pocket.sendSoon()));
  pocket.sendSoon(true);
  if (pocket.day === null) {
    await pocket.ended; // on a poor signal today's lots go before what only the next visit needs
  }

  await install().catch(() => undefined);
}

void begin();

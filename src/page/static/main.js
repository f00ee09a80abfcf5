// The frame of the page: its head, its rooms, and which of them is shown.

import { button, el, refill, say } from "./dom.js";
import { begin, isOld, on, pending, reload, setting, store, undo } from "./store.js";
import { words } from "./dialog.js";
import { piece } from "./piece.js";
import { pile } from "./pile.js";
import { plan } from "./plan.js";
import { shop } from "./shop.js";
import { buying } from "./buying.js";
import { start } from "./start.js";
import { devices } from "./devices.js";
import { tell } from "./net.js";

const ROOMS = [
  ["piece", "The piece", piece],
  ["pile", "The pile", pile],
  ["plan", "The plan", plan],
  ["shop", "The shop", shop],
  ["buying", "Buying", buying],
];

let shown = null;
let leave = null;

function room() {
  const wanted = location.hash.slice(1);
  return ROOMS.find(([name]) => name === wanted) ?? ROOMS[0];
}

function enter() {
  leave?.();
  leave = null;
  const work = document.getElementById("work");
  if (!store.open) {
    shown = null;
    document.body.classList.add("closed");
    leave = start(work);
    head();
    return;
  }
  document.body.classList.remove("closed");
  const [name, title, make] = room();
  shown = name;
  refill(work, el("h1", { class: "unseen" }, title));
  document.title = `${title} – ${setting("title")?.value || "grainrow"}`;
  leave = make(work, go);
  rooms();
  head();
  scrollTo(0, 0);
}

/** Goes to another room. */
function go(name) {
  if (location.hash === `#${name}`) enter();
  else location.hash = name;
}

function rooms() {
  const nav = document.getElementById("rooms");
  refill(nav, ROOMS.map(([name, title]) => el("a", {
    href: `#${name}`,
    "aria-current": name === shown ? "page" : null,
  }, title)));
}

function head() {
  const top = document.getElementById("top");
  if (!store.open) {
    refill(top, el("p", { class: "mark" }, "grainrow"));
    return;
  }
  const title = setting("title")?.value || store.folder.split(/[\\/]/).pop();
  refill(top,
    el("p", { class: "mark" }, title),
    el("div", { class: "steps" },
      button("Undo", () => undo(false), { disabled: !store.steps.undo, class: "quiet",
        title: store.steps.undo ? `Take back: ${store.steps.undo}` : null }),
      button("Redo", () => undo(true), { disabled: !store.steps.redo, class: "quiet",
        title: store.steps.redo ? `Do again: ${store.steps.redo}` : null }),
      button("Devices", devices, { class: "quiet" }),
      button("Other job", () => tell("/api/close").catch(() => {}), { class: "quiet" })),
    el("div", { id: "standing" }));
  standing();
}

/** One line that says how things stand: what is wrong, how good the plan is, what is on its way. */
function standing() {
  const place = document.getElementById("standing");
  if (!place) return;
  const faults = (store.faults?.faults ?? []).filter((fault) => fault.weight === "fault");
  const now = state(faults);
  if (place.dataset.now === now.join("|")) return;
  place.dataset.now = now.join("|");
  place.className = now[0];
  refill(place, el("p", {}, el("span", { class: "lamp", "aria-hidden": "true" }), el("span", {}, now[1])),
    faults.length > 0 && el("details", {},
      el("summary", {}, "Show"),
      el("ul", {}, faults.slice(0, 50).map((fault) => el("li", {},
        el("b", {}, `${fault.file}${fault.line ? `, line ${fault.line}` : ""}: `), words(fault))))));
}

function state(faults) {
  const old = store.plan ? " The plan shown is the last good one." : "";
  if (!store.reached) {
    return ["lost", `grainrow is not running any more, or can't be reached. ${pending() > 0
      ? "What you typed last waits here." : "Everything is in the job's files."}`];
  }
  if (faults.length > 0) {
    const many = faults.length === 1 ? "1 thing to mend" : `${faults.length} things to mend`;
    return ["bad", `${many} before this can be planned.${old}`];
  }
  if (store.faults?.failed) return ["bad", store.faults.failed + old];
  if (store.planning || isOld()) {
    const progress = store.progress;
    const found = store.plan && store.plan.version >= store.version;
    if (found && progress) {
      const gap = progress.bound && progress.cost > 0
        ? Math.max(0, (100 * (progress.cost - progress.bound)) / progress.cost).toFixed(1) : null;
      return ["busy", `A plan is there${gap ? `, at most ${gap} % above the best possible` : ""}: looking for a better one, ${Math.round(progress.seconds)} s`];
    }
    return ["busy", found ? "A first plan is there: looking for a better one" : "Planning…"];
  }
  const { proof, fronts } = store.plan;
  const missing = fronts.filter((front) => front.missing).length;
  if (missing > 0) return ["bad", `${missing === 1 ? "1 front" : `${missing} fronts`} can't be made from this pile; the rest is ${proof.words}`];
  return [proof.proved ? "good" : "fair", `Plan: ${proof.words}`];
}

for (const name of ["plan", "faults", "progress", "reached", "typing"]) on(name, standing);
on("steps", head);
on("opened", enter);
on("file", (name) => name === "job.toml" && head());
addEventListener("hashchange", () => store.open && enter());
addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || !store.open) return;
  const key = event.key.toLowerCase();
  if (key === "p") {
    event.preventDefault();
    go("shop");
    say("What goes on paper is the packet: take the plan to the shop, then Print the packet", 8000);
  }
  if (key === "z" || key === "y") {
    event.preventDefault();
    // What is still in a field goes first.
    document.activeElement?.dispatchEvent(new Event("change"));
    setTimeout(() => undo(key === "y" || event.shiftKey), 30);
  }
});
addEventListener("beforeunload", (event) => {
  if (pending() > 0) event.preventDefault();
});

enter();
begin();
reload().then(enter, () => {});

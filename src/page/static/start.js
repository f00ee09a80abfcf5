// No job lies open: choose one, begin one, or play.

import { button, el, fresh, refill } from "./dom.js";
import { failed } from "./dialog.js";
import { ask, tell } from "./net.js";

export function start(work) {
  const list = el("div", { class: "jobs" });
  const name = el("input", { type: "text", id: fresh("name"), autocomplete: "off", placeholder: "Chest for the hall" });
  const unit = el("select", { id: fresh("unit") },
    el("option", { value: "inch" }, "inches"), el("option", { value: "mm" }, "millimetres"));
  const go = (path, value) => () => tell(path, value()).catch(failed);
  refill(work,
    el("section", { class: "welcome" },
      el("h1", {}, "Which boards make which fronts?"),
      el("p", { class: "lead" }, "Write down the fronts of your piece and the boards in your pile. "
        + "grainrow works out which board makes which front, so that the grain runs on and little is wasted, "
        + "and prints the marks to chalk.")),
    el("section", { class: "card" },
      el("h2", {}, "Begin a piece"),
      el("label", { for: name.id }, "What is it?"), name,
      el("label", { for: unit.id }, "You measure in"), unit,
      el("div", { class: "actions" },
        button("Begin", go("/api/start", () => ({ what: "empty", name: name.value, unit: unit.value })), { class: "main" }))),
    el("section", { class: "card" },
      el("h2", {}, "Look round first"),
      el("p", {}, "A chest of twenty drawers and a pile of fourteen boards, all invented. It is a copy: change what you like."),
      el("div", { class: "actions" },
        button("Play with the chest", go("/api/start", () => ({ what: "chest" }))))),
    list);
  ask("/api/jobs").then(({ home, jobs }) => {
    refill(list, el("section", { class: "card" },
      el("h2", {}, "Go on with a piece"),
      jobs.length === 0 && el("p", {}, "There are no jobs yet in ", el("code", {}, home), "."),
      jobs.length > 0 && el("p", { class: "dim" }, "In ", el("code", {}, home)),
      el("div", { class: "menu" }, jobs.map((job) => button(job, go("/api/open", () => ({ name: job }))))))); 
  }, () => {});
  return () => {};
}

// The piece: its fronts as a table, and the same thing seen.

import { el, refill } from "./dom.js";
import { elevation } from "./elevation.js";
import { grid } from "./grid.js";
import { settings } from "./settings.js";
import { isOld, on, store, touch } from "./store.js";

export function piece(work, go) {
  const picture = el("div", { class: "picture" });
  const table = grid({
    file: "fronts.csv",
    name: "front",
    one: "front",
    title: "Fronts",
    first: ["front", "width", "height", "thickness", "run"],
    chosen: (row) => row && store.touched.front !== row.cells.front && touch(row.cells.front ?? null, null),
  });
  const title = settings((one) => ["title", "units", "species"].includes(one.key));
  const standing = settings((one) => one.section === "case");
  const rest = settings((one) => one.section !== "case" && !["title", "units", "species"].includes(one.key));
  const draw = () => {
    const seen = store.plan ?? store.faults?.case;
    picture.classList.toggle("old", Boolean(store.plan) && isOld());
    refill(picture, seen
      ? elevation(seen, (front) => {
        touch(front.name, null);
        // Copies of a counted front stand in one row.
        if (!table.goTo(front.name)) table.goTo(front.name.replace(/\.\d+$/, ""));
      }, store.touched)
      : el("p", { class: "dim" }, "The fronts are drawn here as soon as there are some with all their sizes."),
    store.plan && isOld() && el("p", { class: "stamp" }, "before the last change"));
  };
  const mark = () => {
    table.mark(store.touched.front);
    for (const node of picture.querySelectorAll(".front")) {
      node.setAttribute("aria-pressed", String(node.dataset.front === store.touched.front));
    }
  };
  work.append(
    title.node,
    el("div", { class: "beside" },
      el("section", { class: "wide" },
        el("div", { class: "head" }, el("h2", {}, "Fronts"), table.more),
        el("p", { class: "dim" }, "One line a front, finished size as seen on the case, the top row first. Fronts with the same run read as one piece of wood, left to right. A table copied from a spreadsheet can be pasted into any cell."),
        table.node),
      el("section", { class: "seen" }, el("h2", {}, "Seen from the front"), picture,
        el("details", {}, el("summary", {}, "The case about the fronts"),
          el("p", { class: "dim" }, "What is left empty is guessed, and the sheets say so. No plan hangs on it."), standing.node))),
    el("details", { class: "card" }, el("summary", {}, "How you work: saws, planer, what looks are worth"), rest.node),
    el("div", { class: "actions onward" }, el("a", { href: "#pile", class: "button" }, "On to the pile")));
  void go;
  draw();
  const stops = [on("plan", draw), on("faults", draw), on("typing", () => picture.classList.add("old")), on("touched", mark)];
  return () => {
    stops.forEach((stop) => stop());
    [table, title, standing, rest].forEach((part) => part.end());
  };
}

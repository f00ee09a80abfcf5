// Wishes: something the maker wants in the plan, told with its price before it is kept.

import { button, el, fresh, refill } from "./dom.js";
import { ask_in, failed } from "./dialog.js";
import { tell } from "./net.js";
import { change, on, rows } from "./store.js";

/** Asks what wishes cost, and whether they are to be kept. */
export function price(wishes) {
  const body = el("div", {}, el("p", { class: "busy" }, "Looking for the best plan with it…"));
  const waits = new AbortController();
  const close = ask_in(`A wish: ${wishes.join(", ")}`, () => body);
  tell("/api/wish", { wishes }, waits.signal).then((told) => {
    const can = told.wishes.every((one) => one.possible) && told.conflicts.length === 0;
    refill(body,
      told.stopped && el("p", { class: "note" }, "The job was changed meanwhile: this may not be the whole truth."),
      told.wishes.map((one) => el("p", { class: one.possible ? "lead" : "fault" }, one.words,
        one.proved ? "" : " (not proved)")),
      told.wishes.filter((one) => one.nearest).map((one) => el("p", {}, `Nearest: ${one.nearest}`)),
      told.changes.length > 0 && el("ul", { class: "list" }, told.changes.map((one) => el("li", {},
        el("b", {}, one.front), ` from ${one.to_board} instead of ${one.from_board}`))),
      el("div", { class: "actions" },
        button("Leave it", close),
        can && button("Keep the wish", () => {
          close();
          change({ label: `wish ${wishes.join(", ")}`, changes: [{ op: "wish", keep: wishes }] }).catch(() => {});
        }, { class: "main" })));
  }, (why) => {
    close();
    failed(why);
  });
}

/** What can be wished for a front. */
export function wishFor(front, plan) {
  const id = fresh("from");
  const others = plan.pile.filter((one) => !front.from.some((source) => source.id === one.id) && !one.left_out);
  const choice = el("select", { id }, others.map((one) => el("option", { value: one.id }, one.id)));
  return el("div", { class: "actions" },
    el("label", { for: id }, "Rather from"), choice,
    button("What would it cost?", () => price([`${front.name}=${choice.value}`])),
    front.from[0] && button(`Not from ${front.from[0].id}`, () => price([`${front.name}!=${front.from[0].id}`])));
}

/** The wishes in force, and what each costs. */
export function inForce() {
  const node = el("div", {});
  const costs = el("div", {});
  const draw = () => {
    const all = rows("wishes.csv");
    refill(node, el("h2", {}, "Wishes in force"),
      all.length === 0 && el("p", { class: "dim" }, "None. A wish is something you want in the plan: this front from that board, that board left out. Its price is told before it is kept."),
      el("ul", { class: "list" }, all.map((row) => el("li", {}, el("span", {}, row.cells.wish, " ", el("span", { class: "dim" }, row.cells.notes ?? "")),
        button("Drop it", () => change({ label: `wish ${row.cells.wish} dropped`, changes: [{ op: "wish", drop: [row.cells.wish] }] }).catch(() => {}),
          { "aria-label": `Drop it: ${row.cells.wish}` })))),
      all.length > 0 && button("What does each cost?", list),
      costs);
  };
  const list = async () => {
    refill(costs, el("p", { class: "busy" }, "Planning without each of them…"));
    try {
      const told = await tell("/api/wish", { wishes: [] });
      refill(costs, told.wishes.map((one) => el("p", {}, one.words)));
    } catch (why) {
      refill(costs);
      failed(why);
    }
  };
  draw();
  const stop = on("file", (name) => {
    if (name === "wishes.csv") {
      refill(costs);
      draw();
    }
  });
  return { node, end: stop };
}

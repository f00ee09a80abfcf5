// The pile: boards in a table, each drawn with what is wrong with it, and its photographs.

import { board, room } from "./board.js";
import { button, el, refill } from "./dom.js";
import { ask_in, failed } from "./dialog.js";
import { grid } from "./grid.js";
import { photographs } from "./photo.js";
import { change, on, rows, store } from "./store.js";
import { TONES, ink, wood } from "./wood.js";

export function pile(work) {
  const drawn = el("div", { class: "boards" });
  const boards = grid({
    file: "boards.csv",
    name: "board",
    one: "board",
    title: "Boards",
    first: ["board", "length", "width", "thickness", "tone"],
    menu: (row) => [["Choose its tone", () => tones(row)], ["Photographs", () => photographs(row.cells.board)]],
  });
  const defects = grid({
    file: "defects.csv",
    name: "board",
    one: "defect",
    called: (name) => `a defect of ${name}`,
    title: "Defects",
    first: ["board", "kind", "from", "to", "low", "high"],
  });
  const draw = () => {
    const plan = store.plan;
    if (!plan || plan.pile.length === 0) {
      refill(drawn, el("p", { class: "dim" }, "Each board is drawn here as soon as the job can be read."));
      return;
    }
    const longest = Math.max(...plan.pile.map((one) => one.length));
    const how = { unit: plan.unit, fraction: plan.fraction, longest, room: room(drawn), touched: {} };
    refill(drawn, plan.pile.map((one) => el("figure", { class: one.left_out ? "aside" : "" },
      el("figcaption", {},
        el("b", {}, one.copies.length > 1 ? `${one.id} × ${one.copies.length}` : one.id),
        el("span", { class: "dim" }, ` ${one.volume}${one.on_offer ? ", on offer" : ""}${one.left_out ? ", put aside" : ""}`),
        button("Photographs", () => photographs(one.id), { class: "quiet", "aria-label": `Photographs of ${one.id}` })),
      board(one, how))));
  };
  work.append(
    el("section", {},
      el("div", { class: "head" }, el("h2", {}, "Boards"), boards.more),
      el("p", { class: "dim" }, "One line a board: length from the end where the tape is hooked, width, thickness rough (4/4, 5/4 or measured), and how dark it is, in words or from 0 to 10."),
      boards.node),
    el("section", {},
      el("div", { class: "head" }, el("h2", {}, "What is wrong with them"), defects.more),
      el("p", { class: "dim" }, "Knots, checks, sapwood: from and to along the board from the hook end, low and high across it from the near edge."),
      defects.node),
    el("section", {}, el("h2", {}, "As they lie"), el("p", { class: "dim" }, "Hook end left, near edge below; widths drawn twice as large as lengths."), drawn),
    el("div", { class: "actions onward" }, el("a", { href: "#plan", class: "button" }, "On to the plan")));
  draw();
  const watch = new ResizeObserver(() => draw());
  watch.observe(drawn);
  const stops = [on("plan", draw)];
  return () => {
    watch.disconnect();
    stops.forEach((stop) => stop());
    [boards, defects].forEach((part) => part.end());
  };
}

/** Chooses a tone from swatches. */
function tones(row) {
  ask_in(`How dark is ${row.cells.board}?`, (close) => el("div", { class: "swatches" },
    TONES.map(([word, tone]) => {
      const swatch = button(word, () => {
        close();
        const now = rows("boards.csv").find((one) => one.id === row.id);
        change({ label: `${row.cells.board}: tone ${word}`, changes: [{ op: "set", file: "boards.csv",
          row: row.id, column: "tone", value: word, was: now?.cells.tone ?? "" }] }).catch(failed);
      }, { class: "swatch" });
      swatch.style.background = wood(tone);
      swatch.style.color = ink(tone);
      return swatch;
    })));
}

// Buying: how much before there are boards, and at the yard each board as it is found.

import { board, room } from "./board.js";
import { button, el, fresh, refill, say } from "./dom.js";
import { failed } from "./dialog.js";
import { tell } from "./net.js";
import { change, on, rows, store } from "./store.js";

export function buying(work) {
  const need = el("div", {});
  const yard = el("div", {});
  work.append(
    el("section", {}, el("h2", {}, "At the yard"),
      el("p", { class: "dim" }, "Type in each board as you find it, with its price. The plan takes it up at once: what it saves is told, and those worth taking are named."),
      found(), yard),
    el("section", {}, el("h2", {}, "How much to buy"), need));
  const draw = () => refill(yard, lacking(), offers());
  draw();
  estimate(need);
  const stops = [on("plan", draw), on("file", (name) => name === "boards.csv" && draw())];
  return () => stops.forEach((stop) => stop());
}

/** A form with large fields, for a thumb. */
function found() {
  const names = [["board", "Name"], ["length", "Length"], ["width", "Width"], ["thickness", "Thickness"], ["tone", "Tone"], ["price", "Price"]];
  const fields = names.map(([key, words]) => ({ key, words,
    input: el("input", { type: "text", id: fresh(key), autocomplete: "off",
      list: key === "tone" ? "words-tone" : null, placeholder: key === "tone" ? "medium" : key === "thickness" ? last("thickness") : "" }) }));
  const form = el("form", { class: "card fields", onsubmit: (event) => {
    event.preventDefault();
    const cells = Object.fromEntries(fields.map(({ key, input }) => [key, input.value.trim() || (key === "tone" || key === "thickness" ? input.placeholder : "")])
      .filter(([, value]) => value !== ""));
    cells.board ??= nextName();
    change({ label: `${cells.board} found at the yard`, changes: [{ op: "add", file: "boards.csv", before: null, cells }] }).then(() => {
      say(`${cells.board} is on the list`);
      for (const { key, input } of fields) if (["board", "length", "width"].includes(key)) input.value = "";
      fields[0].input.placeholder = nextName();
      fields[1].input.focus();
    }, () => {});
  } },
  fields.map(({ input, words }) => el("div", { class: "field" }, el("label", { for: input.id }, words), input)),
  el("div", { class: "actions" }, el("button", { type: "submit", class: "main" }, "Put it on the list")));
  fields[0].input.placeholder = nextName();
  return form;
}

function last(column) {
  const all = rows("boards.csv").map((row) => row.cells[column]).filter(Boolean);
  return all[all.length - 1] ?? "";
}

/** A name no board has yet. */
function nextName() {
  const known = new Set(rows("boards.csv").map((row) => row.cells.board));
  let number = 1;
  while (known.has(`Y${number}`)) number += 1;
  return `Y${number}`;
}

/** What the pile lacks, as the plan tells it. */
function lacking() {
  const plan = store.plan;
  const missing = (plan?.fronts ?? []).filter((front) => front.missing);
  const buy = (plan?.boards ?? []).filter((one) => one.to_buy).map((one) => one.name);
  return [
    missing.length > 0 && el("div", { class: "card warnish" }, el("h3", {}, "Still to find"),
      el("ul", { class: "list" }, missing.map((front) => el("li", {}, el("span", {}, `${front.missing.buy}, for `, el("b", {}, front.name)))))),
    buy.length > 0 && el("p", { class: "yes" }, `To buy by this plan: ${buy.join(", ")}`)];
}

function offers() {
  const list = rows("boards.csv").filter((row) => (row.cells.price ?? "") !== "");
  if (list.length === 0) return el("p", { class: "dim" }, "No board is on offer yet.");
  const plan = store.plan;
  const longest = Math.max(1, ...(plan?.pile ?? []).map((one) => one.length));
  return el("div", { class: "boards" }, list.map((row) => {
    const name = row.cells.board;
    const used = plan?.boards.some((one) => one.id === name);
    const drawn = plan?.boards.find((one) => one.id === name) ?? plan?.pile.find((one) => one.id === name);
    const told = el("p", { "aria-live": "polite" });
    return el("figure", { class: "card" },
      el("figcaption", {}, el("b", {}, name), el("span", { class: "dim" }, ` ${row.cells.length} × ${row.cells.width}, ${row.cells.price} each unit`),
        el("span", { class: used ? "yes" : "dim" }, used ? " worth taking: the plan cuts it" : " the plan does without it")),
      drawn && plan && board(drawn, { unit: plan.unit, fraction: plan.fraction, longest, room: room(document.getElementById("work")) - 40, touched: {} }),
      told,
      el("div", { class: "actions" },
        used && button("What does it save?", () => saves(name, told)),
        button("Take it", () => set(row, "price", "", `${name} bought`), { class: "main" }),
        button("Leave it", () => change({ label: `${name} left at the yard`, changes: [{ op: "remove", file: "boards.csv", row: row.id }] }).catch(() => {}))));
  }));
}

function set(row, column, value, label) {
  change({ label, changes: [{ op: "set", file: "boards.csv", row: row.id, column, value, was: row.cells[column] ?? "" }] }).catch(() => {});
}

function saves(name, place) {
  place.textContent = "Planning without it…";
  tell("/api/wish", { wishes: [`${name}=out`] }).then((told) => {
    const [one] = told.wishes;
    place.textContent = one.possible ? `Without it the plan costs more: ${told.words}` : `Without it the piece can't be made: ${one.why}`;
  }, (why) => {
    place.textContent = "";
    failed(why);
  });
}

async function estimate(place, trials = 50) {
  refill(place, el("p", { class: "busy" }, "Drawing random piles, and buying each until it suffices…"));
  let told;
  try {
    told = await tell("/api/estimate", { trials });
  } catch (why) {
    refill(place, el("p", { class: "dim" }, why.message), button("Try again", () => estimate(place, trials)));
    return;
  }
  const unit = told.unit === "mm" ? "litres" : "board feet";
  const feet = told.all.feet ?? told.all.litres ?? [];
  const stamp = Date.now();
  const figure = (one) => {
    const value = one.value ?? one.amount ?? one.feet ?? one.litres;
    return value === null || value === undefined ? "more" : Number(value).toFixed(1);
  };
  refill(place,
    el("p", {}, told.yard),
    el("p", { class: "dim" }, `From ${told.trials} random piles of the yard.`),
    el("dl", { class: "figures" }, feet.map((one) => el("div", {},
      el("dt", {}, `in ${one.percent ?? one.share ?? one.at} of 100 piles enough`), el("dd", {}, `${figure(one)} ${unit}`)))),
    el("div", { class: "charts" },
      el("img", { class: "paper", src: `/api/estimate/need?${stamp}`, alt: `Chart: how many ${unit} suffice with which chance` }),
      el("img", { class: "paper", src: `/api/estimate/runs?${stamp}`, alt: "Chart: what each run needs of the boards" })),
    el("div", { class: "actions" }, button("Estimate again", () => estimate(place)),
      button("Draw 500 piles (takes longer)", () => estimate(place, 500))));
}

// One board as it lies, hook end left, near edge below. Widths are drawn twice as large as lengths.

import { svg } from "./dom.js";
import { show } from "./lengths.js";
import { ink, wood } from "./wood.js";

const ACROSS = 2;

/**
 * @param {any} board length, width, tone, defects, and what is cut from it
 * @param {{unit: string, fraction: number, longest: number, room: number, touched: any,
 *   tapped?: (blank: any) => void}} how `room`: pixels the longest board has
 */
export function board(board, how) {
  const scale = how.room / how.longest;
  const width = board.length * scale;
  const height = board.width * scale * ACROSS;
  const x = (along) => along * scale;
  const y = (across) => height - across * scale * ACROSS;
  const box = ([from, to, low, high]) => ({ x: x(from), y: y(high),
    width: Math.max(1, x(to) - x(from)), height: Math.max(1, y(low) - y(high)) });
  const named = `${board.name ?? board.id}: ${show(board.length, how.unit, how.fraction)} by `
    + `${show(board.width, how.unit, how.fraction)}, tone ${board.tone}`;
  const drawing = svg("svg", { class: "board", width, height, viewBox: `0 0 ${width} ${height}`,
    role: how.tapped ? "group" : "img", "aria-label": named, "data-board": board.id });
  drawing.append(svg("rect", { x: 0, y: 0, width, height, fill: wood(board.tone), class: "rough" }));
  for (const kept of board.kept ?? []) {
    drawing.append(svg("rect", { ...box(kept), class: "kept" }, svg("title", {}, "kept for the rack")));
  }
  const words = svg("g", { "aria-hidden": "true" });
  for (const blank of board.blanks ?? []) drawing.append(one(blank, box(blank.at), board, how, words));
  drawing.append(words);
  for (const defect of board.defects ?? []) {
    const words = `${defect.kind}, ${defect.at.map((l) => show(l, how.unit, how.fraction)).join(" ")}`
      + `${defect.side === "both" ? "" : `, ${defect.side} side`}`;
    drawing.append(svg("rect", { ...box(defect.at), class: `defect ${defect.side}` }, svg("title", {}, words)));
  }
  // Where the tape is hooked.
  drawing.append(svg("path", { d: `M0 ${height}v-7h4`, class: "hook" }));
  return drawing;
}

function one(blank, box, board, how, words) {
  const on = how.touched.front === blank.front || (!how.touched.front && how.touched.board === board.id);
  const name = blank.staves > 1 ? `${blank.front} (${blank.stave})` : blank.front;
  const group = svg("g", { class: `blank${on ? " on" : ""}`, "data-front": blank.front });
  group.append(svg("rect", { ...box, class: "cut" }));
  const size = Math.min(15, box.height * 0.75, (box.width / Math.max(2, name.length)) * 1.6);
  if (size >= 7) words.append(svg("text", { x: box.x + box.width / 2, y: box.y + box.height / 2 + size * 0.35,
    "font-size": size, fill: ink(board.tone) }, name));
  if (how.tapped) {
    group.setAttribute("role", "button");
    group.setAttribute("tabindex", "0");
    group.setAttribute("aria-label", `${name} on ${board.name ?? board.id}, ${show(blank.at[0], how.unit, how.fraction)} to `
      + `${show(blank.at[1], how.unit, how.fraction)} from the hook end`);
    group.addEventListener("click", () => how.tapped(blank));
    group.addEventListener("keydown", (event) => {
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        how.tapped(blank);
      }
    });
  }
  return group;
}

/** Room for drawings in a box of the page, in pixels. */
export function room(node) {
  return Math.max(260, Math.min(1100, (node.clientWidth || window.innerWidth - 32) - 2));
}

// The case from the front: every front where it stands, in the tone of its board, its grain drawn.

import { svg } from "./dom.js";
import { ink, wood } from "./wood.js";

/** Room about the fronts, as a share of their width. */
const EDGE = 0.02;

/**
 * @param {any} plan what the plan tells of fronts and breaks
 * @param {(front: any) => void} tapped
 */
export function elevation(plan, tapped, touched) {
  const fronts = plan.fronts.filter((front) => front.place);
  const right = Math.max(1, ...fronts.map((f) => f.place[0] + f.place[2]));
  const down = Math.max(1, ...fronts.map((f) => f.place[1] + f.place[3]));
  const edge = right * EDGE;
  // Words are as large as can be read on a phone: the drawing is that wide there.
  const letter = Math.max(right / 34, 0.9);
  const drawing = svg("svg", {
    class: "elevation",
    viewBox: `${-edge} ${-edge} ${right + 2 * edge} ${down + 2 * edge}`,
    role: "group",
    "aria-label": "The case from the front",
  });
  // Words lie on a sheet of their own: who can't see the drawing is told each front's name by it.
  const words = svg("g", { "aria-hidden": "true", class: "words" });
  for (const front of fronts) drawing.append(one(front, letter, tapped, touched, words));
  drawing.append(words);
  for (const pair of plan.breaks ?? []) {
    const [a, b] = pair.map((name) => fronts.find((front) => front.name === name));
    if (a && b) drawing.append(broken(a, b, letter));
  }
  return drawing;
}

function one(front, letter, tapped, touched, words) {
  const [x, y, w, h] = front.place;
  const from = front.from[0];
  const tone = from?.tone ?? 2;
  const boards = [...new Set(front.from.map((source) => source.board))].join(" + ");
  const said = [front.name, boards ? `from ${boards}` : front.missing ? "can't be made" : "",
    front.fate ?? ""].filter(Boolean).join(", ");
  const group = svg("g", {
    class: `front${front.missing ? " missing" : ""}${from ? "" : " bare"}`,
    role: "button",
    tabindex: 0,
    "aria-label": said,
    "aria-pressed": String(touched.front === front.name),
    "data-front": front.name,
    "data-board": front.from.map((source) => source.id).join("|"),
  });
  group.append(svg("path", { d: outline(front), fill: from ? wood(tone) : "none", class: "wood" }));
  if (from) group.append(grain(front));
  const small = Math.min(letter, h * 0.3, (w / Math.max(3, front.name.length)) * 1.5);
  const fits = h > small * 2.4 && boards;
  const middle = y + h / 2;
  words.append(svg("text", { x: x + w / 2, y: fits ? middle - small * 0.15 : middle + small * 0.35,
    "font-size": small, fill: from ? ink(tone) : "currentColor", class: "name" }, front.name));
  if (fits) {
    words.append(svg("text", { x: x + w / 2, y: middle + small * 1.05, "font-size": small * 0.8,
      fill: ink(tone), class: "from" }, boards));
  }
  if (front.fate) {
    words.append(svg("text", { x: x + w - small * 0.3, y: y + small, "font-size": small * 0.8,
      fill: ink(tone), class: "fate" }, front.fate === "made" ? "✓✓" : "✓"));
  }
  const tap = () => tapped(front);
  group.addEventListener("click", tap);
  group.addEventListener("keydown", (event) => {
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      tap();
    }
  });
  return group;
}

function outline(front) {
  const [x, y, w, h] = front.place;
  if (!front.top) return `M${x} ${y}h${w}v${h}h${-w}z`;
  const [left, right] = front.top.map((share) => y + h * (1 - share));
  const crown = Math.min(left, right) === y ? (left + right) / 2 - Math.abs(left - right) / 8
    : y - (Math.min(left, right) - y);
  return `M${x} ${left}Q${x + w / 2} ${crown} ${x + w} ${right}V${y + h}H${x}z`;
}

// A few lines along the grain, the same ones for fronts of one stretch, so that breaks are seen.
function grain(front) {
  const [x, y, w, h] = front.place;
  const across = front.grain === "across";
  const key = `${front.from[0].board}/${front.run}/${front.from[0].stretch}`;
  let seed = [...key].reduce((sum, c) => (sum * 31 + c.charCodeAt(0)) % 9973, 7);
  const random = () => {
    seed = (seed * 1103 + 12345) % 9973;
    return seed / 9973;
  };
  let path = "";
  // Under an arch the lines stay below its lower corner.
  const free = across && front.top ? 1 - Math.min(...front.top) : 0;
  for (let i = 0; i < 6; i += 1) {
    const at = free + ((1 - free) * (i + 0.3 + 0.5 * random())) / 6;
    const bend = (random() - 0.5) * (across ? h : w) * 0.1;
    path += across
      ? `M${x} ${y + at * h}q${w / 2} ${bend} ${w} 0`
      : `M${x + at * w} ${y}q${bend} ${h / 2} 0 ${h}`;
  }
  return svg("path", { d: path, class: "grain" });
}

function broken(a, b, letter) {
  const beside = Math.abs(a.place[1] - b.place[1]) < Math.min(a.place[3], b.place[3]);
  const size = letter * 0.45;
  const [x, y] = beside
    ? [(Math.min(a.place[0] + a.place[2], b.place[0] + b.place[2]) + Math.max(a.place[0], b.place[0])) / 2,
      (Math.max(a.place[1], b.place[1]) + Math.min(a.place[1] + a.place[3], b.place[1] + b.place[3])) / 2]
    : [(a.place[0] + a.place[2] / 2 + b.place[0] + b.place[2] / 2) / 2,
      (Math.min(a.place[1] + a.place[3], b.place[1] + b.place[3]) + Math.max(a.place[1], b.place[1])) / 2];
  const d = beside
    ? `M${x} ${y - 2 * size}l${size * 0.7} ${size}l${-size * 1.4} ${size}l${size * 1.4} ${size}l${-size * 0.7} ${size}`
    : `M${x - 2 * size} ${y}l${size} ${size * 0.7}l${size} ${-size * 1.4}l${size} ${size * 1.4}l${size} ${-size * 0.7}`;
  return svg("path", { d, class: "break" }, svg("title", {}, `A break between ${a.name} and ${b.name}`));
}

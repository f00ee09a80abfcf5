// Rows of a table: dragged to another place, and what is wrong with them told below.

import { el, fresh, refill } from "./dom.js";
import { words } from "./dialog.js";
import { store } from "./store.js";

/** Drags a row by its handle; from the keyboard it is moved by its menu, or Alt and arrows. */
export function drag(event, line, lines, place) {
  const start = event.clientY;
  let over = null;
  let moved = false;
  const under = (e) => document.elementFromPoint(e.clientX, e.clientY)?.closest("tr");
  const move = (e) => {
    moved ||= Math.abs(e.clientY - start) > 8;
    if (!moved) return;
    e.preventDefault();
    line.node.classList.add("moving");
    over?.classList.remove("over");
    over = under(e);
    over?.classList.add("over");
  };
  const up = () => {
    line.handle.removeEventListener("pointermove", move);
    line.node.classList.remove("moving");
    over?.classList.remove("over");
    if (!moved) return;
    // What was dragged was not pressed.
    const stop = (e) => e.stopImmediatePropagation();
    line.handle.addEventListener("click", stop, { capture: true });
    setTimeout(() => line.handle.removeEventListener("click", stop, { capture: true }));
    const target = lines.find((one) => one.node === over);
    if (over && target !== line) place(target ? target.id : null);
  };
  line.handle.setPointerCapture(event.pointerId);
  line.handle.addEventListener("pointermove", move);
  line.handle.addEventListener("pointerup", up, { once: true });
  line.handle.addEventListener("pointercancel", up, { once: true });
}

/** Faults stand under the row they are in, and their fields are marked. */
export function tellFaults(file, lines, shown) {
  const all = (store.faults?.faults ?? []).filter((fault) => fault.file === file);
  for (const line of lines) {
    const [from, to] = line.row.lines;
    const here = all.filter((fault) => fault.line >= from && fault.line <= to);
    for (const column of shown) {
      const input = line.fields[column];
      const worst = here.filter((fault) => fault.column === column);
      const bad = worst.some((fault) => fault.weight === "fault");
      input.classList.toggle("fault", bad);
      input.classList.toggle("note", !bad && worst.length > 0);
      if (bad) input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
    }
    below(line, here, shown);
  }
}

function below(line, here, shown) {
  for (const column of shown) line.fields[column].removeAttribute("aria-describedby");
  if (here.length === 0) {
    line.below?.remove();
    line.below = null;
    return;
  }
  line.below ??= el("tr", { role: "row", class: "told", id: fresh("faults") });
  refill(line.below, el("td", { role: "cell", colspan: shown.length + 1 },
    here.map((fault) => el("p", { class: fault.weight === "fault" ? "fault" : "note" }, words(fault)))));
  if (line.node.nextSibling !== line.below) line.node.after(line.below);
  for (const fault of here) line.fields[fault.column]?.setAttribute("aria-describedby", line.below.id);
}

// A table one can type into: every cell a field of its own, every key on its way to the file.

import { button, el, fresh, refill, say } from "./dom.js";
import { ask_in } from "./dialog.js";
import { pasted } from "./paste.js";
import { drag, tellFaults } from "./rows.js";
import { change, emit, on, store } from "./store.js";
import { TONES } from "./wood.js";

/** How long after a key its cell is sent. */
const SOON = 120;

const WORDS = {
  tone: TONES.map(([word]) => word),
  grain: ["horizontal", "vertical"],
  cut: ["flat", "rift", "quarter"],
  use: ["yes", "no"],
  shape: ["square", "arch"],
  glue: ["yes", "no"],
  mode: ["inset", "overlay"],
  reads: ["through", "alike"],
  side: ["both", "up", "down"],
  kind: ["knot", "check", "split", "wane", "sap", "pith", "stain", "hole", "other"],
};

/**
 * @param {{file: string, name: string, one: string, title: string, first: string[], called?: (name: string) => string,
 *   only?: (row: any) => boolean, preset?: () => Record<string, string>,
 *   menu?: (row: any) => any[], chosen?: (row: any) => void}} order
 */
export function grid(order) {
  const head = el("tr", { role: "row" });
  const body = el("tbody", { role: "rowgroup" });
  const table = el("table", { class: "grid", role: "table", "aria-label": order.title },
    el("thead", { role: "rowgroup" }, head), body);
  const trouble = el("p", { class: "fault" });
  const node = el("div", {}, trouble, el("div", { class: "grid-box" }, table));
  /** @type {Map<number, any>} */
  const lines = new Map();
  let shown = [];
  let draft = null;
  let adding = 0;
  const extra = new Set();

  const file = () => store.files[order.file];
  const late = (column) => column === order.name && ["boards.csv", "fronts.csv"].includes(order.file);

  function which() {
    const known = file()?.columns ?? order.first;
    const there = file()?.shown ?? [];
    const wanted = new Set([...order.first, ...there, ...extra]);
    return [...order.first.filter((c) => wanted.has(c)),
      ...known.filter((c) => wanted.has(c) && !order.first.includes(c))];
  }

  function heading() {
    refill(head,
      el("td", { role: "cell", class: "handle" }),
      shown.map((column) => el("th", { role: "columnheader", scope: "col" }, column.replace("_", " "))));
    for (const [column, all] of Object.entries(WORDS)) {
      if (!document.getElementById(`words-${column}`)) {
        document.body.append(el("datalist", { id: `words-${column}` },
          all.map((word) => el("option", { value: word }))));
      }
    }
  }

  function field(line, column) {
    const input = el("input", {
      type: "text",
      autocomplete: "off",
      autocapitalize: "off",
      spellcheck: column === "notes" ? "true" : "false",
      list: WORDS[column] ? `words-${column}` : null,
      class: column === "notes" ? "wide" : "",
    });
    input.dataset.column = column;
    input.addEventListener("input", () => {
      line.dirty.add(column);
      emit("typing");
      if (!late(column) || !line.id) later(line, column);
    });
    input.addEventListener("change", () => sendNow(line, column));
    input.addEventListener("focus", () => {
      line.begun[column] = fresh("edit");
      order.chosen?.(line.row);
    });
    input.addEventListener("keydown", (event) => keys(event, line, column));
    input.addEventListener("paste", (event) => paste(event, line, column));
    return el("td", { role: "cell", "data-label": column.replace("_", " ") }, input);
  }

  function make(row) {
    const line = { id: row?.id ?? null, row, known: { ...(row?.cells ?? {}) }, dirty: new Set(),
      flying: new Set(), timers: {}, begun: {}, fields: {} };
    line.node = el("tr", { role: "row" });
    line.below = null;
    dress(line);
    return line;
  }

  function dress(line) {
    const cells = shown.map((column) => field(line, column));
    line.fields = {};
    shown.forEach((column, at) => {
      line.fields[column] = cells[at].firstChild;
    });
    refill(line.node, el("td", { role: "cell", class: "handle" }, handle(line)), cells);
    show(line);
  }

  function show(line) {
    const called = line.known[order.name];
    const name = (called && order.called ? order.called(called) : called) || (line.id ? `row ${line.node.rowIndex}` : `new ${order.one}`);
    for (const column of shown) {
      const input = line.fields[column];
      input.setAttribute("aria-label", `${column.replace("_", " ")} of ${name}`);
      if (!line.dirty.has(column)) {
        const value = line.known[column] ?? "";
        if (input.value !== value) input.value = value;
      }
      // On a phone, what a row does not say and need not say is shown when the row is touched.
      input.parentElement.classList.toggle("spare", !order.first.includes(column) && input.value === "");
    }
    line.handle.setAttribute("aria-label", line.id ? `${name}: move, remove` : `new ${order.one}`);
    line.handle.disabled = !line.id;
  }

  function later(line, column) {
    clearTimeout(line.timers[column]);
    line.timers[column] = setTimeout(() => sendNow(line, column), SOON);
  }

  function sendNow(line, column) {
    clearTimeout(line.timers[column]);
    if (!line.dirty.has(column)) return;
    const value = line.fields[column].value;
    if (line.id) {
      set(line, column, value);
    } else if (!line.adding) {
      add(line);
    }
  }

  // One change of a cell at a time: the next one begins on what this one wrote.
  function set(line, column, value) {
    if (line.flying.has(column)) return;
    line.flying.add(column);
    const was = line.known[column] ?? "";
    const op = { op: "set", file: order.file, row: line.id, column, value, was };
    const label = `${line.known[order.name] ?? order.one}: ${column} ${value || "nothing"}`;
    change({ label, group: line.begun[column] ?? "", changes: [op] }).finally(() => {
      line.flying.delete(column);
    }).then((told) => {
      line.known[column] = clean(value);
      if (clean(line.fields[column]?.value ?? "") === clean(value)) line.dirty.delete(column);
      else later(line, column);
      // Somebody else may have changed it again before the answer was here.
      if ((file()?.version ?? 0) >= told.version) update();
    }, () => {
      line.dirty.delete(column);
      if (lines.has(line.id)) show(line);
    });
  }

  function add(line) {
    const cells = { ...(order.preset?.() ?? {}) };
    for (const column of shown) {
      const value = clean(line.fields[column].value);
      if (value) cells[column] = value;
    }
    if (shown.every((column) => !clean(line.fields[column].value))) return;
    line.adding = true;
    adding += 1;
    const name = cells[order.name] ? ` ${cells[order.name]}` : "";
    const asked = { label: `${order.one}${name} added`,
      changes: [{ op: "add", file: order.file, before: null, cells }] };
    change(asked).then((told) => {
      line.id = told.added[0];
      line.known = { ...cells };
      line.row = { id: line.id, lines: [0, 0], cells };
      lines.set(line.id, line);
      for (const column of [...line.dirty]) {
        if (clean(line.fields[column].value) === (cells[column] ?? "")) line.dirty.delete(column);
        else later(line, column);
      }
      draft = null;
    }, () => {}).finally(() => {
      line.adding = false;
      adding -= 1;
      update();
    });
  }

  function handle(line) {
    line.handle = button("⋮", () => menu(line), { class: "grip", "aria-haspopup": "dialog" });
    line.handle.addEventListener("pointerdown", (event) => {
      if (line.id && event.button === 0) drag(event, line, [...lines.values()], (before) => place(line, before));
    });
    return line.handle;
  }

  function place(line, before) {
    change({ label: `${line.known[order.name] ?? order.one} moved`,
      changes: [{ op: "move", file: order.file, row: line.id, before }] }).catch(() => {});
  }

  function step(line, by) {
    const ids = [...body.children].map((tr) => [...lines.values()].find((one) => one.node === tr))
      .filter(Boolean).map((one) => one.id);
    const at = ids.indexOf(line.id);
    const to = by < 0 ? at - 1 : at + 2;
    if (to < 0 || at + by >= ids.length) return;
    place(line, ids[to] ?? null);
  }

  function menu(line) {
    if (!line.id) return;
    const name = line.known[order.name] || order.one;
    ask_in(name, (close) => {
      const act = (what) => () => {
        close();
        what();
      };
      return el("div", { class: "menu" },
        (order.menu?.(line.row) ?? []).map(([word, what]) => button(word, act(what))),
        button("Move up", act(() => step(line, -1))),
        button("Move down", act(() => step(line, 1))),
        button("Another like it", act(() => {
          const cells = Object.fromEntries(Object.entries(line.known).filter(([, v]) => v !== ""));
          cells[order.name] = `${cells[order.name] ?? ""}*`;
          change({ label: `${name} once more`,
            changes: [{ op: "add", file: order.file, before: null, cells }] }).catch(() => {});
        })),
        button("Remove", act(() => {
          change({ label: `${name} removed`,
            changes: [{ op: "remove", file: order.file, row: line.id }] }).catch(() => {});
          say(`${name} removed: Undo brings it back`);
        }), { class: "warn" }));
    });
  }

  function keys(event, line, column) {
    const { key, altKey, ctrlKey, metaKey } = event;
    if (altKey && (key === "ArrowUp" || key === "ArrowDown") && line.id) {
      event.preventDefault();
      step(line, key === "ArrowUp" ? -1 : 1);
    } else if (key === "Enter" || (key === "ArrowDown" && !input_list(column))) {
      event.preventDefault();
      sendNow(line, column);
      go(line, column, 1);
    } else if (key === "ArrowUp" && !input_list(column)) {
      event.preventDefault();
      go(line, column, -1);
    } else if (key === "Escape" && line.dirty.has(column)) {
      event.preventDefault();
      line.fields[column].value = line.known[column] ?? "";
      later(line, column);
    } else if ((ctrlKey || metaKey) && key.toLowerCase() === "z") {
      sendNow(line, column);
    }
  }

  // With a list of words open the arrows choose among them.
  function input_list(column) {
    return Boolean(WORDS[column]);
  }

  function go(line, column, by) {
    const all = [...body.querySelectorAll("tr")].filter((tr) => !tr.classList.contains("told"));
    const next = all[all.indexOf(line.node) + by];
    next?.querySelector(`input[data-column="${column}"]`)?.focus();
  }

  function paste(event, line, column) {
    const there = [...body.querySelectorAll("tr")].filter((tr) => !tr.classList.contains("told"))
      .map((tr) => [...lines.values()].find((one) => one.node === tr)).filter(Boolean);
    const found = pasted(event, { file: order.file, known: file()?.columns ?? shown, shown, column, there,
      at: line.id ? there.indexOf(line) : there.length, preset: order.preset?.() ?? {} });
    if (!found) return;
    event.preventDefault();
    line.dirty.clear();
    if (!line.id) for (const name of shown) line.fields[name].value = "";
    change({ label: `${found.rows} rows pasted`, changes: found.changes })
      .then(() => say(`${found.rows} rows pasted`), () => {});
  }

  function update() {
    const now = file();
    if (!now || adding > 0) return;
    trouble.textContent = now.trouble ? `${order.file}: ${now.trouble}` : "";
    const wanted = which();
    const changed = wanted.join() !== shown.join();
    shown = wanted;
    if (changed) heading();
    const list = now.rows.filter((row) => !order.only || order.only(row));
    const ids = new Set(list.map((row) => row.id));
    for (const [id, line] of lines) {
      if (!ids.has(id)) {
        line.node.remove();
        line.below?.remove();
        lines.delete(id);
      }
    }
    let before = null;
    for (const row of list) {
      let line = lines.get(row.id);
      if (!line) {
        line = make(row);
        lines.set(row.id, line);
      } else {
        line.row = row;
        const known = { ...row.cells };
        // What is being typed was begun on what stood there then.
        for (const column of line.dirty) known[column] = line.known[column] ?? "";
        line.known = known;
        if (changed) redress(line);
      }
      const place = before ? before.nextSibling : body.firstChild;
      if (line.node !== place) body.insertBefore(line.node, place);
      before = line.node;
      if (line.below) {
        if (before.nextSibling !== line.below) before.after(line.below);
        before = line.below;
      }
      show(line);
    }
    if (!draft || draft.id) {
      draft = make(null);
      draft.node.classList.add("draft");
    } else if (changed) redress(draft);
    if (body.lastChild !== draft.node) body.append(draft.node);
    for (const line of lines.values()) line.node.classList.remove("draft");
    tellFaults(order.file, lines.values(), shown);
  }

  function redress(line) {
    const focus = document.activeElement?.dataset?.column;
    const here = line.node.contains(document.activeElement);
    const typed = Object.fromEntries([...line.dirty].map((c) => [c, line.fields[c]?.value ?? ""]));
    dress(line);
    for (const [column, value] of Object.entries(typed)) {
      if (line.fields[column]) line.fields[column].value = value;
    }
    if (here && focus) line.fields[focus]?.focus();
  }

  function columnsMenu() {
    ask_in("Columns", () => el("div", { class: "menu" },
      (file()?.columns ?? []).map((column) => {
        const fixed = order.first.includes(column) || file().shown.includes(column);
        const box = el("input", { type: "checkbox", checked: fixed || extra.has(column), disabled: fixed,
          onchange: () => {
            if (box.checked) extra.add(column);
            else extra.delete(column);
            update();
          } });
        return el("label", { class: "tick" }, box, column.replace("_", " "));
      })));
  }

  shown = which();
  heading();
  update();
  const stops = [on("file", (name) => name === order.file && update()), on("faults", () => tellFaults(order.file, lines.values(), shown))];
  return {
    node,
    more: button("Columns", columnsMenu, { class: "quiet" }),
    /** Goes to a row by the name in its first column. */
    goTo(name, column = order.name) {
      const line = [...lines.values()].find((one) => one.known[order.name] === name);
      if (line) {
        line.fields[column]?.focus({ preventScroll: true });
        line.node.scrollIntoView({ block: "center", behavior: "smooth" });
      }
      return Boolean(line);
    },
    mark(name) {
      for (const line of lines.values()) {
        line.node.classList.toggle("touched", name !== null && line.known[order.name] === name);
      }
    },
    end() {
      for (const stop of stops) stop();
      for (const line of lines.values()) for (const timer of Object.keys(line.timers)) sendNow(line, timer);
    },
  };
}

/** What the server makes of what is typed: one line, its ends trimmed. */
function clean(value) {
  return value.replace(/[\n\r\t]/g, " ").trim();
}

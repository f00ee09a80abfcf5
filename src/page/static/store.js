// What the page knows: the files, what is wrong with them, the plan, and what is still being sent.

import { ask, listen, Refused, tell } from "./net.js";
import { clash, failed } from "./dialog.js";
import { say } from "./dom.js";

export const store = {
  open: false,
  lan: false,
  folder: "",
  reached: true,
  /** The number of what the files say now, as far as known. */
  version: 0,
  /** @type {Record<string, any>} */
  files: {},
  faults: { faults: [], forbid: false },
  plan: null,
  planning: false,
  progress: null,
  steps: { undo: null, redo: null },
  /** What is touched: a front or a board by name. */
  touched: { front: null, board: null },
};

const ears = new Map();

/** Calls back whenever something of that name has changed, until `stop` is called. */
export function on(name, call) {
  if (!ears.has(name)) ears.set(name, new Set());
  ears.get(name).add(call);
  return () => ears.get(name).delete(call);
}

export function emit(name, value) {
  for (const call of [...(ears.get(name) ?? [])]) call(value);
}

/** Pieces of news heard that a state asked for before them may lack. */
let heardOf = 0;

/** Reads everything anew. */
export async function reload() {
  const before = heardOf;
  const state = await ask("/api/state");
  // What was told while the answer was on its way may be newer than the answer.
  if (heardOf !== before) return reload();
  const other = store.open !== state.open || store.folder !== state.folder;
  Object.assign(store, { open: state.open, lan: state.lan, folder: state.folder ?? "" });
  if (state.open) {
    store.version = state.version;
    store.faults = state.faults ?? { faults: [], forbid: false };
    store.plan = state.plan;
    store.steps = state.steps;
    store.planning = !state.plan || state.plan.version !== state.version;
    for (const file of state.files) store.files[file.file] = { version: state.version, ...file };
  }
  if (other) emit("opened");
  for (const name of Object.keys(store.files)) emit("file", name);
  emit("faults");
  emit("plan");
  emit("steps");
  emit("shop");
}

/** Whether what is shown of the plan is older than the files. */
export function isOld() {
  return !store.plan || store.plan.version < store.version || pending() > 0;
}

function heard(name, value) {
  if (name !== "progress") heardOf += 1;
  if (name === "hello" || name === "opened") {
    reload().catch(() => {});
  } else if (name === "file") {
    store.version = Math.max(store.version, value.version ?? 0);
    store.files[value.file] = value;
    emit("file", value.file);
    emit("plan");
  } else if (name === "planning") {
    store.planning = true;
    store.progress = null;
    store.version = Math.max(store.version, value.version);
    emit("plan");
  } else if (name === "faults") {
    store.faults = value;
    if (value.forbid) store.planning = false;
    emit("faults");
    emit("plan");
  } else if (name === "plan") {
    store.plan = value;
    store.planning = value.stage !== "last";
    if (value.stage === "last") store.progress = null;
    emit("plan");
  } else if (name === "progress") {
    store.progress = value;
    emit("progress");
  } else if (name === "failed") {
    store.planning = false;
    emit("plan");
  } else if (name === "steps") {
    store.steps = value;
    emit("steps");
  } else if (name === "outside") {
    say(`${value.files.join(", ")} changed outside this page: taken in`);
  } else {
    emit(name, value);
  }
}

/** Begins to listen. */
export function begin() {
  listen(heard, (reached) => {
    if (store.reached !== reached) {
      store.reached = reached;
      emit("reached");
      if (reached) pump();
    }
  });
}

// Changes are sent one after another. Those of one cell that are not sent yet become one.

const queue = [];
let sending = null;

/** How many changes are not in the files yet. */
export function pending() {
  return queue.length + (sending ? 1 : 0);
}

/**
 * Has a change made. Gives what the server says of it.
 * @param {{label?: string, group?: string, changes: any[]}} asked
 */
export function change(asked) {
  const cell = asked.changes.length === 1 && asked.changes[0].op === "set" ? asked.changes[0] : null;
  const same = cell && queue.find((waiting) => waiting.asked.changes.length === 1
    && waiting.asked.changes[0].op === "set"
    && ["file", "row", "column"].every((key) => waiting.asked.changes[0][key] === cell[key]));
  if (same) {
    same.asked.changes[0].value = cell.value;
    return same.done;
  }
  const waiting = { asked };
  waiting.done = new Promise((resolve, reject) => Object.assign(waiting, { resolve, reject }));
  queue.push(waiting);
  emit("reached");
  pump();
  return waiting.done;
}

async function pump() {
  if (sending || queue.length === 0) return;
  sending = queue.shift();
  try {
    const told = await tell("/api/change", sending.asked);
    store.version = Math.max(store.version, told.version);
    sending.resolve(told);
  } catch (why) {
    if (!(why instanceof Refused) || why.status === 429) {
      // The server can't be reached, or asks for patience: what was typed waits here.
      queue.unshift(sending);
      sending = null;
      store.reached = why instanceof Refused;
      emit("reached");
      setTimeout(pump, 1000);
      return;
    }
    if (why.status === 409) clash(why.more, sending.asked, change);
    else failed(why);
    sending.reject(why);
  }
  sending = null;
  emit("reached");
  pump();
}

/** Takes the last step back, or does it again. */
export async function undo(again) {
  try {
    await tell("/api/undo", { again });
  } catch (why) {
    say(why.message);
  }
}

/** Touches a front, a board, or nothing. */
export function touch(front, board) {
  const now = store.touched;
  const same = now.front === front && now.board === board;
  store.touched = same ? { front: null, board: null } : { front, board };
  emit("touched");
}

/** The rows of a table. */
export function rows(file) {
  return store.files[file]?.rows ?? [];
}

/** A setting of job.toml as written. */
export function setting(key) {
  return store.files["job.toml"]?.settings.find((one) => one.key === key);
}

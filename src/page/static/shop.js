// The shop: one board after another at arm's length, then machine after machine; ticks and mishaps.

import { button, el, fresh, refill, say } from "./dom.js";
import { ask_in, failed } from "./dialog.js";
import { ask, tell } from "./net.js";
import { change, isOld, on, rows, store } from "./store.js";

let at = 0;

export function shop(work) {
  const body = el("div", { class: "shop" });
  work.append(body);
  let told = null;
  let why = null;
  let count = 0;
  const fetch_ = async () => {
    count += 1;
    const mine = count;
    try {
      const now = await ask("/api/shop");
      if (mine === count) [told, why] = now.none ? [null, { message: now.none }] : [now, null];
    } catch (trouble) {
      if (mine === count) [told, why] = [null, trouble];
    }
    if (mine === count) draw();
  };
  const draw = () => {
    const focus = document.activeElement?.dataset?.keep;
    refill(body, banner(told), told ? [boards(told, draw), phases(told)] : nothing(why));
    if (focus) body.querySelector(`[data-keep="${CSS.escape(focus)}"]`)?.focus();
  };
  fetch_();
  const stops = [on("shop", fetch_), on("plan", () => (store.planning ? null : fetch_()))];
  return () => stops.forEach((stop) => stop());
}

/** Whether the shop works by the plan on the screen, and what taking that there would change. */
function banner(told) {
  const ready = store.plan && !isOld() && store.plan.stage === "last";
  if (told?.same) {
    return el("section", { class: "card" },
      el("p", {}, "The shop works by the plan on the screen."), packet());
  }
  const take = button(told ? "Take this plan to the shop" : "Take the plan to the shop", (event) => {
    event.currentTarget.disabled = true;
    event.currentTarget.textContent = "Writing the packet…";
    tell("/api/hand").then(() => say("The packet is written: chalk by this plan from now on"), failed);
  }, { class: "main", disabled: !ready });
  const moved = (store.plan?.changes ?? []).filter((one) => ["moved", "new", "not_made"].includes(one.kind));
  return el("section", { class: "card warnish" },
    el("h2", {}, told ? "The plan has changed" : "Ready for the shop?"),
    el("p", {}, told
      ? "The plan on the screen is another than the one chalked. Look at what it changes before you take it."
      : "Taking the plan to the shop writes the packet: marks to chalk, cut list, drawings, labels."),
    moved.length > 0 && el("ul", { class: "list" }, moved.map((one) => el("li", {}, el("span", {}, el("b", {}, one.front), changed(one))))),
    !ready && el("p", { class: "dim" }, store.faults?.forbid ? "First mend what is told above." : "The plan is still being searched for."),
    el("div", { class: "actions" }, take), told && packet());
}

function changed(one) {
  const why = one.why ? `: ${one.why}` : "";
  if (one.kind === "not_made") return ` can't be made any more${why}${one.buy ? `. Buy ${one.buy}` : ""}`;
  if (one.was) return ` from ${one.now} instead of ${one.was}${why}`;
  return ` from ${one.now}${why}`;
}

function packet() {
  const link = (name, words) => el("a", { href: `/packet/${name}`, target: "_blank", rel: "noopener", class: "button" }, words);
  return el("div", { class: "actions" }, link("packet.html", "Open the packet"), link("packet.pdf", "Print the packet (PDF)"), link("labels.pdf", "Labels"));
}

function nothing(why) {
  if (!why) return el("p", { class: "dim" }, "…");
  return el("p", { class: "dim" }, why.message.startsWith("there is no plan") ? "Nothing is chalked yet." : why.message);
}

function boards(told, draw) {
  if (told.boards.length === 0) return null;
  at = Math.min(at, told.boards.length - 1);
  const now = told.boards[at];
  const turn = (by) => () => {
    at = (at + by + told.boards.length) % told.boards.length;
    draw();
  };
  const fates = new Map(told.fronts.map((front) => [front.name, front]));
  return el("section", { class: "bench", "aria-label": `Board ${now.name}` },
    el("div", { class: "turn" },
      button("◀", turn(-1), { "aria-label": "The board before", "data-keep": "before" }),
      el("h2", {}, now.name, el("small", {}, ` ${at + 1} of ${told.boards.length}`)),
      button("▶", turn(1), { "aria-label": "The next board", "data-keep": "next" })),
    el("p", { class: "dim" }, now.facts),
    el("div", { class: "paper scroll", tabindex: 0, role: "region", "aria-label": `Diagram of ${now.name}` },
      el("img", { src: `/api/shop/board/${at}?${store.version}`, alt: `Where to cut ${now.name}: the table below has every mark` })),
    el("ol", { class: "marks" }, now.marks.map((mark) => tick(
      `${now.name}/${mark.kind}/${mark.at}/${mark.line}`, mark.done,
      el("span", { class: "big" }, mark.at),
      el("span", {}, `${mark.kind}, ${mark.from}`, el("br"), el("span", { class: "dim" }, `${mark.what}; line ${mark.line}`)), "li"))),
    el("h3", {}, "Its fronts"),
    el("ul", { class: "fates" }, now.fronts.map((name) => fate(name, fates.get(name)))),
    el("div", { class: "actions" },
      button("I found a defect here", () => defect(now)),
      button("It was cut through elsewhere", () => crosscut(now))));
}

/** A large tick of the page's own: kept in this browser, the files know only of fronts. */
function tick(key, done, ...rest) {
  const kind = rest.pop();
  const name = `${store.folder}/${key}`;
  const was = done || localStorage.getItem(name) === "1";
  const box = el("input", { type: "checkbox", checked: was, disabled: done, onchange: () => {
    if (box.checked) localStorage.setItem(name, "1");
    else localStorage.removeItem(name);
  } });
  return el(kind, {}, el("label", { class: "tick" }, box, rest));
}

function fate(name, front) {
  const now = front?.fate;
  const mark = (what) => () => tell("/api/mark", { what: "fronts", names: [name], now: what })
    .then((told) => {
      if (told.notes.length > 0) ask_in(told.what, () => el("ul", {}, told.notes.map((note) => el("li", {}, note))));
      else say(told.what);
    }, failed);
  const word = (what, words, pressed) => button(words, mark(what), {
    "aria-pressed": String(pressed), "data-keep": `${name}/${what}`, "aria-label": `${name}: ${words}` });
  return el("li", {},
    el("b", {}, name, el("small", { class: "dim" }, ` ${front?.size ?? ""}`)),
    el("span", { class: "actions" },
      word("cut", "Cut", now === "cut" || now === "made"),
      word("made", "Made", now === "made"),
      button("Spoiled", () => spoiled(name), { class: "warn", "aria-label": `${name}: spoiled` }),
      now && button("Not yet", () => back(name), { class: "quiet", "aria-label": `${name}: Not yet` })));
}

/** A tick that was a slip: the line goes out of done.csv. */
function back(name) {
  const row = rows("done.csv").filter((one) => one.cells.front === name && one.cells.state !== "spoiled").pop();
  if (!row) return;
  change({ label: `${name}: tick taken back`, changes: [{ op: "remove", file: "done.csv", row: row.id }] }).catch(() => {});
}

function spoiled(name) {
  const notes = el("input", { type: "text", id: fresh("notes"), autocomplete: "off", placeholder: "tear-out at the left end" });
  ask_in(`${name} is spoiled`, (close) => el("div", {},
    el("p", {}, "Its blank is lost, and it must be made anew. What is left of the pile is planned again; you see what that changes before it is taken."),
    el("label", { for: notes.id }, "What happened?"), notes,
    el("div", { class: "actions" }, button("It is not", close),
      button("It is spoiled", () => {
        close();
        tell("/api/mark", { what: "fronts", names: [name], now: "spoiled", notes: notes.value })
          .then((told) => say(told.what), failed);
      }, { class: "warn" }))));
}

function lengths(names) {
  return names.map(([key, words]) => {
    const id = fresh(key);
    return { key, input: el("input", { type: "text", id, autocomplete: "off" }), label: el("label", { for: id }, words) };
  });
}

function defect(board) {
  const kinds = ["knot", "check", "split", "wane", "sap", "pith", "stain", "hole", "other"];
  const kind = el("select", { id: fresh("kind") }, kinds.map((word) => el("option", { value: word }, word)));
  const fields = lengths([["from", "From, along the board from the hook end"], ["to", "To"],
    ["low", "Low, across from the near edge"], ["high", "High"]]);
  ask_in(`A defect on ${board.name}`, (close) => el("div", { class: "fields" },
    el("div", { class: "field" }, el("label", { for: kind.id }, "What is it?"), kind),
    fields.map((one) => el("div", { class: "field" }, one.label, one.input)),
    el("div", { class: "actions" }, button("Mark it", () => {
      tell("/api/mark", { what: "defect", board: board.id, copy: null, kind: kind.value,
        edges: fields.map((one) => one.input.value), notes: "found in the shop" })
        .then((told) => {
          close();
          say(told.what);
        }, failed);
    }, { class: "main" }))));
}

function crosscut(board) {
  const [field] = lengths([["at", "Where, from the hook end (the kerf lies beyond the line)"]]);
  ask_in(`${board.name} was cut through`, (close) => el("div", { class: "fields" },
    el("div", { class: "field" }, field.label, field.input),
    el("div", { class: "actions" }, button("Mark it", () => {
      tell("/api/mark", { what: "crosscut", board: board.id, copy: board.copy > 1 ? board.copy : null, at: field.input.value })
        .then((told) => {
          close();
          say(told.what);
        }, failed);
    }, { class: "main" }))));
}

function phases(told) {
  return el("section", {}, el("h2", {}, "Machine after machine"),
    el("p", { class: "dim" }, "All boards together, from the first phase to the last. The machine's own manual comes first."),
    told.phases.map((phase, index) => el("details", { class: "card", open: index === 0 },
      el("summary", {}, `${index + 1}. ${phase.title}`),
      el("p", {}, phase.how),
      phase.mind && el("p", { class: "note" }, phase.mind),
      el("ul", { class: "marks" }, phase.steps.map((step) => tick(`${phase.title}/${step}`, false, el("span", {}, step), "li"))))));
}

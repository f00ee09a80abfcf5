// The plan: the case above, the boards as they lie below, linked by touch.

import { board, room } from "./board.js";
import { button, el, refill } from "./dom.js";
import { failed } from "./dialog.js";
import { elevation } from "./elevation.js";
import { ask, tell } from "./net.js";
import { change, isOld, on, store, touch } from "./store.js";
import { inForce, price, wishFor } from "./wishes.js";

export function plan(work) {
  const above = el("div", { class: "picture" });
  const figures = el("dl", { class: "figures" });
  const about = el("div", { class: "about", "aria-live": "polite" });
  const below = el("div", { class: "boards" });
  const missing = el("div", {});
  const wishes = inForce();
  const ways = el("div", {});

  // Drawn, or in the boards' photographs.
  const turn = el("div", { class: "actions" });
  let inWood = false;

  const draw = () => {
    const now = store.plan;
    const old = isOld();
    for (const part of [above, below, figures]) part.classList.toggle("old", Boolean(now) && old);
    if (!now) {
      refill(above, el("p", { class: "dim" }, store.faults?.forbid
        ? "There is no plan yet: mend what is told above." : "Planning…"));
      return;
    }
    const seen = inWood && now.photographed;
    refill(turn, now.photographed && button(seen ? "Show it drawn" : "Show it in its own wood", () => {
      inWood = !inWood;
      draw();
    }));
    refill(above, seen ? photographed(now)
      : elevation(now, (front) => touch(front.name, front.from[0]?.id ?? null), store.touched),
      old && el("p", { class: "stamp" }, "before the last change"));
    refill(figures, now.figures.map(([name, value]) => el("div", {}, el("dt", {}, name), el("dd", {}, value))));
    refill(missing, now.fronts.filter((front) => front.missing).map((front) => el("p", { class: "fault" },
      el("b", {}, `${front.name} can't be made: `), `${front.missing.why}. Buy ${front.missing.buy}.`)));
    lay(now);
    aside();
  };

  const lay = (now) => {
    const longest = Math.max(1, ...now.boards.map((one) => one.length));
    const how = { unit: now.unit, fraction: now.fraction, longest, room: room(below), touched: store.touched,
      tapped: (blank) => touch(blank.front, now.boards.find((one) => one.blanks.includes(blank))?.id ?? null) };
    const idle = now.pile.filter((one) => !now.boards.some((cut) => cut.id === one.id));
    refill(below,
      now.boards.map((one) => el("figure", { "data-board": one.id, class: store.touched.board === one.id ? "touched" : "" },
        el("figcaption", {}, el("b", {}, one.name), el("span", { class: "dim" }, ` ${one.facts}${one.to_buy ? ", to buy" : ""}`),
          !now.begun && button("Put aside", () => price([`${one.id}=out`]), { class: "quiet", "aria-label": `Put aside ${one.id}` })),
        board(one, how))),
      idle.length > 0 && el("p", { class: "dim" }, "Not cut: ", idle.map((one) => el("span", { class: "chip", "data-board": one.id }, one.left_out ? `${one.id} (put aside)` : one.id))));
  };

  // What can be done with the front that is touched.
  const aside = () => {
    const now = store.plan;
    const front = now?.fronts.find((one) => one.name === store.touched.front);
    if (!front) {
      refill(about, el("p", { class: "dim" }, "Tap a front or a piece on a board. A front dragged onto another board asks what that would cost."));
      return;
    }
    const from = front.from.map((source) => `${source.board}${source.staves > 1 ? ` (stave ${source.stave} of ${source.staves})` : ""}`);
    refill(about, el("p", {}, el("b", {}, front.name), `, ${front.size}, ${front.alone ? "by itself" : `in ${front.run}`}: `,
      from.length > 0 ? `from ${[...new Set(from)].join(" and ")}` : "not made"),
    front.from.map((source) => source.at).filter((at, i, all) => all.indexOf(at) === i).map((at) => {
      const cut = now.boards[at];
      return cut && board(cut, { unit: now.unit, fraction: now.fraction, longest: cut.length, room: Math.min(640, room(about) - 34), touched: store.touched });
    }),
    !now.begun && wishFor(front, now));
  };

  const showWays = async (event) => {
    const asked = event.currentTarget;
    asked.disabled = true;
    refill(ways, el("p", { class: "busy" }, "Looking for plans with less wood, fewer breaks, closer tones…"));
    try {
      const told = await tell("/api/ways");
      refill(ways, table(told, store.plan?.begun));
    } catch (why) {
      refill(ways);
      failed(why);
    }
    asked.disabled = false;
  };

  work.append(
    el("section", {}, missing, turn, above, figures),
    about,
    el("section", {}, el("h2", {}, "The boards"), below),
    el("section", { class: "card" }, wishes.node),
    el("section", { class: "card" }, el("h2", {}, "Ways side by side"),
      el("p", { class: "dim" }, "The best plan at what looks are worth to you is one of several: others take less wood, or have fewer breaks, or closer tones."),
      button("Show them", showWays), ways),
    el("div", { class: "actions onward" }, el("a", { href: "#shop", class: "button" }, "On to the shop")));
  draw();
  drags(work);
  let wide = 0;
  const watch = new ResizeObserver(() => {
    if (Math.abs(wide - below.clientWidth) > 4) draw();
    wide = below.clientWidth;
  });
  watch.observe(below);
  const stops = [on("plan", draw), on("touched", draw), on("typing", draw)];
  return () => {
    watch.disconnect();
    stops.forEach((stop) => stop());
    wishes.end();
  };
}

// The case in its boards' photographs, or why there is none.
function photographed(now) {
  const told = el("p", { class: "fault" });
  const picture = el("img", { src: `/api/case?plan=${now.version}-${now.stage}`, alt: "The case in its own wood" });
  picture.addEventListener("error", () => ask("/api/case").then(() => {}, (why) => {
    told.textContent = why.message;
  }));
  return el("div", {}, picture, told);
}

// Another way is chosen by what looks are worth: those worths at which it is the best plan.
function choose(way) {
  const changes = ["unbroken", "tone_run", "tone_case"].map((key) => (
    { op: "key", section: "worth", key, value: String(way.best_for[key]) }));
  change({ label: `way ${way.way}`, changes }).catch(() => {});
}

function table(told, begun) {
  const figure = (totals, name) => {
    const value = totals[name] ?? totals[name.replace("feet", "litres")];
    return typeof value === "number" && !Number.isInteger(value) ? value.toFixed(2) : String(value);
  };
  const names = [["feet_used", "wood used"], ["breaks", "breaks"], ["tone_run", "tone in runs"],
    ["tone_case", "tone over all"], ["boards_used", "boards cut"]];
  return el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Ways side by side" },
    el("table", { class: "told" },
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "way"), names.map(([, word]) => el("th", { scope: "col" }, word)), el("th", { scope: "col" }, "best when avoiding one break is worth"), !begun && el("td", {}))),
      el("tbody", {}, (told.ways ?? []).map((way) => el("tr", { class: way.way === told.chosen ? "touched" : "" },
        el("th", { scope: "row" }, way.way === told.chosen ? `${way.way}, yours` : way.way),
        names.map(([name]) => el("td", {}, figure(way.totals, name))),
        el("td", {}, way.best_for.unbroken.toFixed(2)),
        !begun && el("td", {}, way.way !== told.chosen
          && button("Work by it", () => choose(way), { "aria-label": `Work by it: way ${way.way}` })))))));
}

// A front dragged onto another board is a wish.
function drags(work) {
  let held = null;
  const clear = () => {
    held?.ghost?.remove();
    work.querySelectorAll(".over").forEach((node) => node.classList.remove("over"));
    held = null;
  };
  work.addEventListener("pointerdown", (event) => {
    const front = event.target.closest?.("[data-front]");
    if (!front || event.button !== 0 || store.plan?.begun) return;
    held = { name: front.dataset.front, x: event.clientX, y: event.clientY, ghost: null, touch: event.pointerType === "touch" };
  });
  work.addEventListener("pointermove", (event) => {
    if (!held || held.touch) return;
    if (!held.ghost) {
      if (Math.hypot(event.clientX - held.x, event.clientY - held.y) < 10) return;
      held.ghost = el("div", { class: "ghost" }, held.name);
      document.body.append(held.ghost);
    }
    event.preventDefault();
    held.ghost.style.translate = `${event.clientX + 8}px ${event.clientY + 8}px`;
    work.querySelectorAll(".over").forEach((node) => node.classList.remove("over"));
    under(event)?.classList.add("over");
  });
  const under = (event) => document.elementFromPoint(event.clientX, event.clientY)?.closest("figure[data-board], .chip[data-board]");
  work.addEventListener("pointerup", (event) => {
    const target = held?.ghost && under(event);
    const name = held?.name;
    const was = store.plan?.fronts.find((one) => one.name === name)?.from.map((source) => source.id) ?? [];
    clear();
    if (target && !was.includes(target.dataset.board)) price([`${name}=${target.dataset.board}`]);
  });
  work.addEventListener("pointercancel", clear);
}

// Windows that ask before anything is done.

import { button, el, fresh } from "./dom.js";

/** Opens a window over the page. `make` fills it and is given a function that closes it. */
export function ask_in(title, make, props = {}) {
  const id = fresh("title");
  const before = document.activeElement;
  const window_ = el("dialog", { "aria-labelledby": id, ...props });
  const close = () => {
    window_.close();
    window_.remove();
    if (before instanceof HTMLElement && before.isConnected) before.focus();
  };
  window_.append(
    el("div", { class: "dialog-head" },
      el("h2", { id }, title),
      button("Close", close, { class: "quiet" })),
    make(close));
  window_.addEventListener("cancel", (event) => {
    event.preventDefault();
    close();
  });
  document.body.append(window_);
  window_.showModal();
  return close;
}

/** What the server would not do, and why. */
export function failed(why) {
  const faults = Array.isArray(why.more) ? why.more : [];
  ask_in("That was not done", () => el("div", {},
    el("p", {}, why.message),
    faults.length > 0 && el("ul", {}, faults.map((fault) => el("li", {}, words(fault))))));
}

/** A fault in the words of `check`. */
export function words(fault) {
  const place = [fault.column, fault.cell ? `\`${fault.cell}\`` : ""].filter(Boolean).join(" ");
  const expected = fault.expected ? `; expected ${fault.expected}` : "";
  const hint = fault.hint ? `. ${fault.hint}` : "";
  return `${place ? `${place}: ` : ""}${fault.problem}${expected}${hint}`;
}

/** Two people changed one cell: whose word stands? */
export function clash(told, asked, change) {
  ask_in("Changed by somebody else meanwhile", (close) => el("div", {},
    el("p", {}, `${told.column} in ${told.file} was changed while you typed.`),
    el("dl", { class: "pair" },
      el("dt", {}, "There now"), el("dd", {}, told.theirs || "nothing"),
      el("dt", {}, "You typed"), el("dd", {}, told.yours || "nothing")),
    el("div", { class: "actions" },
      button("Leave theirs", close),
      button("Write mine", () => {
        close();
        const changes = asked.changes.map((one) => (
          one.op === "set" && one.row === told.row && one.column === told.column
            ? { ...one, was: told.theirs } : one));
        change({ ...asked, changes }).catch(() => {});
      }, { class: "main" }))));
}

/** Asks before something is done that is hard to see otherwise. */
export function sure(title, text, yes, act) {
  ask_in(title, (close) => el("div", {},
    el("p", {}, text),
    el("div", { class: "actions" },
      button("Leave it", close),
      button(yes, () => {
        close();
        act();
      }, { class: "main" }))));
}

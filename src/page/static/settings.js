// The settings of job.toml, each with its meaning and its usual value.

import { el, fresh } from "./dom.js";
import { words } from "./dialog.js";
import { change, on, store } from "./store.js";

/** Fields for some settings. */
export function settings(keys) {
  const box = el("div", { class: "fields" });
  const fields = new Map();
  const all = () => (store.files["job.toml"]?.settings ?? []).filter((one) => keys(one));
  for (const one of all()) {
    const id = fresh("set");
    const told = el("p", { class: "fault", id: `${id}-told` });
    const input = el("input", { id, type: "text", autocomplete: "off", value: one.value, placeholder: one.usual,
      list: one.key === "units" ? "words-units" : null });
    let timer = 0;
    let group = "";
    const send = () => {
      clearTimeout(timer);
      const now = all().find((other) => other.key === one.key && other.section === one.section);
      if (now && now.value === input.value.trim()) return;
      change({ label: `${one.what}: ${input.value || "as usual"}`, group,
        changes: [{ op: "key", section: one.section, key: one.key, value: input.value }] }).catch(() => {});
    };
    input.addEventListener("focus", () => {
      group = fresh("edit");
    });
    input.addEventListener("input", () => {
      clearTimeout(timer);
      timer = setTimeout(send, 250);
    });
    input.addEventListener("change", send);
    fields.set(`${one.section}/${one.key}`, { input, told });
    box.append(el("div", { class: "field" }, el("label", { for: id }, one.what), input, told));
  }
  const show = () => {
    for (const one of all()) {
      const field = fields.get(`${one.section}/${one.key}`);
      if (field && document.activeElement !== field.input) field.input.value = one.value;
    }
  };
  const faults = () => {
    for (const [name, { input, told }] of fields) {
      const [section, key] = name.split("/");
      const here = (store.faults?.faults ?? []).filter((fault) => fault.file === "job.toml"
        && [key, `${section}.${key}`, `[${section}] ${key}`].includes(fault.column));
      told.textContent = here.map(words).join(" ");
      input.classList.toggle("fault", here.length > 0);
      if (here.length > 0) {
        input.setAttribute("aria-invalid", "true");
        input.setAttribute("aria-describedby", told.id);
      } else {
        input.removeAttribute("aria-invalid");
        input.removeAttribute("aria-describedby");
      }
    }
  };
  faults();
  const stops = [on("file", (name) => name === "job.toml" && show()), on("faults", faults)];
  return { node: box, end: () => stops.forEach((stop) => stop()) };
}

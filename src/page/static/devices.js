// Who is let in: a phone by its camera, and out again.

import { button, el, refill, svg } from "./dom.js";
import { ask_in, failed } from "./dialog.js";
import { ask, tell } from "./net.js";
import { on } from "./store.js";

export function devices() {
  const body = el("div", {});
  const stop = on("devices", () => (body.isConnected ? fill(body) : stop()));
  ask_in("Devices", () => body);
  fill(body);
}

async function fill(body) {
  try {
    const told = await ask("/api/devices");
    refill(body,
      el("ul", { class: "list" }, told.devices.map((one) => el("li", {},
        el("span", {}, one.device, el("span", { class: "dim" }, ` ${one.from}${one.number === told.you ? ", this one" : ""}`)),
        one.number !== told.you && button("Throw out", () => tell("/api/out", { number: one.number }).then(() => fill(body), failed), { class: "warn" })))),
      told.lan ? phone() : el("p", {}, "To let in a phone of your own network, start the page with ",
        el("code", {}, "grainrow page --lan"), "."));
  } catch (why) {
    failed(why);
  }
}

function phone() {
  const place = el("div", {});
  return el("section", {},
    el("h3", {}, "Let in a phone"),
    el("p", {}, "What the phone and this machine send each other is not encrypted: whoever is in the same network can read it. At home or in the shop that may be fine; in a public network it is not."),
    button("Show a code", () => tell("/api/invite").then(({ address, qr }) => {
      refill(place, picture(qr), el("p", {}, "Point the phone's camera at it within ten minutes. It works once."),
        el("p", { class: "dim break" }, address));
    }, failed)),
    place);
}

function picture(rows) {
  const size = rows.length;
  let path = "";
  rows.forEach((row, y) => row.forEach((dark, x) => {
    if (dark) path += `M${x} ${y}h1v1h-1z`;
  }));
  return svg("svg", { class: "qr", viewBox: `0 0 ${size} ${size}`, role: "img", "aria-label": "A code for the phone's camera" },
    svg("rect", { width: size, height: size, fill: "#fff" }), svg("path", { d: path, fill: "#000" }));
}

// Photographs of a board: taken, its corners tapped, measured, what is wrong marked on it.

import { button, el, fresh, refill, say, svg } from "./dom.js";
import { ask_in, failed } from "./dialog.js";
import { send, tell } from "./net.js";
import { change, on, rows } from "./store.js";

const CORNERS = [["hook_near", "the near edge at the hook end"], ["far_near", "the near edge at the far end"],
  ["far_far", "the far edge at the far end"], ["hook_far", "the far edge at the hook end"]];

/** The photographs of a board. */
export function photographs(name) {
  const body = el("div", {});
  const results = el("div", {});
  const picker = el("input", { type: "file", id: fresh("photo"), accept: "image/jpeg,image/png", onchange: () => take(picker.files[0]) });
  const camera = el("input", { type: "file", id: fresh("camera"), accept: "image/jpeg,image/png", capture: "environment", onchange: () => take(camera.files[0]) });
  const take = async (file) => {
    if (!file) return;
    say(`Sending ${file.name}…`, 60000);
    try {
      await send(`/api/photo/${encodeURIComponent(name)}`, file);
      say("The photograph is in the job");
    } catch (why) {
      say("");
      failed(why);
    }
  };
  const draw = () => {
    const mine = rows("photos.csv").filter((row) => row.cells.board === name);
    refill(body,
      el("p", { class: "dim" }, "From above, the whole board in the picture, a sheet of white paper beside it: then its tone is measured too."),
      el("div", { class: "actions" },
        el("label", { class: "button", for: camera.id }, "Take a photograph"), camera,
        el("label", { class: "button", for: picker.id }, "Choose a picture"), picker),
      mine.map((row) => el("figure", {},
        el("img", { class: "thumb", src: `/api/picture/${row.id}`, alt: `Photograph of ${name}` }),
        el("figcaption", {}, CORNERS.every(([key]) => row.cells[key]) ? "corners tapped" : "corners looked for",
          button("Tap its corners", () => corners(row, name)),
          button("Take it out", () => change({ label: `photograph of ${name} taken out`, changes: [{ op: "remove", file: "photos.csv", row: row.id }] }).catch(() => {}), { class: "quiet" })))),
      mine.length > 0 && button("Measure", () => measure(name, results), { class: "main" }),
      results);
  };
  draw();
  const stop = on("file", (file) => {
    if (!body.isConnected) stop();
    else if (file === "photos.csv") draw();
  });
  ask_in(`Photographs of ${name}`, () => body, { class: "large" });
}

/** Four corners tapped on the picture, under a magnifier. */
function corners(row, name) {
  const image = el("img", { src: `/api/picture/${row.id}`, alt: `Photograph of ${name}`, draggable: "false" });
  const glass = el("canvas", { class: "glass", width: 160, height: 160, "aria-hidden": "true" });
  const marks = svg("svg", { class: "over-image", "aria-hidden": "true" });
  const told = el("p", { class: "lead", "aria-live": "polite" });
  const box = el("div", { class: "on-image" }, image, marks, glass);
  let points = CORNERS.map(([key]) => row.cells[key]).every(Boolean)
    ? CORNERS.map(([key]) => row.cells[key].trim().split(/\s+/).map(Number)) : [];
  const typed = CORNERS.map(([key, words], i) => el("input", { type: "text", id: fresh(key), inputmode: "decimal", placeholder: "x y",
    "aria-label": `${words}, x y in pixels`, onchange: (event) => {
      const point = event.target.value.trim().split(/\s+/).map(Number);
      if (point.length === 2 && point.every(Number.isFinite)) points[i] = point;
      draw();
    } }));
  const scale = () => image.naturalWidth / image.clientWidth;
  const draw = () => {
    marks.setAttribute("viewBox", `0 0 ${image.naturalWidth || 1} ${image.naturalHeight || 1}`);
    const there = points.filter(Boolean);
    refill(marks,
      svg("polygon", { points: there.map((p) => p.join(",")).join(" "), class: "outline", "stroke-width": 2 * scale() }),
      there.map((p, i) => svg("g", {},
        svg("circle", { cx: p[0], cy: p[1], r: 9 * scale(), class: "corner", "stroke-width": 2 * scale() }),
        // Inwards of its corner, so that it is in the picture.
        svg("text", { x: p[0] + (p[0] * 2 > image.naturalWidth ? -24 : 12) * scale(),
          y: p[1] + (p[1] * 2 > image.naturalHeight ? -12 : 22) * scale(), "font-size": 16 * scale() }, i + 1))));
    const next = CORNERS[there.length];
    told.textContent = next ? `Tap ${next[1]} (${there.length + 1} of 4).` : "All four are there. A tap moves the nearest.";
    points.forEach((p, i) => {
      if (p && document.activeElement !== typed[i]) typed[i].value = p.map((n) => Math.round(n * 10) / 10).join(" ");
    });
    keep.disabled = there.length < 4;
  };
  const place = (event) => {
    const rect = image.getBoundingClientRect();
    return [(event.clientX - rect.left) * scale(), (event.clientY - rect.top) * scale()]
      .map((n, i) => Math.round(Math.min(Math.max(n, 0), i ? image.naturalHeight : image.naturalWidth) * 10) / 10);
  };
  const magnify = (event) => {
    const [x, y] = place(event);
    const paint = glass.getContext("2d");
    const zoom = 26 * scale();
    paint.fillStyle = "#000";
    paint.fillRect(0, 0, 160, 160);
    paint.drawImage(image, x - zoom, y - zoom, 2 * zoom, 2 * zoom, 0, 0, 160, 160);
    paint.strokeStyle = "#fff";
    paint.strokeRect(79, 0, 2, 160);
    paint.strokeRect(0, 79, 160, 2);
    const rect = box.getBoundingClientRect();
    // Away from the finger: above it, or below where there is no room.
    const up = event.clientY - rect.top > 190;
    glass.style.left = `${Math.min(Math.max(event.clientX - rect.left - 80, 0), Math.max(0, rect.width - 160))}px`;
    glass.style.top = `${event.clientY - rect.top + (up ? -190 : 40)}px`;
    glass.classList.add("on");
  };
  let held = null;
  box.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    box.setPointerCapture(event.pointerId);
    const p = place(event);
    if (points.length < 4) {
      held = points.length;
      points.push(p);
    } else {
      const far = points.map((q) => Math.hypot(q[0] - p[0], q[1] - p[1]));
      held = far.indexOf(Math.min(...far));
      points[held] = p;
    }
    magnify(event);
    draw();
  });
  box.addEventListener("pointermove", (event) => {
    if (held === null) return;
    points[held] = place(event);
    magnify(event);
    draw();
  });
  const up = () => {
    held = null;
    glass.classList.remove("on");
  };
  box.addEventListener("pointerup", up);
  box.addEventListener("pointercancel", up);
  image.addEventListener("load", draw);
  const keep = button("Keep these corners", () => {
    const changes = CORNERS.map(([key], i) => ({ op: "set", file: "photos.csv", row: row.id, column: key,
      value: points[i].join(" "), was: row.cells[key] ?? "" }));
    change({ label: `corners of ${name}`, changes }).then(() => close(), () => {});
  }, { class: "main" });
  const close = ask_in(`Corners of ${name}`, () => el("div", {}, told, box,
    el("details", {}, el("summary", {}, "Or type them"), el("div", { class: "fields" },
      CORNERS.map(([, words], i) => el("div", { class: "field" }, el("label", { for: typed[i].id }, words), typed[i])))),
    el("div", { class: "actions" }, button("Begin anew", () => {
      points = [];
      draw();
    }), keep)), { class: "large" });
  draw();
}

/** What the photographs tell of a board, to be accepted or not. */
async function measure(name, place) {
  refill(place, el("p", { class: "busy" }, "Straightening and measuring…"));
  let told;
  try {
    told = await tell("/api/measure");
  } catch (why) {
    refill(place);
    failed(why);
    return;
  }
  const faces = told.told.boards.filter((face) => face.board === name);
  const pictures = told.files.filter((file) => file.endsWith(".jpg"));
  refill(place, faces.length === 0 && el("p", { class: "fault" }, "Its corners were not found for certain: tap them, then measure again."),
    faces.map((face) => {
      const file = pictures[told.told.boards.indexOf(face)];
      return el("section", {}, el("h3", {}, `${face.side} side`),
        el("p", {}, face.tone === null || face.tone === undefined ? "Its tone can't be told." : `Tone ${Number(face.tone).toFixed(1)}, within ${Number(face.uncertain).toFixed(1)}`),
        file && onFace(name, face, file, told.told.unit),
        el("div", { class: "actions" }, face.defects.length > 0 && button(`Accept the ${face.defects.length} found`, () => tell("/api/accept", { what: "defects", boards: [name], numbers: face.defects.map((one) => one.number) })
          .then((done) => say(done.what.length > 0 ? `${done.what.length} written` : "They are in the job already"), failed)),
        button("Use this tone", () => tone(name))));
    }));
}

function tone(name) {
  const row = rows("boards.csv").find((one) => one.cells.board === name);
  if (!row) return;
  change({ label: `${name}: tone by photograph`, changes: [{ op: "set", file: "boards.csv", row: row.id, column: "tone", value: "photo", was: row.cells.tone ?? "" }] }).catch(() => {});
}

/** The straightened picture, hook end left: two taps are two corners of a defect. */
function onFace(name, face, file, unit) {
  const image = el("img", { src: `/api/face/${encodeURIComponent(file)}?${Date.now()}`, alt: `${name}, straightened`, draggable: "false" });
  const marks = svg("svg", { class: "over-image", "aria-hidden": "true" });
  const box = el("div", { class: "on-image", tabindex: 0, role: "region", "aria-label": `${name}, straightened: defects can be typed in the table too` }, image, marks);
  const told = el("p", { class: "dim", "aria-live": "polite" }, "Tap two opposite corners of a knot or a check to mark it.");
  let first = null;
  const draw = () => {
    marks.setAttribute("viewBox", `0 0 ${image.naturalWidth || 1} ${image.naturalHeight || 1}`);
    const line = (image.naturalWidth || 1) / (image.clientWidth || 1);
    const tall = image.naturalHeight;
    const found = face.defects.map((one) => svg("rect", { x: one.from * face.scale, y: tall - one.high * face.scale,
      width: (one.to - one.from) * face.scale, height: (one.high - one.low) * face.scale, class: "found", "stroke-width": 1.5 * line }));
    refill(marks, found, first && svg("circle", { cx: first[0], cy: first[1], r: 6 * line, class: "corner", "stroke-width": 2 * line }));
  };
  image.addEventListener("load", draw);
  box.addEventListener("click", (event) => {
    const rect = image.getBoundingClientRect();
    const zoom = image.naturalWidth / rect.width;
    const point = [(event.clientX - rect.left) * zoom, (event.clientY - rect.top) * zoom];
    if (!first) {
      first = point;
      told.textContent = "Now the opposite corner.";
      draw();
      return;
    }
    const along = [first[0], point[0]].map((x) => x / face.scale).sort((a, b) => a - b);
    const across = [first[1], point[1]].map((y) => (image.naturalHeight - y) / face.scale).sort((a, b) => a - b);
    first = null;
    draw();
    kind(name, [...along, ...across].map((l) => round(l, unit)), face.side);
    told.textContent = "Tap two opposite corners of a knot or a check to mark it.";
  });
  return el("div", {}, told, el("div", { class: "scroll" }, box));
}

function round(length, unit) {
  const step = unit === "mm" ? 1 : 16;
  return String(Math.max(0, unit === "mm" ? Math.round(length) : Math.round(length * step) / step));
}

function kind(name, [from, to, low, high], side) {
  const kinds = ["knot", "check", "split", "wane", "sap", "pith", "stain", "hole", "other"];
  ask_in(`What is it? ${from} to ${to} along, ${low} to ${high} across`, (close) => el("div", { class: "menu" },
    kinds.map((word) => button(word, () => {
      close();
      change({ label: `${word} on ${name}`, changes: [{ op: "add", file: "defects.csv", before: null,
        cells: { board: name, kind: word, from, to, low, high, notes: `seen on the photograph, ${side} side` } }] })
        .then(() => say(`${word} marked on ${name}`), () => {});
    }))));
}

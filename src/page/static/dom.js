// Making parts of the page. Text only ever becomes text: nothing a maker typed can become markup.

const SVG = "http://www.w3.org/2000/svg";

/** @param {Element} node @param {Record<string, any>} props */
function dress(node, props) {
  for (const [name, value] of Object.entries(props)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else if (name === "value" || name === "checked" || name === "files") node[name] = value;
    else if (name === "class") node.setAttribute("class", value);
    else node.setAttribute(name, value === true ? "" : String(value));
  }
}

function fill(node, children) {
  for (const child of children.flat(Infinity)) {
    if (child === undefined || child === null || child === false) continue;
    node.append(child instanceof Node ? child : String(child));
  }
  return node;
}

/** A part of the page. */
export function el(name, props = {}, ...children) {
  const node = document.createElement(name);
  dress(node, props);
  return fill(node, children);
}

/** A part of a drawing. */
export function svg(name, props = {}, ...children) {
  const node = document.createElementNS(SVG, name);
  dress(node, props);
  return fill(node, children);
}

/** A button that says what it does. */
export function button(words, onclick, props = {}) {
  return el("button", { type: "button", onclick, ...props }, words);
}

/** Puts other children into a node. */
export function refill(node, ...children) {
  node.replaceChildren();
  return fill(node, children);
}

let last = 0;
/** A name nothing else on the page has. */
export function fresh(prefix) {
  last += 1;
  return `${prefix}-${last}`;
}

/** Tells those who listen to a screen reader, and those who look at the foot of the page. */
export function say(words, lasting = 4000) {
  const place = document.getElementById("say");
  place.textContent = words;
  place.classList.add("on");
  clearTimeout(say.timer);
  say.timer = setTimeout(() => place.classList.remove("on"), lasting);
}

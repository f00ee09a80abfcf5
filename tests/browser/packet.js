// Opens a packet from disk as a maker would: on a phone, a tablet, a desk, on paper, without
// script. Usage: node packet.js OUT, where OUT is the output folder of `grainrow plan`.

import axe from "axe-core";
import { chromium } from "playwright-core";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { boards } from "./marks.js";

const out = resolve(process.argv[2]);
const address = pathToFileURL(join(out, "packet.html")).href;
const plan = JSON.parse(readFileSync(join(out, "plan.json"), "utf8"));
let passed = 0;
let failed = 0;

function check(claim, holds, seen) {
  if (holds) {
    passed += 1;
  } else {
    failed += 1;
    console.error(`FAILED: ${claim}${seen === undefined ? "" : `: ${JSON.stringify(seen)}`}`);
  }
}

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox"],
});

async function open(options) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  page.on("pageerror", (error) => check("no script error", false, String(error)));
  page.on("request", (request) => {
    const local = /^(file|data):/.test(request.url());
    check("nothing is fetched from a network", local, request.url());
  });
  await page.goto(address);
  return page;
}

// Things that stick out of the page, other than inside a frame that scrolls.
const stickingOut = () => {
  const width = document.documentElement.clientWidth;
  const frames = (node) => node.closest(".scroll, .picture") !== null;
  return [...document.querySelectorAll("body *")]
    .filter((node) => !frames(node) || node.matches(".scroll, .picture"))
    .filter((node) => node.getBoundingClientRect().right > width + 1)
    .map((node) => `${node.tagName} ${node.className} ${node.textContent.slice(0, 30)}`);
};

for (const [width, height] of [[360, 740], [390, 844], [768, 1024], [1280, 900]]) {
  const page = await open({ viewport: { width, height } });
  await page.evaluate(() => document.fonts.ready);
  const scroll = await page.evaluate(() => document.documentElement.scrollWidth);
  check(`no sideways scrolling at ${width}`, scroll <= width, scroll);
  const out_of_page = await page.evaluate(stickingOut);
  check(`nothing sticks out at ${width}`, out_of_page.length === 0, out_of_page);
  const loaded = await page.evaluate(
    () => [...document.fonts].filter((face) => face.status === "loaded").length,
  );
  check("the packet brings its own font", loaded === 2, loaded);
  const ends = (selector) => page.locator(selector).first()
    .evaluate((node) => node.getBoundingClientRect().bottom);
  const case_ends = await ends("#overview svg");
  check(`the whole case is on the first screen at ${width}`, case_ends <= height, case_ends);
  if (width === 1280) {
    const figures_end = await ends("#overview .figures");
    check("so are all figures", figures_end <= height, figures_end);
  }
  if (width < 400) {
    const scrolled = await page.locator(".scroll:has(.large)").evaluateAll(
      (all) => all.filter((node) => node.scrollWidth > node.clientWidth + 1).length,
    );
    check("on a phone no mark has to be scrolled to", scrolled === 0, scrolled);
    const frame = page.locator(".picture:visible").nth(1);
    const [inner, outer] = await frame.evaluate((node) => [node.scrollWidth, node.clientWidth]);
    check("on a phone nothing of a diagram is clipped", inner <= outer + 1, [inner, outer]);
    const small = await page.locator("a:visible, button:visible, label:visible").evaluateAll((all) =>
      all.map((node) => [node.textContent.slice(0, 30), node.getBoundingClientRect().height])
        .filter(([, height]) => height < 43.5));
    check("on a phone whatever is touched is 44 pixels high", small.length === 0, small.slice(0, 5));
    const untold = await page.locator(".large caption:visible").count();
    const tables = await page.locator(".large").count();
    check("on a phone every table of marks keeps its heading", untold === tables, [untold, tables]);
    const dead = await page.locator("a[href]").evaluateAll((all) =>
      all.map((node) => node.getAttribute("href")).filter((to) => !document.querySelector(to)));
    check("every link leads somewhere", dead.length === 0, dead);
  }
  // Headings, names, contrast and the like, by the rules of WCAG as axe-core checks them.
  await page.evaluate(axe.source);
  const { violations } = await page.evaluate("axe.run(document, { resultTypes: ['violations'] })");
  const told = violations.map((rule) => `${rule.help}: ${rule.nodes[0].html.slice(0, 80)}`);
  check(`accessible at ${width}`, told.length === 0, told);
  await page.screenshot({ path: join(out, `shot-${width}.png`), fullPage: true, timeout: 180000 });
  await page.context().close();
}

// Paper: the room a sheet lying on its side leaves between margins of 12 mm, in CSS pixels.
for (const [name, sheet, width] of [["letter", "Letter", 965], ["a4", "A4", 1031]]) {
  const page = await open({ viewport: { width, height: 700 } });
  await page.emulateMedia({ media: "print" });
  const wide = await page.evaluate(
    () => [...document.querySelectorAll("body *")]
      .filter((node) => node.getBoundingClientRect().right > innerWidth + 1)
      .map((node) => `${node.tagName} ${node.textContent.slice(0, 40)}`),
  );
  check(`nothing is cut off on ${name}`, wide.length === 0, wide.slice(0, 5));
  const file = join(out, `print-${name}.pdf`);
  await page.pdf({ path: file, format: sheet, landscape: true, preferCSSPageSize: false });
  const info = execFileSync("pdfinfo", [file], { encoding: "utf8" });
  const pages = Number(/Pages:\s+(\d+)/.exec(info)[1]);
  check(`a sheet a board at least on ${name}`, pages >= plan.boards.length + 3, pages);
  for (let i = 1; i <= pages; i += 1) {
    const words = execFileSync("pdftotext", ["-f", `${i}`, "-l", `${i}`, file, "-"]);
    const count = words.toString().split(/\s+/).length;
    check(`sheet ${i} of ${name} is not nearly empty`, count > 20, count);
  }
  await page.context().close();
}

{
  const page = await open({ viewport: { width: 1280, height: 900 } });
  const boxes = page.locator(".steps input");
  await boxes.nth(1).check();
  await boxes.nth(2).focus();
  await page.keyboard.press("Space");
  await page.reload();
  const ticked = await boxes.evaluateAll((all) => all.map((box) => box.checked));
  check("ticked steps stay ticked", ticked[1] && ticked[2], ticked.slice(0, 4));
  check("other steps stay open", ticked.filter(Boolean).length === 2);

  for (const unit of ["mm", "inch"]) {
    await page.click(`[data-set=${unit}]`);
    await compareTables(page, unit);
    await page.reload();
    const kept = await page.evaluate(() => document.documentElement.dataset.unit);
    check(`${unit} stays chosen`, kept === unit, kept);
  }
  await page.context().close();
}

{
  const page = await open({ javaScriptEnabled: false, viewport: { width: 1280, height: 900 } });
  check("without script nothing asks for one", !(await page.locator(".units").isVisible()));
  await compareTables(page, plan.unit);
  await page.context().close();
}

// Every mark of plan.json, and no other, stands in its board's table.
async function compareTables(page, unit) {
  const planned = boards(plan, unit);
  for (const [i, board] of planned.entries()) {
    const cells = page.locator(`#board-${i + 1} table.large td.number span.${unit}`);
    const shown = (await cells.allInnerTexts()).filter((words) => words !== "");
    const missing = [...board.marks].filter((mark) => !shown.includes(mark));
    const foreign = shown.filter((words) => !board.marks.has(words));
    check(`${board.name} in ${unit}: every mark is there`, missing.length === 0, missing);
    check(`${board.name} in ${unit}: no other mark`, foreign.length === 0, foreign);
  }
}

// The same for packet.pdf, on the sheets whose foot names the board.
{
  const file = join(out, "packet.pdf");
  const info = execFileSync("pdfinfo", [file], { encoding: "utf8" });
  const count = Number(/Pages:\s+(\d+)/.exec(info)[1]);
  const sheets = [];
  for (let i = 1; i <= count; i += 1) {
    const args = ["-layout", "-f", `${i}`, "-l", `${i}`, file, "-"];
    sheets.push(execFileSync("pdftotext", args, { encoding: "utf8" }));
  }
  for (const board of boards(plan, plan.unit)) {
    const name = board.name.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
    const foot = new RegExp(`· Board ${name}( no\\. ${board.copy})?( ·|\\s)`);
    const words = sheets.filter((sheet) => foot.test(sheet)).join("\n");
    const missing = [...board.marks].filter((mark) => !stands(mark, words));
    check(`${board.name} in packet.pdf: every mark is there`, missing.length === 0, missing);
  }
}

// Whether a mark stands in the words as a whole, not as a part of another number. The ringed number of
// the mark may stand right before it, but not before a bare fraction, which it would make another length.
function stands(mark, words) {
  const text = mark.replace(".", "\\.");
  const alone = "(?<![\\d/.] ?)(?<!\\d)";
  const ringed = /^\d+\//.test(mark) ? "" : "|(?<=(?:^|  )\\d{1,2} )";
  return new RegExp(`(?:${alone}${ringed})${text}(?![\\d/.])(?! \\d+/)`, "m").test(words);
}

await browser.close();
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);

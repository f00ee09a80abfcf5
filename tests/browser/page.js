// A maker's story on the page, in a real browser: on a desk and on a phone's width with touch; a
// server killed and started again; two browsers on one job. Usage: node page.js PROGRAM OUT.

import axe from "axe-core";
import { chromium } from "playwright-core";
import { execFileSync, spawn } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { gzipSync } from "node:zlib";

const program = resolve(process.argv[2]);
const pictures = resolve(process.argv[3]);
mkdirSync(pictures, { recursive: true });
const home = mkdtempSync(join(tmpdir(), "page-"));
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

// The program, and the address it prints.
function serve(args) {
  return new Promise((done, broken) => {
    const child = spawn(program, ["page", ...args, "--no-open"], { cwd: home });
    let told = "";
    child.stdout.on("data", (data) => {
      told += data;
      const found = /http:\S+/.exec(told);
      if (found && told.includes("\n")) done({ child, address: found[0] });
    });
    child.stderr.on("data", (data) => console.error(String(data)));
    child.on("exit", (code) => broken(new Error(`ended with ${code}`)));
  });
}

const ended = (child) => new Promise((done) => {
  child.removeAllListeners("exit");
  if (child.exitCode !== null || child.signalCode !== null) done();
  child.on("exit", done);
});

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox"],
});

const DESK = { viewport: { width: 1280, height: 900 } };
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };

async function visitor(options, address) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  page.setDefaultTimeout(30000);
  page.on("pageerror", (error) => check("no script error", false, String(error)));
  page.on("console", (message) => {
    const expected = /ERR_CONNECTION_REFUSED|ERR_INCOMPLETE_CHUNKED|ERR_CONNECTION_RESET|status of 409/;
    if (message.type() === "error") check("nothing to complain of", expected.test(message.text()), message.text());
  });
  page.on("request", (request) => {
    const own = new URL(request.url()).host === new URL(address).host || request.url().startsWith("blob:");
    check("nothing is fetched from elsewhere", own, request.url());
  });
  page.on("response", async (response) => {
    if (!response.url().includes("/static/")) return;
    const body = await response.body().catch(() => Buffer.alloc(0));
    sizes.set(new URL(response.url()).pathname, gzipSync(body).length);
  });
  await page.goto(address);
  await page.waitForURL((url) => url.pathname === "/");
  check("the code is gone from the address", !page.url().includes("code"), page.url());
  return page;
}
const sizes = new Map();

const room = async (page, name) => {
  await page.click(`#rooms a[href="#${name}"]`);
  await page.waitForSelector(`#rooms a[href="#${name}"][aria-current=page]`);
};
const proved = (page) => page.waitForSelector("#standing.good, #standing.fair");
const field = (page, label) => page.getByLabel(label, { exact: true }).first();
const file = (job, name) => readFileSync(join(home, job, name), "utf8");
async function until(claim, holds) {
  for (let tries = 0; tries < 300; tries += 1) {
    if (await holds()) return check(claim, true);
    await new Promise((done) => setTimeout(done, 50));
  }
  return check(claim, false);
}

async function looked(page, name) {
  for (const scheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme: scheme });
    const found = await page.evaluate(`${axe.source}; axe.run(document, { resultTypes: ["violations"] })`);
    const told = found.violations.map((one) => `${one.id}: ${one.nodes[0].html.slice(0, 120)}`);
    check(`axe finds nothing wrong with ${name} in ${scheme}`, told.length === 0, told);
    await page.screenshot({ path: join(pictures, `${name}-${scheme}.png`), fullPage: true });
  }
  await page.emulateMedia({ colorScheme: "light" });
  const [wide, room_] = await page.evaluate(() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
  check(`${name} does not scroll sideways`, wide <= room_, [wide, room_]);
  // WCAG 2.2, 2.5.5: 44 by 44 CSS pixels. Drawings repeat what the tables say and are left out.
  const small = await page.evaluate(() => [...document.querySelectorAll("button, a, input, select, summary")]
    .filter((node) => node.offsetParent && !node.closest("svg") && !node.matches(".skip, [type=file], p a"))
    .map((node) => [node.matches("[type=checkbox]") ? node.closest("label") : node, node.textContent])
    .filter(([node]) => node)
    .map(([node, text]) => [node.getBoundingClientRect(), text, node.tagName])
    .filter(([box]) => box.width > 0 && (box.height < 43.5 || box.width < 43.5))
    .map(([box, text, tag]) => `${tag} ${text.slice(0, 20)} ${Math.round(box.width)}x${Math.round(box.height)}`));
  check(`what is touched in ${name} is large enough`, small.length === 0, small.slice(0, 5));
}

// --- A phone: from an empty folder to a ticked-off packet ---------------------------------------

let { child, address } = await serve([]);
const phone = await visitor(PHONE, address);
await phone.waitForSelector("text=Begin a piece");
await looked(phone, "start-phone");
await field(phone, "What is it?").fill("Small cabinet");
await phone.getByRole("button", { name: "Begin", exact: true }).tap();
await phone.waitForSelector("text=Fronts");
const JOB = "Small-cabinet";

async function row(page, one, cells) {
  const [[first, name], ...rest] = Object.entries(cells);
  await page.getByLabel(`${first} of new ${one}`, { exact: true }).tap();
  await page.keyboard.type(name);
  for (const [column, value] of rest) {
    await page.getByLabel(`${column} of ${name}`, { exact: true }).tap();
    await page.keyboard.type(value, { delay: 5 });
  }
  await page.keyboard.press("Enter");
}

for (const [front, run] of [["left", "top"], ["right", "top"], ["wide", ""]]) {
  await row(phone, "front", { front, width: front === "wide" ? "30" : "14 1/2", height: "5 1/4", thickness: "3/4", ...(run ? { run } : {}) });
}
await until("every front is in the file", () => file(JOB, "fronts.csv").includes("wide,30,5 1/4,3/4"));
await until("a job without boards shows its fronts all the same", async () => await phone.locator(".elevation .front").count() === 3);
await looked(phone, "piece-phone");
await room(phone, "pile");
for (const [board, length, width, tone] of [["A", "72", "7", "medium"], ["B", "60", "8 1/2", "dark"]]) {
  await row(phone, "board", { board, length, width, thickness: "4/4", tone });
}
await proved(phone);
await looked(phone, "pile-phone");
await room(phone, "plan");
await phone.waitForSelector(".boards .board");
check("every front is on the plan", await phone.locator(".elevation .front").count() === 3);
await looked(phone, "plan-phone");

// A wish: its price is told before it is kept.
const from = (await phone.locator('.elevation [data-front="wide"]').getAttribute("data-board"));
await phone.locator('.elevation [data-front="wide"]').tap();
await phone.getByRole("button", { name: `Not from ${from}` }).tap();
await phone.waitForSelector("dialog >> text=/costs/");
check("a wish is not kept before that is asked for", !file(JOB, "fronts.csv").includes("!="));
await phone.getByRole("button", { name: "Keep the wish" }).tap();
await until("a wish that is kept is in the file", () => {
  try {
    return file(JOB, "wishes.csv").includes(`wide!=${from}`);
  } catch {
    return false;
  }
});
await proved(phone);
await until("the plan keeps the wish", async () => await phone.locator('.elevation [data-front="wide"]').getAttribute("data-board") !== from);
await phone.getByRole("button", { name: "Undo" }).tap();
await until("a wish can be taken back", async () => await phone.locator('.elevation [data-front="wide"]').getAttribute("data-board") === from);
await proved(phone);

// How much to buy: the estimate with its charts.
await room(phone, "buying");
await phone.waitForSelector(".charts img", { timeout: 60000 });
await looked(phone, "buying-phone");

// The shop.
await room(phone, "shop");
const take = phone.getByRole("button", { name: "Take the plan to the shop" });
await take.tap();
await phone.waitForSelector(".bench");
const packet = await phone.request.get(`${new URL(address).origin}/packet/packet.html`);
check("the packet is there", packet.ok() && (await packet.text()).includes("Small cabinet"));
check("and so is the paper", (await phone.request.get(`${new URL(address).origin}/packet/packet.pdf`)).ok());
await looked(phone, "shop-phone");
const boardsOf = await phone.locator(".bench .turn small").textContent();
const count = Number(/of (\d+)/.exec(boardsOf)[1]);
for (let turn = 0; turn < count; turn += 1) {
  const marks = phone.locator(".bench .marks input:not(:disabled):not(:checked)");
  while (await marks.count() > 0) await marks.first().tap();
  const names = await phone.locator(".fates li > b").evaluateAll((all) => all.map((node) => node.firstChild.textContent));
  for (const name of names) {
    await phone.getByRole("button", { name: `${name}: Cut`, exact: true }).tap();
    await phone.waitForSelector(`[aria-label="${name}: Cut"][aria-pressed=true]`);
    const note = phone.locator("dialog[open]");
    if (await note.count() > 0) await note.getByRole("button", { name: "Close" }).tap();
    await phone.getByRole("button", { name: `${name}: Made`, exact: true }).tap();
    await phone.waitForSelector(`[aria-label="${name}: Made"][aria-pressed=true]`);
  }
  await phone.getByRole("button", { name: "The next board" }).tap();
}
check("every front is ticked off in the file", ["left", "right", "wide"].every((name) => new RegExp(`^${name},made`, "m").test(file(JOB, "done.csv"))), file(JOB, "done.csv"));
await phone.getByRole("button", { name: /: Not yet$/ }).first().tap();
await until("a tick can be taken back", () => file(JOB, "done.csv").split("made").length - 1 === 2);

// --- Killed and started again --------------------------------------------------------------------

child.kill("SIGKILL");
await ended(child);
await phone.waitForSelector("#standing.lost");
check("the page says so when the program is gone", true);
({ child, address } = await serve([JOB]));

// --- A desk, and a second browser ----------------------------------------------------------------

const one = await visitor(DESK, address);
await one.waitForSelector(".grid");
check("after a kill the fronts are as they were typed", await field(one, "width of left").inputValue() === "14 1/2");
await one.getByRole("button", { name: "Other job" }).click();
await one.getByRole("button", { name: "Play with the chest" }).click();
await proved(one);
const chest = "chest-to-play-with";
for (const name of ["piece", "pile", "plan", "shop"]) {
  await room(one, name);
  await proved(one);
  await looked(one, `${name}-desk`);
  await one.setViewportSize({ width: 768, height: 1024 });
  await looked(one, `${name}-tablet`);
  await one.setViewportSize(DESK.viewport);
}

// Live: a key, and the plan of what the files say now.
await room(one, "piece");
await one.evaluate(() => {
  globalThis.longest = 0;
  new PerformanceObserver((list) => {
    for (const task of list.getEntries()) globalThis.longest = Math.max(globalThis.longest, task.duration);
  }).observe({ type: "longtask" });
});
const widths = [];
for (const value of ["13 1/4", "13 3/8", "13 1/8", "13 1/2", "13 5/8", "13 1/2"]) {
  const input = field(one, "width of 3a");
  await input.fill("");
  const begun = Date.now();
  await input.fill(value);
  await one.waitForSelector(".picture.old");
  await one.waitForFunction(() => !document.querySelector(".picture.old") && document.querySelector("#standing.good, #standing.fair"));
  widths.push(Date.now() - begun);
}
console.log(`  from key to proved plan: ${widths.join(", ")} ms; longest task ${Math.round(await one.evaluate(() => globalThis.longest))} ms`);

// A fault stands at its cell; the last good plan stays in view.
await field(one, "height of 6a").fill("9 1/");
await one.waitForSelector('input[aria-label="height of 6a"][aria-invalid=true]');
check("the last good plan stays in view", await one.locator(".picture.old .front").count() === 20);
const words = await one.locator("tr.told").textContent();
check("a fault has the words of check", /can't be read|is not|expected/.test(words), words);
await field(one, "height of 6a").fill("9");
await proved(one);

// Forty rows from a spreadsheet.
const rows = Array.from({ length: 40 }, (_, i) => `P${i + 1}\t${8 + (i % 5)}\t4 1/2\t3/4\tpasted ${i % 8}`).join("\r\n");
await field(one, "front of new front").focus();
await one.evaluate((text) => {
  const data = new DataTransfer();
  data.setData("text/plain", text);
  document.activeElement.dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }));
}, rows);
await until("forty rows are pasted into the file", () => file(chest, "fronts.csv").split("\nP").length === 41);
await one.waitForFunction(() => document.querySelectorAll(".grid tbody tr:not(.told)").length === 61);
await one.keyboard.press("Control+z");
await until("and all taken back in one step", () => !file(chest, "fronts.csv").includes("\nP1,"));
await proved(one);

// A second browser, by a code of its own, sees what the first one does.
await one.evaluate(() => { location.hash = "pile"; });
await field(one, "tone of C1").waitFor();
const second = await serve([chest]);
const other = await visitor(DESK, second.address);
await other.evaluate(() => { location.hash = "pile"; });
await field(other, "tone of C1").waitFor();
// Two programs on one folder: the files are what they agree by.
await field(one, "notes of C1").fill("seen by both");
await other.waitForFunction(() => document.querySelector('input[aria-label="notes of C1"]').value === "seen by both");
check("a change is seen by the other browser", true);
writeFileSync(join(home, chest, "boards.csv"), file(chest, "boards.csv").replace("seen by both", "from an editor"));
for (const page of [one, other]) {
  await page.waitForFunction(() => document.querySelector('input[aria-label="notes of C1"]').value === "from an editor");
}
check("and so is a change by an editor", true);
second.child.kill("SIGTERM");
await ended(second.child);
check("asked to end, it ends well", second.child.exitCode === 0, second.child.exitCode);

// Two tabs of one browser, and keys alone: the arrows and Enter go through a table.
const tab = await one.context().newPage();
await tab.goto(`${new URL(address).origin}/#pile`);
await field(tab, "length of C2").waitFor();
await field(tab, "length of C2").fill("7' 2\"");
await one.waitForFunction(() => document.querySelector('input[aria-label="length of C2"]').value === "7' 2\"");
check("a tab sees what another tab does", true);
await tab.close();
// An answer that news has overtaken is not believed.
const late = await one.context().newPage();
let overtaken = false;
await late.route("**/api/state", async (route) => {
  const answer = await route.fetch();
  if (!overtaken) {
    overtaken = true;
    await field(one, "notes of C3").fill("meanwhile");
    await until("a change is in the file", () => file(chest, "boards.csv").includes("meanwhile"));
    await new Promise((done) => setTimeout(done, 500));
  }
  await route.fulfill({ response: answer });
});
await late.goto(`${new URL(address).origin}/#pile`);
await field(late, "notes of C3").waitFor();
await until("news is not lost to an older answer", async () => await field(late, "notes of C3").inputValue() === "meanwhile");
await late.unrouteAll({ behavior: "ignoreErrors" });
await late.close();
await field(one, "notes of C3").fill("");
await until("and is taken out again", () => !file(chest, "boards.csv").includes("meanwhile"));
await field(one, "length of C2").focus();
await one.keyboard.press("Enter");
check("Enter goes to the next row", await one.evaluate(() => document.activeElement.getAttribute("aria-label")) === "length of C3");
await one.keyboard.press("ArrowUp");
await one.keyboard.press("Alt+ArrowUp");
await until("a row is moved by Alt and an arrow", () => file(chest, "boards.csv").indexOf("\nC2,") < file(chest, "boards.csv").indexOf("\nC1,"));
await one.keyboard.press("Control+z");
await until("and back", () => file(chest, "boards.csv").indexOf("\nC2,") > file(chest, "boards.csv").indexOf("\nC1,"));

// A photograph: taken in, its corners tapped.
await one.getByRole("button", { name: "Photographs of C7", exact: true }).click();
const [chooser] = await Promise.all([one.waitForEvent("filechooser"), one.getByText("Choose a picture").click()]);
const source = new URL("../../sample-boards/spruce/photos", import.meta.url).pathname;
await chooser.setFiles(join(source, readdirSync(source).find((name) => /\.jpe?g$/i.test(name))));
await one.waitForSelector(".thumb");
await one.getByRole("button", { name: "Tap its corners" }).click();
const shown = one.locator(".on-image img");
await shown.waitFor();
await one.waitForFunction(() => document.querySelector(".on-image img").naturalWidth > 0);
const box = await shown.boundingBox();
for (const [x, y] of [[0.1, 0.8], [0.9, 0.8], [0.9, 0.2], [0.1, 0.2]]) {
  await one.mouse.move(box.x + x * box.width, box.y + y * box.height);
  await one.mouse.down();
  check("the magnifier is there while a corner is held", await one.locator(".glass.on").count() === 1);
  await one.mouse.up();
}
await one.getByRole("button", { name: "Keep these corners" }).click();
await until("the corners are in photos.csv", () => /C7.*\d+(\.\d+)? \d+/.test(file(chest, "photos.csv")));
await one.getByRole("button", { name: "Close" }).first().click();

// Buying: a board found at the yard.
await room(one, "buying");
for (const [label, value] of [["Length", "90"], ["Width", "8"], ["Price", "9.5"]]) await field(one, label).fill(value);
await one.getByRole("button", { name: "Put it on the list" }).click();
await one.waitForSelector(".boards figure >> text=Y1");
check("a board found at the yard is in the file", file(chest, "boards.csv").includes("Y1"));
await one.getByRole("button", { name: "Take it" }).click();
await until("a board that is taken is owned", () => !/Y1.*9\.5/.test(file(chest, "boards.csv")));
await looked(one, "buying-desk");

// Ways side by side: one is worked by, which says what looks are worth; and taken back.
await room(one, "plan");
await proved(one);
await one.getByRole("button", { name: "Show them" }).click();
await one.getByRole("button", { name: /^Work by it: way/ }).first().waitFor({ timeout: 120000 });
await looked(one, "ways-desk");
const worths = () => /\[worth\][^[]*/.exec(file(chest, "job.toml"))[0];
const before = worths();
await one.getByRole("button", { name: /^Work by it: way/ }).first().click();
await until("a way is worked by through the worths it is best for", () => worths() !== before);
await one.keyboard.press("Control+z");
await until("and taken back in one step", () => worths() === before);
await proved(one);

// The case about the fronts, and the piece in its own wood.
await room(one, "piece");
await one.getByText("The case about the fronts").click();
await field(one, "Width of the case, outside").fill("60");
await until("the case's width is in the file", () => /\[case\][^[]*width *= *"60"/.test(file(chest, "job.toml")));
cpSync(new URL("../../sample-boards/spruce", import.meta.url).pathname, join(home, "spruce"), { recursive: true });
execFileSync(program, ["photo", join(home, "spruce")], { stdio: "ignore" });
await one.getByRole("button", { name: "Other job" }).click();
await one.getByRole("button", { name: "spruce", exact: true }).click();
await room(one, "plan");
await proved(one);
await one.getByRole("button", { name: "Show it in its own wood" }).click();
await one.waitForFunction(() => document.querySelector(".picture img")?.naturalWidth > 0);
check("the piece is seen in its own wood", true);
await looked(one, "wood-desk");

const total = [...sizes.values()].reduce((sum, size) => sum + size, 0);
console.log(`  the page weighs ${Math.round(total / 1024)} KB compressed, in ${sizes.size} files`);
check("the page is light", total < 300 * 1024, total);

await browser.close();
child.kill("SIGTERM");
await ended(child);
check("asked to end with nobody there, it ends well", child.exitCode === 0, child.exitCode);
rmSync(home, { recursive: true });
console.log(`the page: ${passed} checks passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);

// Figures for benches/RESULTS.md, on Linux: from a key to the plan, memory after a thousand changes,
// the first view. Usage: node measure.js PROGRAM [JOB]; without a job, the chest to play with. Of a job of one's own
// ten changes are timed and no memory, and nothing of it is left changed.

import { chromium } from "playwright-core";
import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const home = mkdtempSync(join(tmpdir(), "page-"));
const job = process.argv[3];
if (job) cpSync(job, join(home, "job"), { recursive: true });
const child = spawn(resolve(process.argv[2]), ["page", ...(job ? ["job"] : []), "--no-open"], { cwd: home });
const address = await new Promise((done) => {
  let told = "";
  child.stdout.on("data", (data) => {
    told += data;
    const found = /http:\S+\n?/.exec(told);
    if (found && told.includes("\n")) done(found[0].trim());
  });
});
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox"] });
const page = await browser.newPage();
page.setDefaultTimeout(60000);
await page.goto(address);
if (!job) await page.getByRole("button", { name: "Play with the chest" }).click();
await page.waitForSelector("#standing.good");
const width = job ? page.getByLabel(/^width of /).first() : page.getByLabel("width of 3a", { exact: true });

const middle = (all, share) => [...all].sort((a, b) => a - b)[Math.min(all.length - 1, Math.floor(all.length * share))];
const memory = () => /VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${child.pid}/status`, "utf8"))[1] / 1024;

// From the last key to the first plan of what was typed, and to the proved one, as the page sees them.
await page.evaluate(() => {
  const seen = { typed: 0, first: [], last: [], longest: 0 };
  globalThis.seen = seen;
  document.addEventListener("input", () => { seen.typed = performance.now(); }, true);
  new MutationObserver(() => {
    if (!seen.typed || document.querySelector(".picture.old")) return;
    if (!seen.half) {
      seen.half = true;
      seen.first.push(performance.now() - seen.typed);
    }
    if (document.querySelector("#standing.good")) {
      seen.last.push(performance.now() - seen.typed);
      seen.typed = 0;
      seen.half = false;
    }
  }).observe(document.body, { subtree: true, childList: true, attributes: true });
  new PerformanceObserver((list) => {
    for (const task of list.getEntries()) seen.longest = Math.max(seen.longest, task.duration);
  }).observe({ type: "longtask" });
});
const changes = job ? 10 : 30;
for (let i = 0; i < changes; i += 1) {
  await width.fill(`13 ${1 + (i % 7)}/${[16, 8][i % 2]}`);
  await page.waitForFunction((count) => globalThis.seen.last.length === count, i + 1);
}
const seen = await page.evaluate(() => globalThis.seen);
for (const name of ["first", "last"]) {
  console.log(`${job ?? "chest"}, from key to the ${name} plan: median ${Math.round(middle(seen[name], 0.5))} ms, 95 % ${Math.round(middle(seen[name], 0.95))} ms`);
}
console.log(`longest task while typing: ${Math.round(seen.longest)} ms`);

if (!job) {
  const before = memory();
  for (let i = 0; i < 1000; i += 1) {
    await width.fill(`13 ${1 + (i % 15)}/16`);
    await page.waitForTimeout(140);
  }
  await page.waitForSelector("#standing.good");
  console.log(`memory: ${before.toFixed(0)} MB before, ${memory().toFixed(0)} MB after 1000 changes`);
}

await page.reload();
await page.waitForSelector(".elevation .front");
const view = await page.evaluate(() => performance.getEntriesByName("first-contentful-paint")[0].startTime);
console.log(`first view after ${Math.round(view)} ms, with the plan after ${Math.round(await page.evaluate(() => performance.now()))} ms`);
await browser.close();
child.kill();

/* What every state must keep: names for screen readers, contrast, targets,
 * width, size, and text that stays text. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { api, browse, go, h1, open, saved, serve, settled, SOURCE }
  from "./given.mjs";

const axe = readFileSync(createRequire(import.meta.url)
  .resolve("axe-core/axe.min.js"), "utf8");
const steps = ["overview", "complaint", "vehicle", "joints", "drive",
  "recording", "causes", "repair", "again"];

let server, browser;
before(async () => {
  server = await serve();
  browser = await browse();
});
after(async () => {
  await browser?.close();
  await server?.end();
});

async function violations(page) {
  await page.evaluate(axe);
  const found = await page.evaluate(() => globalThis.axe.run(document, {
    resultTypes: ["violations"] }));
  return found.violations.map((v) =>
    `${v.id}: ${v.nodes.map((n) => n.html.slice(0, 160)).join(" | ")}`);
}

const openAll = (page) => page.evaluate(() =>
  document.querySelectorAll("details").forEach((d) => { d.open = true; }));

const sample = async (page) =>
  (await api(page, "POST", "/api/cases/sample")).id;

test("no state has an axe violation, with all details open", async () => {
  const page = await open(browser, server);
  assert.deepEqual(await violations(page), [], "no case yet");
  const id = await sample(page);
  const bare = (await api(page, "POST", "/api/cases",
    '{"halfturn": 1}')).id;
  await page.reload();
  await page.getByText("2 cases").waitFor();
  assert.deepEqual(await violations(page), [], "two cases");
  const states = [...steps.map((step) => [id, step]),
    ...["joints", "recording", "causes", "repair"].map((step) => [bare, step])];
  for (const [of, step] of states) {
    await go(page, of, step);
    await openAll(page);
    assert.deepEqual(await violations(page), [], `case ${of}, ${step}`);
  }
  await page.evaluate(() => { location.hash = "#/case/999/causes"; });
  await h1(page, "There is no such case");
  assert.deepEqual(await violations(page), [], "no such case");
  await page.evaluate(() => sessionStorage.clear());
  await page.goto(`${server.origin}/`);
  await h1(page, "Open the printed address");
  assert.deepEqual(await violations(page), [], "no token");
  assert.deepEqual(page.trouble, []);
  await page.context().close();
});

test("at 360 px nothing is cut and every target is 56 px", async () => {
  const page = await open(browser, server, {
    viewport: { width: 360, height: 740 } });
  const id = await sample(page);
  for (const step of ["", ...steps]) {
    if (step) await go(page, id, step);
    await openAll(page);
    const found = await page.evaluate(() => {
      const low = [...document.querySelectorAll("button, .button, select," +
        "input:not([type=radio]):not([type=checkbox]):not(.away), textarea," +
        ".statement label, .order-row label, summary, .rail a, .step-list a," +
        ".case-list a, .where a, .home")]
        .filter((e) => e.getClientRects().length)
        .map((e) => [e.getBoundingClientRect(), e.textContent || e.id])
        .filter(([box]) => box.height < 55.5 || box.width < 55.5)
        .map(([box, name]) => `${name}: ${box.width} x ${box.height}`);
      return { low, over: document.documentElement.scrollWidth - innerWidth };
    });
    assert.deepEqual(found, { low: [], over: 0 }, step || "cases");
  }
  assert.deepEqual(page.trouble, []);
  await page.context().close();
});

test("markup in any text field shows as text", async () => {
  const page = await open(browser, server);
  const evil = "<script>globalThis.hit=1</script><img src=x " +
    "onerror=globalThis.hit=1>";
  const id = await sample(page);
  let filled = 0;
  for (const step of ["overview", "complaint", "vehicle", "joints", "drive",
    "repair", "again"]) {
    await go(page, id, step);
    await openAll(page);
    const fields = page.locator("main input[type=text]:not([inputmode])," +
      "main textarea");
    for (let i = 0; i < await fields.count(); i++, filled++)
      await fields.nth(i).fill(evil + filled);
    await page.waitForTimeout(700);
    await settled(page);
    assert.equal(await page.locator(".notice").count(), 0, step);
  }
  assert.ok(filled >= 12, `${filled} fields`);
  const { sheet } = await api(page, "GET", `/api/cases/${id}`);
  assert.ok(sheet.title.startsWith(evil));
  assert.equal(sheet.driveline[0].members[0].slice(0, 32), evil.slice(0, 32));
  await page.reload();
  for (const step of steps) {
    await go(page, id, step);
    assert.equal(await page.evaluate(() => globalThis.hit), undefined, step);
    assert.equal(await page.locator("body script, main img").count(), 0, step);
  }
  assert.ok((await page.locator(".case-title").innerText()).startsWith(evil));
  await page.evaluate(() => { location.hash = "#/"; });
  await page.locator(".case-list b", { hasText: "<script>" }).first().waitFor();
  assert.deepEqual(page.trouble, []);
  await page.context().close();
});

test("the whole page is at most 300 kB and asks nobody else", async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  let bytes = 0;
  const foreign = [];
  const bodies = [];
  page.on("response", (response) => {
    if (!response.url().startsWith(server.origin)) foreign.push(response.url());
    else if (!response.url().includes("/api/") && response.ok())
      bodies.push(response.body());
  });
  await page.goto(server.url);
  await h1(page, "What shakes?");
  await page.waitForLoadState("networkidle");
  for (const body of await Promise.all(bodies)) bytes += body.length;
  assert.ok(bytes > 50000 && bytes <= 300000, `${bytes} bytes`);
  assert.deepEqual(foreign, []);
  await context.close();
});

test("speeds are shown and taken in mph when the person prefers it",
  async () => {
    const page = await open(browser, server);
    const id = await sample(page);
    await go(page, id, "vehicle");
    await page.getByText("mph, in, lb ft").click();
    assert.equal(await page.getByLabel("Highest speed, mph").inputValue(),
      "74.565");
    await page.getByLabel("Highest speed, mph").fill("60");
    await saved(page);
    const { sheet } = await api(page, "GET", `/api/cases/${id}`);
    assert.ok(Math.abs(sheet.vehicle.top_speed_km_h - 96.56064) < 1e-6,
      "60 miles of 1.609344 km");
    await page.context().close();
  });

test("the page's answers are those of the table of findings", async () => {
  const page = await open(browser, server);
  const ours = await page.evaluate(async () => {
    const { checks } = await import("/checks.js");
    return [...checks].map(([id, check]) => [id,
      (check.answers || []).map((a) => a.words)]);
  });
  const table = readFileSync(join(SOURCE, "docs/findings.md"), "utf8")
    .split("## The table")[1].match(/^\| `[^`]+` \|.*$/gm)
    .filter((row) => !row.includes("measured by the drive"))
    .map((row) => /`([^`]+)`/.exec(row)[1]);
  assert.ok(table.length > 50);
  assert.deepEqual(ours.map(([id]) => id).sort(), table.sort());
  const statements = readFileSync(join(SOURCE, "src/findings/table.c"), "utf8")
    .replace(/"\s*\n\s*"/g, "");
  const own = ["It goes away", "It changes", "It stays",
    "The same at that speed", "It follows the engine",
    "By itself, as far as anybody knows"];
  for (const [id, words] of ours) for (const word of words)
    assert.ok(own.includes(word) || statements.includes(`"${word}"`),
      `${id}: ${word}`);
  await page.context().close();
});

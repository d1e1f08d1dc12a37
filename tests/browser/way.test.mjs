/* The way through a case: by a newcomer, by keyboard, with files that are
 * off, in two windows, over a reload. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { api, browse, go, h1, hours, open, saved, serve, settled, SOURCE }
  from "./given.mjs";

let server, browser;
before(async () => {
  server = await serve();
  browser = await browse();
});
after(async () => {
  await browser?.close();
  await server?.end();
});

const caseId = (page) => page.evaluate(() =>
  Number(location.hash.split("/")[2]));
const sheetOf = async (page) =>
  (await api(page, "GET", `/api/cases/${await caseId(page)}`)).sheet;

async function newCase(page) {
  await page.evaluate(() => { location.hash = "#/"; });
  await page.getByRole("button", { name: "New case" }).click();
  await h1(page, "Tick what the customer says");
  return caseId(page);
}

test("a newcomer reaches the sample's answer in three clicks, and its report",
  async () => {
    const page = await open(browser, server);
    await page.getByText("No case is kept yet").waitFor();
    let clicks = 0;
    await page.exposeFunction("clicked", () => { clicks++; });
    await page.evaluate(() => addEventListener("click", () =>
      globalThis.clicked(), true));
    await page.getByRole("button", { name: "Try the sample" }).click();
    await h1(page, "Joint angles do not cancel");
    assert.match(await page.locator(".lead").first().innerText(),
      /Very likely: \d+.in.100/);
    assert.ok(clicks <= 3, `${clicks} clicks`);
    assert.equal(await page.getByText("It does not show that the vehicle " +
      "is safe to drive.").count() > 0, true);
    await page.getByRole("link", { name: "Delivery van hums" }).click();
    const [report] = await Promise.all([page.context().waitForEvent("page"),
      page.getByRole("link", { name: "Report", exact: true }).click()]);
    await report.waitForLoadState();
    assert.match(await report.locator("h1").innerText(),
      /joint angles do not cancel/i);
    for (const name of ["Report as PDF", "Measuring sheet"]) {
      const paper = await page.getByRole("link", { name }).getAttribute("href");
      const answer = await page.request.get(server.origin + paper);
      assert.equal((await answer.body()).subarray(0, 5).toString(), "%PDF-");
    }
    assert.deepEqual(page.trouble, []);
    await page.context().close();
  });

test("an answer moves the ranking where it stands, and Undo moves it back",
  async () => {
    const page = await open(browser, server);
    await page.getByRole("button", { name: "Try the sample" }).click();
    await h1(page, "Joint angles do not cancel");
    const likely = () => page.locator(".cause .likely").allInnerTexts();
    const first = await likely();
    const question = await page.locator(".check h2").innerText();
    await page.getByRole("button", { name: /^The centre bearing is rough/ })
      .click();
    await page.getByText("You said: The centre bearing is rough.").waitFor();
    await settled(page);
    assert.notDeepEqual(await likely(), first);
    assert.notEqual(await page.locator(".check h2").innerText(), question);
    assert.ok(await page.locator(".before[visibility=visible]").count() > 0,
      "a dashed tick stands at the old place");
    assert.deepEqual((await sheetOf(page)).checks.seen,
      ["rough_centre_bearing"]);
    await page.locator("#you-said").getByRole("button", { name: "Undo" })
      .click();
    await page.waitForFunction((old) => [...document.querySelectorAll(
      ".cause .likely")].map((p) => p.innerText).join() === old, first.join());
    assert.equal(await page.locator(".check h2").innerText(), question);
    assert.deepEqual(page.trouble, []);
    await page.context().close();
  });

test("three joints need at most eight typed fields, then there is a verdict",
  async () => {
    const page = await open(browser, server);
    await newCase(page);
    await page.getByRole("link", { name: "Next: Vehicle" }).click();
    await page.getByRole("link", { name: "Next: Joints" }).click();
    await page.locator(".few label", { hasText: "3" }).click();
    await page.getByLabel("How the vehicle stood")
      .selectOption("wheels_on_ground");
    const rows = page.locator(".reading");
    assert.equal(await rows.count(), 4);
    const letters = await rows.locator(":scope > legend > b").allInnerTexts();
    assert.deepEqual(letters, ["A", "C", "B", "D"], "quarter turn by turn");
    let fields = 0;
    const given = { A: [3, "rear"], B: [1.6, "rear"], C: [7.15, "rear"],
      D: [2, "front"] };
    for (let i = 0; i < 4; i++) {
      const [value, end] = given[letters[i]];
      await rows.nth(i).getByText(`${end} lower`).click();
      await rows.nth(i).locator("input.big").fill(String(value));
      fields++;
      if (i === 0) assert.equal(await page.locator(".verdict").count(), 0);
    }
    await page.locator(".verdict").nth(2).waitFor();
    await page.getByLabel("Judge by these limits").selectOption("light_truck");
    await page.locator(".verdict").getByText("Over.").first().waitFor();
    assert.ok(fields <= 8);
    await saved(page);
    assert.deepEqual((await sheetOf(page)).angles[0].slopes_deg,
      [[3], [1.6], [7.15], [-2]]);
    assert.deepEqual(page.trouble, []);
    await page.context().close();
  });

test("readings of some caps stay over a reload, and two neighbours answer",
  async () => {
    const page = await open(browser, server);
    await newCase(page);
    const id = await caseId(page);
    await go(page, id, "joints");
    const rows = page.locator(".reading");
    const put = async (i, value) => {
      await rows.nth(i).getByText("rear lower").click();
      await rows.nth(i).locator("input.big").fill(value);
    };
    await put(0, "2,5");
    await put(2, "4");
    await page.locator(".verdict").first().waitFor();
    assert.match(await page.locator(".verdict").first().innerText(),
      /Joint 1, gearbox to shaft: 1\.50°/);
    await page.reload();
    await h1(page, "Read the slopes on the caps");
    assert.equal(await rows.nth(0).locator("input.big").inputValue(), "2,5");
    assert.deepEqual(page.trouble, []);
    await page.context().close();
  });

test("the way goes by keyboard alone", async () => {
  const page = await open(browser, server);
  await h1(page, "What shakes?");
  const focused = () => page.evaluate(() =>
    document.activeElement.innerText || document.activeElement.id);
  const tabTo = async (pattern) => {
    for (let i = 0; i < 120; i++) {
      await page.keyboard.press("Tab");
      if (pattern.test(await focused())) return;
    }
    assert.fail(`Tab never came to ${pattern}`);
  };
  await page.keyboard.press("Tab");
  assert.equal(await focused(), "Go to the work");
  await tabTo(/^New case$/);
  await page.keyboard.press("Enter");
  await h1(page, "Tick what the customer says");
  assert.equal(await focused(), "Tick what the customer says");
  await tabTo(/^title$/);
  await page.keyboard.type("Shakes by hand");
  await page.keyboard.press("Tab");
  await page.keyboard.type("80");
  await page.keyboard.press("Tab");
  await page.keyboard.type("95");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Space");
  const outline = await page.evaluate(() => getComputedStyle(
    document.activeElement.nextElementSibling).outlineStyle);
  assert.equal(outline, "solid", "the focus is seen");
  await saved(page);
  const { complaint, title } = await sheetOf(page);
  assert.deepEqual(complaint, { speed_km_h: [80, 95], felt: ["seat"] });
  assert.equal(title, "Shakes by hand");
  await tabTo(/^Next: Vehicle$/);
  await page.keyboard.press("Enter");
  await h1(page, "Say what the vehicle is");
  assert.equal(await focused(), "Say what the vehicle is");
  assert.deepEqual(page.trouble, []);
  await page.context().close();
});

test("a bad file is refused in a sentence, and another one can be taken",
  async () => {
    const page = await open(browser, server);
    await newCase(page);
    const id = await caseId(page);
    await go(page, id, "drive");
    const file = page.locator("input[type=file]").first();
    await file.setInputFiles({ name: "empty.wav", mimeType: "audio/wav",
      buffer: Buffer.alloc(0) });
    await page.getByText("empty.wav is empty.").waitFor();
    await file.setInputFiles({ name: "../drive.wav", mimeType: "audio/wav",
      buffer: Buffer.from("RIFF this is no sound at all") });
    await page.getByRole("button", { name: "Take another file" }).waitFor();
    await page.getByText("One speed was held").click();
    await page.getByLabel("Speed that was held").fill("90");
    await go(page, id, "recording");
    const told = await page.locator("main").innerText();
    assert.match(told, /drive\.wav/);
    assert.doesNotMatch(told, /no sound at all/);
    await go(page, id, "drive");
    await page.getByRole("button", { name: "Leave it out" }).first().click();
    await page.getByRole("button", { name: "Choose the recording" }).waitFor();
    assert.deepEqual(page.trouble, []);
    await page.context().close();
  });

test("of two windows on one case neither loses what it typed", async () => {
  const one = await open(browser, server);
  const id = await newCase(one);
  const two = await one.context().newPage();
  await two.goto(server.url);
  await go(two, id, "complaint");
  await one.getByLabel("One line about the case").fill("from the first");
  await saved(one);
  await two.getByLabel("In the customer's words").fill("from the second");
  const notice = two.locator("#notice-moved");
  await notice.getByText("changed in another window").waitFor();
  assert.equal(await two.locator("#saved").innerText(), "not saved");
  assert.equal((await sheetOf(one)).complaint, undefined);
  await notice.getByRole("button", { name: "Show it as it is now" }).click();
  await notice.waitFor({ state: "detached" });
  assert.equal(await two.getByLabel("One line about the case").inputValue(),
    "from the first");
  await one.getByLabel("One line about the case").fill("first again");
  await saved(one);
  await two.getByLabel("In the customer's words").fill("second again");
  await notice.getByRole("button", { name: "Save mine over it" }).click();
  await saved(two);
  const kept = await sheetOf(two);
  assert.equal(kept.complaint.note, "second again");
  assert.deepEqual(one.trouble, []);
  await one.context().close();
});

test("what is typed while the program is away is saved when it answers",
  async () => {
    const page = await open(browser, server);
    await newCase(page);
    await page.route(/[?]from=/, (route) => route.abort());
    await page.getByLabel("One line about the case").fill("while away");
    await page.locator("#notice-lost").waitFor();
    assert.equal(await page.locator("#saved").innerText(), "not saved");
    await page.unroute(/[?]from=/);
    await saved(page);
    assert.equal(await page.locator(".notice").count(), 0);
    assert.equal((await sheetOf(page)).title, "while away");
    await page.locator("#bar-undo").click();
    await page.waitForFunction(() =>
      document.getElementById("title").value === "");
    await page.locator("#bar-redo").click();
    await page.waitForFunction(() =>
      document.getElementById("title").value === "while away");
    await page.context().close();
  });

test("a plan is put in, read again, driven again; the case goes out and in",
  async () => {
    const page = await open(browser, server);
    await page.getByRole("button", { name: "Try the sample" }).click();
    await h1(page, "Joint angles do not cancel");
    const id = await caseId(page);
    await page.getByRole("link", { name: "Work out the repair" }).click();
    await page.getByText("Put this right first").waitFor();
    await page.getByText("Springs looked at and sound").click();
    await page.getByText("lower by 15\u00a0mm + 20\u00a0mm").waitFor();
    await page.getByRole("button", { name: "This was put in" }).first()
      .click();
    await h1(page, "Prove that it is better");
    await page.getByRole("button", { name: "Read the caps again" }).click();
    await h1(page, "Read the slopes on the caps");
    /* what the plan says is to be expected */
    const given = { A: "3.0", B: "3.5", C: "5.5", D: "3.4" };
    const rows = page.locator(".reading");
    for (let i = 0; i < 4; i++) {
      const cap = await rows.nth(i).locator(":scope > legend > b").innerText();
      await rows.nth(i).getByText("rear lower").click();
      await rows.nth(i).locator("input.big").fill(given[cap]);
    }
    await saved(page);
    await go(page, id, "again");
    await page.getByText("the readings are as predicted").waitFor();
    for (const [i, name] of ["drive.flac", "speed.csv"].entries()) {
      if (i) await page.getByText("A speed log was written").click();
      await page.locator("input[type=file]").nth(i).setInputFiles(
        join(SOURCE, "samples/van", name));
      await page.locator(".file b", { hasText: `2-${name}` }).waitFor();
    }
    await saved(page);
    const sheet = await sheetOf(page);
    assert.deepEqual(sheet.drive.map((d) => [d.recording, d.speed, d.gear]),
      [["drive.flac", "speed.csv", 5], ["2-drive.flac", "2-speed.csv", 5]]);
    assert.deepEqual(sheet.fitted, [{ at: "centre_support", support: 1,
      lift_mm: -35 }]);
    await go(page, id, "overview");
    await go(page, id, "again");
    await page.getByText("the drive after the repair", { exact: true })
      .click();
    await page.locator(".order-pair").nth(1).waitFor();
    assert.match(await page.locator(".order-pair").nth(1).innerText(),
      /after\s+0\.20/, "the same recording, so the same level");
    await go(page, id, "overview");
    const zip = await page.request.get(server.origin + await page.getByRole(
      "link", { name: "Whole case as a zip" }).getAttribute("href"));
    await page.evaluate(() => { location.hash = "#/"; });
    await page.locator("#zip").setInputFiles({ name: "case.zip",
      mimeType: "application/zip", buffer: await zip.body() });
    await h1(page, "Delivery van hums between 85 and 100 km/h");
    assert.notEqual(await caseId(page), id);
    assert.deepEqual(await sheetOf(page),
      { ...sheet, drive: [...sheet.drive].reverse() });
    await page.getByRole("button", { name: "Remove this case" }).click();
    await page.getByRole("button", { name: "Remove for good" }).click();
    await h1(page, "What shakes?");
    assert.deepEqual(page.trouble, []);
    await page.context().close();
  });

test("work goes on over a reload, can be stopped and begun again", async () => {
  const page = await open(browser, server);
  await newCase(page);
  const id = await caseId(page);
  await go(page, id, "drive");
  await page.locator("input[type=file]").first().setInputFiles({
    name: "long.flac", mimeType: "audio/flac", buffer: hours(4) });
  await page.getByRole("button", { name: "Take another file" }).waitFor();
  await page.getByText("One speed was held").click();
  await page.getByLabel("Speed that was held").fill("90");
  await saved(page);
  await page.evaluate((to) => { location.hash = to; },
    `#/case/${id}/recording`);
  await page.locator(".working progress").waitFor();
  await page.reload();
  await page.locator(".working progress").waitFor();
  await page.getByRole("button", { name: "Stop" }).click();
  await page.getByText("was stopped.").waitFor();
  await page.getByRole("button", { name: "Work it out again" }).click();
  await page.locator(".working progress").waitFor();
  await settled(page);
  assert.equal(await page.getByText("was stopped.").count(), 0);
  assert.deepEqual(page.trouble, []);
  await page.context().close();
});

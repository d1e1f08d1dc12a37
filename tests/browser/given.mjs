/* A server on an empty store, and a browser that shows its page. */
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";

export const SOURCE = process.env.HALFTURN_SOURCE;
const program = process.env.HALFTURN;

/* Quiet: nothing but our own server is talked to. */
const args = ["--no-sandbox", "--disable-gpu", "--disable-quic",
  "--disable-background-networking", "--disable-component-update",
  "--disable-sync"];

export async function serve() {
  const folder = mkdtempSync(join(tmpdir(), "halfturn-browser-"));
  const child = spawn(program, ["serve", "--port", "0", "--folder", folder]);
  let said = "";
  const url = await new Promise((resolve, reject) => {
    const hear = (bytes) => {
      said += bytes;
      const found = /http:\/\/\S+/.exec(said);
      if (found) resolve(found[0]);
    };
    child.stdout.on("data", hear);
    child.stderr.on("data", hear);
    child.on("exit", () => reject(new Error(`the server ended: ${said}`)));
  });
  return { url, origin: url.split("/#")[0], token: url.split("/#")[1],
    async end() {
      const ended = new Promise((resolve) => child.once("exit", resolve));
      child.removeAllListeners("exit");
      child.once("exit", () => {});
      const gone = child.exitCode === null
        ? new Promise((resolve) => child.once("close", resolve)) : ended;
      child.kill("SIGTERM");
      await gone;
      rmSync(folder, { recursive: true, force: true });
    } };
}

export const browse = () => chromium.launch({
  executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args });

/* A page that fails the test when its script or its policy complains.
 * Refusals of the server are part of some tests: they are not counted. */
export async function open(browser, server, more = {}) {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 }, reducedMotion: "reduce", ...more });
  const page = await context.newPage();
  page.trouble = [];
  page.on("pageerror", (error) => page.trouble.push(String(error.stack)));
  page.on("console", (message) => {
    if (message.type() === "error" &&
        !/the server responded with a status/.test(message.text()))
      page.trouble.push(message.text());
  });
  page.setDefaultTimeout(15000);
  await page.goto(server.url);
  return page;
}

export const h1 = (page, text) =>
  page.getByRole("heading", { level: 1, name: text }).waitFor();

export const go = async (page, id, step) => {
  await page.evaluate((to) => { location.hash = to; }, `#/case/${id}/${step}`);
  await page.waitForFunction((name) => location.hash.endsWith(name), step);
  await settled(page);
};

/* Nothing is on its way: saved, and nothing is being worked out. */
export async function settled(page) {
  await page.waitForFunction(() => {
    const saved = document.getElementById("saved");
    return (!saved || /^(saved|not saved|$)/.test(saved.textContent)) &&
      !document.querySelector(".working") && document.querySelector("main h1");
  });
}

export const saved = (page) => page.waitForFunction(() =>
  /^saved/.test(document.getElementById("saved").textContent));

export const api = (page, method, path, body) => page.evaluate(
  async ([how, where, what]) => {
    const answer = await fetch(where, { method: how, body: what, headers: {
      "Halfturn-Token": sessionStorage.getItem("halfturn-token") } });
    return answer.status === 204 ? null : answer.json();
  }, [method, path, body]);

/* A recording that takes a while: noise, 16 bit, one channel. */
export function noise(seconds, rate = 44100) {
  const count = seconds * rate, wav = Buffer.alloc(44 + 2 * count);
  wav.write("RIFF", 0);
  wav.writeUInt32LE(36 + 2 * count, 4);
  wav.write("WAVEfmt ", 8);
  wav.writeUInt32LE(16, 16);
  wav.writeUInt16LE(1, 20);
  wav.writeUInt16LE(1, 22);
  wav.writeUInt32LE(rate, 24);
  wav.writeUInt32LE(2 * rate, 28);
  wav.writeUInt16LE(2, 32);
  wav.writeUInt16LE(16, 34);
  wav.write("data", 36);
  wav.writeUInt32LE(2 * count, 40);
  let seed = 12345;
  for (let i = 0; i < count; i++) {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    wav.writeInt16LE((seed >>> 16) - 32768 >> 2, 44 + 2 * i);
  }
  return wav;
}

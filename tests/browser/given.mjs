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
  return { url, folder, origin: url.split("/#")[0], token: url.split("/#")[1],
    async end() {
      const gone = new Promise((resolve) => child.once("close", resolve));
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
  page.setDefaultTimeout(30000);
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
      !document.querySelector("[aria-busy]") &&
      document.querySelector("main h1");
  }, null, { timeout: 240000 });
}

export const saved = (page) => page.waitForFunction(() =>
  /^saved/.test(document.getElementById("saved").textContent));

export const api = (page, method, path, body) => page.evaluate(
  async ([how, where, what]) => {
    const answer = await fetch(where, { method: how, body: what, headers: {
      "Halfturn-Token": sessionStorage.getItem("halfturn-token") } });
    return answer.status === 204 ? null : answer.json();
  }, [method, path, body]);

/* ---- a recording that takes a while ------------------------------------ */

function crc(bytes, bits, by) {
  const top = 1 << (bits - 1), all = (1 << bits) - 1;
  let sum = 0;
  for (const byte of bytes) {
    sum ^= byte << (bits - 8);
    for (let i = 0; i < 8; i++)
      sum = sum & top ? ((sum << 1) ^ by) & all : (sum << 1) & all;
  }
  return sum;
}

const utf8 = (n) => n < 0x80 ? [n]
  : n < 0x800 ? [0xc0 | n >> 6, 0x80 | n & 63]
  : [0xe0 | n >> 12, 0x80 | n >> 6 & 63, 0x80 | n & 63];

/* FLAC, 48 kHz, 16 bit, one channel, each block of 65535 frames one constant
 * value: hours in some kilobytes (RFC 9639, sections 8.2, 9.1, 9.2.3). */
export function hours(count) {
  const blocks = Math.round(count * 3600 * 48000 / 65535);
  const frames = BigInt(blocks) * 65535n;
  const info = Buffer.alloc(34);
  info.writeUInt16BE(65535, 0);
  info.writeUInt16BE(65535, 2);
  info.writeBigUInt64BE((48000n << 44n) | (15n << 36n) | frames, 10);
  const out = [Buffer.from("fLaC"), Buffer.from([0x80, 0, 0, 34]), info];
  for (let i = 0; i < blocks; i++) {
    const head = [0xff, 0xf8, 0x7a, 0x08, ...utf8(i), 0xff, 0xfe];
    const all = [...head, crc(head, 8, 0x07), 0x00, i * 37 & 63, i * 91 & 255];
    const sum = crc(all, 16, 0x8005);
    out.push(Buffer.from([...all, sum >> 8, sum & 255]));
  }
  return Buffer.concat(out);
}

/* One case, kept as it is typed. "saved" is said after the server said so. */
import { api } from "./api.js";

const WAIT_MS = 500, AGAIN_MS = 3000;

function empty(value) {
  if (value === undefined || value === null || value === "") return true;
  if (Array.isArray(value)) return value.length === 0;
  return typeof value === "object" && Object.keys(value).length === 0;
}

/* Leaves out what says nothing: an absent key means unknown. */
export function pruned(value) {
  if (Array.isArray(value))
    return value.map(pruned).filter((part) => !empty(part));
  if (value === null || typeof value !== "object") return value;
  const kept = {};
  for (const [key, part] of Object.entries(value)) {
    const less = pruned(part);
    if (!empty(less)) kept[key] = less;
  }
  return kept;
}

export const list = (value) =>
  value === undefined ? [] : Array.isArray(value) ? value : [value];

/* The server's sheet with its lists as lists. */
export function normal(sheet) {
  const made = structuredClone(sheet);
  for (const key of ["driveline", "angles", "drive", "shims", "fitted"])
    if (made[key]) made[key] = list(made[key]);
  for (const set of made.angles || [])
    if (set.slopes_deg) set.slopes_deg = set.slopes_deg.map(
      (slope) => typeof slope === "number" ? [slope] : slope);
  for (const drive of made.drive || []) {
    if (typeof drive.sensor === "string")
      drive.sensor = { place: drive.sensor };
    if (typeof drive.speed === "string") drive.speed = { file: drive.speed };
    if (drive.channels) drive.channels = list(drive.channels);
  }
  if (typeof made.limits === "string") made.limits = { name: made.limits };
  return made;
}

export class Keeper {
  /* told: what happened, as "edited", "saved", "moved", "refused", "lost",
   * "loaded". */
  constructor(entry, told) {
    this.told = told;
    this.take(entry);
  }

  take(entry) {
    clearTimeout(this.timer);
    this.entry = entry;
    this.id = entry.id;
    this.revision = entry.revision;
    this.files = entry.files || this.files || [];
    this.sheet = normal(entry.sheet);
    this.text = JSON.stringify(this.sheet);
    this.trouble = null;
    this.asked = null;
  }

  async load(why = "loaded") {
    this.take(await api.get(this.id));
    this.told(why);
  }

  get dirty() { return JSON.stringify(this.sheet) !== this.text; }

  /* fn changes a copy; what it says nothing in is left out. */
  edit(fn, { now = false } = {}) {
    const next = structuredClone(this.sheet);
    fn(next);
    this.sheet = pruned(next);
    clearTimeout(this.timer);
    if (!this.dirty) return this.flush();
    if (this.trouble && this.trouble.id === "silence") {
      this.timer = setTimeout(() => this.again(), AGAIN_MS);
    } else if (!this.trouble || this.trouble.id === "content") {
      this.trouble = null;
      this.timer = setTimeout(() => this.flush(), now ? 0 : WAIT_MS);
    }
    this.told("edited");
    return now ? this.flush() : undefined;
  }

  /* All that was typed is with the server when this is done, or it throws. */
  async flush() {
    clearTimeout(this.timer);
    while (this.saving) await this.saving.catch(() => {});
    while (this.dirty && !this.trouble) {
      this.saving = this.save();
      const what = await this.saving.finally(() => { this.saving = null; });
      this.told(what);
    }
    return !this.trouble;
  }

  async save() {
    const text = JSON.stringify(this.sheet);
    if (!this.asked || this.asked.text !== text)
      this.asked = { text, key: api.newKey() };
    try {
      const entry = await api.save(this.id, this.revision, this.asked.key,
        text);
      this.entry = { ...this.entry, ...entry };
      this.revision = entry.revision;
      this.text = text;
      this.saved_ms = Date.now();
      return "saved";
    } catch (error) {
      this.trouble = error;
      if (error.id === "silence") {
        this.timer = setTimeout(() => this.again(), AGAIN_MS);
        return "lost";
      }
      return error.id === "revision" ? "moved" : "refused";
    }
  }

  again() {
    this.trouble = null;
    return this.flush();
  }

  /* Another window was first: take what is there now, or save over it. */
  takeTheirs() { return this.load(); }

  async keepMine() {
    const now = this.trouble && this.trouble.now;
    this.revision = now ? now.revision : (await api.get(this.id)).revision;
    this.asked = null;
    await this.again();
    this.told("loaded");
  }

  /* Back to what the server has. */
  async drop() { await this.load(); }

  async step(which) {
    if (!await this.flush()) return false;
    try {
      await api[which](this.id, this.revision);
    } catch (error) {
      if (error.id !== "revision" && error.status !== 400) throw error;
    }
    await this.load();
    return true;
  }

  /* The page goes away: what was typed last goes along. */
  leave() {
    if (!this.dirty || this.trouble) return;
    const text = JSON.stringify(this.sheet);
    const key = this.asked && this.asked.text === text
      ? this.asked.key : api.newKey();
    api.save(this.id, this.revision, key, text, { keepalive: true })
      .catch(() => {});
  }
}

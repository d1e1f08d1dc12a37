/* The readings of a set as they stand in the fields. The sheet takes them
 * when every member is read; until then they wait in this browser. */
import { chainOf } from "./chain.js";
import { pruned } from "./keeper.js";
import { short, typed } from "./words.js";

const blank = () => ({ texts: [], sign: undefined, flip: false });

function fromSheet(slope) {
  if (slope === undefined) return blank();
  const values = Array.isArray(slope) ? slope
    : slope.flip || slope.readings_deg;
  if (!values) return { ...blank(), kept: slope };
  const first = values.find((v) => v !== 0) || 0;
  return { texts: values.map((v) => short(Math.abs(v))), kept: undefined,
    sign: first < 0 ? -1 : 1, flip: !!slope.flip,
    mixed: Array.isArray(slope) && values.some((v) => v * first < 0)
      ? values : undefined,
    rest: Array.isArray(slope) ? {} : slope };
}

export class Readings {
  constructor(app, set, count) {
    this.app = app;
    this.set = set;
    this.key = `halfturn-caps-${app.keeper.id}-${set}`;
    const slopes = app.keeper.sheet.angles?.[set]?.slopes_deg;
    const headings = (app.keeper.sheet.angles?.[set]?.headings_deg ||
      (slopes ? null : app.keeper.sheet.angles?.[0]?.headings_deg)) || [];
    this.straight = headings.length > 0 && headings.every((v) => v === 0);
    this.headings = this.straight ? [] : [...headings];
    this.rows = Array.from({ length: count }, (_, i) => fromSheet(slopes?.[i]));
    if (!slopes) {
      this.recall(count);
    }
  }

  recall(count) {
    try {
      const kept = JSON.parse(localStorage.getItem(this.key) || "null");
      if (!kept || kept.rows.length !== count) return;
      this.rows = kept.rows;
      this.straight = kept.straight;
      this.headings = kept.headings || [];
    } catch { /* nothing that can be read is kept */ }
  }

  resize(count) {
    localStorage.removeItem(this.key);
    this.rows = Array.from({ length: count }, (_, i) =>
      this.rows[i] || blank());
  }

  numbers(row) {
    const wanted = row.flip ? 2 : row.texts.length;
    const all = row.texts.slice(0, wanted).filter((text) => (text || "")
      .trim()).map((text) => Math.abs(typed(text)));
    return row.flip && all.length < 2 ? [] : all;
  }

  /* The sheet's form of one row, or undefined while something is missing. */
  value(row) {
    if (row.kept && !row.texts.length) return row.kept;
    if (row.mixed && row.texts.every((text, i) =>
      text === short(Math.abs(row.mixed[i])))) return row.mixed;
    const all = this.numbers(row);
    if (!all.length || all.some((v) => !(v <= 45))) return undefined;
    if (!row.sign && all.some((v) => v !== 0)) return undefined;
    const sign = row.sign || 1;
    if (row.flip) return { ...row.rest, flip: [sign * all[0], -sign * all[1]] };
    const values = all.map((v) => v === 0 ? 0 : sign * v);
    return row.rest && row.rest.readings_deg
      ? { ...row.rest, readings_deg: values } : values;
  }

  wants(i) {
    const row = this.rows[i];
    if (this.value(row) !== undefined) return "";
    const some = row.texts.some((text) => (text || "").trim());
    if (!some) return "";
    if (row.flip && this.numbers(row).length < 2)
      return "Two readings are wanted: as read, and turned round.";
    return row.sign ? "" : "Choose which end is lower; then it counts.";
  }

  slopes() {
    return this.rows.map((row) => {
      const value = this.value(row);
      if (value === undefined) return undefined;
      if (Array.isArray(value))
        return value.reduce((sum, v) => sum + v, 0) / value.length;
      if (value.flip) return (value.flip[0] - value.flip[1]) / 2;
      return value.readings_deg ? value.readings_deg[0] : undefined;
    });
  }

  complete() { return this.rows.every((row) => this.value(row) !== undefined); }

  /* Readings that this step does not show: joint by joint. */
  other() { return !!this.app.keeper.sheet.angles?.[this.set]?.joints_deg; }

  /* The longest stretch of neighbours that are read: [from, to]. */
  run() {
    let best = null, from = -1;
    this.rows.concat([null]).forEach((row, i) => {
      const read = row && this.value(row) !== undefined;
      if (read && from < 0) from = i;
      if (!read && from >= 0) {
        if (i - from >= 2 && (!best || i - from > best[1] - best[0] + 1))
          best = [from, i - 1];
        from = -1;
      }
    });
    return best;
  }

  /* A sheet of that stretch alone, to be worked out without keeping it. */
  piece([from, to], chain) {
    const sheet = this.app.keeper.sheet;
    const at = sheet.angles?.[this.set] || {};
    return pruned({ halfturn: 1, vehicle: sheet.vehicle, limits: sheet.limits,
      driveline: [{ members: chain.members.slice(from, to + 1),
        joints: chain.joints.slice(from, to) }],
      angles: [{ suspension: at.suspension, gauge: at.gauge,
        read_on: at.read_on,
        slopes_deg: this.rows.slice(from, to + 1).map((r) => this.value(r)),
        headings_deg: this.sideways()?.slice(from, to + 1) }] });
  }

  /* Headings of all members, or undefined: side view only. */
  sideways() {
    if (this.straight) return this.rows.map(() => 0);
    const all = this.rows.map((_, i) => this.headings[i]);
    return all.every(Number.isFinite) ? all : undefined;
  }

  keep() {
    const slopes = this.rows.map((row) => this.value(row));
    const whole = slopes.every((slope) => slope !== undefined);
    if (whole) localStorage.removeItem(this.key);
    else localStorage.setItem(this.key, JSON.stringify({ rows: this.rows,
      straight: this.straight, headings: this.headings }));
    this.app.keeper.edit((sheet) => {
      sheet.angles ||= [];
      const at = sheet.angles[this.set] ||= {};
      if (this.other() && !whole) return;
      if (!whole) {
        delete at.slopes_deg;
        delete at.headings_deg;
        return;
      }
      const chain = chainOf(sheet, this.set);
      sheet.driveline ||= [{ members: chain.members, joints: chain.joints }];
      delete at.joints_deg;
      at.slopes_deg = slopes;
      at.headings_deg = this.sideways();
    });
  }
}

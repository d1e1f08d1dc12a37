/* Figures: SVG drawn at the width of its place, 1:1. */
import { s, newId } from "./dom.js";
import { degrees, fixed, level, NB, orderName, units } from "./words.js";

const text = (x, y, words, more = {}) => s("text", { x, y, ...more }, words);

export const figure = (width, height, label, ...kids) => s("svg", {
  width, height, viewBox: `0 0 ${width} ${height}`, role: "img",
  "aria-label": label,
}, ...kids);

function hatching() {
  const id = newId("hatch");
  return { fill: `url(#${id})`, defs: s("defs", {}, s("pattern", { id,
    width: 4.5, height: 4.5, patternUnits: "userSpaceOnUse",
    patternTransform: "rotate(45)" },
  s("line", { x1: 0, y1: 0, x2: 0, y2: 4.5, class: "hatch" }))) };
}

/* A round step for an axis of at most `count` ticks. */
export function stepOf(span, count) {
  const rough = span / count;
  const ten = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 5, 10].map((n) => n * ten).find((step) => step >= rough);
}

/* ---- signs -------------------------------------------------------------- */

export function disc(verdict) {
  const kind = verdict === "over" || verdict === "under" ? "full"
    : verdict === "within" ? "" : verdict ? "half" : "none";
  return s("svg", { class: "disc", width: 12, height: 12,
    viewBox: "0 0 12 12", "aria-hidden": "true" },
  s("circle", { cx: 6, cy: 6, r: 5, class: `disc-ring ${kind}` }),
  kind === "half" ? s("path", { d: "M6 1a5 5 0 0 0 0 10z",
    class: "disc-half" }) : null);
}

/* Which end is lower: two pictures, front at the left. */
export function signPicture(rearLower) {
  const y = rearLower ? [14, 30] : [30, 14];
  return s("svg", { width: 96, height: 44, viewBox: "0 0 96 44",
    class: "sign", "aria-hidden": "true" },
  s("line", { x1: 8, y1: 22, x2: 88, y2: 22, class: "dotted" }),
  s("line", { x1: 14, y1: y[0], x2: 82, y2: y[1], class: "tube-line" }),
  s("path", { d: "M20 40H4m6-4-6 4 6 4", class: "arrow-line" }));
}

/* ---- side view ---------------------------------------------------------- */

const timesFor = (slopes) => [10, 8, 6, 4, 3, 2].find((n) =>
  slopes.every((slope) => Math.abs(slope * n) < 35)) || 1;

function wedge(x, y, from, to, radius) {
  const at = (a) => [x + radius * Math.cos(a), y + radius * Math.sin(a)];
  const [x1, y1] = at(from), [x2, y2] = at(to);
  const sweep = to > from ? 1 : 0;
  const arc = `M${x1} ${y1}A${radius} ${radius} 0 0 ${sweep} ${x2} ${y2}`;
  return [s("path", { d: `${arc}L${x} ${y}Z`, class: "wash" }),
    s("path", { d: arc, class: "arc" })];
}

/* members: [{name, slope (deg) or undefined, length}], joints: [{text,
 * over}] */
export function sideView(width, members, joints) {
  const known = members.map((m) => m.slope).filter(Number.isFinite);
  const times = timesFor(known);
  const rad = members.map((m) =>
    (Number.isFinite(m.slope) ? m.slope : 0) * times * Math.PI / 180);
  const last = members.length - 1;
  const end = width < 500 ? 44 : 72, ring = width < 500 ? 9.5 : 13;
  const tube = width < 500 ? 7 : 10;
  const lengths = members.map((m) => m.length || 1200);
  const shafts = lengths.slice(1, last);
  const total = shafts.reduce((sum, v, i) => sum + v * Math.cos(rad[i + 1]), 0);
  const px = total > 0 ? (width - 40 - 2 * end) / total : 0;
  const nodes = [[20, 0]];
  members.forEach((_, i) => {
    const long = i === 0 || i === last ? (total > 0 ? end : (width - 40) / 2)
      : px * lengths[i];
    const [x, y] = nodes.at(-1);
    nodes.push([x + long * Math.cos(rad[i]), y + long * Math.sin(rad[i])]);
  });
  const ys = nodes.map((node) => node[1]);
  const top = 62 - Math.min(...ys), height = top + Math.max(...ys) + 78;
  const at = nodes.map(([x, y]) => [x, y + top]);
  const kids = [s("line", { x1: 8, y1: at[1][1], x2: width - 8, y2: at[1][1],
    class: "dotted" })];
  members.forEach((member, i) => {
    const [x1, y1] = at[i], [x2, y2] = at[i + 1];
    const half = i === 0 || i === last ? tube * 1.7 : tube;
    const dx = -Math.sin(rad[i]) * half, dy = Math.cos(rad[i]) * half;
    kids.push(s("path", { class: Number.isFinite(member.slope)
      ? "metal" : "metal unknown",
    d: `M${x1 + dx} ${y1 + dy}L${x2 + dx} ${y2 + dy}L${x2 - dx} ${y2 - dy}` +
      `L${x1 - dx} ${y1 - dy}Z` }));
  });
  const labels = [];
  joints.forEach((joint, j) => {
    const [x, y] = at[j + 1];
    const reach = width < 500 ? 40 : 64;
    if (Number.isFinite(members[j].slope) &&
        Number.isFinite(members[j + 1].slope)) {
      kids.push(...wedge(x, y, rad[j], rad[j + 1], reach));
      kids.push(s("line", { x1: x, y1: y, x2: x + (reach + 12) *
        Math.cos(rad[j]), y2: y + (reach + 12) * Math.sin(rad[j]),
      class: "centre dashed" }));
      kids.push(s("line", { x1: x, y1: y, x2: x + reach * Math.cos(rad[j + 1]),
        y2: y + reach * Math.sin(rad[j + 1]), class: "centre" }));
    }
    labels.push(s("circle", { cx: x, cy: y, r: ring, class: "ring" }),
      text(x, y + 4.5, String(j + 1), { class: "t13 bold m" }));
    if (joint && joint.text)
      labels.push(text(Math.min(x + 4, width - 30), y + ring + tube + 26,
        joint.text, { class: "t13 bold halo m" +
          (joint.over ? " over" : " blue") }));
  });
  members.forEach((member, i) => {
    const x = (at[i][0] + at[i + 1][0]) / 2, y = (at[i][1] + at[i + 1][1]) / 2;
    const anchor = i === 0 ? "" : i === last ? " e" : " m";
    labels.push(text(i === 0 ? 8 : i === last ? width - 8 : x,
      y - tube * 1.7 - 14 - (i % 2 && width < 500 ? 14 : 0), member.letter
        ? `${member.letter} ${member.name}` : member.name,
      { class: "t13 halo dim" + anchor }));
  });
  const y = height - 12;
  labels.push(s("path", { d: `M40 ${y - 4}H12m7-4-7 4 7 4`,
    class: "arrow-line" }), text(46, y, "front", { class: "t12 dim" }),
  text(width - 8, y, `angles ${times} times too large`,
    { class: "t12 dim e" }));
  const told = joints.map((joint, j) => joint && joint.text
    ? `joint ${j + 1} ${joint.text}` : "").filter(Boolean).join(", ");
  return figure(width, height, `Side view, front at the left. ${told}`,
    kids, labels);
}

/* ---- limit strip -------------------------------------------------------- */

/* value with its range against a least and a most; one axis for all strips */
export function limitStrip(width, { low, high, value, least, most, full,
  unit, label }) {
  const hatch = hatching();
  const w = width - 16, x = (v) => 8 + w * Math.min(1, Math.max(0, v / full));
  const y = 8, tall = 18;
  const from = Number.isFinite(least) ? x(least) : 8;
  const to = Number.isFinite(most) ? x(most) : 8 + w;
  const wide = Math.max(4, x(high) - x(low));
  const limit = (v) => Number.isFinite(v) ? [
    s("line", { x1: x(v), x2: x(v), y1: y - 3, y2: y + tall + 3,
      class: "limit" }),
    text(x(v), y + tall + 17, `${fixed(v, v >= 20 ? 0 : 1)}${unit}`,
      { class: "t12 m dim" })] : null;
  return figure(width, 48, label, hatch.defs,
    s("rect", { x: 8, y, width: w, height: tall, fill: hatch.fill }),
    s("rect", { x: from, y, width: Math.max(0, to - from), height: tall,
      class: "track" }),
    s("rect", { x: x(low) - 3, y: y - 0, width: wide + 6, height: tall,
      class: "clear" }),
    s("rect", { x: x(low), y: y + 1, width: wide, height: tall - 2,
      class: "block" }),
    wide >= 10 ? s("line", { x1: x(value), x2: x(value), y1: y + 1,
      y2: y + tall - 1, class: "slit" }) : null,
    limit(least), limit(most), text(8, y + tall + 17, "0",
      { class: "t12 m dim" }));
}

/* ---- orders ------------------------------------------------------------- */

export const family = (part) => part === "wheel" ? "wheel"
  : /shaft|mesh/.test(part) && !/half/.test(part) ? "shaft"
  : part === "half-shaft" ? "wheel" : part === "engine" ? "engine" : "other";

const LOW = 0.0025, HIGH = 1.28;
const doubling = (w, v) => w * Math.min(1, Math.max(0,
  Math.log2(v / LOW) / Math.log2(HIGH / LOW)));

/* bands: noticed and complained of, felt at seat or floor */
const noticed = [[0.05, 0.1], [0.15, 0.3]];

export function orderStrip(width, order, scaled) {
  const x = (v) => 4 + doubling(width - 8, v);
  const shade = scaled ? noticed.map(([a, b]) => s("rect", { x: x(a), y: 2,
    width: x(b) - x(a), height: 16, class: "track" })) : null;
  const line = s("line", { x1: 4, x2: width - 4, y1: 10, y2: 10,
    class: "doubling" });
  if (order.state !== "seen") {
    const to = x(order.least_seen || LOW);
    return s("svg", { width, height: 20, "aria-hidden": "true" }, shade, line,
      s("line", { x1: 4, x2: to, y1: 10, y2: 10, class: "unseen" }),
      s("line", { x1: to, x2: to, y1: 5, y2: 15, class: "unseen-end" }));
  }
  const a = x(Math.max(LOW, order.low)), b = x(order.high);
  const wide = Math.max(4, b - a);
  return s("svg", { width, height: 20, "aria-hidden": "true" }, shade, line,
    s("rect", { x: a - 2, y: 4, width: wide + 4, height: 12, class: "clear" }),
    s("rect", { x: a, y: 5, width: wide, height: 10,
      class: `block ${family(order.part)}` }),
    wide >= 10 ? s("line", { x1: x(order.level), x2: x(order.level), y1: 5,
      y2: 15, class: "slit" }) : null);
}

export function orderScale(width) {
  const x = (v) => 4 + doubling(width - 8, v);
  return s("svg", { width, height: 24, "aria-hidden": "true" },
    s("line", { x1: 4, x2: width - 4, y1: 4, y2: 4, class: "axis" }),
    [0.01, 0.04, 0.16, 0.64].map((v) => [
      s("line", { x1: x(v), x2: x(v), y1: 4, y2: 9, class: "axis" }),
      text(x(v), 21, String(v), { class: "t12 m dim" })]));
}

/* ---- level against speed ------------------------------------------------ */

const middle = (bin) => (bin.from_km_h + bin.to_km_h) / 2;
const usable = (bin) => bin.state === "seen" ||
  (bin.state === "not_seen" && bin.high > 0);

/* Runs of neighbouring bins: what was not driven is left empty. */
function runs(bins) {
  const made = [];
  for (const bin of bins) {
    if (!usable(bin)) { made.push([]); continue; }
    const run = made.at(-1);
    const before = run && run.at(-1);
    if (before && bin.from_km_h <= before.to_km_h) run.push(bin);
    else made.push([bin]);
  }
  return made.filter((run) => run.length);
}

export function curve(width, { orders, chosen, felt, unit, place, scaled }) {
  const height = width < 500 ? 300 : 340;
  const box = { left: 44, right: width - (width < 500 ? 76 : 110), top: 34,
    bottom: height - 52 };
  const all = orders.flatMap((order) => order.bins);
  const speeds = all.flatMap((bin) => [bin.from_km_h, bin.to_km_h])
    .map((v) => units.out("speed", v));
  const from = Math.floor(Math.min(...speeds) / 10) * 10;
  const to = Math.ceil(Math.max(...speeds) / 10) * 10;
  const topOf = Math.max(...orders.flatMap((order) => order.bins
    .filter(usable).map((bin) => order === chosen ? bin.high : bin.level)),
  1e-9);
  const step = stepOf(topOf * 1.05, 4), most = Math.ceil(topOf * 1.05 / step) *
    step;
  const x = (v) => box.left + (box.right - box.left) *
    (units.out("speed", v) - from) / (to - from);
  const y = (v) => box.bottom - (box.bottom - box.top) * Math.min(1, v / most);
  const kids = [];
  if (scaled) noticed.forEach(([a, b], i) => {
    if (a >= most) return;
    const high = Math.min(b, most);
    kids.push(s("rect", { x: box.left, y: y(high), width: box.right - box.left,
      height: y(a) - y(high), class: "track" }),
    text(box.left + 6, y(high) + 15, i ? "complained of" : "noticed",
      { class: "t12 dim halo" }));
  });
  for (let v = 0; v <= most * 1.001; v += step)
    kids.push(s("line", { x1: box.left - 5, x2: box.left, y1: y(v), y2: y(v),
      class: "axis" }), text(box.left - 8, y(v) + 4,
      v === 0 ? "0" : String(Number(v.toPrecision(2))), { class: "t12 e dim" }));
  const across = stepOf(to - from, width < 500 ? 5 : 8);
  for (let v = from; v <= to; v += across) {
    const at = x(units.in("speed", v));
    kids.push(s("line", { x1: at, x2: at, y1: box.bottom, y2: box.bottom + 5,
      class: "axis" }), text(at, box.bottom + 19, String(v),
      { class: "t12 m dim" }));
  }
  kids.push(s("path", { d: `M${box.left} ${box.top}V${box.bottom}H${box.right}`,
    class: "axis" }), text(4, 14, `${unit} peak, ${place}`,
    { class: "t12 dim" }), text(box.right, height - 8,
    `road speed, ${units.name("speed")}`, { class: "t12 e dim" }));
  const ends = [];
  for (const order of orders) {
    const parts = runs(order.bins);
    if (order === chosen) for (const run of parts) {
      const up = run.map((bin) => `${x(middle(bin))} ${y(bin.high)}`);
      const down = run.map((bin) => `${x(middle(bin))} ${y(bin.low)}`);
      kids.push(s("path", { class: `band ${family(order.part)}`,
        d: `M${up.join("L")}L${down.reverse().join("L")}Z` }));
    }
    for (const run of parts) kids.push(s("path", {
      class: `line ${family(order.part)}` + (order === chosen ? " chosen" : ""),
      d: "M" + run.map((bin) => `${x(middle(bin))} ${y(bin.level)}`).join("L"),
    }));
    const end = parts.at(-1)?.at(-1);
    if (end) ends.push({ order, x: x(middle(end)), y: y(end.level) });
  }
  ends.sort((a, b) => a.y - b.y);
  let least = box.top + 4;
  for (const end of ends) {
    end.at = Math.max(least, Math.min(end.y + 4, box.bottom - 15 *
      (ends.length - 1 - ends.indexOf(end))));
    least = end.at + 15;
    kids.push(s("line", { x1: end.x + 2, y1: end.y, x2: box.right + 6,
      y2: end.at - 4, class: "leader" }), text(box.right + 9, end.at,
      orderName(end.order), { class: `t12 ${family(end.order.part)}` +
        (end.order === chosen ? " bold" : "") }));
  }
  if (felt && felt.length) {
    const a = x(felt[0]), b = x(felt.at(-1));
    kids.push(s("rect", { x: Math.max(box.left, a), y: box.bottom - 3,
      width: Math.max(6, Math.min(box.right, b) - Math.max(box.left, a)),
      height: 6, class: "felt" }), text((a + b) / 2, box.bottom + 34,
      "felt here", { class: "t12 m" }));
  }
  const peak = chosen.bins.filter(usable).reduce((best, bin) =>
    !best || bin.level > best.level ? bin : best, null);
  const label = peak ? `${orderName(chosen)} is strongest at ` +
    `${units.say("speed", middle(peak))}: ${level(peak.level)} ${unit}`
    : `${orderName(chosen)} was not seen`;
  if (peak && chosen.state === "seen") {
    const px = x(middle(peak)), right = px < (box.left + box.right) / 2;
    kids.push(s("circle", { cx: px, cy: y(peak.level), r: 3.5,
      class: "now" }), text(px + (right ? 10 : -10),
      Math.max(box.top + 10, y(peak.level) - 8),
      `${level(peak.level)} (${level(peak.low)} to ${level(peak.high)})`,
      { class: "t12 halo " + (right ? "" : "e") }));
  }
  return figure(width, height, label, kids);
}

/* ---- the map of the named orders ---------------------------------------- */

const classOf = (v) => v < 0.005 ? 0
  : Math.min(8, 1 + Math.floor(Math.log2(v / 0.005)));

export function orderMap(width, { orders, chosen, felt, scaled, unit }) {
  const height = width < 500 ? 340 : 400;
  const box = { left: 44, right: width - 12, top: 62, bottom: height - 84 };
  const all = orders.flatMap((order) => order.bins);
  const out = (v) => units.out("speed", v);
  const from = out(Math.min(...all.map((bin) => bin.from_km_h)));
  const to = out(Math.max(...all.map((bin) => bin.to_km_h)));
  const furthest = Math.max(...orders.map((order) => order.wheel_order), 1);
  const most = Math.ceil(furthest + 0.5);
  const strongest = Math.max(...all.map((bin) => bin.level), 1e-9);
  const gain = scaled ? 1 : 0.64 / strongest;
  const x = (v) => box.left + (box.right - box.left) * v / most;
  const y = (v) => box.bottom - (box.bottom - box.top) * (out(v) - from) /
    (to - from);
  const hatch = hatching();
  const kids = [hatch.defs, s("rect", { x: box.left, y: box.top,
    width: box.right - box.left, height: box.bottom - box.top, class: "k0" })];
  const wide = Math.max(5, Math.min(12, (box.right - box.left) / most / 5));
  for (const order of orders) for (const bin of order.bins) {
    const tall = y(bin.from_km_h) - y(bin.to_km_h);
    kids.push(s("rect", { x: x(order.wheel_order) - wide / 2,
      y: y(bin.to_km_h), width: wide, height: Math.max(1, tall / 2 + 0.4),
      class: bin.state === "could_not_be_seen" ? "unknown-cell"
        : `k${classOf(bin.level * gain)}` }));
  }
  kids.push(s("rect", { x: box.left, y: box.top, width: box.right - box.left,
    height: box.bottom - box.top, class: "frame" }));
  const up = stepOf(to - from, 6);
  for (let v = Math.ceil(from / up) * up; v <= to; v += up) {
    const at = y(units.in("speed", v));
    kids.push(s("line", { x1: box.left - 5, x2: box.left, y1: at, y2: at,
      class: "axis" }), text(box.left - 8, at + 4, String(v),
      { class: "t12 e dim" }));
  }
  const across = most > 16 ? stepOf(most, 8) : 1;
  for (let v = 0; v <= most; v += across)
    kids.push(s("line", { x1: x(v), x2: x(v), y1: box.bottom,
      y2: box.bottom + 5, class: "axis" }), text(x(v), box.bottom + 19,
      String(v), { class: "t12 m dim" }));
  kids.push(text(4, 14, `road speed, ${units.name("speed")}`,
    { class: "t12 dim" }), text(box.right, box.bottom + 34,
    "order: vibrations per turn of the wheel", { class: "t12 e dim" }));
  if (felt && felt.length > 1) kids.push(s("rect", { x: box.left - 3,
    y: y(felt[1]), width: 6, height: y(felt[0]) - y(felt[1]), class: "felt" }),
  text(box.left + 8, (y(felt[0]) + y(felt[1])) / 2 + 4, "felt here",
    { class: "t12 halo" }));
  const rows = [-1e9, -1e9, -1e9];
  for (const order of orders.slice().sort((a, b) => (a === chosen ? -1
    : b === chosen ? 1 : b.level - a.level))) {
    const name = orderName(order), half = name.length * 3.6 + 4;
    const at = x(order.wheel_order);
    const middleAt = Math.min(Math.max(at, box.left + half - 10),
      width - half);
    const row = [0, 1, 2].find((i) => !(rows[i].some?.(([a, b]) =>
      middleAt - half < b && middleAt + half > a)));
    if (row === undefined) continue;
    if (!Array.isArray(rows[row])) rows[row] = [];
    rows[row].push([middleAt - half, middleAt + half]);
    const ty = box.top - 9 - 15 * row;
    kids.push(row ? s("line", { x1: at, x2: at, y1: ty + 3, y2: box.top,
      class: "leader" }) : null, text(middleAt, ty, name, {
      class: `t12 m halo ${family(order.part)}` +
        (order === chosen ? " bold" : "") }));
  }
  if (chosen) {
    const at = x(chosen.wheel_order);
    kids.push(s("path", { d: `M${at} ${box.bottom + 1}l5 8h-10z`,
      class: "pointer" }));
  }
  const keyWide = Math.min(270, box.right - box.left), cell = keyWide / 9;
  for (let i = 0; i < 9; i++) {
    kids.push(s("rect", { x: box.left + i * cell, y: height - 42, width: cell,
      height: 11, class: `k${i}` }));
    if (i % 2 === 0 && i) kids.push(text(box.left + i * cell, height - 18,
      scaled ? String(0.005 * 2 ** (i - 1)) : `1/${2 ** (8 - i)}`,
      { class: "t12 m dim" }));
  }
  kids.push(s("rect", { x: box.left, y: height - 42, width: keyWide,
    height: 11, class: "frame" }), text(box.left, height - 4, scaled
    ? `${unit} peak; each step doubles` : "of the strongest; each step halves",
  { class: "t12 dim" }));
  return figure(width, height, chosen ? `The strongest line is ` +
    orderName(chosen) : "No line was seen", kids);
}

/* ---- causes ------------------------------------------------------------- */

/* A groove 0 to 100 with its bar, kept so that it can slide. */
export function bar(probability, before) {
  const share = (p) => `${Math.max(1, Math.min(99, p * 100))}%`;
  const rect = s("rect", { x: 0, y: 4, height: 14, class: "bar",
    width: share(before ?? probability) });
  const tick = s("line", { y1: 0, y2: 22, class: "before" });
  const node = s("svg", { width: "100%", height: 22, class: "groove",
    "aria-hidden": "true" },
  s("rect", { x: 0, y: 4, width: "100%", height: 14, class: "track" }), rect,
  [25, 50, 75].map((n) => s("line", { x1: `${n}%`, x2: `${n}%`, y1: 4, y2: 18,
    class: "quarter" })), tick);
  const mark = (old) => {
    const moved = old !== undefined && Math.abs(old - probability) >= 0.005;
    tick.setAttribute("x1", share(old ?? 0));
    tick.setAttribute("x2", share(old ?? 0));
    tick.setAttribute("visibility", moved ? "visible" : "hidden");
  };
  mark(before);
  if (before !== undefined)
    requestAnimationFrame(() => requestAnimationFrame(() =>
      rect.setAttribute("width", share(probability))));
  return node;
}

/* From where the cause would stand without a finding to where it stands. */
export function arrow(without, now) {
  const up = now >= without;
  const at = (p) => `${Math.max(1, Math.min(99, p * 100))}%`;
  const head = s("svg", { x: at(now), y: 0, width: 12, height: 12,
    overflow: "visible" }, s("path", { class: up ? "up-head" : "down-head",
    d: up ? "M0 6l-8-4.5v9z" : "M0 6l8-4.5v9z" }));
  return s("svg", { width: "100%", height: 12, class: "groove",
    "aria-hidden": "true" },
  s("line", { x1: 0, x2: "100%", y1: 6, y2: 6, class: "rail-line" }),
  s("line", { x1: at(without), x2: at(now), y1: 6, y2: 6,
    class: up ? "up" : "down" }),
  s("circle", { cx: at(without), cy: 6, r: 3.5,
    class: up ? "start" : "start low" }), head);
}

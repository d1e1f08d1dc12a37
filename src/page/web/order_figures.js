/* Figures of the orders: strips, level against speed, the map. */
import { s } from "./dom.js";
import { figure, stepOf, text } from "./figures.js";
import { level, orderName, units } from "./words.js";

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
  if (order.state !== "seen" && !(order.least_seen > 0))
    return s("svg", { width, height: 20, "aria-hidden": "true" }, shade, line);
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
  const box = { left: 44, right: width - (width < 500 ? 84 : 110), top: 34,
    bottom: height - 66 };
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
      v === 0 ? "0" : String(Number(v.toPrecision(2))),
      { class: "t12 e dim" }));
  const across = stepOf(to - from, width < 500 ? 5 : 8);
  for (let v = from; v <= to; v += across) {
    const at = x(units.in("speed", v));
    kids.push(s("line", { x1: at, x2: at, y1: box.bottom, y2: box.bottom + 5,
      class: "axis" }), text(at, box.bottom + 19, String(v),
      { class: "t12 m dim" }));
  }
  kids.push(s("path", { d: `M${box.left} ${box.top}V${box.bottom}H${box.right}`,
    class: "axis" }), text(4, 14, `${unit} peak, ${place}`,
    { class: "t12 dim" }), text(box.right, height - 6,
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

/* Bins overlap: each has the stretch that is nearer to its middle. */
function cellOf(bins, i) {
  const here = middle(bins[i]);
  const half = (other) => other ? (middle(other) + here) / 2 : NaN;
  const before = half(bins[i - 1]), after = half(bins[i + 1]);
  return [before > bins[i].from_km_h ? before : bins[i].from_km_h,
    after < bins[i].to_km_h ? after : bins[i].to_km_h];
}

export function orderMap(width, { orders, chosen, felt, scaled, unit }) {
  const height = width < 500 ? 340 : 400;
  const box = { left: 44, right: width - 12, top: 78, bottom: height - 84 };
  const seen = orders.filter((order) => order.state === "seen");
  const near = 1.5 * Math.max(4, ...seen.map((order) => order.wheel_order));
  orders = orders.filter((order) => order.wheel_order <= near ||
    order === chosen);
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
  const kids = [s("rect", { x: box.left, y: box.top,
    width: box.right - box.left, height: box.bottom - box.top, class: "k0" })];
  const wide = Math.max(5, Math.min(12, (box.right - box.left) / most / 5));
  for (const order of orders) order.bins.forEach((bin, i) => {
    const [low, high] = cellOf(order.bins, i);
    const filled = bin.state === "seen";
    kids.push(s("rect", { x: x(order.wheel_order) - wide / 2 +
      (filled ? 0 : 1), y: y(high), width: wide - (filled ? 0 : 2),
    height: Math.max(1, y(low) - y(high) + (filled ? 0.4 : -1)),
    class: bin.state === "could_not_be_seen" ? "unknown-cell"
      : filled ? `k${classOf(bin.level * gain)}` : "empty-cell" }));
  });
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
  const named = orders.filter((order) => order.state === "seen" ||
    order === chosen).sort((a, b) => a === chosen ? -1
    : b === chosen ? 1 : b.level - a.level);
  for (const order of named) {
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
    kids.push(row || Math.abs(at - middleAt) > 4 ? s("line", { x1: at,
      x2: at, y1: ty + 3, y2: box.top,
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

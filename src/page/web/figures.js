/* Figures: SVG drawn at the width of its place, 1:1. */
import { s, newId } from "./dom.js";
import { fixed } from "./words.js";

export const text = (x, y, words, more = {}) =>
  s("text", { x, y, ...more }, words);

export const figure = (width, height, label, ...kids) => s("svg", {
  width, height, viewBox: `0 0 ${width} ${height}`, role: "img",
  "aria-label": label,
}, ...kids);

export function hatching() {
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

/* As large as the steepest member and the height of the figure let it be. */
const timesFor = (slopes, steepest) => [10, 8, 6, 4, 3, 2].find((n) =>
  slopes.every((slope) => Math.abs(slope * n) < steepest)) || 1;

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
  const times = timesFor(known, width < 500 ? 35 : width < 900 ? 24 : 16);
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
    const words = member.letter ? `${member.letter} ${member.name}`
      : member.name;
    /* over the metal, on the side to which it falls away */
    const ends = i === 0 || i === last, falls = rad[i] >= 0;
    labels.push(text(i === 0 ? 8 : i === last ? width - 8
      : x + (falls ? 4 : -4), y - tube * (ends ? 1.7 : 1) - (ends ? 14 : 9),
    words, { class: "t13 halo dim" + (i === last ? " e" : ends || falls ? ""
      : " e") }));
  });
  const y = height - 12;
  labels.push(s("path", { d: `M40 ${y - 4}H12m7-4-7 4 7 4`,
    class: "arrow-line" }), text(46, y, "front", { class: "t12 dim" }),
  known.length ? text(width - 8, y, `angles ${times} times too large`,
    { class: "t12 dim e" }) : null);
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

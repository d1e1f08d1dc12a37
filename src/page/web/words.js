/* Numbers, units and small words. Numbers never part from their units. */

export const NB = "\u00A0";
export const TO_DO = "to be worked out";
export const CAUTION_NOT_SAFE = "This looks for vibration causes. It does " +
  "not show that the vehicle is safe to drive.";

export function fixed(value, digits) {
  if (!Number.isFinite(value)) return "?";
  const text = Math.abs(value).toFixed(digits);
  return (value < 0 && Number(text) !== 0 ? "\u2212" : "") + text;
}

/* Two significant figures, as levels are shown. */
export function level(value) {
  if (!(value > 0)) return "0";
  const digits = Math.max(0, 1 - Math.floor(Math.log10(value)));
  return value.toFixed(Math.min(digits, 5));
}

export const short = (value) => Number.isFinite(value)
  ? String(Number(value.toPrecision(6))).replace("-", "\u2212") : "";

export const degrees = (value, digits = 2) => fixed(value, digits) + "°";

export const inHundred = (p) =>
  Math.min(99, Math.max(1, Math.round(p * 100)));

export function likely(p) {
  const n = inHundred(p);
  return n >= 95 ? "almost certain" : n >= 80 ? "very likely"
    : n >= 60 ? "likely" : n >= 40 ? "even" : n >= 25 ? "less likely"
    : n >= 5 ? "unlikely" : "hardly";
}

export const upper = (text) => text.charAt(0).toUpperCase() + text.slice(1);

export function listed(words, last = "and") {
  if (words.length < 2) return words.join("");
  return `${words.slice(0, -1).join(", ")} ${last} ${words.at(-1)}`;
}

export const orderName = (order) =>
  `${short(order.multiple)}× ${order.part}`;

export const clock = (when) => new Date(when).toTimeString().slice(0, 5);

export const day = (seconds) => new Date(seconds * 1000).toLocaleDateString(
  undefined, { day: "numeric", month: "long", year: "numeric" });

export function bytes(count) {
  if (count < 1e6) return `${Math.max(1, Math.round(count / 1e3))}${NB}kB`;
  if (count < 1e9) return `${fixed(count / 1e6, 1)}${NB}MB`;
  return `${fixed(count / 1e9, 2)}${NB}GB`;
}

/* What a person typed as a number: comma or point, any minus. */
export function typed(text) {
  const plain = text.trim().replace(/[\u2212\u2013]/g, "-").replace(",", ".");
  return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : NaN;
}

/* ---- units as the person prefers ---------------------------------------- */

const kinds = {
  speed: { metric: ["km/h", 1], us: ["mph", 1.609344] },
  length: { metric: ["mm", 1], us: ["in", 25.4] },
  small: { metric: ["mm", 1], us: ["thou", 0.0254] },
  mass: { metric: ["kg", 1], us: ["lb", 0.45359237] },
  torque: { metric: ["N" + NB + "m", 1], us: ["lb" + NB + "ft", 1.3558179483] },
  distance: { metric: ["km", 1], us: ["miles", 1.609344] },
  perDistance: { metric: ["per km", 1], us: ["per mile", 1 / 1.609344] },
};

export const units = {
  now: localStorage.getItem("halfturn-units") === "us" ? "us" : "metric",
  set(which) {
    this.now = which;
    localStorage.setItem("halfturn-units", which);
  },
  name: (kind) => kind && kinds[kind] ? kinds[kind][units.now][0] : kind || "",
  out: (kind, value) => kinds[kind] ? value / kinds[kind][units.now][1] : value,
  in: (kind, value) => kinds[kind]
    ? Number((value * kinds[kind][units.now][1]).toPrecision(10)) : value,
  say(kind, value, digits = 0) {
    return fixed(units.out(kind, value), digits) + NB + units.name(kind);
  },
};

export function speedRange(range) {
  if (!range || !range.length) return "";
  const ends = range.map((v) => fixed(units.out("speed", v), 0));
  return `${ends.join(" to ")}${NB}${units.name("speed")}`;
}

/* What the angles come to: sentences with their strips. */
import { h, drawn } from "./dom.js";
import { disc, limitStrip } from "./figures.js";
import { CAUTION_NOT_SAFE, degrees, fixed, inHundred, NB, upper }
  from "./words.js";

/* "over", "under", "within", "can't tell" or "" over the limits of a joint */
export function jointVerdict(result, joint) {
  const all = (result.verdicts || []).filter((v) => v.joint === joint &&
    v.unit === "deg" && /^joint/.test(v.what));
  return judged(all);
}

const setsOf = (list) => new Set(list.map((v) => v.set)).size;

/* Maxima and minima apart: a set without a maximum cannot be exceeded. */
function side(all, minimum) {
  const list = all.filter((v) => Boolean(v.minimum) === minimum);
  return { sets: setsOf(list),
    bad: setsOf(list.filter((v) => /^(over|under)$/.test(v.verdict || ""))) };
}

function judged(all) {
  const open = all.filter((v) => v.verdict === "cannot_be_decided");
  const over = side(all, false), under = side(all, true);
  const found = over.bad ? over : under.bad ? under
    : over.sets ? over : under;
  const word = found.bad ? (found.bad < found.sets ? "can't tell"
    : over.bad ? "over" : "under")
    : open.length ? "can't tell" : all.some((v) => v.verdict) ? "within" : "";
  return { all, word, open, sets: found.sets, outSets: found.bad };
}

/* "± half" where one number says both halves of a 95 % range, else its ends;
 * the same as in the report */
function ends(value, low, high, say) {
  const even = low > 0 &&
    Math.abs(high + low - 2 * value) <= 0.1 * (high - low);
  return even ? `${NB}±${NB}${say((high - low) / 2)}`
    : `${NB}(${say(low)} to${NB}${say(high)})`;
}

export const spread = (value, low, high) =>
  degrees(value) + ends(value, low, high, degrees);

const rounded = (value, to) => to * Math.round(value / to);

/* value and its range, with their unit */
function amounts(v) {
  if (v.unit === "deg")
    return [degrees(v.value), v.high === undefined ? ""
      : ends(v.value, v.low, v.high, degrees)];
  const to = v.high - v.low >= 40 && v.value >= 100 ? 10 : 1;
  const [value, low, high] = [v.value, v.low, v.high]
    .map((number) => rounded(number, to));
  return [fixed(value, 0), (v.high === undefined ? ""
    : ends(value, low, high, (number) => fixed(number, 0))) + `${NB}rad/s²`];
}

const amount = (words, over) => over ? h("mark", {}, words) : h("b", {}, words);

/* Each way out is told once. */
function wayOut(found, told) {
  const open = found.open.find((v) => v.way_out);
  if (!open || told.has(open.way_out)) return null;
  told.add(open.way_out);
  return open ? h("p", { class: "small" }, `${inHundred(
    open.probability_over)} in 100 that it is out. ${upper(open.way_out)}`)
    : null;
}

function verdictLine(found) {
  if (!found.word) return null;
  const many = found.sets > 1 && found.outSets
    ? `: out in ${found.outSets} of ${found.sets} published sets` : "";
  return h("p", {}, disc(found.word), h("b", {}, upper(found.word)), many, ".");
}

function jointBlock(result, joint, number, full, told) {
  const found = jointVerdict(result, number - (result.first || 0));
  const most = Math.min(...found.all.filter((v) => !v.minimum)
    .map((v) => v.limit));
  const least = Math.max(...found.all.filter((v) => v.minimum)
    .map((v) => v.limit));
  const out = found.word === "over" || found.word === "under";
  const name = joint.between.replace(" / ", " to ");
  const allowed = Number.isFinite(most) && found.sets === 1
    ? ` Allowed: ${Number.isFinite(least) ? `${degrees(least, 1)} to `
      : "up to "}` +
      `${degrees(most, 1)}.` : "";
  return h("div", { class: "verdict" },
    h("p", {}, h("b", {}, `Joint ${number}`), `, ${name}: `,
      amount(degrees(joint.angle_deg), out),
      spread(joint.angle_deg, joint.low_deg, joint.high_deg)
        .slice(degrees(joint.angle_deg).length), ".", allowed),
    drawn((width) => limitStrip(width, { low: joint.low_deg,
      high: joint.high_deg, value: joint.angle_deg, full, unit: "°",
      least: Number.isFinite(least) ? least : undefined,
      most: Number.isFinite(most) ? most : undefined,
      label: `Joint ${number}: ${degrees(joint.angle_deg)}` +
        (found.word ? `, ${found.word}` : "") }), "bare"),
    verdictLine(found), wayOut(found, told));
}

function others(result, told) {
  const all = (result.verdicts || []).filter((v) =>
    !/^joint \d+$/.test(v.what));
  const groups = new Map();
  for (const v of all) groups.set(v.what, [...(groups.get(v.what) || []), v]);
  return [...groups].map(([what, list]) => {
    const found = judged(list), v = list[0];
    const unit = v.unit === "deg" ? "°" : `${NB}rad/s²`;
    const [value, range] = amounts(v);
    return h("li", {}, disc(found.word), `${upper(what)}: `,
      amount(value, found.word === "over"),
      `${range}, at ${v.minimum ? "least" : "most"} ${fixed(v.limit,
        v.unit === "deg" ? 1 : 0)}${unit}: ${found.word || "no verdict"}.`,
      wayOut(found, told));
  });
}

export function verdicts(result, count, complete) {
  const list = result.joints || [];
  if (!list.length) return h("p", { class: "small" }, "Two caps that are " +
    "neighbours make the first angle.");
  const full = Math.max(4, ...list.map((j) => j.high_deg)) * 1.1;
  const left = result.leftover, told = new Set();
  return [
    result.verdict_allowed === false ? h("p", { class: "note" },
      "Numbers, but no verdict: it is not said that the axle carried the " +
      "vehicle's weight.") : null,
    result.side_view_only ? h("p", { class: "small" },
      "Side view only. The true angles are at least these.") : null,
    list.map((joint, i) => jointBlock(result, joint,
      i + 1 + (result.first || 0), full, told)),
    complete && left ? h("p", {}, "Left over after all joints: ",
      h("b", {}, spread(left.angle_deg, left.low_deg, left.high_deg)), ".",
      result.leftover_is_zero
        ? " Not to be told from zero with this gauge." : "") : null,
    complete ? h("ul", { class: "lines" }, others(result, told)) : null,
    (result.doubts || []).map((text) => h("p", { class: "note" }, text)),
    complete ? [...(result.assumed || []), ...(result.missing || [])]
      .map((text) => h("p", { class: "small" }, text)) : null,
    complete ? h("p", { class: "small" }, "Limits are published practice. " +
      "The vehicle maker's figure comes first.") : null,
    complete ? h("p", { class: "small" }, CAUTION_NOT_SAFE) : null,
  ];
}

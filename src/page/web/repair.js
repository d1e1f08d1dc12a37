/* Step 7: the repair; shims and plates for the angles. */
import { chainOf, lineOf, setOf } from "./chain.js";
import { h, refill, say } from "./dom.js";
import { button, caution, choose, numberField, oneOf, set, textField, tick }
  from "./fields.js";
import { bar } from "./figures.js";
import { heights, markSound } from "./checks.js";
import { spread } from "./verdicts.js";
import { CAUTION_NOT_SAFE, degrees, fixed, inHundred, likely, NB, short,
  typed, units, upper } from "./words.js";

const length = (mm) => `${short(Number(units.out("length", mm)
  .toPrecision(3)))}${NB}${units.name("length")}`;

/* One plate of the shelf, or two on each other; else the lift they make. */
const platesOf = (work) => (work.plates_mm || []).length
  ? work.plates_mm.map(length).join(" + ") : length(Math.abs(work.lift_mm));

const thickEnd = (up) => `Springs above the axle: thick end to the ${
  up ? "rear" : "front"}. Springs below it: thick end to the ${
  up ? "front" : "rear"}.`;

/* What is in already and has to go in the other way round. */
function turnWords(work, name, up) {
  if (work.at === "axle") return `Axle: the wedges of ${
    degrees(Math.abs(work.turn_deg) / 2, 1)} are in the other way round. ` +
    `Turn them, so that they turn the pinion's front end ${
      up ? "up" : "down"}. ${thickEnd(up)}`;
  const place = work.at === "gearbox_mount" ? "Gearbox mount"
    : `Centre support of the ${name}`;
  return `${place}: it was ${up ? "lowered" : "raised"} by ${
    length(Math.abs(work.lift_mm) / 2)}. ${
    up ? "Raise" : "Lower"} it by as much instead.`;
}

/* docs/shims.md */
function workWords(work, members) {
  const up = (work.lift_mm ?? work.turn_deg ?? work.teeth) > 0;
  const name = members[work.member] || "shaft";
  const by = Number.isFinite(work.lift_mm)
    ? platesOf(work)
    : degrees(Math.abs(work.wedge_deg ?? work.turn_deg), 1);
  if (work.turned) return turnWords(work, name, up);
  switch (work.at) {
  case "axle": return `Axle: wedges of ${by} that turn the pinion's front ` +
    `end ${up ? "up" : "down"}. ${thickEnd(up)}`;
  case "centre_support": return `Centre support of the ${name}: ${
    up ? "raise" : "lower"} by ${by}.`;
  case "gearbox_mount": return `Gearbox mount: ${
    up ? "raise" : "lower"} by ${by}.`;
  default: return `Slip spline of the ${name}: put it together ${
    Math.abs(work.teeth) === 1 ? "one tooth" : `${Math.abs(work.teeth)} teeth`
  } on, the rear part ${up ? "clockwise"
    : "counter-clockwise"} as seen from behind.`;
  }
}

/* Supports are counted from the front; a line that is driven from the rear has
 * its first behind the second member (docs/shims.md). */
const fittedOf = (work, line) => ({ at: work.at, driveline: line.name,
  support: work.at === "centre_support"
    ? work.member - (line.driven_from === "rear" ? 1 : 0) : undefined,
  turn_deg: work.at === "axle" ? work.turn_deg : undefined,
  lift_mm: /support|mount/.test(work.at) ? work.lift_mm : undefined,
  teeth: work.at === "slip_spline" ? work.teeth : undefined });

/* What was put into the other drivelines stays. */
function putIn(sheet, works, name) {
  const line = sheet.driveline?.[lineOf(sheet, setOf(sheet, name))] || {};
  const first = sheet.driveline?.[0] || {};
  const others = (sheet.fitted || []).filter((row) =>
    (row.driveline || first.name) !== line.name);
  sheet.fitted = [...others, ...works.map((work) => fittedOf(work, line))];
}

function planBlock(app, plan, i, now, members, name) {
  const put = async () => {
    if (!plan.works.some((work) => work.turned)) /* that is put in already */
      app.keeper.edit((sheet) => putIn(sheet, plan.works, name));
    if (await app.keeper.flush()) app.go(app.path("again"));
  };
  return h("li", { class: "plan" }, h("h3", {}, `Plan ${i + 1}, about ${
    fixed(plan.minutes, 0)}${NB}minutes of work`),
  plan.advised ? h("p", {}, h("b", {}, plan.probability_all >= 0.95
    ? "Try this one: the least work that is sure enough."
    : "The likeliest of these, and not sure enough.")) : null,
  h("ul", { class: "lines" }, plan.works.map((work) =>
    h("li", {}, workWords(work, members)))),
  bar(plan.probability_all),
  h("p", {}, h("b", {}, `${inHundred(plan.probability_all)} in${NB}100`),
    ` that every limit is kept. Least sure: ${plan.weakest}, kept with ${
      inHundred(plan.weakest_probability)} in 100.`),
  h("div", { class: "scrolls" }, h("table", {},
    h("caption", {}, "Readings to expect"),
    h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Member"),
      h("th", { scope: "col", class: "num" }, "Now"),
      h("th", { scope: "col", class: "num" }, "To expect"))),
    h("tbody", {}, plan.slopes.map((slope, k) => h("tr", {},
      h("th", { scope: "row" }, slope.member),
      h("td", { class: "num" }, now[k] ? degrees(now[k].angle_deg) : ""),
      h("td", { class: "num" }, spread(slope.angle_deg, slope.low_deg,
        slope.high_deg))))))),
  button("This was put in", put, plan.advised ? "main" : "plain"));
}

function shimResult(app, result) {
  const all = result.shims || [];
  if (!all.length) return [h("p", {}, "Shims need the joint angles."),
    (result.missing || []).map((text) => h("p", { class: "small" }, text)),
    h("a", { class: "button plain", href: app.path("joints") },
      "Read the caps")];
  return all.map((line) => [line, chainOf(app.keeper.sheet,
    setOf(app.keeper.sheet, line.driveline)).members]).map(
    ([line, members]) => [
    line.driveline ? h("h3", {}, upper(line.driveline)) : null,
    (line.put_right_first || []).length ? [h("p", {},
      h("b", {}, "No shims yet. Put this right first.")),
    h("ul", { class: "lines" }, line.put_right_first.map((text) =>
      h("li", {}, text)))] : [
      line.as_it_stands[0] ? h("p", {}, "As it stands: ", h("b", {},
        `${inHundred(line.as_it_stands[0].probability_all)} in${NB}100`),
      " that every limit is kept.") : null,
      line.plans.length ? h("ol", { class: "plans" },
        line.plans.map((plan, i) => planBlock(app, plan, i,
          line.as_it_stands[0]?.slopes || [], members, line.driveline)))
        : h("p", {}, line.needs_nothing ? "Nothing needs doing here."
          : "Nothing on the shelf makes this better. Other sizes, or " +
            "another repair."),
      h("p", { class: "small" }, `Combinations of the shelf that were tried: ${
        line.combinations}.`)],
    line.after.map((after) => afterBlock(after, members)),
    (line.notes || []).map((text) => h("p", { class: "small" }, text))]);
}

function afterHead(after) {
  if (after.said) return after.as_predicted
    ? "After the repair: the readings are as predicted"
    : "After the repair: the readings are not as predicted";
  if (!after.compared) return "After the repair: only the limits can be " +
    "compared";
  if (after.guessed) return "After the repair: what may have been put in";
  return after.as_predicted ? "After the repair: the readings are as before it"
    : "After the repair: the readings are not as before it";
}

/* Where the sheet does not say what was put in. */
function unsaid(after, members) {
  const works = after.works.map((work) => workWords(work, members)).join(" ");
  if (after.guessed) return "A guess: of what is on the shelf, this fits the " +
    `readings best. ${works}`;
  if (!after.compared) return "Angles between caps do not say how each " +
    "member lies, so the readings themselves are not compared.";
  return after.as_predicted ? "Nothing shows that anything was moved."
    : "Nothing on the shelf fits them.";
}

export function afterBlock(after, members) {
  const known = Number.isFinite(after.probability_before) &&
    Number.isFinite(after.probability_after);
  return h("section", {}, h("h3", {}, afterHead(after)),
    after.said ? null : h("p", { class: "note" },
      `It is not said what was put in. ${unsaid(after, members)}`),
    after.fits_reversed ? h("p", { class: "note" },
      "They fit if this was put in the other way round: " +
      workWords(after.works[after.reversed], members)) : null,
    known ? h("p", {}, `That every limit is kept: ${
      inHundred(after.probability_before)} in${NB}100 before, ${
      inHundred(after.probability_after)} in${NB}100 after.`) : null,
    h("ul", { class: "lines" }, after.readings.map((r) => h("li", {},
      `${r.member}: read ${degrees(r.measured_deg)}, to expect ${
        degrees(r.predicted_deg)}, ${r.as_predicted ? "as predicted"
        : "not as predicted"}.`))));
}

/* ---- what must be right first, and the shelf ---------------------------- */

function heightFields(app) {
  const values = heights.map((field) => field.path.reduce((at, key) =>
    at?.[key], app.keeper.sheet));
  return h("fieldset", { class: "statements" }, h("legend", {}, "Ride height"),
    h("div", { class: "pair" }, heights.map((field, i) => numberField({
      label: field.words, kind: "length", low: 0, high: 3000, narrow: true,
      get: () => values[i], set: (value) => {
        values[i] = value;
        const both = (a, b) => Number.isFinite(values[a]) &&
          Number.isFinite(values[b]) ? [values[a], values[b]] : undefined;
        app.keeper.edit((sheet) => {
          set(sheet, ["checks", "ride_height_mm", "measured"], both(0, 1));
          set(sheet, ["checks", "ride_height_mm", "maker"], both(2, 3));
        });
      } }))),
    h("p", { class: "hint" }, "Front and rear go together."));
}

/* One driveline: the vehicle's axle. Several: each its own. */
function axleFields(app) {
  const lines = app.keeper.sheet.driveline || [];
  const several = lines.length > 1;
  return (several ? lines : [null]).map((line, i) => {
    const path = several ? ["driveline", i, "axle"] : ["vehicle", "axle"];
    const field = (key) => ({
      get: () => path.reduce((at, part) => at?.[part],
        app.keeper.sheet)?.[key],
      set: (value) => app.keeper.edit((sheet) =>
        set(sheet, [...path, key], value)) });
    const of = several ? ` (${line.name || `driveline ${i + 1}`})` : "";
    return [oneOf({ label: `The driven axle is hung${of}`,
      unknown: "not said", across: true,
      options: [["rigid", "rigid"], ["independent", "independent"]],
      ...field("kind") }),
    oneOf({ label: `It is steered${of}`, unknown: "not said", across: true,
      options: [["yes", "yes"], ["no", "no"]], ...field("steered") })];
  });
}

const soundTick = (app, word, label) => tick({ label,
  get: () => (app.keeper.sheet.checks?.sound || []).includes(word),
  set: (on) => app.keeper.edit((sheet) => {
    if (on) markSound(sheet, word);
    else sheet.checks.sound = sheet.checks.sound.filter((w) => w !== word);
  }) });

const shelfPlaces = [["axle", "wedge", "Wedges under the axle", "steps_deg",
  "in degrees, such as 1 1.5 2"], ["centre_support", "plate",
  "Plates at the centre support",
  "steps_mm", "in mm, such as 3 5 6"], ["gearbox_mount", "plate",
  "Plates at the gearbox mount", "steps_mm", "in mm, such as 3 5 6"]];

function shelf(app) {
  return shelfPlaces.map(([at, kind, label, key, hint]) => textField({ label,
    hint, most: 200,
    get: () => (app.keeper.sheet.shims || []).filter((s) => s.at === at)
      .flatMap((s) => s[key] || []).map(short).join("  "),
    check: (text) => text.split(/[\s;]+/).every((n) => typed(n) > 0 &&
      typed(n) <= (key === "steps_deg" ? 10 : 100)) ? ""
      : "Wanted: sizes with a space between them.",
    set: (text) => app.keeper.edit((sheet) => {
      const rest = (sheet.shims || []).filter((s) => s.at !== at);
      sheet.shims = text ? [...rest, { at, kind,
        [key]: text.split(/[\s;]+/).filter(Boolean).map(typed) }] : rest;
    }) }));
}

const cautions = ["Shims of metal, held so that they cannot walk out; bolts " +
  "long enough, at the maker's torque.",
"No wedge under a steered axle. Wedges want new U-bolts; check brake hoses, " +
  "sensor leads, lamp and driver-assistance aim afterwards.",
"Stands or a lift on level ground, wheels chocked. Never under a vehicle on " +
  "a jack alone, never with the engine running. Keep clear of a turning shaft.",
"The vehicle maker's figures and local codes come first. When in doubt, ask " +
  "a qualified person."];

function causeRepair(app, place) {
  app.working("rank", place, (result) => {
    const list = (result.causes || []).filter((c, i) => c.repair &&
      (i === 0 || c.probability >= 0.2)).slice(0, 3);
    const unsure = list.length && list[0].probability < 0.4
      ? h("p", { class: "note" }, "No cause is likely enough yet. ",
        h("a", { href: app.path("causes") }, "Check first.")) : null;
    return list.length ? [unsure, h("ul", { class: "lines" }, list.map((c) =>
      h("li", {}, h("b", {}, `${c.title}, ${inHundred(c.probability)} in${
        NB}100. `),
      c.repair, c.caution ? h("p", { class: "small" }, c.caution) : null)))]
      : h("p", {}, "No cause stands out that could be repaired.");
  });
}

export const repair = {
  id: "repair", name: "Repair", doing: "The repair",

  line(app) {
    const plan = app.known.shims?.shims?.[0]?.plans?.find((p) => p.advised);
    if ((app.keeper.sheet.fitted || []).length) return "put in";
    return plan ? `a plan, ${inHundred(plan.probability_all)} in 100` : "";
  },

  show(app) {
    const shims = h("div", {}), first = h("div", {});
    const work = () => app.working("shims", shims,
      (result) => shimResult(app, result));
    causeRepair(app, first);
    work();
    const node = h("div", { class: "page" },
      h("h1", {}, "Work out the repair"),
      caution("before the work", cautions),
      h("section", {}, h("h2", {}, "What the likely causes want"), first),
      h("div", { class: "columns" },
        h("section", {}, h("h2", {}, "Before any shim"),
          h("p", { class: "small" }, "A shim over a sagging spring or a soft " +
            "mount hides it until it gives way."),
          soundTick(app, "springs", "Springs looked at and sound"),
          soundTick(app, "bushes", "Bushes looked at and sound"),
          soundTick(app, "mounts", "Mounts looked at and sound"),
          heightFields(app),
          axleFields(app),
          h("h2", { class: "later" }, "What is on the shelf"), shelf(app)),
        h("section", {}, h("h2", {}, "Shims and plates"), shims,
          h("p", { class: "note" }, CAUTION_NOT_SAFE))));
    return { node, saved: work };
  },
};

/* Step 3: the joints, in the order of the quarter turns. */
import { api } from "./api.js";
import { chainOf, kinds, lineOf, placeTitles, rollOf, turns, usualNames }
  from "./chain.js";
import { drawn, h, newId, refill, say } from "./dom.js";
import { button, caution, choose, get, more, numberField, oneOf, textField,
  tick, write } from "./fields.js";
import { sideView, signPicture } from "./figures.js";
import { Readings } from "./readings.js";
import { jointVerdict, verdicts } from "./verdicts.js";
import { degrees, typed, units } from "./words.js";

const stood = [["wheels_on_ground", "Wheels on the ground, level"],
  ["axle_on_stands_at_ride_height",
    "Axle on rated stands at ride height"],
  ["hanging", "Axle hanging: numbers, but no verdict"]];
const surfaces = [["cap", "bearing cap"],
  ["machined_flange", "machined flange"], ["yoke", "rough yoke"]];
const sets = [["car", "car"], ["light_truck", "light truck"],
  ["light_truck_by_speed", "light truck, by speed"],
  ["light_commercial", "light commercial"],
  ["heavy_truck_a", "heavy truck, first"],
  ["heavy_truck_b", "heavy truck, second"],
  ["heavy_truck_pump", "heavy truck with a pump"],
  ["vocational", "vocational truck"], ["industrial", "industrial"]];

const letter = (i) => String.fromCharCode(65 + i);
const mine = { set: 0, id: 0 };

/* ---- one cap ------------------------------------------------------------ */

function bigNumber(row, i, changed, label, step) {
  const id = newId("reading");
  const field = h("input", { id, type: "text", inputmode: "decimal",
    class: "big", autocomplete: "off",
    value: row.texts[i] || "" });
  const problem = h("p", { class: "problem", role: "alert", hidden: true });
  const put = (value) => {
    row.texts[i] = value;
    const number = typed(value);
    const off = value.trim() !== "" && !(Math.abs(number) <= 45);
    problem.hidden = !off;
    problem.textContent = off ? "Wanted: 0 to 45, in degrees." : "";
    field.toggleAttribute("aria-invalid", off);
    changed(number < 0 ? -1 : 0);
  };
  field.addEventListener("input", () => put(field.value));
  field.addEventListener("change", () => {
    if (typed(field.value) < 0) {
      field.value = field.value.replace(/^\s*[-\u2212\u2013]/, "");
      row.texts[i] = field.value;
    }
  });
  const bump = (by) => () => {
    const now = typed(field.value || "0");
    if (!Number.isFinite(now)) return;
    field.value = String(Number(Math.max(0, now + by).toFixed(3)));
    put(field.value);
  };
  return h("div", { class: "number-row" },
    h("label", { for: id, class: label ? "" : "away" }, label || "Reading, °"),
    h("div", { class: "stepper" },
      h("button", { type: "button", class: "plain", onclick: bump(-step),
        "aria-label": `One gauge step less, ${step}°` }, "\u2212"),
      field,
      h("button", { type: "button", class: "plain", onclick: bump(step),
        "aria-label": `One gauge step more, ${step}°` }, "+")),
    problem);
}

function capRow(app, readings, i, name, step, told) {
  const row = readings.rows[i];
  const place = h("fieldset", { class: "reading" });
  const missing = h("p", { class: "hint", role: "status" });
  const changed = (sign) => {
    if (sign) { row.sign = sign; draw(); }
    missing.textContent = readings.wants(i);
    readings.keep();
    told();
  };
  const draw = () => {
    const count = Math.max(1, row.flip ? 2 : row.texts.length);
    const words = (n) => row.flip ? ["as read", "gauge turned round"][n]
      : count > 1 ? `reading ${n + 1}` : "";
    refill(place, h("legend", {}, h("b", {}, letter(i)), ` ${name}`),
      row.kept ? h("p", { class: "small" }, "The sheet holds this reading in " +
        "another form. Typing here takes its place.") : null,
      oneOf({ label: "Which end is lower?", pictures: true,
        options: [[1, "rear lower +", signPicture(true)],
          [-1, "front lower \u2212", signPicture(false)]],
        get: () => row.sign,
        set: (sign) => { row.sign = sign; changed(0); } }),
      Array.from({ length: count }, (_, n) =>
        bigNumber(row, n, changed, words(n), step)),
      missing,
      h("div", { class: "row-acts" },
        row.flip || count >= 6 ? null : button("Read again", () => {
          row.texts[count] = "";
          draw();
          place.querySelectorAll("input.big")[count].focus();
        }, "quiet"),
        button(row.flip ? "Not turned round" : "Turn it round", () => {
          row.flip = !row.flip;
          row.texts = row.texts.slice(0, 1);
          draw();
          changed(0);
        }, "quiet")));
    missing.textContent = readings.wants(i);
  };
  draw();
  return place;
}

/* ---- the chain ---------------------------------------------------------- */

function setChain(app, set, fn) {
  app.keeper.edit((sheet) => {
    const chain = chainOf(sheet, set);
    fn(chain);
    sheet.driveline ||= [];
    const at = Math.max(0, lineOf(sheet, set));
    const { chain: _, bearing_spacings_mm: __, ...kept } =
      sheet.driveline[at] || {};
    sheet.driveline[at] = { ...kept, members: chain.members,
      joints: chain.joints,
      yokes_deg: chain.yokes.length === chain.members.length - 2 &&
        chain.yokes.every(Number.isFinite) ? chain.yokes : undefined,
      tubes: chain.tubes.length === chain.members.length - 2
        ? chain.tubes : undefined };
  });
}

function chainFields(app, set, readings) {
  const chain = chainOf(app.keeper.sheet, set);
  const count = chain.joints.length;
  const shafts = chain.members.slice(1, -1);
  const change = (fn) => { setChain(app, set, fn); };
  const recount = (n) => {
    change((next) => {
      next.members = usualNames(n);
      next.joints = Array.from({ length: n }, (_, i) =>
        next.joints[i] || "cardan");
      next.yokes = next.tubes = [];
    });
    app.keeper.edit((sheet) => {
      const at = sheet.angles?.[set];
      if (at) delete at.slopes_deg, delete at.headings_deg;
    });
    readings.resize(n + 1);
    app.redraw();
  };
  return [oneOf({ label: "How many joints, gearbox to axle?", across: "few",
    get: () => chain.told || count !== 2 ? count : undefined,
    options: [1, 2, 3, 4].map((n) => [n, String(n)]),
    set: recount }),
  more("Names, kinds, lengths, yokes",
    chain.joints.map((kind, i) => choose({ label: `Joint ${i + 1}`,
      options: kinds, get: () => kind, set: (value) => {
        change((next) => { next.joints[i] = value; });
        app.redraw();
      } })),
    chain.members.map((name, i) => textField({
      label: `Member ${letter(i)}`, get: () => name, most: 40,
      set: (value) => change((next) => {
        next.members[i] = (value || `member ${i + 1}`).trim();
      }) })),
    shafts.map((name, i) => [numberField({
      label: `${name}, joint to joint`, kind: "length", low: 50, high: 5000,
      get: () => chain.tubes[i]?.joint_to_joint_mm,
      set: (value) => change((next) => {
        next.tubes = shafts.map((_, k) => next.tubes[k] || {});
        next.tubes[i] = { ...next.tubes[i], joint_to_joint_mm: value };
        chain.tubes = next.tubes;
      }) }), numberField({
      label: `${name}, rear yoke against front yoke, from behind`, kind: "°",
      low: -180, high: 180, hint: "0 in line; + counter-clockwise",
      get: () => chain.yokes[i], set: (value) => change((next) => {
        next.yokes = shafts.map((_, k) => next.yokes[k] ?? 0);
        next.yokes[i] = value ?? 0;
      }) })]))];
}

/* ---- how it was read ---------------------------------------------------- */

const ofSet = (app, set) => (...rest) => {
  const path = ["angles", set, ...rest];
  return { get: () => get(app.keeper.sheet, path), set: write(app, path) };
};

const stoodField = (app, set) => choose({ label: "How the vehicle stood",
  options: stood, unknown: "not said: then no verdict",
  ...ofSet(app, set)("suspension") });

function howRead(app, set, readings) {
  const of = ofSet(app, set);
  return [h("div", { class: "pair" },
    numberField({ label: "Gauge ±", kind: "°", low: 0.001, high: 5,
      narrow: true, hint: "0.2 when not said",
      ...of("gauge", "accuracy_deg") }),
    numberField({ label: "its step", kind: "°", low: 0.001, high: 5,
      narrow: true, hint: "0.1 when not said", ...of("gauge", "step_deg") })),
  tick({ label: "Each yoke was set with the gauge crosswise at 0° ± 1°",
    get: () => (of("gauge", "set_up_deg").get() ?? 1) <= 0.15,
    set: (on) => of("gauge", "set_up_deg").set(on ? 0.15 : undefined) }),
  choose({ label: "Read on", options: surfaces, unknown: "not said",
    ...of("read_on") }),
  tick({ label: "Seen from above, all of it runs straight",
    hint: "within 2 mm in a metre; else: side view only",
    get: () => readings.straight, set: (on) => {
      readings.straight = on;
      readings.keep();
    } }),
  more("It does not: headings of the members",
    h("p", { class: "hint" }, "+ runs to the left going rearward. 10 mm in " +
      "1 m is 0.57°. All of them are wanted."),
    chainOf(app.keeper.sheet, set).members.map((name, i) => numberField({
      label: `${letter(i)} ${name}`, kind: "°", low: -45, high: 45,
      get: () => readings.headings[i], set: (value) => {
        readings.headings[i] = value;
        if (value) readings.straight = false;
        readings.keep();
      } })))];
}

const limitFields = (app) => [choose({ label: "Judge by these limits",
  options: sets, unknown: "every published set",
  get: () => app.keeper.sheet.limits?.name,
  set: write(app, ["limits", "name"]) }),
more("The vehicle maker's own figures",
  [["joint_max_deg", "Largest joint angle"],
    ["joint_min_deg", "Smallest joint angle"],
    ["difference_max_deg", "Largest difference of two joints"],
    ["leftover_max_deg", "Largest leftover angle"]].map(([key, label]) =>
    numberField({ label, kind: "°", low: 0, high: 45,
      get: () => app.keeper.sheet.limits?.[key],
      set: write(app, ["limits", key]) })))];

function setChooser(app) {
  const all = app.keeper.sheet.angles || [];
  if (all.length < 2) return null;
  return choose({ label: "Which readings", get: () => String(mine.set),
    options: all.map((set, i) => [String(i), [set.driveline, set.name,
      set.when, set.date].filter(Boolean).join(", ") || `set ${i + 1}`]),
    set: (value) => { mine.set = Number(value); app.redraw(); } });
}

/* ---- the step ----------------------------------------------------------- */

const cautions = [
  "Angles count only with the axle carrying the vehicle's weight.",
  "Stands or a lift on level ground, wheels chocked. Never under a vehicle " +
  "on a jack alone, never with the engine running.",
  "Nobody under it while it rolls; a second person on the brake. Keep clear " +
  "of a turning shaft.",
  "Park, or a parking brake on the gearbox, holds through the shaft: mind " +
  "that before a joint is opened.",
  "One clip at a time, eyes protected. Each clip back and seated all round " +
  "before the shaft turns.",
];

/* What a listener hears when the angles have changed. */
const spoken = (result) => (result.joints || []).map((joint, i) =>
  `Joint ${i + 1 + (result.first || 0)} ${degrees(joint.angle_deg, 1)} ` +
  jointVerdict(result, i + 1).word).join(", ");

function known(result, set) {
  return result.angle_sets ? result.angle_sets[set] || {} : result;
}

export const joints = {
  id: "joints", name: "Joints", doing: "Measuring the joints",
  choose(app, set) { Object.assign(mine, { id: app.keeper.id, set }); },

  line(app) {
    const sheet = app.keeper.sheet;
    const result = app.known.angles || app.known.rank;
    if (!(sheet.angles || []).some((set) => set.slopes_deg || set.joints_deg))
      return "";
    if (!result || !result.joints) return "read";
    return result.joints.map((_, i) => {
      const found = jointVerdict(result, i + 1);
      return found.word === "within" || !found.word ? ""
        : `joint ${i + 1} ${found.word}`;
    }).filter(Boolean).join(", ") || (result.verdict_allowed
      ? "all within" : "read, no verdict");
  },

  show(app) {
    if (mine.id !== app.keeper.id) Object.assign(mine, { id: app.keeper.id,
      set: 0 });
    const set = Math.min(mine.set,
      Math.max(0, (app.keeper.sheet.angles || []).length - 1));
    const chain = chainOf(app.keeper.sheet, set);
    const readings = new Readings(app, set, chain.members.length);
    let result = {}, heard;
    const verdictPlace = h("div", {});
    const view = drawn((width) => {
      const slopes = readings.slopes();
      return sideView(width, chain.members.map((name, i) => ({ name,
        letter: letter(i), slope: slopes[i],
        length: chain.tubes[i - 1]?.joint_to_joint_mm })),
      chain.joints.map((_, j) => {
        const joint = result.joints?.[j - (result.first || 0)];
        if (!joint || j < (result.first || 0)) return null;
        const word = jointVerdict(result, j + 1 - (result.first || 0)).word;
        return { text: degrees(joint.angle_deg, 1) +
          (word === "over" || word === "under" ? `, ${word}` : ""),
        over: word === "over" || word === "under" };
      }));
    }, "edge");
    const drawVerdicts = () => {
      view.redraw();
      refill(verdictPlace, verdicts(result, chain.joints.length,
        readings.complete()));
      const now = spoken(result);
      if (heard !== undefined && now && now !== heard) say(now);
      heard = now;
    };
    let turn = 0;
    const work = async () => {
      const now = ++turn;
      try {
        let found = {};
        const run = readings.run();
        if (readings.complete() || readings.other()) {
          if (!(app.keeper.sheet.angles || []).length) return;
          found = known(await app.result("angles"), set);
        } else if (run) {
          found = await api.workSent("angles", readings.piece(run, chain));
          found.first = run[0];
        }
        if (now !== turn) return;
        result = found;
        drawVerdicts();
      } catch (error) {
        if (now === turn) refill(verdictPlace, h("p", { class: "small" },
          error.message));
      }
    };
    let later;
    const told = () => {
      view.redraw();
      clearTimeout(later);
      later = setTimeout(work, readings.complete() ? 700 : 400);
    };
    const places = turns(chain);
    const rows = h("div", {});
    const step = get(app.keeper.sheet, ["angles", set, "gauge", "step_deg"]) ||
      0.1;
    const drawRows = (roll) => {
      const titles = placeTitles(roll);
      refill(rows, ["stands", "quarter", "each", "any"].map((place) => {
        const here = places.map((p, i) => [p, i]).filter(([p]) => p === place);
        return here.length ? h("section", { class: "turn" },
          h("h2", { "data-place": place },
            titles[place]), here.map(([, i]) => capRow(app,
            readings, i, chain.members[i], step, told))) : null;
      }));
    };
    drawRows(0);
    if (app.keeper.sheet.vehicle) api.parts(app.keeper.id, "speed_km_h=100")
      .then((parts) => {
        const roll = rollOf(parts);
        const title = rows.querySelector("[data-place=quarter]");
        if (roll && title)
          title.textContent = placeTitles(roll).quarter;
      }).catch(() => {});
    const node = h("div", { class: "page" },
      h("h1", {}, "Read the slopes on the caps"),
      h("p", { class: "lead" }, "The caps come in the order of the quarter " +
        "turns. A reading serves both its joints. Three readings are worth " +
        "more than one; turning the gauge round takes out its zero."),
      caution("before going under it", cautions), setChooser(app),
      h("div", { class: "columns" },
        h("div", {}, chainFields(app, set, readings)),
        h("div", {}, stoodField(app, set),
          h("p", { class: "print" }, h("a", { class: "button plain",
            href: api.link(app.keeper.id, "/measuring.pdf?paper=" +
              (units.now === "us" ? "letter" : "a4")),
            target: "_blank", rel: "noopener" }, "Measuring sheet to print")))),
      view,
      h("div", { class: "columns" },
        h("div", {}, rows, h("section", {}, h("h2", {}, "Gauge and limits"),
          howRead(app, set, readings), limitFields(app))),
        h("section", { class: "stays" }, h("h2", {}, "What the angles say"),
          verdictPlace)));
    work();
    return { node, saved: () => {
      if (readings.complete()) work();
    }, left: () => { ++turn; } };
  },
};

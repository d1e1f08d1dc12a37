/* Step 2: the vehicle; what turns how fast is answered beside it. */
import { api } from "./api.js";
import { h, refill } from "./dom.js";
import { choose, get, more, numberField, oneOf, textField, write }
  from "./fields.js";
import { fixed, NB, orderName, short, typed, units } from "./words.js";

const classes = [["car", "Car"], ["van", "Van"],
  ["light_truck", "Light truck"], ["heavy_truck", "Heavy truck"],
  ["bus", "Bus"]];
const driven = [["rear", "Rear wheels"], ["front", "Front wheels"],
  ["all", "All wheels"]];
const boxes = [["manual", "Manual"], ["automatic", "Automatic"]];

function axle(app) {
  let teeth = [...(get(app.keeper.sheet, ["vehicle", "axle_teeth"]) || [])];
  let ratio = get(app.keeper.sheet, ["vehicle", "axle_ratio"]);
  const put = () => app.keeper.edit((sheet) => {
    sheet.vehicle ||= {};
    const both = Number.isFinite(teeth[0]) && Number.isFinite(teeth[1]);
    sheet.vehicle.axle_teeth = both ? teeth : undefined;
    sheet.vehicle.axle_ratio = both ? undefined : ratio;
  });
  const tooth = (i, label) => numberField({ label, low: 3, high: 120,
    whole: true, narrow: true, get: () => teeth[i],
    set: (value) => { teeth[i] = value; put(); } });
  return h("fieldset", { class: "statements" },
    h("legend", {}, "The driven axle: teeth, or the ratio"),
    h("div", { class: "pair three" }, tooth(0, "ring"), tooth(1, "pinion"),
      numberField({ label: "or ratio", low: 0.5, high: 20, narrow: true,
        get: () => ratio, set: (value) => { ratio = value; put(); } })),
    h("p", { class: "hint" }, "With both, the teeth count."));
}

function gears(app) {
  const path = ["vehicle", "gear_ratios"];
  const split = (text) => text.split(/[;\s]+|,\s+/).filter(Boolean).map(typed);
  return textField({ label: "Gear ratios, gear 1 first", most: 200,
    get: () => (get(app.keeper.sheet, path) || []).map(short).join("  "),
    check: (text) => {
      const all = split(text);
      return all.length > 16 || all.some((v) => !(v >= 0.2 && v <= 25))
        ? "Wanted: up to 16 numbers from 0.2 to 25, a space between them." : "";
    },
    set: (text) => write(app, path)(text ? split(text) : undefined),
    hint: "such as 4.9 2.6 1.55 1 0.78; then the engine can be told" });
}

function accessories(app) {
  const path = ["vehicle", "accessories"];
  const read = (text) => text.split(/[,;]\s*/).map((part) =>
    /^\s*(.+?)[\s:]+([\d.,]+)\s*$/.exec(part));
  return textField({ label: "Accessories: turns per engine turn", most: 200,
    get: () => Object.entries(get(app.keeper.sheet, path) || {})
      .map(([name, turns]) => `${name} ${short(turns)}`).join("; "),
    check: (text) => read(text).every((found) => found &&
      typed(found[2]) >= 0.1 && typed(found[2]) <= 20)
      ? "" : "Wanted: a name and its turns, as alternator 2.6; fan 1.1",
    set: (text) => write(app, path)(text ? Object.fromEntries(read(text)
      .map((found) => [found[1].trim(), typed(found[2])])) : undefined),
    hint: "such as alternator 2.6; fan 1.1" });
}

/* ---- what turns how fast ------------------------------------------------ */

function partsTable(result, at) {
  return [h("div", { class: "scrolls" }, h("table", {},
    h("caption", {}, `At ${units.say("speed", at)}`),
    h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Order"),
      h("th", { scope: "col", class: "num" }, "Hz"),
      h("th", { scope: "col", class: "num" }, "turns a minute"))),
    h("tbody", {}, result.parts.map((part) => h("tr", {},
      h("th", { scope: "row" }, orderName(part)),
      h("td", { class: "num" }, fixed(part.hz, 1)),
      h("td", { class: "num" }, fixed(part.rpm, 0))))))),
  (result.coincide || []).map((pair) => h("p", { class: "small" },
    typeof pair === "string" ? pair
      : `${pair.a || ""} and ${pair.b || ""} have the same frequency.`)),
  (result.notes || []).map((text) => h("p", { class: "small" }, text))];
}

function partsNow(app) {
  const felt = app.keeper.sheet.complaint?.speed_km_h || [];
  let speed = felt.at(-1) || units.in("speed", units.now === "us" ? 60 : 100);
  const driven = (app.keeper.sheet.drive || []).find((d) => d.gear)?.gear;
  let gear = driven ? String(driven) : "";
  let turn = 0;
  const place = h("div", {});
  const work = async () => {
    const mine = ++turn;
    if (!Number.isFinite(speed)) return;
    try {
      await app.keeper.flush();
      const words = `speed_km_h=${Number(speed.toFixed(3))}` +
        (gear ? `&gear=${gear}` : "");
      const result = await api.parts(app.keeper.id, words);
      if (mine === turn) refill(place, partsTable(result, speed));
    } catch (error) {
      if (mine === turn)
        refill(place, h("p", { class: "small" }, error.message));
    }
  };
  const ratios = app.keeper.sheet.vehicle?.gear_ratios || [];
  const node = h("section", { class: "beside" },
    h("h2", {}, "What turns how fast"),
    h("div", { class: "pair" },
      numberField({ label: "At", kind: "speed", low: 5, high: 350,
        narrow: true, get: () => speed,
        set: (value) => { speed = value; work(); } }),
      ratios.length ? choose({ label: "in gear", unknown: "any",
        options: ratios.map((_, i) => [String(i + 1), String(i + 1)]),
        get: () => gear || undefined,
        set: (value) => { gear = value || ""; work(); } }) : null),
    place);
  work();
  return { node, work };
}

export const vehicle = {
  id: "vehicle", name: "Vehicle", doing: "The vehicle",

  line(app) {
    const what = app.keeper.sheet.vehicle;
    if (!what) return "";
    const axles = what.axle_teeth ? `axle ${what.axle_teeth.join(":")}`
      : what.axle_ratio ? `axle ${short(what.axle_ratio)}` : "";
    const count = what.gear_ratios?.length;
    return [what.tyre, axles, count ? `${count}${NB}gears` : ""]
      .filter(Boolean).join(", ") || "partly told";
  },

  show(app) {
    const sheet = () => app.keeper.sheet;
    const of = (...path) => ({ get: () => get(sheet(), ["vehicle", ...path]),
      set: write(app, ["vehicle", ...path]) });
    const yesNo = (...path) => oneOf({ label: "The driven axle is steered",
      unknown: "not said", across: true,
      options: [["yes", "yes"], ["no", "no"]],
      ...of(...path) });
    const turning = partsNow(app);
    const node = h("div", { class: "page" },
      h("h1", {}, "Say what the vehicle is"),
      h("p", { class: "lead" }, "Tyre and axle are enough for wheel and " +
        "shaft. Gears and cylinders add the engine."),
      h("div", { class: "columns" }, h("div", {},
        oneOf({ label: "Units", across: true, get: () => units.now,
          set: (which) => { units.set(which); app.redraw(); },
          options: [["metric", "km/h, mm, N m"], ["us", "mph, in, lb ft"]] }),
        oneOf({ label: "Kind", options: classes, unknown: "not said",
          across: true,
          ...of("class") }),
        oneOf({ label: "Driven", options: driven, unknown: "not said",
          across: true,
          ...of("drive") }),
        textField({ label: "Tyre size of the driven wheels", id: "tyre",
          ...of("tyre"), hint: "as on the sidewall, such as 235/65R16" }),
        axle(app),
        oneOf({ label: "Gearbox", options: boxes, unknown: "not said",
          across: true,
          ...of("gearbox") }),
        gears(app),
        h("div", { class: "pair" },
          numberField({ label: "Cylinders", low: 1, high: 24, whole: true,
            narrow: true, ...of("engine", "cylinders") }),
          choose({ label: "Strokes", unknown: "not said",
            options: [["2", "2"], ["4", "4"]],
            get: () => { const n = of("engine", "strokes").get();
              return n ? String(n) : undefined; },
            set: (v) => of("engine", "strokes").set(v ? Number(v) : undefined),
          })),
        numberField({ label: "Highest speed", kind: "speed", low: 10,
          high: 350, ...of("top_speed_km_h") }),
        more("More about it",
          numberField({ label: "Tyre turns, instead of the size",
            kind: "perDistance", low: 150, high: 1200,
            ...of("tyre_turns_per_km") }),
          accessories(app),
          numberField({ label: "Mass as driven", kind: "mass", low: 300,
            high: 100000, ...of("mass_kg") }),
          numberField({ label: "Most torque at the gearbox output",
            kind: "torque", low: 1, high: 50000, ...of("torque_n_m") }),
          numberField({ label: "Electric motor: its turns per wheel turn",
            low: 0.2, high: 60, ...of("motor", "ratio") }),
          h("div", { class: "pair three" },
            numberField({ label: "Transfer, high", low: 0.3, high: 10,
              narrow: true, ...of("transfer", "high") }),
            numberField({ label: "low", low: 0.3, high: 10, narrow: true,
              ...of("transfer", "low") }),
            choose({ label: "in", unknown: "not said",
              options: [["high", "high"], ["low", "low"]],
              ...of("transfer", "in") })),
          numberField({ label: "Hub reduction", low: 0.5, high: 12,
            ...of("hub_ratio") }),
          oneOf({ label: "The driven axle is hung", unknown: "not said",
            across: true,
            options: [["rigid", "rigid"], ["independent", "independent"]],
            ...of("axle", "kind") }),
          yesNo("axle", "steered"),
          numberField({ label: "Pinion joint to wheel axis", kind: "length",
            low: 20, high: 2000, ...of("axle", "pinion_to_axle_mm") }))),
        h("div", {}, turning.node)));
    return { node, saved: turning.work };
  },
};

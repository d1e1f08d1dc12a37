/* Step 1: the complaint, one page of statements to tick. */
import { h } from "./dom.js";
import { get, more, numberField, oneOf, someOf, textField, write }
  from "./fields.js";
import { listed, speedRange } from "./words.js";

const felt = [["seat", "It is felt in the seat"],
  ["floor", "It is felt in the floor"],
  ["steering_wheel", "It is felt in the steering wheel"],
  ["whole", "The whole vehicle shakes"],
  ["heard", "It is heard more than felt"]];

const said = [
  ["throttle", "More throttle at that speed", [
    ["same", "makes no difference"], ["worse", "makes it worse"],
    ["better", "makes it better"], ["goes", "makes it go away"]]],
  ["neutral_coast", "Out of gear at that speed, engine running", [
    ["stays", "it stays"], ["goes", "it goes away"],
    ["changes", "it changes"]]],
  ["gear_change", "In another gear at the same road speed", [
    ["same", "it stays at that road speed"],
    ["follows_engine", "it moves with the engine's speed"]]],
  ["braking", "Under light braking", [
    ["same", "it makes no difference"], ["worse", "it is worse"],
    ["better", "it is better"], ["goes", "it goes away"]]],
];

const began = [["shaft_removed", "after the propeller shaft was off"],
  ["gearbox_or_engine_out", "after the gearbox or the engine was out"],
  ["lift_or_load", "after a lift or another load"],
  ["suspension_changed", "after work on springs or suspension"],
  ["tyres", "after tyre work"], ["wheels_off", "after the wheels were off"],
  ["body_or_tow_bar", "after a body or a tow bar was fitted"],
  ["accident", "after an accident"], ["other", "after something else"],
  ["nothing_known", "by itself, as far as anybody knows"]];

const feltWords = { seat: "seat", floor: "floor", whole: "whole vehicle",
  steering_wheel: "steering wheel", heard: "heard" };

function speedEnds(app) {
  const ends = [...(get(app.keeper.sheet, ["complaint", "speed_km_h"]) || [])];
  if (ends.length === 1) ends.push(undefined);
  const put = (i) => (value) => {
    ends[i] = value;
    const known = ends.filter(Number.isFinite).sort((a, b) => a - b);
    write(app, ["complaint", "speed_km_h"])(known);
  };
  const end = (i, label) => numberField({ label, kind: "speed", low: 1,
    high: 350, id: `felt-${i}`, get: () => ends[i], set: put(i),
    narrow: true });
  return h("fieldset", { class: "statements" },
    h("legend", {}, "It shakes at this speed"),
    h("div", { class: "pair" }, end(0, "from"), end(1, "to")));
}

function measured(app) {
  const path = (key) => ["complaint", "measured", 0, key];
  const all = app.keeper.sheet.complaint?.measured;
  if (all && !Array.isArray(all))
    app.keeper.sheet.complaint.measured = [all];
  let hz = get(app.keeper.sheet, path("hz"));
  let speed = get(app.keeper.sheet, path("speed_km_h"));
  const put = () => app.keeper.edit((sheet) => {
    sheet.complaint ||= {};
    const rest = (sheet.complaint.measured || []).slice(1);
    sheet.complaint.measured = hz
      ? [{ hz, speed_km_h: speed }, ...rest] : rest;
  });
  return more("Somebody measured a frequency",
    h("div", { class: "pair" },
      numberField({ label: "Frequency", kind: "Hz", low: 0.5, high: 20000,
        narrow: true, get: () => hz, set: (value) => { hz = value; put(); } }),
      numberField({ label: "at", kind: "speed", low: 1, high: 350,
        narrow: true, get: () => speed,
        set: (value) => { speed = value; put(); } })));
}

export const complaint = {
  id: "complaint", name: "Complaint", doing: "What the customer says",

  line(app) {
    const what = app.keeper.sheet.complaint;
    if (!what) return "";
    const parts = [speedRange(what.speed_km_h),
      listed((what.felt || []).map((word) => feltWords[word] || word))];
    return parts.filter(Boolean).join(", ") || "partly told";
  },

  show(app) {
    const sheet = () => app.keeper.sheet;
    const of = (path) => ({ get: () => get(sheet(), path),
      set: write(app, path) });
    return { node: h("div", { class: "page" },
      h("h1", {}, "Tick what the customer says"),
      h("p", { class: "lead" },
        "Leave open what nobody knows. Nothing is made up for it."),
      h("div", { class: "columns" },
        h("div", {},
          textField({ label: "One line about the case", id: "title",
            ...of(["title"]),
            hint: "such as: van hums since the clutch" }),
          speedEnds(app),
          someOf({ label: "Where it shows", options: felt,
            ...of(["complaint", "felt"]) }),
          oneOf({ label: "It began", options: began,
            unknown: "Not asked yet", ...of(["complaint", "began_after"]) })),
        h("div", {},
          said.map(([key, label, options]) => oneOf({ label, options,
            unknown: "not tried", across: true, ...of(["complaint", key]) })),
          h("p", { class: "hint" }, "Coasting out of gear is unlawful in " +
            "places, and never done with a heavy vehicle."),
          textField({ label: "In the customer's words", rows: 3, most: 600,
            ...of(["complaint", "note"]) }),
          measured(app),
          more("Nobody complained?", oneOf({
            label: "How this case came about", ...of(["setting"]),
            unknown: "Not said",
            options: [["complaint", "Somebody complained"],
              ["fleet", "One vehicle of many, checked in turn"],
              ["course", "A training case"]] }))))) };
  },
};

/* The answers of each finding, and what an answer writes into the sheet.
 * Ids and statements are those of docs/findings.md; a test compares them. */

const looked = (word, sound, no, yes) => [word, { sound, answers: [
  { words: no, put: (sheet) => mark(sheet, word, sound, false) },
  { words: yes, put: (sheet) => mark(sheet, word, sound, true) }] }];

function mark(sheet, word, sound, seen) {
  sheet.checks ||= {};
  const without = (list, gone) => (list || []).filter((w) => w !== gone);
  sheet.checks.seen = without(sheet.checks.seen, word);
  sheet.checks.sound = without(sheet.checks.sound, sound);
  sheet.checks[seen ? "seen" : "sound"].push(seen ? word : sound);
}

const told = (id, key, ...answers) => [id, { answers: answers.map(
  ([value, words]) => ({ words, put: (sheet) => {
    sheet.complaint ||= {};
    sheet.complaint[key] = value;
  } })) }];

function felt(id, places, no, yes) {
  return [id, { answers: [{ words: no, put: (sheet) => {
    sheet.complaint ||= {};
    sheet.complaint.felt = (sheet.complaint.felt || [])
      .filter((word) => !places.includes(word));
    if (!sheet.complaint.felt.length) sheet.complaint.felt =
      places.includes("seat") ? ["steering_wheel"] : ["seat"];
  } }, { words: yes, put: (sheet) => {
    sheet.complaint ||= {};
    sheet.complaint.felt = [...new Set([...(sheet.complaint.felt || []),
      places[0]])];
  } }] }];
}

const began = (id, value, yes) => [id, { answers: [{ words: yes,
  put: (sheet) => {
    sheet.complaint ||= {};
    sheet.complaint.began_after = value;
  } }, { words: "By itself, as far as anybody knows", put: (sheet) => {
    sheet.complaint ||= {};
    sheet.complaint.began_after = "nothing_known";
  } }], step: "complaint" }];

const measure = (id, ...fields) => [id, { fields: fields.map(
  ([path, words]) => ({ path, words, kind: "small", low: 0, high: 50 })) }];

const runout = (key) => ["checks", "runout_mm", key];
const height = (key, i, words) => ({ path: ["checks", "ride_height_mm", key, i],
  words, kind: "length", low: 0, high: 3000 });

export const heights = [height("measured", 0, "As found, front"),
  height("measured", 1, "As found, rear"),
  height("maker", 0, "Maker's figure, front"),
  height("maker", 1, "Maker's figure, rear")];

const go = (id, step) => [id, { step }];
const lineIds = ["wheel-1x", "wheel-2x", "wheel-3x", "shaft-1x", "shaft-2x",
  "shaft-3x", "shaft-4x", "engine-half", "engine-1x", "engine-firing",
  "accessory-1x", "motor-1x", "axle-mesh"];

export const checks = new Map([
  ...lineIds.map((id) => go(id, "drive")),
  told("neutral-coast", "neutral_coast", ["goes", "It goes away"],
    ["changes", "It changes"], ["stays", "It stays"]),
  told("gear-change", "gear_change", ["same", "The same at that speed"],
    ["follows_engine", "It follows the engine"]),
  told("throttle", "throttle", ["same", "Throttle makes no difference"],
    ["better", "It is better under throttle"], ["goes", "It goes away"],
    ["worse", "It is worse under throttle"]),
  told("braking", "braking", ["same", "Braking does not make it worse"],
    ["worse", "It is worse when braking"]),
  felt("felt-steering", ["steering_wheel"],
    "It is not felt in the steering wheel",
    "It is felt in the steering wheel"),
  felt("felt-body", ["seat", "floor"], "It is not felt in seat or floor",
    "It is felt in seat or floor"),
  go("speed-range", "complaint"),
  began("began-shaft-work", "shaft_removed",
    "It began after the shaft was off"),
  began("began-engine-work", "gearbox_or_engine_out",
    "It began after the gearbox or the engine was out"),
  began("began-height-change", "lift_or_load",
    "It began after a lift, a load or suspension work"),
  began("began-wheel-work", "tyres", "It began after tyre or wheel work"),
  began("began-body-work", "body_or_tow_bar",
    "It began after a body or tow bar was fitted"),
  began("began-impact", "accident", "It began after an accident"),
  ...["leftover-over", "joints-differ", "joint-over", "shaft-shake-over",
    "joint-too-straight"].map((id) => go(id, "joints")),
  looked("yokes_out_of_line", "yokes", "The yokes of each shaft are in line",
    "The yokes of a shaft are out of line"),
  measure("runout-shaft", [runout("shaft_front"), "near its front end"],
    [runout("shaft_middle"), "in the middle"],
    [runout("shaft_rear"), "near its rear end"]),
  measure("runout-flange", [runout("pinion_flange"), "Pinion flange"]),
  measure("runout-tyre-radial", [runout("tyre_radial"), "Tread"]),
  measure("runout-tyre-lateral", [runout("tyre_lateral"), "Tyre's side"]),
  measure("runout-wheel", [runout("wheel_radial"), "Bare wheel, radial"]),
  ["ride-height-off", { fields: heights }],
  looked("dent", "tube", "The shaft tube has no dent",
    "The shaft tube is dented"),
  looked("missing_weight", "shaft_weights", "No shaft weight is missing",
    "A shaft weight is missing"),
  looked("undercoating", "tube", "The shaft is clean",
    "There is undercoating or mud on the shaft"),
  looked("loose_joint", "joints", "The joints have no play",
    "A joint has play, roughness or rust dust"),
  looked("worn_slip_spline", "slip_spline", "The slip spline has no play",
    "The slip spline has play"),
  looked("loose_flange", "flange", "The flange bolts are tight",
    "Flange bolts are loose"),
  looked("rough_centre_bearing", "centre_bearing",
    "The centre bearing runs smoothly", "The centre bearing is rough"),
  looked("torn_centre_rubber", "centre_rubber",
    "The centre support's rubber is sound",
    "The centre support's rubber is torn"),
  looked("sagging_spring", "springs", "The springs are sound",
    "A spring is broken or sags"),
  looked("collapsed_mount", "mounts", "The mounts are sound",
    "A mount has collapsed"),
  looked("worn_bush", "bushes", "The axle's bushes are sound",
    "A bush of the axle's arms is worn"),
  looked("cupped_tyre", "tyres", "The tyres are even",
    "A tyre is cupped, flat-spotted or bulged"),
  looked("mud_in_wheel", "wheels",
    "The wheels are clean and hold their weights",
    "There is mud in a wheel, or a weight is lost"),
  looked("wheel_face_dirty", "wheel_faces", "The wheel seats are clean",
    "A wheel seat is dirty or damaged"),
  looked("loose_wheel_nuts", "wheel_nuts", "The wheel nuts are tight",
    "Wheel nuts are loose"),
  looked("wheel_bearing_play", "wheel_bearings",
    "The wheel bearings are sound", "A wheel bearing has play or growls"),
  looked("worn_half_shaft_joint", "half_shafts",
    "The half-shaft joints are sound",
    "A half-shaft joint has play or a torn boot"),
  looked("exhaust_touching", "exhaust", "The exhaust hangs free",
    "The exhaust touches the body"),
  looked("misfire_codes", "engine", "The engine runs on all cylinders",
    "The engine misfires"),
  looked("shakes_standing", "smooth_standing",
    "Standing and revving is smooth", "It shakes standing and revving"),
  looked("accessory_wobble", "accessories", "The pulleys run true",
    "A pulley wobbles"),
  looked("metal_in_axle_oil", "axle_oil", "The axle oil is clean",
    "There is metal in the axle oil"),
  looked("binds_in_turns", "free_in_turns", "It rolls freely on full lock",
    "It binds on full lock"),
]);
checks.set("yokes-out-of-line", { step: "joints",
  answers: checks.get("yokes_out_of_line").answers.slice(1) });
checks.delete("yokes_out_of_line");

export const markSound = (sheet, word) => {
  sheet.checks ||= {};
  sheet.checks.sound = [...new Set([...(sheet.checks.sound || []), word])];
};

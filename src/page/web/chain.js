/* The driveline of a set of readings, and the order in which its caps face
 * down. */
import { units } from "./words.js";

const NAMES = { 1: ["gearbox", "pinion"], 2: ["gearbox", "shaft", "pinion"],
  3: ["gearbox", "front shaft", "rear shaft", "pinion"],
  4: ["gearbox", "front shaft", "middle shaft", "rear shaft", "pinion"],
  5: ["gearbox", "shaft 1", "shaft 2", "shaft 3", "shaft 4", "pinion"] };

export const kinds = [["cardan", "cross and two yokes"],
  ["double_cardan", "double cross"],
  ["constant_velocity", "constant velocity"], ["rubber_disc", "rubber disc"]];

export const usualNames = (joints) => NAMES[joints] ||
  Array.from({ length: joints + 1 }, (_, i) => `member ${i + 1}`);

/* The driveline that a set of readings belongs to; -1: none is told yet. */
export function lineOf(sheet, set) {
  const lines = sheet.driveline || [];
  const name = sheet.angles?.[set]?.driveline || sheet.angles?.[set]?.name;
  const found = lines.findIndex((line) => name && line.name === name);
  return found >= 0 ? found : lines.length ? 0 : -1;
}

/* The first set of readings of a driveline by its name. */
export const setOf = (sheet, name) => Math.max(0,
  (sheet.angles || []).findIndex((_, set) => name &&
    sheet.driveline?.[lineOf(sheet, set)]?.name === name));

export function chainOf(sheet, set) {
  const line = (sheet.driveline || [])[lineOf(sheet, set)] || {};
  let { members, joints, yokes_deg: yokes, tubes } = line;
  if (line.chain) {
    members = line.chain.filter((part) => part.member).map((p) => p.member);
    joints = line.chain.filter((part) => part.joint).map((p) => p.joint);
    tubes = line.chain.filter((part) => part.member).slice(1, -1)
      .map((part) => part.tube || {});
    yokes = line.chain.filter((part) => part.member).slice(1, -1)
      .map((part) => part.yoke_deg);
  }
  const slopes = sheet.angles?.[set]?.slopes_deg;
  if (!members && slopes) members = usualNames(slopes.length - 1);
  members ||= usualNames(2);
  joints ||= members.slice(1).map(() => "cardan");
  return { members, joints, yokes: yokes || [], tubes: tubes || [],
    told: !!(line.members || line.chain) };
}

/* When a cap faces down, from the front: the pins of a joint stand a quarter
 * turn apart; docs/measuring.md. */
export function turns({ members, joints, yokes }) {
  const places = [];
  let at = 0;
  members.forEach((_, i) => {
    if (i > 0) {
      const kind = joints[i - 1];
      const lost = kind === "constant_velocity" || kind === "rubber_disc";
      at = lost ? NaN : at + (kind === "double_cardan" ? 180 : 90);
    }
    const from = ((at % 180) + 180) % 180;
    const away = (to) => Math.min(Math.abs(from - to),
      180 - Math.abs(from - to));
    places.push(Number.isNaN(at) ? "any" : away(0) <= 1.5 ? "stands"
      : away(90) <= 1.5 ? "quarter" : "each");
    if (i > 0 && i + 1 < members.length) at += yokes[i - 1] || 0;
    if (Number.isNaN(at) && i > 0) at = NaN;
  });
  return places;
}

export const placeTitles = (roll) => ({
  stands: "Shaft as it stands, cap A turned down: read these",
  quarter: roll ? `Roll the vehicle ${units.say("length", roll,
    units.now === "us" ? 1 : 0)}, a quarter turn of the shaft: now read those`
    : "A quarter turn of the shaft on: now read those",
  each: "Turn each of these caps down by itself",
  any: "No cap here: a machined face, in any position",
});

/* Road for a quarter turn of the shaft, in mm, from the parts answer. */
export function rollOf(parts) {
  const one = (name) => parts?.parts?.find((part) =>
    part.part === name && part.multiple === 1);
  const wheel = one("wheel"), shaft = one("shaft");
  if (!wheel || !shaft) return 0;
  return 1000 * wheel.speed_km_h / 3.6 / shaft.hz / 4;
}

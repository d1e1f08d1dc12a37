/* Step 8: read the caps again, drive again, compare. */
import { chainOf } from "./chain.js";
import { drawn, h, refill } from "./dom.js";
import { button, caution, oneOf } from "./fields.js";
import { driveAt, driveCaution, driveFields, walkRound } from "./drive.js";
import { family, orderScale, orderStrip } from "./order_figures.js";
import { joints } from "./joints.js";
import { together } from "./recording.js";
import { afterBlock } from "./repair.js";
import { CAUTION_NOT_SAFE, level, orderName, units } from "./words.js";

function capsAgain(app) {
  const all = app.keeper.sheet.angles || [];
  const at = all.findIndex((set) => set.when === "after");
  const go = async () => {
    let open = at;
    if (at < 0) {
      app.keeper.edit((sheet) => {
        const before = sheet.angles[0];
        before.name ||= "first readings";
        sheet.angles.push({ name: "after the repair", when: "after",
          driveline: before.driveline, suspension: before.suspension,
          gauge: before.gauge, read_on: before.read_on });
        open = sheet.angles.length - 1;
      });
      if (!await app.keeper.flush()) return;
    }
    joints.choose(app, open);
    app.go(app.path("joints"));
  };
  if (!all.length) return h("p", { class: "small" },
    "No caps were read before. Then there is nothing to compare them with.");
  return [at >= 0
    ? h("p", {}, "The readings after the repair are kept.") : null,
    button(at < 0 ? "Read the caps again" : "Look at them", go,
      at < 0 ? "main" : "plain")];
}

function shimsAfter(app, place) {
  const { fitted, angles } = app.keeper.sheet;
  if (!(fitted || []).length &&
    !(angles || []).some((set) => set.when === "after")) return;
  app.working("shims", place, (result) => (result.shims || []).flatMap((line) =>
    line.after.map((after) => afterBlock(after,
      chainOf(app.keeper.sheet, 0).members))));
}

/* Results name the drive that stands first in the sheet: the levels of both
 * are kept here as they are seen. */
const memory = (app, after) =>
  `halfturn-levels-${app.keeper.id}-${after ? "after" : "before"}`;

export function keepLevels(app, result) {
  const first = app.keeper.sheet.drive?.[0];
  if (!first?.recording || !result.orders?.length) return;
  sessionStorage.setItem(memory(app, first.when === "after"), JSON.stringify({
    file: first.recording, orders: together(result).map((o) => ({
      part: o.part, multiple: o.multiple, state: o.state, level: o.level,
      low: o.low, high: o.high, least_seen: o.least_seen, unit: o.unit,
      at_km_h: o.at_km_h })) }));
}

function recall(app, after) {
  try {
    const kept = JSON.parse(sessionStorage.getItem(memory(app, after)));
    const at = driveAt(app.keeper.sheet, after);
    return kept && at >= 0 && kept.file === app.keeper.sheet.drive[at].recording
      ? kept.orders : null;
  } catch { return null; }
}

function compared(app) {
  const before = recall(app, false), after = recall(app, true);
  if (!before || !after) return h("p", { class: "small" }, "Work out each " +
    "drive once; then both stand here side by side.");
  const scaled = before[0]?.unit === "m/s2";
  if (before[0]?.unit !== after[0]?.unit) return h("p", { class: "note" },
    "The two drives are not in the same unit. They cannot be compared.");
  const line = (when, order) => order ? h("div", { class: "order-pair" },
    h("span", { class: "state" }, when),
    drawn((width) => orderStrip(width, order, scaled), "bare strip"),
    h("span", { class: "figures" }, order.state === "seen"
      ? [h("b", {}, level(order.level)), ` ${level(order.low)} to ${
        level(order.high)}`] : order.state === "not_seen" ? "not seen"
        : "could not be seen")) : null;
  return [h("ul", { class: "lines" }, before.filter((o) => o.state === "seen")
    .slice(0, 8).map((order) => h("li", {},
      h("b", { class: family(order.part) }, orderName(order)),
      line("before", order), line("after", after.find((o) => o.part ===
        order.part && o.multiple === order.multiple))))),
  h("div", { class: "order-scale" }, drawn(orderScale, "bare")),
  h("p", { class: "small" }, "Each at its own worst speed. Two drives of a " +
    "healthy vehicle can differ by a fifth; no verdict is made of it here.")];
}

function judged(app) {
  const all = app.keeper.sheet.drive || [];
  const place = h("div", { "aria-live": "polite" });
  const draw = () => refill(place, compared(app));
  const work = h("div", {});
  const turn = () => app.working("orders", work, (result) => {
    keepLevels(app, result);
    draw();
    return [];
  });
  draw();
  if (all[0]?.recording) turn();
  return h("section", {}, h("h2", {}, "Before and after"),
    all.filter((d) => d.recording).length < 2 ? h("p", { class: "small" },
      "Two recordings are wanted, one before the repair and one after it.")
      : [oneOf({ label: "Worked out and reported now",
        get: () => all[0].when === "after",
        options: [[false, "the first drive"],
          [true, "the drive after the repair"]],
        set: (after) => {
          app.keeper.edit((sheet) => {
            const at = driveAt(sheet, after);
            if (at > 0) sheet.drive.unshift(...sheet.drive.splice(at, 1));
          }, { now: true });
          turn();
        } }), work, place]);
}

export const again = {
  id: "again", name: "Drive again", doing: "After the repair",

  line(app) {
    const at = driveAt(app.keeper.sheet, true);
    return at >= 0 ? app.keeper.sheet.drive[at].recording || "begun" : "";
  },

  show(app) {
    const place = h("div", {});
    shimsAfter(app, place);
    return { node: h("div", { class: "page" },
      h("h1", {}, "Prove that it is better"),
      h("p", { class: "lead" }, "Same road, same gear, same speeds, same " +
        "place of the sensor."),
      driveCaution(),
      h("div", { class: "columns" },
        h("div", {}, h("section", {}, h("h2", {}, "The caps again"),
          capsAgain(app), place), walkRound(app)),
        h("div", {}, h("section", {}, h("h2", {}, "The drive after the repair"),
          h("p", { class: "small" }, "Unit, channels, place and gear are " +
            "taken over from the first drive. Change what differs."),
          driveFields(app, true)), judged(app))),
      h("p", { class: "note" }, CAUTION_NOT_SAFE)) };
  },
};

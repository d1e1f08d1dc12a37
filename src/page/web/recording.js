/* Step 5: what the recording says. */
import { drawn, h, newId, refill } from "./dom.js";
import { driveAt, placeWords } from "./drive.js";
import { curve, family, orderMap, orderScale, orderStrip }
  from "./order_figures.js";
import { fixed, level, NB, orderName, TO_DO, units, upper } from "./words.js";

const stateWords = { seen: "seen", not_seen: "not seen",
  could_not_be_seen: "could not be seen" };
const unitWords = (unit) => unit === "m/s2" ? "m/s²" : unit || "";
const rank = { seen: 0, not_seen: 1, could_not_be_seen: 2 };

/* Over all axes where there are several, else the one channel. */
export function together(result) {
  const all = result.orders || [];
  const sum = all.filter((order) => order.channel === "all");
  const first = all[0]?.channel;
  return (sum.length ? sum : all.filter((o) => o.channel === first))
    .slice().sort((a, b) => rank[a.state] - rank[b.state] ||
      b.level - a.level);
}

const sourceWords = { pulses: "Speed from the pulses.",
  log: "Speed from the log", steady: "Speed as it was held",
  hint: "Speed from the run that was told.",
  recording: "Speed found from the recording itself.", none: "" };

function speedSentence(speed) {
  if (!speed) return "";
  if (speed.state !== "accepted") return speed.reason || "";
  if (speed.source === "log" && Math.abs(speed.lag_s) >= 0.05)
    return `Speed from the log, ${fixed(Math.abs(speed.lag_s), 1)}${NB}s ` +
      `${speed.lag_s > 0 ? "late" : "early"}, corrected.`;
  const words = sourceWords[speed.source] || "";
  return words && !words.endsWith(".") ? words + "." : words;
}

function follows(order) {
  const lines = [];
  if (Number.isFinite(order.exponent)) {
    const e = `${fixed(order.exponent, 1)}${NB}±${NB}` +
      fixed(order.exponent_u, 1);
    lines.push([order.exponent > 1.2 ? "Grows fast with speed"
      : order.exponent > 0.4 ? "Grows with speed"
      : order.exponent < -0.4 ? "Falls with speed"
      : "Hardly changes with speed",
    `: level goes as speed to the power ${e}.`]);
  }
  if (Number.isFinite(order.pull_db)) {
    const u = order.pull_u_db || 0, p = order.pull_db;
    const range = `${fixed(p, 1)}${NB}±${NB}${fixed(u, 1)}${NB}dB`;
    lines.push([Math.abs(p) <= 2 * u ? "Pulling against overrun: no clear " +
      "difference" : p > 0 ? "Stronger under pull" : "Stronger on overrun",
    ` (${range}).`]);
  }
  if (!lines.length) lines.push(["Nothing more can be told of it", "."]);
  return lines;
}

function cannotTell(result, orders) {
  const lines = [];
  for (const pair of result.cannot_separate || [])
    lines.push([`${pair.a} from ${pair.b}.`, pair.never
      ? ` They have the same frequency at every speed in this gear. ${
        pair.way_out || ""}` : ` They lie too close. ${pair.way_out || ""}`]);
  for (const order of orders.filter((o) => o.state === "could_not_be_seen"))
    lines.push([orderName(order), ` could not be seen. ${order.reason || ""}`]);
  return lines;
}

const lines = (all) => h("ul", { class: "lines" }, all.map(([strong, rest]) =>
  h("li", {}, h("b", {}, strong), rest)));

/* ---- rows: the same choice by touch and by keyboard --------------------- */

function rowOf(order, chosen, choose, name, scaled) {
  const id = newId("order");
  const seen = order.state === "seen";
  return h("div", { class: "order-row" },
    h("input", { type: "radio", name, id, checked: order === chosen,
      onchange: () => choose(order) }),
    h("label", { for: id },
      h("b", { class: family(order.part) }, orderName(order)),
      drawn((width) => orderStrip(width, order, scaled), "bare strip"),
      h("span", { class: "state" }, stateWords[order.state]),
      h("span", { class: "figures" }, seen ? [h("b", {}, level(order.level)),
        ` ${level(order.low)} to ${level(order.high)}`]
        : order.least_seen ? `below ${level(order.least_seen)}` : "")));
}

function drawResult(app, result) {
  const orders = together(result);
  const withBins = orders.filter((order) => order.bins?.length);
  const speed = result.speed;
  const at = driveAt(app.keeper.sheet, false);
  const first = app.keeper.sheet.drive?.[0] || {};
  const place = placeWords[first.sensor?.place] || "place not said";
  const felt = app.keeper.sheet.complaint?.speed_km_h;
  const strongest = orders.find((order) => order.state === "seen");
  const heading = h("h1", { tabindex: "-1" }, !orders.length
    ? speed && speed.state && speed.state !== "accepted"
      ? "The speed could not be found" : "No drive is worked out yet"
    : strongest ? `The shake follows ${orderName(strongest)}`
      : "No named order was seen");
  if (!orders.length) return [heading,
    [speedSentence(speed), ...(result.missing || []).filter((text) =>
      !/joint angles/.test(text)), ...(result.notes || [])]
      .filter(Boolean).map((text) => h("p", { class: "lead" }, text)),
    h("p", { class: "print" }, h("a", { class: "button main",
      href: app.path("drive") },
      at < 0 ? "Add a drive" : "Look at the drive"))];
  const scaled = orders[0].unit === "m/s2";
  const unit = unitWords(orders[0].unit);
  let chosen = strongest || orders[0];
  const name = newId("orders");
  const shownOrders = () => {
    const few = withBins.filter((o) => o.state === "seen").slice(0, 4);
    return chosen.bins?.length && !few.includes(chosen) ? [...few, chosen]
      : few.length ? few : withBins.slice(0, 1);
  };
  const map = withBins.length ? drawn((width) => orderMap(width, {
    orders: withBins, chosen, felt, scaled, unit }), "edge") : null;
  const line = withBins.length ? drawn((width) => curve(width, {
    orders: shownOrders(), chosen, felt, unit, place, scaled }), "edge") : null;
  const curveTitle = h("h2", {});
  const about = h("div", { "aria-live": "polite" });
  const drawAbout = () => {
    curveTitle.textContent = `${upper(orderName(chosen))} against speed`;
    refill(about, h("h2", {}, `About ${orderName(chosen)}`),
      lines(follows(chosen)));
  };
  drawAbout();
  const pick = (order) => {
    chosen = order;
    map?.redraw();
    line?.redraw();
    drawAbout();
  };
  const gear = speed?.gear ? `Gear ${speed.gear}. ` : "";
  const cannot = cannotTell(result, orders);
  return [heading, h("p", { class: "lead" }, strongest
    ? `Worst at ${units.say("speed", strongest.at_km_h)}, with ` +
      `${level(strongest.level)}${NB}${unit} (${level(strongest.low)} to ` +
      `${level(strongest.high)}), ${place}. ` : "", speedSentence(speed)),
  !scaled ? h("p", { class: "note" }, "This recording has no scale. It " +
    "shows which turns are there, never how strong they are against a " +
    "healthy vehicle.") : null,
  h("div", { class: "columns" },
    h("section", {}, h("h2", {}, "Order map"), h("p", { class: "small" },
      "A part that shakes draws an upright ridge. " +
      "Outline: not seen. Dotted: could not be seen."),
    map),
    h("section", {}, curveTitle, h("p", { class: "small" }, gear,
      "Band: 95 % range.", scaled
        ? " Shaded: what drivers usually notice, and complain of." : ""),
    line)),
  h("div", { class: "columns" },
    h("section", {}, h("h2", {}, "Every order, strongest first"),
      h("p", { class: "small" }, `${unit} peak, ${orders[0].channel === "all"
        ? "all axes, " : ""}${place}. Block: 95 % range.`),
      h("fieldset", { class: "order-rows" },
        h("legend", { class: "away" }, "Which order to show"),
        orders.map((order) => rowOf(order, chosen, pick, name, scaled))),
      h("div", { class: "order-scale" }, drawn(orderScale, "bare"))),
    h("div", {}, h("section", {}, about),
      h("section", {}, h("h2", {}, "What this drive cannot tell"),
        cannot.length ? lines(cannot)
          : h("p", { class: "small" }, "Nothing of what was asked.")),
      (result.notes || []).length ? h("section", {}, h("h2", {}, "Noted"),
        h("ul", { class: "lines" }, result.notes.map((text) =>
          h("li", {}, text)))) : null))];
}

export const recording = {
  id: "recording", name: "Recording", doing: "What the recording says",

  line(app) {
    const result = app.known.rank?.orders ? app.known.rank : app.known.orders;
    const best = result && together(result).find((o) => o.state === "seen");
    if (best) return `${orderName(best)}, worst at ${
      units.say("speed", best.at_km_h)}`;
    return app.keeper.sheet.drive?.some((d) => d.recording)
      ? TO_DO : "";
  },

  show(app) {
    const place = h("div", { class: "page" },
      h("h1", {}, "What the recording says"));
    app.working("orders", place, (result) => drawResult(app, result),
      "What the recording says");
    return { node: place };
  },
};

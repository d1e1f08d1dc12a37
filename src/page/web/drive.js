/* Step 4: the walk-round, then the drive. */
import { upload, api } from "./api.js";
import { h, newId, refill, say } from "./dom.js";
import { button, caution, choose, get, more, numberField, oneOf, set,
  textField } from "./fields.js";
import { bytes, fixed, NB, short, units } from "./words.js";

const points = [
  "Every retaining clip back and seated all round; weak or rusted ones " +
  "replaced.",
  "Joint straps and flange bolts at the maker's torque; single-use bolts " +
  "renewed.",
  "Wheel nuts checked.",
  "Tyres without bulge, split or loose tread.",
  "No play, roughness or rust dust at any joint.",
  "Centre bearing, slip spline and guard loops sound.",
  "Brakes and steering normal.",
];

const places = [["seat_rail", "on the seat rail"], ["floor", "on the floor"],
  ["steering_wheel", "on the steering wheel"], ["dash", "on the dash"],
  ["other", "somewhere else"]];
export const placeWords = { seat_rail: "seat rail", floor: "floor",
  steering_wheel: "steering wheel", dash: "dash", other: "other place" };

/* ---- which drive of the sheet ------------------------------------------- */

export function driveAt(sheet, after) {
  const all = sheet.drive || [];
  return all.findIndex((drive) => (drive.when === "after") === after);
}

/* Same sensor, same place, same gear: what a second drive should keep. */
function likeFirst(sheet) {
  const { unit, channels, sensor, gear } = sheet.drive[0] || {};
  return { name: "after the repair", when: "after",
    ...structuredClone({ unit, channels, sensor, gear }) };
}

function change(app, after, path, value) {
  app.keeper.edit((sheet) => {
    let at = driveAt(sheet, after);
    if (at < 0) {
      if (value === undefined) return;
      sheet.drive ||= [];
      sheet.drive.push(after ? likeFirst(sheet) : {});
      at = sheet.drive.length - 1;
    }
    if (sheet.drive.length > 1) for (const drive of sheet.drive)
      drive.name ||= drive.when === "after" ? "after the repair"
        : "first drive";
    set(sheet, ["drive", at, ...path], value);
  });
}

const of = (app, after, ...path) => ({
  get: () => {
    const at = driveAt(app.keeper.sheet, after);
    return at < 0 ? undefined : get(app.keeper.sheet, ["drive", at, ...path]);
  },
  set: (value) => change(app, after, path, value),
});

/* ---- files -------------------------------------------------------------- */

function nameFor(app, file, path, after) {
  const clean = file.name.replace(/[\u0000-\u001f\u007f/\\:*?"<>|]/g, "-")
    .replace(/^\.+/, "").slice(-80) || "file";
  const own = of(app, after, ...path).get();
  const taken = (app.keeper.sheet.drive || []).flatMap((drive) =>
    [drive.recording, drive.speed?.file]).filter((n) => n && n !== own);
  let name = clean;
  for (let i = 2; taken.includes(name); i++) name = `${i}-${clean}`;
  return name;
}

function fileField(app, after, { label, hint, accept, path, about }) {
  const id = newId("file");
  const field = h("input", { type: "file", id, accept, class: "away",
    tabindex: "-1", "aria-hidden": "true" });
  const place = h("div", { class: "file" });
  const idle = (trouble) => {
    const name = of(app, after, ...path).get();
    const known = (app.keeper.files || []).find((f) => f.name === name);
    refill(place, h("p", { class: "label" }, label),
      name ? h("p", {}, h("b", {}, name), known
        ? `, ${bytes(known.bytes)}` : ": this file is not here. Add it.")
        : hint ? h("p", { class: "hint" }, hint) : null,
      trouble ? h("p", { class: "problem", role: "alert" }, trouble) : null,
      h("div", { class: "row-acts" },
        button(name ? "Take another file" : `Choose ${about}`,
          () => field.click(), name ? "plain" : "main"),
        name ? button("Leave it out", () => {
          change(app, after, path, undefined);
          idle();
        }) : null));
  };
  const sendFile = async (file) => {
    const name = nameFor(app, file, path, after);
    const progress = h("progress", { max: 1, value: 0,
      "aria-label": `How much of ${name} is sent` });
    const share = h("span", {}, "0 %");
    const going = upload(app.keeper.id, name, file, (done) => {
      progress.value = done;
      share.textContent = `${Math.floor(done * 100)}${NB}%`;
    });
    refill(place, h("p", { role: "status" }, `Sending ${name}, `,
      `${bytes(file.size)}: `, share), progress,
    button("Stop", () => going.stop()));
    const stay = (event) => event.preventDefault();
    addEventListener("beforeunload", stay);
    try {
      const kept = await going.done;
      app.keeper.files = [...(app.keeper.files || [])
        .filter((f) => f.name !== name), kept];
      app.forget();
      change(app, after, path, name);
      await app.keeper.flush();
      say(`${name} is kept.`);
      idle();
    } catch (error) {
      idle(error.name === "AbortError" ? "Stopped. Nothing was kept."
        : error.message);
    } finally { removeEventListener("beforeunload", stay); }
  };
  field.addEventListener("change", () => {
    const file = field.files[0];
    field.value = "";
    if (!file) return;
    if (file.size === 0) idle(`${file.name} is empty. Was it recorded?`);
    else sendFile(file);
  });
  idle();
  return h("div", {}, place, field);
}

/* ---- how fast ----------------------------------------------------------- */

function speedKind(speed) {
  if (!speed) return undefined;
  return speed.file ? "log" : speed.steady_km_h ? "steady"
    : speed.from_km_h || speed.to_km_h ? "run" : undefined;
}

function speedFields(app, after) {
  const speed = (...rest) => of(app, after, "speed", ...rest);
  const place = h("div", {});
  let kind = speedKind(speed().get());
  const draw = () => refill(place,
    kind === "log" ? fileField(app, after, { label: "Speed log",
      path: ["speed", "file"], about: "the speed log",
      accept: ".csv,.txt,.nmea,.gpx,text/*",
      hint: "CSV, NMEA or GPX, written on the same drive" }) : null,
    kind === "steady" ? numberField({ label: "Speed that was held",
      kind: "speed", low: 5, high: 350, ...speed("steady_km_h") }) : null,
    kind === "run" ? h("div", { class: "pair" },
      numberField({ label: "from", kind: "speed", low: 0, high: 350,
        narrow: true, ...speed("from_km_h") }),
      numberField({ label: "to", kind: "speed", low: 0, high: 350,
        narrow: true, ...speed("to_km_h") })) : null);
  draw();
  return h("div", {}, oneOf({ label: "How fast it went",
    unknown: "Look for it in the recording",
    options: [["log", "A speed log was written"],
      ["steady", "One speed was held"],
      ["run", "It ran from one speed to another"]],
    get: () => kind,
    set: (now) => {
      kind = now;
      speed().set(undefined);
      draw();
    } }), place);
}

function channelFields(app, after) {
  const axes = ["forward", "rearward", "left", "right", "up", "down"];
  const place = h("div", {});
  const draw = () => {
    const all = of(app, after, "channels").get() || [];
    const put = (i, key) => (value) => {
      const next = structuredClone(of(app, after, "channels").get() || []);
      next[i] = { ...next[i], [key]: value };
      if (value === undefined) delete next[i][key];
      of(app, after, "channels").set(next);
    };
    refill(place, all.map((channel, i) => h("fieldset", {},
      h("legend", {}, `Channel ${i + 1}`), h("div", { class: "pair three" },
        textField({ label: "name", get: () => channel.name, most: 40,
          set: put(i, "name"), narrow: true }),
        numberField({ label: "scale", low: -1e6, high: 1e6, narrow: true,
          get: () => channel.scale, set: put(i, "scale") }),
        choose({ label: "points", unknown: "not said",
          options: axes.map((axis) => [axis, axis]),
          get: () => channel.axis, set: put(i, "axis") })))),
    h("div", { class: "row-acts" }, button("Add a channel", () => {
      of(app, after, "channels").set([...all,
        { name: `channel ${all.length + 1}` }]);
      draw();
    }), all.length ? button("One less", () => {
      of(app, after, "channels").set(all.length > 1 ? all.slice(0, -1)
        : undefined);
      draw();
    }) : null));
  };
  draw();
  return more("Channel by channel", h("p", { class: "hint" }, "In a sound " +
    "file, scale turns full scale into the unit. Which way each points lets " +
    "pull be told from overrun."), place);
}

export const driveFields = (app, after) => [
  fileField(app, after, { label: "Recording of the drive",
    path: ["recording"], about: "the recording",
    accept: "audio/*,.wav,.flac,.ogg,.mp3,.aiff,.caf,.csv,.txt,.tsv",
    hint: "A sound file, or a phone's accelerometer table. Up to 2 GB." }),
  oneOf({ label: "Its numbers are", unknown: "not said", across: true,
    options: [["m/s2", "m/s²"], ["g", "g"],
      ["full scale", "sound, no scale"]],
    ...of(app, after, "unit") }),
  oneOf({ label: "The sensor sat", unknown: "not said", options: places,
    across: true,
    ...of(app, after, "sensor", "place") }),
  speedFields(app, after),
  numberField({ label: "Gear that was used", low: 1, high: 16, whole: true,
    ...of(app, after, "gear") }),
  channelFields(app, after),
];

/* ---- the walk-round ----------------------------------------------------- */

export function walkRound(app) {
  const safety = (key) => ({
    get: () => app.keeper.sheet.safety?.[key],
    set: (value) => {
      app.keeper.edit((sheet) => { set(sheet, ["safety", key], value); });
      drawEnd();
    },
  });
  const end = h("div", { "aria-live": "polite" });
  const drawEnd = () => {
    const said = app.keeper.sheet.safety || {};
    const no = said.walk_round === "failed" || said.clips_refitted === "no";
    const yes = said.walk_round === "done" && said.clips_refitted === "yes";
    refill(end, no ? h("p", { class: "note strong" },
      "Do not drive. Repair first.")
      : yes ? h("p", { class: "note" }, "Confirmed.")
      : h("p", { class: "note" }, "Not confirmed yet. It is shown as that."));
  };
  drawEnd();
  return h("section", {}, h("h2", {}, "Walk round the vehicle"),
    h("ul", { class: "lines" }, points.map((text) => h("li", {}, text))),
    oneOf({ label: "Retaining clips", unknown: "Not looked at yet",
      options: [["yes", "All back and seated all round"],
        ["no", "Not all of them"]], ...safety("clips_refitted") }),
    oneOf({ label: "All other points", unknown: "Not looked at yet",
      options: [["done", "Looked at, all in order"],
        ["failed", "Something is not in order"]], ...safety("walk_round") }),
    end);
}

export const driveCaution = () => caution("before any drive", [
  "Two people: one drives, one records. On a suitable road, within the law.",
  "Joint clips seated all round, bolts at the maker's torque, wheel nuts " +
  "checked.",
  "Coasting out of gear is unlawful in places, and never done with a heavy " +
  "vehicle.",
]);

function lawful(app) {
  return numberField({ label: "Fastest lawful speed for a test",
    kind: "speed", low: 5, high: 350,
    get: () => app.keeper.sheet.next?.lawful_km_h,
    set: (value) => app.keeper.edit((sheet) =>
      set(sheet, ["next", "lawful_km_h"], value)) });
}

export const drive = {
  id: "drive", name: "Drive", doing: "The drive",
  next: "Next: what it says",

  line(app) {
    const at = driveAt(app.keeper.sheet, false);
    const what = at < 0 ? null : app.keeper.sheet.drive[at];
    if (!what) return app.keeper.sheet.safety?.walk_round === "failed"
      ? "walk-round failed" : "";
    return [what.recording || "no recording", what.gear
      ? `gear${NB}${what.gear}` : ""].filter(Boolean).join(", ");
  },

  show(app) {
    return { node: h("div", { class: "page" },
      h("h1", {}, "Walk round, then drive and record"),
      h("p", { class: "lead" }, "Fix the sensor to the seat rail. Stay in " +
        "one gear. Go slowly up and down through the speed where it shakes."),
      driveCaution(),
      h("div", { class: "columns" }, h("div", {}, walkRound(app), lawful(app)),
        h("section", {}, h("h2", {}, "The recording"),
          h("p", { class: "small" }, "No drive is needed for the joints. " +
            "One that was recorded before can be added here."),
          driveFields(app, false)))) };
  },
};

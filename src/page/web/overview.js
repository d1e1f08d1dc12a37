/* One case at a glance: its steps, its papers, its end. */
import { api } from "./api.js";
import { h, refill } from "./dom.js";
import { button, textField, write, get, oneOf } from "./fields.js";
import { TO_DO, units } from "./words.js";

const paper = (app, rest, words, about, more) => h("li", {},
  h("a", { class: "button plain", href: api.link(app.keeper.id, rest),
    target: "_blank", rel: "noopener", ...more }, words),
  h("span", { class: "small" }, about));

function end(app) {
  const place = h("div", { class: "end" });
  const asks = () => {
    refill(place, h("p", {}, "Remove this case with its files? It cannot be " +
      "undone. A zip keeps a copy."),
    h("div", { class: "ends" },
      button("Keep it", idle, "plain"),
      button("Remove for good", async () => {
        try {
          const id = app.keeper.id;
          app.keeper = null;
          await api.remove(id);
          app.go("#/");
        } catch (error) { app.fail(error); }
      }, "main")));
    place.querySelector("button").focus();
  };
  const idle = () => refill(place, button("Remove this case", asks));
  idle();
  return place;
}

export const overview = {
  show(app) {
    const sheet = () => app.keeper.sheet;
    const field = (label, path, more) => textField({ label, ...more,
      get: () => get(sheet(), path), set: write(app, path) });
    const letter = units.now === "us" ? "letter" : "a4";
    return { node: h("div", { class: "page" },
      h("h1", {}, sheet().title || "Case without a title"),
      h("div", { class: "columns" }, h("div", {},
        h("ol", { class: "step-list" }, app.steps.map((step, i) => {
          const line = step.line(app);
          return h("li", { class: line && line !== TO_DO ? "has" : "none" },
            h("a", { href: app.path(step) },
              h("span", { class: "number", "aria-hidden": "true" },
                String(i + 1)),
              h("span", {}, h("b", {}, step.name),
                h("small", {}, line || "not started"))));
        })),
        h("section", {}, h("h2", {}, "Which vehicle"),
          field("One line about the case", ["title"]),
          field("Fleet number or name", ["identity", "unit"]),
          field("Measured by", ["identity", "measured_by"]),
          field("Day, year first", ["identity", "date"],
            { hint: "such as 2026-11-20", check: (text) =>
              /^\d{4}-\d\d-\d\d$/.test(text) ? ""
                : "Wanted: year, month, day, such as 2026-11-20." }),
          oneOf({ label: "Units on this screen", across: true,
            get: () => units.now,
            set: (which) => { units.set(which); app.redraw(); },
            options: [["metric", "km/h, mm, N m"], ["us", "mph, in, lb ft"]],
          }))),
      h("div", {}, h("section", {}, h("h2", {}, "Papers"),
        h("ul", { class: "papers" },
          paper(app, "/report.html", "Report",
            "For the customer and the next technician. Prints on paper."),
          paper(app, `/report.pdf?paper=${letter}`, "Report as PDF",
            "The same, page by page: to mail, to print, to file."),
          paper(app, `/measuring.pdf?paper=${letter}`, "Measuring sheet",
            "To fill in under the vehicle, caps in the order of the turns."),
          paper(app, "/case.zip", "Whole case as a zip",
            "To keep or to send; it holds the recordings.",
            { download: `case-${app.keeper.id}.zip` }))),
      h("section", {}, h("h2", {}, "Done with it?"), end(app))))) };
  },
};

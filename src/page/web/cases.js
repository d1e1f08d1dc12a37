/* Every case, and how to begin one. */
import { api, importZip } from "./api.js";
import { h, refill } from "./dom.js";
import { button } from "./fields.js";
import { day } from "./words.js";

const begin = async (app, make, step) => {
  try {
    const made = await make();
    app.go(`#/case/${made.id}/${step}`);
  } catch (error) { app.fail(error); }
};

function entry(found) {
  return h("li", {}, h("a", { href: `#/case/${found.id}/overview` },
    h("b", {}, found.title || "Case without a title"),
    h("small", {}, `case ${found.id}, changed ${day(found.changed_s)}`)));
}

function takeZip(app) {
  const field = h("input", { type: "file", accept: ".zip,application/zip",
    id: "zip", class: "away", tabindex: "-1", "aria-hidden": "true" });
  field.addEventListener("change", () => {
    const file = field.files[0];
    if (file) begin(app, () => importZip(file, () => {}).done, "overview");
    field.value = "";
  });
  return [button("Take in a zip", () => field.click()), field];
}

export const cases = {
  show(app) {
    const place = h("div", {});
    const heading = h("h1", {}, "What shakes?");
    api.list().then(({ cases: found }) => refill(place,
      found.length
        ? [h("h2", {}, found.length === 1 ? "One case" :
          `${found.length} cases, last change first`),
        h("ul", { class: "case-list" }, found.map(entry))]
        : h("p", {}, "No case is kept yet. The sample shows the whole way " +
          "with an invented van."))).catch(app.fail);
    return { node: h("div", { class: "page" }, heading,
      h("p", {}, "One case is one vehicle with one complaint. It says why " +
        "it shakes, how sure that is, and what to check next."),
      h("div", { class: "begin" },
        button("New case", () => begin(app,
          () => api.add({ halfturn: 1, setting: "complaint" }), "complaint"),
        "main"),
        button("Try the sample", () => begin(app, api.sample, "causes")),
        takeZip(app)),
      place) };
  },
};

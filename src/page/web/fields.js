/* Fields: each reads its value from the sheet and writes it back as typed. */
import { h, newId } from "./dom.js";
import { NB, typed, units, short } from "./words.js";

/* path: ["vehicle", "engine", "cylinders"], numbers index lists */
export function get(sheet, path) {
  let at = sheet;
  for (const key of path) {
    if (at === undefined || at === null) return undefined;
    at = at[key];
  }
  return at;
}

export function set(sheet, path, value) {
  let at = sheet;
  for (let i = 0; i + 1 < path.length; i++) {
    if (typeof at[path[i]] !== "object" || at[path[i]] === null)
      at[path[i]] = typeof path[i + 1] === "number" ? [] : {};
    at = at[path[i]];
  }
  if (value === undefined) {
    if (Array.isArray(at)) at[path.at(-1)] = {};
    else delete at[path.at(-1)];
  } else {
    at[path.at(-1)] = value;
  }
}

export const write = (app, path) => (value) =>
  app.keeper.edit((sheet) => set(sheet, path, value));

/* Shows a problem beside its field, and takes it away again. */
function minder(field, problem) {
  return (text) => {
    problem.textContent = text;
    problem.hidden = !text;
    if (text) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
  };
}

function framed({ label, unit, hint, id, field, problem, narrow }) {
  const about = [`${id}-problem`];
  if (hint) about.unshift(`${id}-hint`);
  field.setAttribute("aria-describedby", about.join(" "));
  return h("div", { class: "field" + (narrow ? " narrow" : "") },
    h("label", { for: id }, label,
      unit ? h("span", { class: "unit" }, `, ${unit}`) : null),
    field,
    hint ? h("p", { class: "hint", id: `${id}-hint` }, hint) : null,
    problem);
}

const problemOf = (id) => h("p", {
  class: "problem", id: `${id}-problem`, role: "alert", hidden: true,
});

export function numberField(options) {
  const { label, kind, get: read, set: put, low, high, whole, hint } = options;
  const id = options.id || newId("n");
  const now = read();
  const field = h("input", {
    id, type: "text", inputmode: whole ? "numeric" : "decimal",
    autocomplete: "off", class: options.classes,
    value: Number.isFinite(now) ? shown(kind, now) : "",
  });
  const problem = problemOf(id);
  const mind = minder(field, problem);
  field.addEventListener("input", () => {
    if (field.value.trim() === "") {
      mind("");
      put(undefined);
      return;
    }
    const value = units.in(kind, typed(field.value));
    if (!Number.isFinite(value) || (whole && !Number.isInteger(value)))
      mind(whole ? "A whole number is wanted here."
        : "A number is wanted here.");
    else if (value < low || value > high)
      mind(`Wanted: ${shown(kind, low)} to ${shown(kind, high)}${NB}` +
        units.name(kind));
    else {
      mind("");
      put(value);
    }
  });
  return framed({ label, unit: units.name(kind), hint, id, field, problem,
    narrow: options.narrow });
}

const shown = (kind, value) =>
  short(Number(units.out(kind, value).toPrecision(5)));

export function textField(options) {
  const { label, get: read, set: put, hint, check } = options;
  const id = options.id || newId("t");
  const field = h(options.rows ? "textarea" : "input", {
    id, rows: options.rows, autocomplete: "off", maxlength: options.most || 200,
    type: options.rows ? undefined : "text", value: read() || "",
    list: options.list,
  });
  const problem = problemOf(id);
  const mind = minder(field, problem);
  field.addEventListener("input", () => {
    const text = field.value.replace(/[\u0000-\u0009\u000b-\u001f]/g, " ");
    const wrong = check && text.trim() ? check(text.trim()) : "";
    mind(wrong || "");
    if (!wrong) put(text.trim() ? text : undefined);
  });
  return framed({ label, hint, id, field, problem, narrow: options.narrow });
}

/* Statements of which one holds; the first says that nothing is known. */
export function oneOf({ label, options, unknown, get: read, set: put, hint,
  pictures, across }) {
  const name = newId("one");
  const now = read();
  const all = unknown ? [[undefined, unknown], ...options] : options;
  return h("fieldset", { class: "statements" + (pictures ? " pictures"
    : across === "few" ? " across few" : across ? " across" : "") },
    h("legend", {}, label),
    hint ? h("p", { class: "hint" }, hint) : null,
    all.map(([value, words, picture]) => {
      const id = newId("r");
      return h("div", { class: "statement" },
        h("input", {
          type: "radio", id, name, checked: now === value,
          onchange: () => put(value),
        }),
        h("label", { for: id }, picture || null, h("span", {}, words)));
    }));
}

export function someOf({ label, options, get: read, set: put, hint }) {
  const now = new Set(read() || []);
  return h("fieldset", { class: "statements" },
    h("legend", {}, label),
    hint ? h("p", { class: "hint" }, hint) : null,
    options.map(([value, words]) => {
      const id = newId("c");
      return h("div", { class: "statement" },
        h("input", {
          type: "checkbox", id, checked: now.has(value),
          onchange: (event) => {
            if (event.target.checked) now.add(value);
            else now.delete(value);
            put([...now]);
          },
        }),
        h("label", { for: id }, h("span", {}, words)));
    }));
}

export function tick({ label, get: read, set: put, hint }) {
  const id = newId("c");
  return h("div", { class: "statement alone" },
    h("input", {
      type: "checkbox", id, checked: read() === true,
      onchange: (event) => put(event.target.checked),
    }),
    h("label", { for: id }, h("span", {}, label,
      hint ? h("small", {}, hint) : null)));
}

export function choose({ label, options, unknown, get: read, set: put, id }) {
  const name = id || newId("s");
  const now = read();
  const field = h("select", {
    id: name,
    onchange: () => put(field.value === "" ? undefined : field.value),
  },
  unknown ? h("option", { value: "" }, unknown) : null,
  options.map(([value, words]) => h("option", { value }, words)));
  field.value = now === undefined ? "" : now;
  return h("div", { class: "field" }, h("label", { for: name }, label), field);
}

export const button = (words, act, classes) => h("button", {
  type: "button", class: classes || "plain", onclick: act,
}, words);

export const more = (summary, ...inside) => h("details", { class: "more" },
  h("summary", {}, summary), h("div", { class: "inside" }, ...inside));

export const caution = (title, sentences) => h("section", {
  class: "caution", "aria-label": "Caution",
},
h("div", { class: "stripes" }),
h("div", {}, h("h2", {}, "Caution" + (title ? `: ${title}` : "")),
  h("ul", {}, sentences.map((text) => h("li", {}, text)))));

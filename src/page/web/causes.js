/* Step 6: likely causes, and the next check answered where it stands. */
import { h, refill, say } from "./dom.js";
import { button, caution, more, numberField, set, someOf } from "./fields.js";
import { arrow, bar } from "./figures.js";
import { checks } from "./checks.js";
import { CAUTION_NOT_SAFE, fixed, inHundred, likely, listed, NB, TO_DO,
  upper }
  from "./words.js";

const tools = [["dial_gauge", "dial gauge"], ["angle_gauge", "angle gauge"],
  ["lamp", "lamp"], ["lever", "lever"], ["tape", "tape"],
  ["torque_wrench", "torque wrench"], ["wheel_wrench", "wheel wrench"],
  ["spanner", "spanner"], ["code_reader", "code reader"],
  ["recorder", "recorder for a drive"]];

/* What was there before the last answer; and what was put aside. */
let last = { id: 0, stands: null, key: "" };
let said = null;
let aside = { id: 0, list: new Set() };

const standsOf = (result) => new Map((result.causes || []).map((cause) =>
  [cause.cause, cause.probability]));

function changes(before, after, titles) {
  const moved = [];
  for (const [cause, now] of after) {
    const old = before.get(cause);
    if (old !== undefined && inHundred(old) !== inHundred(now))
      moved.push([Math.abs(old - now), `"${titles.get(cause)}" ${
        now > old ? "rises" : "falls"} from ${inHundred(old)} to ${
        inHundred(now)}.`]);
  }
  moved.sort((a, b) => b[0] - a[0]);
  return moved.slice(0, 2).map((m) => m[1]).join(" ") || "Nothing changes.";
}

/* ---- the next check ----------------------------------------------------- */

function outcome(check, words) {
  const found = (check.outcomes || []).find((text) =>
    text.startsWith(words + ": "));
  return found ? found.slice(words.length + 2) : "";
}

async function answer(app, words, put) {
  said = { id: app.keeper.id, words, before: last.stands };
  app.keeper.edit(put);
  if (await app.keeper.flush()) {
    said.revision = app.keeper.revision;
    app.redraw();
    document.getElementById("you-said")?.focus();
  }
}

function measureFields(app, fields) {
  const values = new Map();
  const read = (path) => path.reduce((at, key) => at?.[key],
    app.keeper.sheet);
  const all = fields.map((field) => {
    values.set(field, read(field.path));
    return numberField({ label: field.words, kind: field.kind, low: field.low,
      high: field.high, get: () => values.get(field),
      set: (value) => values.set(field, value) });
  });
  const lists = fields.some((field) => typeof field.path.at(-1) === "number");
  const wants = h("p", { class: "problem", role: "alert", hidden: true });
  return [h("div", { class: "pair" }, all), wants,
    button("That is what it reads", () => {
      const known = fields.filter((f) => Number.isFinite(values.get(f)));
      if (!known.length || (lists && known.length < fields.length)) {
        wants.hidden = false;
        wants.textContent = lists ? "All of them are wanted."
          : "One figure at least is wanted.";
        return;
      }
      answer(app, "measured", (sheet) => {
        for (const f of known) set(sheet, f.path, values.get(f));
      });
    }, "main")];
}

function checkBox(app, check) {
  const how = checks.get(check.finding) || {};
  const skip = () => {
    aside.list.add(check.finding);
    said = null;
    app.redraw();
    document.querySelector(".check h2")?.focus();
  };
  return h("section", { class: "check" },
    h("p", { class: "small" }, h("b", {}, "Next check"),
      check.minutes ? ` · ${fixed(check.minutes, 0)}${NB}minutes` : ""),
    h("h2", { tabindex: "-1" }, check.question),
    check.how ? h("p", { class: "small" }, check.how) : null,
    how.fields ? measureFields(app, how.fields) : null,
    (how.answers || []).map(({ words, put }) => h("button", {
      type: "button", class: "answer", onclick: () => answer(app, words, put),
    }, h("b", {}, words), h("span", {}, outcome(check, words)))),
    how.step ? h("a", { class: "button plain", href: app.path(how.step) },
      how.step === "joints" ? "Read the caps" : how.step === "drive"
        ? "To the drive" : "To the complaint") : null,
    h("button", { type: "button", class: "answer", onclick: skip },
      h("b", {}, "Could not do it now"), h("span", {}, "nothing changes")));
}

function youSaid(app, result) {
  if (!said || said.id !== app.keeper.id ||
      said.revision !== app.keeper.revision) return null;
  const titles = new Map(result.causes.map((c) => [c.cause, c.title]));
  return h("p", { id: "you-said", tabindex: "-1", class: "said" },
    h("b", {}, `You said: ${said.words}. `),
    said.before ? changes(said.before, standsOf(result), titles) : "", " ",
    h("button", { type: "button", class: "link", onclick: async () => {
      said = null;
      try { await app.keeper.step("undo"); } catch (e) { app.fail(e); }
      say("Undone");
      document.querySelector(".check h2")?.focus();
    } }, "Undo"));
}

function nextChecks(app, result) {
  const all = (result.next_checks || []).filter((check) =>
    !aside.list.has(check.finding));
  const put = aside.list.size ? button("Show again what was put aside", () => {
    aside.list.clear();
    app.redraw();
  }) : null;
  const most = Math.max(...all.map((c) => c.gain / (c.minutes || 1)), 1e-9);
  const rest = all.slice(1, 6);
  return [
    all.length ? checkBox(app, all[0]) : h("section", { class: "check" },
      h("h2", { tabindex: "-1" }, "No check is left that settles much"),
      h("p", {}, "Repair the likeliest, or measure what is open.")),
    youSaid(app, result),
    rest.length ? h("section", {}, h("h2", {}, "Or check something else"),
      h("p", { class: "small" }, "Bar: how much it settles, per minute."),
      h("ul", { class: "others" }, rest.map((check) => h("li", {},
        h("button", { type: "button", onclick: () => {
          for (const before of all) {
            if (before === check) break;
            aside.list.add(before.finding);
          }
          said = null;
          app.redraw();
          document.querySelector(".check h2")?.focus();
        } }, h("b", {}, check.question), h("small", {}, check.minutes
          ? `${fixed(check.minutes, 0)}${NB}minutes` : ""),
        bar(check.gain / (check.minutes || 1) / most)))))) : null,
    put,
    more("What is at hand", someOf({ label: "Tools", options: tools,
      hint: "None ticked: every usual tool is taken to be there.",
      get: () => app.keeper.sheet.next?.tools,
      set: (list) => { said = null; app.keeper.edit((sheet) =>
        set(sheet, ["next", "tools"], list)); } })),
  ];
}

/* ---- the ranking -------------------------------------------------------- */

function reasons(cause, most) {
  const up = (cause.raised_by || []).map((r) => ({ ...r, up: true }));
  const down = (cause.lowered_by || []).map((r) => ({ ...r, up: false }));
  return [...up, ...down].sort((a, b) => b.times - a.times).slice(0, most)
    .map((r) => h("div", { class: "why" },
      h("p", {}, h("span", {}, r.text), h("span", { class: "end" },
        `${r.up ? "raised" : "lowered"}; without it ${inHundred(r.without)}`)),
      arrow(r.without, cause.probability)));
}

function causeRow(cause, i, before) {
  return h("li", { class: "cause" },
    h("div", { class: "row" }, h("h3", {}, cause.title),
      h("p", { class: "likely" }, `${cause.word || likely(cause.probability)} `,
        h("b", {}, String(inHundred(cause.probability))), ` in${NB}100`)),
    bar(cause.probability, before?.get(cause.cause)),
    reasons(cause, i < 2 ? 3 : 1),
    i === 0 && cause.repair ? h("p", { class: "small" }, h("b", {}, "Repair. "),
      cause.repair, cause.caution ? ` ${cause.caution}` : "") : null);
}

function ranking(result, before) {
  const all = result.causes || [];
  const first = all.filter((c, i) => c.probability >= 0.05 || i < 4);
  const rest = all.slice(first.length);
  const titles = (list) => listed(list);
  return h("section", { class: "ranking" }, h("h2", {}, "Likely causes"),
    h("p", { class: "small" }, "Bar: how likely, in 100. Arrows: what raised " +
      "it (filled) or lowered it (dashed), from its place without that " +
      "finding. Dashed mark: before the last answer. Two can be true at once."),
    h("ol", { class: "causes" }, first.map((c, i) => causeRow(c, i, before))),
    rest.length ? more(`${rest.length} more, each below 5 in 100`,
      h("ul", { class: "lines" }, rest.map((c) => h("li", {},
        `${c.title}: ${likely(c.probability)}, ${
          inHundred(c.probability)} in${NB}100.`)))) : null,
    (result.unexplained || []).length ? h("p", { class: "print" }, h("b", {},
      "Not explained: "), titles(result.unexplained)) : null,
    (result.alike || []).map((text) => h("p", { class: "small" }, text)),
    (result.struck_out || []).length ? more("Left out: this vehicle cannot " +
      "have it", h("ul", { class: "lines" }, result.struck_out.map((out) =>
      h("li", {}, `${out.why}.`)))) : null,
    h("p", { class: "note" }, CAUTION_NOT_SAFE),
    h("p", { class: "small" }, "The strengths behind the figures are " +
      "judgement; they are not calibrated yet."));
}

function headline(result) {
  const first = (result.causes || [])[0];
  if (!first) return ["Too little is told to say", ""];
  const words = `${upper(first.word || likely(first.probability))}: `;
  const number = h("b", {}, `${inHundred(first.probability)} in${NB}100`);
  if (first.cause === "nothing-abnormal")
    return [(result.missing || []).length ? "Too little is told to say"
      : "Nothing abnormal stands out", h("p", { class: "lead" },
      `Nothing abnormal: ${first.word || likely(first.probability)}, `,
      number, ".")];
  if (first.probability < 0.5) return ["Cannot tell yet which cause it is",
    h("p", { class: "lead" }, `"${first.title}" stands first, ${
      first.word || likely(first.probability)}: `, number, ".")];
  return [`${first.title}`, h("p", { class: "lead" }, words, number, ".")];
}

function missing(app, result) {
  const all = result.missing || [];
  if (!all.length) return null;
  const step = (text) => /angle|gauge|limit|suspension|joint/i.test(text)
    ? "joints" : /drive|record|speed log|sensor/i.test(text) ? "drive"
    : /complaint/i.test(text) ? "complaint" : "vehicle";
  return h("section", {}, h("h2", {}, "What would tell more"),
    h("ul", { class: "lines" }, all.map((text) => h("li", {}, text, " ",
      h("a", { href: app.path(step(text)) },
        upper(app.steps.find((s) => s.id === step(text)).name))))));
}

function drawResult(app, result) {
  const key = JSON.stringify(result.stages || {});
  const same = last.id === app.keeper.id;
  const before = same && last.key !== key ? last.stands
    : said && said.id === app.keeper.id ? said.before : undefined;
  if (!same || last.key !== key)
    last = { id: app.keeper.id, stands: standsOf(result), key };
  if (aside.id !== app.keeper.id) aside = { id: app.keeper.id,
    list: new Set() };
  const [title, sure] = headline(result);
  return [
    (result.safety || []).length ? caution("", result.safety.map((s) =>
      s.text)) : null,
    h("h1", { tabindex: "-1" }, title), sure,
    h("div", { class: "columns" },
      h("div", {}, nextChecks(app, result), missing(app, result)),
      ranking(result, before)),
  ];
}

export const causes = {
  id: "causes", name: "Causes", doing: "Likely causes",
  next: "Work out the repair",

  line(app) {
    const first = app.known.rank?.causes?.[0];
    return first ? `${first.title}: ${first.word ||
      likely(first.probability)}`
      : app.keeper.sheet.complaint || app.keeper.sheet.angles ||
        app.keeper.sheet.drive ? TO_DO : "";
  },

  show(app) {
    const place = h("div", { class: "page" }, h("h1", {}, "Likely causes"));
    const work = () => app.working("rank", place, (result) => {
      const had = document.activeElement?.id;
      const drawn = drawResult(app, result);
      queueMicrotask(() => { if (had) document.getElementById(had)?.focus(); });
      return drawn;
    }, "Likely causes");
    const busy = work();
    return { node: place, saved: () => {
      if (!said || said.revision !== undefined) work();
    }, busy };
  },
};

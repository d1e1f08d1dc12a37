/* The shell: bar, rail, steps, and what happens between them. */
import { api, takeToken, token, follow, Silence } from "./api.js";
import { h, refill, say, s } from "./dom.js";
import { button } from "./fields.js";
import { Keeper } from "./keeper.js";
import { clock, NB, TO_DO } from "./words.js";
import { cases } from "./cases.js";
import { complaint } from "./complaint.js";
import { vehicle } from "./vehicle.js";
import { joints } from "./joints.js";
import { drive } from "./drive.js";
import { recording } from "./recording.js";
import { causes } from "./causes.js";
import { repair } from "./repair.js";
import { again } from "./again.js";
import { overview } from "./overview.js";

const steps = [complaint, vehicle, joints, drive, recording, causes, repair,
  again];
const at = (id) => document.getElementById(id);

const app = {
  steps, keeper: null, view: null, step: null, known: {}, asked: {},

  go(path) { location.hash = path; },
  path: (step) => `#/case/${app.keeper.id}/${step.id || step}`,

  forget() { app.asked = {}; },

  /* A result of the case as it is saved, worked out once for a revision. */
  async result(kind) {
    if (!await app.keeper.flush()) throw app.keeper.trouble;
    const revision = app.keeper.revision;
    const had = app.asked[kind];
    if (had && had.revision === revision) return had.promise;
    const id = app.keeper.id;
    const promise = api.work(id, kind);
    app.asked[kind] = { revision, promise };
    promise.then((result) => {
      if (!app.keeper || app.keeper.id !== id) return;
      app.known[kind] = result;
      drawRail();
    }, () => {
      if (app.asked[kind]?.promise === promise) delete app.asked[kind];
    });
    return promise;
  },

  notice(id, ...kids) {
    at(`notice-${id}`)?.remove();
    if (kids.length) at("notices").append(h("div", {
      id: `notice-${id}`, class: "notice", role: "alert",
    }, ...kids));
  },

  fail(error) {
    if (error.name === "AbortError") return;
    app.notice("fail", h("p", {}, error.message),
      button("Close", () => app.notice("fail")));
  },

  redraw() { show(false); },
};

/* ---- the bar ------------------------------------------------------------ */

const mark = () => s("svg", { viewBox: "0 0 24 24", class: "mark",
  "aria-hidden": "true" },
s("path", { d: "M5 8a7 7 0 0 0 14 0M12 15v7" }),
s("circle", { cx: 5, cy: 5.5, r: 2.5 }),
s("circle", { cx: 19, cy: 5.5, r: 2.5 }));

function savedWords() {
  const k = app.keeper;
  if (!k) return "";
  if (k.trouble) return "not saved";
  if (k.dirty || k.saving) return "saving";
  return k.saved_ms ? `saved${NB}${clock(k.saved_ms)}`
    : `saved${NB}${clock(k.entry.changed_s * 1000)}`;
}

function drawBar() {
  const k = app.keeper;
  const active = document.activeElement;
  const busy = at("bar").contains(active) || at("low-undo")?.contains(active)
    ? active.id : "";
  refill(at("bar"),
    h("a", { class: "home", href: "#/" }, mark(),
      h("span", { class: k ? "away" : "" }, k ? "All cases" : "Halfturn")),
    k ? h("a", { class: "case-title", href: app.path("overview") },
      k.sheet.title || "Case without a title") : null,
    h("span", { class: "saved", id: "saved" }, savedWords()),
    k ? h("div", { class: "steps-back" }, undoRedo("bar")) : null);
  const low = at("low-undo");
  if (low && k) refill(low, undoRedo("low"));
  if (busy) at(busy)?.focus();
}

function undoRedo(where) {
  const k = app.keeper;
  const one = (which, words, can) => h("button", { type: "button",
    class: "quiet", id: `${where}-${which}`, disabled: !can,
    onclick: () => stepBack(which) }, words);
  return [one("undo", "Undo", k.entry.can_undo || k.dirty),
    one("redo", "Redo", k.entry.can_redo && !k.dirty)];
}

async function stepBack(which) {
  try {
    if (await app.keeper.step(which))
      say(which === "undo" ? "Undone" : "Done again");
  } catch (error) { app.fail(error); }
}

/* ---- the rail ----------------------------------------------------------- */

function drawRail() {
  const rail = at("rail");
  rail.hidden = !app.keeper;
  if (!app.keeper) return;
  const here = steps.indexOf(app.step);
  refill(rail, h("ol", {}, steps.map((step, i) => {
    const line = step.line(app);
    return h("li", { class: line && line !== TO_DO ? "has" : "none" },
      h("a", { href: app.path(step),
        "aria-current": i === here ? "step" : null },
      h("span", { class: "number", "aria-hidden": "true" }, String(i + 1)),
      h("span", {}, h("b", {}, step.name),
        h("small", {}, line || "not started"))));
  })));
}

function whereNow() {
  const here = steps.indexOf(app.step);
  if (here < 0) return null;
  return h("div", { class: "where" },
    h("div", { class: "where-row" }, h("a", { href: app.path("overview") },
      h("b", {}, `${here + 1} of ${steps.length}`), ` ${app.step.doing}`),
    h("div", { class: "low-undo", id: "low-undo" }, undoRedo("low"))),
    h("div", { class: "segments", "aria-hidden": "true" },
      steps.map((step, i) => h("i", {
        class: i === here ? "now"
          : [TO_DO, ""].includes(step.line(app)) ? "" : "has",
      }))));
}

function backAndNext() {
  const here = steps.indexOf(app.step);
  if (here < 0) return null;
  const link = (step, words, classes) => h("a", {
    class: classes, href: app.path(step),
  }, words);
  return h("div", { class: "ends" },
    here > 0 ? link(steps[here - 1], "Back", "button plain")
      : link("overview", "All steps", "button plain"),
    here + 1 < steps.length
      ? link(steps[here + 1], app.step.next || `Next: ${steps[here + 1].name}`,
        "button main")
      : link("overview", "To the papers", "button main"));
}

/* ---- what the keeper tells ---------------------------------------------- */

function told(what) {
  if (!app.keeper) return;
  drawBar();
  if (what === "edited") { drawRail(); return; }
  for (const id of ["moved", "lost", "refused"]) app.notice(id);
  const k = app.keeper;
  if (what === "moved")
    app.notice("moved", h("p", {}, k.trouble.message),
      button("Show it as it is now", () => k.takeTheirs().catch(app.fail),
        "main"),
      button("Save mine over it", () => k.keepMine().catch(app.fail)));
  else if (what === "lost")
    app.notice("lost", h("p", {}, `${k.trouble.message} What you typed is ` +
      "kept on this page; it is sent when the program answers."));
  else if (what === "refused")
    app.notice("refused", h("p", {}, `Not saved. ${k.trouble.message}`),
      button("Try again", () => k.again()),
      button("Back to what was saved", () => k.drop().catch(app.fail)));
  if (what === "loaded") app.redraw();
  if (what === "saved") {
    drawRail();
    app.view?.saved?.();
  }
}

/* ---- long work ---------------------------------------------------------- */

const stageWords = {
  "turning parts": "Working out what turns",
  "joint angles": "Working out the angles",
  recording: "Reading the recording", speed: "Finding the speed",
  orders: "Following the orders", causes: "Weighing the causes",
};

/* Fills `place` with draw(result); until then tells how far it is. */
app.working = async function (kind, place, draw, title) {
  const stop = new AbortController();
  const turn = (place.turn = (place.turn || 0) + 1);
  place.setAttribute("aria-busy", "true");
  const bar = h("progress", { max: 1, "aria-label": "How far it is" });
  const stage = h("p", { role: "status" }, "Working it out");
  const box = h("div", { class: "working" }, stage, bar,
    button("Stop", () => api.cancel(app.keeper.id).catch(app.fail)));
  const slow = setTimeout(() => {
    if (place.childElementCount) place.prepend(box);
    else refill(place, box);
    follow(app.keeper.id, (event) => {
      const words = event.state === "waits" ? "Waiting for its turn"
        : stageWords[event.stage] || "Working it out";
      if (stage.textContent !== words) stage.textContent = words;
      if (event.share > 0) bar.value = event.share;
    }, stop.signal).catch(() => {});
  }, 350);
  try {
    const result = await app.result(kind);
    if (turn === place.turn) refill(place, draw(result));
  } catch (error) {
    if (turn === place.turn && error.name !== "AbortError")
      refill(place, title ? h("h1", { tabindex: "-1" }, title) : null,
        h("div", { class: "note" },
        h("p", { role: "alert" }, error.message),
        button("Work it out again", () =>
          app.working(kind, place, draw, title))));
  } finally {
    clearTimeout(slow);
    stop.abort();
    box.remove();
    if (turn === place.turn) place.removeAttribute("aria-busy");
  }
};

/* ---- from address to screen --------------------------------------------- */

async function open(id) {
  if (app.keeper && app.keeper.id === id) return;
  await close();
  app.known = {};
  app.forget();
  const entry = await api.get(id);
  // a case that was left may still hear of its last save
  const keeper = new Keeper(entry, (what) => {
    if (app.keeper === keeper) told(what);
  });
  app.keeper = keeper;
}

async function close() {
  const had = app.keeper;
  if (had && !had.trouble) await had.flush().catch(() => {});
  app.keeper = null;
  for (const name of ["moved", "lost", "refused", "fail"]) app.notice(name);
}

function nothingHere(error) {
  return h("div", { class: "page" }, h("h1", { tabindex: "-1" },
    error instanceof Silence ? "The program does not answer"
      : error.status === 404 ? "There is no such case"
      : "This cannot be shown"),
  h("p", {}, error.message),
  h("div", { class: "ends" },
    h("a", { class: "button plain", href: "#/" }, "All cases"),
    button("Try again", route, "main")));
}

function noToken() {
  return h("div", { class: "page" },
    h("h1", { tabindex: "-1" }, "Open the printed address"),
    h("p", {}, "The program prints an address when it starts. It holds the " +
      "key to the cases. Open that one."),
    h("p", { class: "small" }, "Nobody else on this computer can read a " +
      "case without it."));
}

function show(fresh) {
  const main = at("main");
  const focused = document.activeElement?.id;
  const y = scrollY;
  app.view?.left?.();
  drawBar();
  drawRail();
  document.body.classList.toggle("in-case", !!app.keeper);
  const screen = app.step || (app.keeper ? overview : cases);
  app.view = screen.show(app);
  refill(main, whereNow(), app.view.node, backAndNext());
  const h1 = main.querySelector("h1");
  document.title = h1 ? `${h1.textContent} - Halfturn` : "Halfturn";
  if (fresh) {
    scrollTo(0, 0);
    if (h1 && app.moved) {
      h1.tabIndex = -1;
      h1.focus({ preventScroll: true });
    }
    app.moved = true;
  } else {
    scrollTo(0, y);
    if (focused) at(focused)?.focus({ preventScroll: true });
  }
}

async function route() {
  takeToken();
  const main = at("main");
  if (!token()) { refill(main, noToken()); drawBar(); return; }
  const parts = location.hash.replace(/^#\/?/, "").split("/");
  try {
    if (parts[0] === "case" && /^\d+$/.test(parts[1] || "")) {
      await open(Number(parts[1]));
      app.step = steps.find((step) => step.id === parts[2]) || null;
    } else {
      await close();
      app.step = null;
    }
    show(true);
  } catch (error) {
    app.step = null;
    app.keeper = null;
    drawBar();
    drawRail();
    refill(main, error.status === 403 ? noToken() : nothingHere(error));
    main.querySelector("h1").focus();
  }
}

window.addEventListener("hashchange", route);
window.addEventListener("pagehide", () => app.keeper?.leave());
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "hidden") app.keeper?.leave();
});
route();

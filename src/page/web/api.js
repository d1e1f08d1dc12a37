/* The HTTP interface: docs/http.md. */

const TOKEN = "halfturn-token";

/* The address that the program printed carries the token behind '#'. */
export function takeToken() {
  const found = /^#([A-Za-z0-9_-]{16,})$/.exec(location.hash);
  if (!found) return;
  sessionStorage.setItem(TOKEN, found[1]);
  history.replaceState(null, "", "/#/");
}

export const token = () => sessionStorage.getItem(TOKEN) || "";

export class Refusal extends Error {
  constructor(status, body) {
    const error = body && body.error;
    super(error && error.text
      ? error.text : "The program gave no answer that makes sense.");
    this.status = status;
    this.id = error ? error.id : "bug";
    this.now = body && body.now;
  }
}

export class Silence extends Error {
  constructor() {
    super("The program does not answer. Is it still running?");
    this.id = "silence";
  }
}

async function ask(method, path, body, more = {}) {
  let answer;
  try {
    answer = await fetch(path, {
      method, body, ...more, headers: { "Halfturn-Token": token() },
    });
  } catch (error) {
    if (error.name === "AbortError") throw error;
    throw new Silence();
  }
  const json = answer.status === 204 ? null
    : await answer.json().catch(() => null);
  if (!answer.ok) throw new Refusal(answer.status, json);
  return json;
}

const newKey = () => Array.from(crypto.getRandomValues(new Uint8Array(12)),
  (byte) => byte.toString(16).padStart(2, "0")).join("");

const kase = (id, rest = "") => `/api/cases/${id}${rest}`;

export const api = {
  newKey,
  about: () => ask("GET", "/api/"),
  list: () => ask("GET", "/api/cases"),
  add: (sheet) => ask("POST", `/api/cases?key=${newKey()}`,
    JSON.stringify(sheet)),
  sample: () => ask("POST", `/api/cases/sample?key=${newKey()}`),
  get: (id) => ask("GET", kase(id)),
  save: (id, from, key, text, more) =>
    ask("PUT", kase(id, `?from=${from}&key=${key}`), text, more),
  undo: (id, from) => ask("POST", kase(id, `/undo?from=${from}`)),
  redo: (id, from) => ask("POST", kase(id, `/redo?from=${from}`)),
  remove: (id) => ask("DELETE", kase(id)),
  work: (id, kind) => ask("GET", kase(id, `/${kind}`)),
  workSent: (kind, sheet) => ask("POST", `/api/${kind}`,
    JSON.stringify(sheet)),
  parts: (id, words) => ask("GET", kase(id, `/parts?${words}`)),
  cancel: (id) => ask("POST", kase(id, "/cancel")),
  dropFile: (id, name) =>
    ask("DELETE", kase(id, `/files/${encodeURIComponent(name)}`)),
  link: (id, rest) => kase(id, rest) +
    `${rest.includes("?") ? "&" : "?"}token=${encodeURIComponent(token())}`,
};

/* A body with a share told on the way: fetch cannot do that yet. */
function send(method, path, file, tell) {
  const request = new XMLHttpRequest();
  const done = new Promise((resolve, reject) => {
    request.open(method, path);
    request.setRequestHeader("Halfturn-Token", token());
    request.upload.onprogress = (event) => {
      if (event.lengthComputable) tell(event.loaded / event.total);
    };
    request.onerror = () => reject(new Silence());
    request.onabort = () => reject(new DOMException("", "AbortError"));
    request.onload = () => {
      let body = null;
      try { body = JSON.parse(request.responseText); } catch { /* no JSON */ }
      if (request.status >= 200 && request.status < 300) resolve(body);
      else reject(new Refusal(request.status, body));
    };
    request.send(file);
  });
  return { done, stop: () => request.abort() };
}

export const upload = (id, name, file, tell) =>
  send("PUT", kase(id, `/files/${encodeURIComponent(name)}`), file, tell);
export const importZip = (file, tell) =>
  send("POST", `/api/cases/import?key=${newKey()}`, file, tell);

/* Follows the work of a case until it ends or the signal stops it. */
export async function follow(id, tell, signal) {
  const answer = await fetch(kase(id, "/progress"), {
    headers: { "Halfturn-Token": token() }, signal,
  });
  if (!answer.ok || !answer.body) return;
  const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    rest += value;
    const events = rest.split("\n\n");
    rest = events.pop();
    for (const event of events)
      if (event.startsWith("data: ")) tell(JSON.parse(event.slice(6)));
  }
}

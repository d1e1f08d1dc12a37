/* Elements. Text goes in as text, never as markup. */

const SVG = "http://www.w3.org/2000/svg";

function put(element, props) {
  for (const [name, value] of Object.entries(props || {})) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "value" || name === "checked" || name === "hidden")
      element[name] = value;
    else element.setAttribute(name, value === true ? "" : value);
  }
}

function fill(element, kids) {
  for (const kid of kids.flat(9))
    if (kid !== undefined && kid !== null && kid !== false)
      element.append(kid);
  return element;
}

export function h(tag, props, ...kids) {
  const element = document.createElement(tag);
  put(element, props);
  return fill(element, kids);
}

export function s(tag, props, ...kids) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(props || {})) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, typeof value === "number"
      ? String(Math.round(value * 100) / 100) : value);
  }
  return fill(element, kids);
}

export function refill(element, ...kids) {
  element.replaceChildren();
  return fill(element, kids);
}

let made = 0;
export const newId = (stem) => `${stem}-${++made}`;

/* Draws now and whenever its place gets another width. */
export function drawn(draw, classes) {
  const place = h("div", { class: "plate " + (classes || "") });
  let width = 0;
  const again = () => {
    const now = Math.max(60, Math.floor(place.clientWidth));
    if (place.clientWidth === 0 || now === width) return;
    width = now;
    refill(place, draw(now));
  };
  new ResizeObserver(again).observe(place);
  place.redraw = () => { width = 0; again(); };
  return place;
}

let speaking;
export function say(text) {
  const said = document.getElementById("said");
  clearTimeout(speaking);
  said.textContent = "";
  speaking = setTimeout(() => { said.textContent = text; }, 60);
}

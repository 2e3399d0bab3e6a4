// Elements made of plain words: whatever a source or a person says is text, never markup.

const SVG = "http://www.w3.org/2000/svg";

function filled(made, given, children) {
  for (const [key, value] of Object.entries(given)) {
    if (value === false || value === null || value === undefined) continue;
    if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else made.setAttribute(key, value === true ? "" : String(value));
  }
  made.append(...children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false && child !== ""));
  return made;
}

export const el = (name, given = {}, ...children) => filled(document.createElement(name), given, children);
export const svg = (name, given = {}, ...children) => filled(document.createElementNS(SVG, name), given, children);
export const big = (words, work, more = {}) => el("button", { type: "button", class: "big", onclick: work, ...more }, words);
export const byId = (id) => document.getElementById(id);

// Elements made of plain words: whatever a source says is text, never markup.

export function el(name, given = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(given)) {
    if (key === "class") made.className = value;
    else if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else if (typeof value === "boolean" && !key.startsWith("aria")) made.toggleAttribute(key, value);
    else if (key === "value") made.value = value;
    else made.setAttribute(key, String(value));
  }
  made.append(...children.filter((child) => child !== null && child !== undefined && child !== ""));
  return made;
}

export const byId = (id) => document.getElementById(id);

let timer = 0;

export function say(words, stays = false) {
  const line = byId("said");
  line.textContent = words;
  line.hidden = !words;
  clearTimeout(timer);
  if (words && !stays) timer = setTimeout(() => { line.hidden = true; }, 6000);
}

// Search over all sources; each place is shown on its page.
import { ask } from "./ask.js";
import { sourceOf } from "./desk.js";
import { byId, el, say } from "./dom.js";
import * as sheet from "./sheet.js";

export function begin(leave) {
  byId("find").addEventListener("submit", async (event) => {
    event.preventDefault();
    const query = byId("query").value.trim();
    if (!query) {
      leave();
      return;
    }
    say("Searching …", true);
    try {
      show(await ask("search", { q: query }));
      say("");
    } catch (refused) {
      say(refused.message);
    }
  });
}

function show({ query, hits }) {
  const many = hits.length === 1 ? "1 place" : `${hits.length} places`;
  const head = hits.length ? `“${query}”: ${many}` : `“${query}” stands nowhere in these sources.`;
  byId("found").replaceChildren(el("p", {}, head), el("ol", {}, ...hits.map(item)));
  byId("found").hidden = false;
  byId("list").hidden = true;
  byId("end").textContent = "";
  for (const one of byId("views").children) one.setAttribute("aria-pressed", "false");
  byId("found").querySelector("button.hit")?.click();
  byId("found").querySelector("button.hit")?.focus();
}

function item(hit) {
  const known = sourceOf(hit.source);
  const place = hit.place.at === "pdf" ? sheet.where(known, hit.place.pdf_page)
    : `${known.title}, ${hit.place.file ? `${hit.place.file}, ` : ""}line ${hit.place.line}`;
  return el("li", {}, el("button", { type: "button", class: "hit", onclick: (event) => go(event.currentTarget, hit) },
    el("span", { class: "where" }, hit.near ? place : `${place} (not together)`),
    hit.before ? `… ${hit.before} ` : "", el("mark", {}, hit.found), hit.after ? ` ${hit.after} …` : ""));
}

async function go(button, hit) {
  for (const one of byId("found").querySelectorAll("button.hit")) one.setAttribute("aria-current", String(one === button));
  await sheet.matches(hit);
}

// What is known between two questions: the state above the list, the sources, the sections, who is correcting.
import { ask, tell } from "./ask.js";
import { byId, say } from "./dom.js";

export const desk = { state: null, sources: [], sections: [], listeners: [] };

export function onChange(listener) {
  desk.listeners.push(listener);
}

export async function open() {
  [desk.state, desk.sources, desk.sections] = await Promise.all([ask("state"), ask("sources"), ask("sections")]);
  byId("by").value = desk.state.by || localStorage.getItem("by") || "";
  byId("by").addEventListener("change", () => localStorage.setItem("by", author()));
  shown();
}

export const author = () => byId("by").value.trim();

export function sourceOf(id) {
  return desk.sources.find((one) => one.id === id);
}

function shown() {
  byId("sentence").textContent = desk.state.sentence;
  document.title = desk.state.sentence;
  const undo = byId("undo");
  undo.disabled = !desk.state.last;
  undo.title = desk.state.last ? `Takes back: ${desk.state.last}` : "";
}

async function changed(state) {
  desk.state = state;
  desk.sections = await ask("sections");
  shown();
  for (const listener of desk.listeners) await listener();
}

export function named() {
  if (author()) return true;
  say("Type your name first: each correction carries it.");
  byId("by").focus();
  return false;
}

async function told(path, body) {
  const main = document.querySelector("main");
  if (main.getAttribute("aria-busy") === "true") return "The last one is still being saved.";
  main.setAttribute("aria-busy", "true");
  say("Saving …", true);
  try {
    await changed(await tell(path, { ...body, by: author(), seen: desk.state.seen }));
    return "";
  } catch (refused) {
    say("");
    if (refused.conflict) desk.state = await ask("state");
    if (refused.conflict) shown();
    return refused.message;
  } finally {
    main.setAttribute("aria-busy", "false");
  }
}

// "" when it is saved, else why not, in words.
export const save = (correction) => told("save", correction);
export const undo = (correction = "") => told("undo", { correction });

// The correcting page: opens the desk, and hears every key.
import * as desk from "./desk.js";
import { byId, el, say } from "./dom.js";
import * as drawing from "./drawing.js";
import * as find from "./find.js";
import * as list from "./list.js";
import * as sheet from "./sheet.js";

const KEYS = [
  ["↑ ↓", "the line before, the next one", null],
  ["Enter", "open the line, close it", null],
  ["e", "correct: into the fields of the line", () => list.unfold()],
  ["c", "right as it was read", () => press("Right as read", "I looked: settled")],
  ["n", "not a step", () => press("Not a step")],
  ["a", "add a step that was not read", () => drawing.start()],
  ["z", "take back the last", () => byId("undo").click()],
  ["/", "find in all sources", () => byId("query").focus()],
  ["[ ]", "page back, page on", null],
  ["1 2 3 4", "to do, this page, put right, all", null],
  ["+", "the page larger, or smaller", () => byId("larger").click()],
  ["Esc", "leave it", null],
  ["?", "these keys", () => keys()],
];
const ACTS = Object.fromEntries(KEYS.filter(([, , act]) => act).map(([key, , act]) => [key, act]));
const singles = () => localStorage.getItem("keys") !== "off";

function press(...names) {
  if (!list.chosen()) return;
  list.unfold(false);
  const buttons = [...byId("list").querySelectorAll(".edit button")];
  buttons.find((one) => names.includes(one.textContent))?.click();
}

function keys() {
  const off = el("input", { type: "checkbox" });
  off.checked = singles();
  off.addEventListener("change", () => localStorage.setItem("keys", off.checked ? "on" : "off"));
  const shut = el("button", { type: "button", class: "first", onclick: () => byId("keys").close() }, "Close");
  const terms = KEYS.flatMap(([key, words]) => [el("dt", {}, key), el("dd", {}, words)]);
  byId("keys").replaceChildren(el("strong", {}, "Keys"), el("dl", {}, ...terms),
    el("p", {}, el("label", {}, off, " single letters are keys")), shut);
  byId("keys").showModal();
}

const typing = (target) => target.matches?.("input:not([type=checkbox]), textarea, select");

function escape() {
  if (drawing.isDrawing()) drawing.stop();
  else if (!byId("found").hidden) list.look("todo");
  else if (list.list.opened) list.toggle();
  else document.activeElement?.blur();
}

function heard(event) {
  if (byId("keys").open || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key === "Escape") {
    event.preventDefault();
    escape();
    return;
  }
  if (typing(event.target) || drawing.isDrawing() || list.list.filling) return;
  const found = !byId("found").hidden;
  if (event.key === "Enter" && !found && !event.target.closest("button, a")) {
    event.preventDefault();
    list.toggle();
  } else if (event.key === "ArrowDown" || event.key === "ArrowUp") {
    event.preventDefault();
    const by = event.key === "ArrowDown" ? 1 : -1;
    if (found) among(by);
    else list.choose(list.list.here + by);
  } else if (singles()) {
    const act = ACTS[event.key] ?? page(event.key) ?? view(event.key);
    if (!act) return;
    event.preventDefault();
    act();
  }
}

const page = (key) => ({ "[": () => sheet.turnBy(-1), "]": () => sheet.turnBy(1) })[key];

function view(key) {
  const name = ["todo", "page", "done", "all"][Number(key) - 1];
  return name ? () => list.look(name) : undefined;
}

function among(by) {
  const hits = [...byId("found").querySelectorAll("button.hit")];
  const at = hits.findIndex((one) => one.getAttribute("aria-current") === "true");
  const next = hits[Math.min(hits.length - 1, Math.max(0, at + by))];
  next?.click();
  next?.focus();
}

async function takeBack() {
  if (!desk.named()) return;
  say((await desk.undo()) || "Taken back.");
}

async function start() {
  try {
    await desk.open();
    sheet.begin(list.pick);
    drawing.begin(list.chosen);
    find.begin(() => list.look("todo"));
    byId("undo").addEventListener("click", takeBack);
    byId("help").addEventListener("click", keys);
    document.addEventListener("keydown", heard);
    await list.begin();
    if (!sheet.sheet.source) {
      const paged = desk.desk.sources.find((one) => one.pages) ?? desk.desk.sources[0];
      if (paged) await sheet.turn(paged.id, 1);
    }
  } catch (refused) {
    say(refused.message, true);
  }
}

start();

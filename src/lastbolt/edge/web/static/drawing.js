// A step that was not read: draw a box around its words, by pointer or by keys, and say where it belongs.
import { ask } from "./ask.js";
import { desk, named, save } from "./desk.js";
import { byId, el, say } from "./dom.js";
import { sectionList, sectionNamed } from "./fields.js";
import { place, sheet } from "./sheet.js";

const drawing = { box: null, frame: null, panel: null, chosen: () => undefined };
const STEP = 0.01;

export const isDrawing = () => Boolean(drawing.frame || drawing.panel);

export function begin(chosen) {
  drawing.chosen = chosen;
  byId("add").addEventListener("click", start);
}

export function start() {
  stop();
  if (!sheet.leaf) {
    withoutBox();
    return;
  }
  const top = visible();
  drawing.box = [0.1, top, 0.9, Math.min(1, top + 0.03)];
  drawing.frame = el("div", { class: "drawn", tabindex: 0, role: "application", "aria-label": "Box around the step: arrows move it, Shift and arrows size it, Enter takes it" });
  place(drawing.frame, drawing.box);
  sheet.leaf.append(drawing.frame);
  sheet.leaf.classList.add("drawing");
  sheet.leaf.addEventListener("pointerdown", pull);
  drawing.frame.addEventListener("keydown", keyed);
  drawing.frame.focus({ preventScroll: true });
  say("Draw a box around the step. Or: arrows move it, Shift and arrows size it, Enter takes it.", true);
}

export function stop() {
  drawing.frame?.remove();
  drawing.panel?.remove();
  sheet.leaf?.classList.remove("drawing");
  sheet.leaf?.removeEventListener("pointerdown", pull);
  Object.assign(drawing, { box: null, frame: null, panel: null });
  say("");
}

// Where no page is shown, the new step goes behind the one whose line is chosen.
function withoutBox() {
  const fact = drawing.chosen();
  panel(null, "", fact && { id: fact.sort === "step" ? fact.id : fact.of, under: fact.under });
}

function visible() {
  const seen = byId("paper").scrollTop + byId("paper").clientHeight / 3;
  return Math.min(0.95, Math.max(0, seen / sheet.leaf.offsetHeight));
}

function at(event) {
  const edge = sheet.leaf.getBoundingClientRect();
  const share = (value, from, size) => Math.min(1, Math.max(0, (value - from) / size));
  return [share(event.clientX, edge.left, edge.width), share(event.clientY, edge.top, edge.height)];
}

function pull(event) {
  event.preventDefault();
  const leaf = sheet.leaf;
  const [x, y] = at(event);
  leaf.setPointerCapture(event.pointerId);
  const move = (moved) => {
    const [nx, ny] = at(moved);
    drawing.box = [Math.min(x, nx), Math.min(y, ny), Math.max(x, nx), Math.max(y, ny)];
    place(drawing.frame, drawing.box);
  };
  const end = () => {
    leaf.removeEventListener("pointermove", move);
    leaf.removeEventListener("pointerup", end);
    const [left, top, right, bottom] = drawing.box;
    if (right - left > 0.01 && bottom - top > 0.004) take();
  };
  leaf.addEventListener("pointermove", move);
  leaf.addEventListener("pointerup", end);
}

function keyed(event) {
  const moves = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP / 2], ArrowDown: [0, STEP / 2] };
  if (event.key === "Enter") take();
  else if (!(event.key in moves)) return;
  else {
    const [dx, dy] = moves[event.key];
    let [left, top, right, bottom] = drawing.box;
    if (!event.shiftKey) [left, top] = [left + dx, top + dy];
    [right, bottom] = [right + dx, bottom + dy];
    if (left >= 0 && top >= 0 && right <= 1 && bottom <= 1 && right - left > 0.01 && bottom - top > 0.004) {
      drawing.box = [left, top, right, bottom];
      place(drawing.frame, drawing.box);
    }
  }
  event.preventDefault();
  event.stopPropagation();
}

// The step that stands above the box on this page, in its column: the new one goes behind it.
function above() {
  const [left, top, right] = drawing.box;
  const steps = sheet.facts.filter((one) => one.sort === "step" && one.box && one.box[1] < top && one.box[0] < right && one.box[2] > left);
  return steps.sort((a, b) => b.box[1] - a.box[1])[0];
}

async function take() {
  sheet.leaf.removeEventListener("pointerdown", pull);
  sheet.leaf.classList.remove("drawing");
  say("Looking up the words …", true);
  const box = drawing.box.map((edge) => Math.round(edge * 1e5) / 1e5);
  const read = await ask("words", { source: sheet.source, page: sheet.page, box: box.join(",") });
  say("");
  panel(box, read.words, above());
}

function panel(box, read, before) {
  const found = /^\s*(\(?\w{1,3}[.)]\)?|\d+)\s+(?=\S)/.exec(read);
  const words = el("textarea", { maxlength: 4000, value: found ? read.slice(found[0].length) : read });
  const mark = el("input", { type: "text", class: "short", maxlength: 20, value: found ? found[1].replace(/[().]/g, "") : "" });
  const own = desk.sections.find((one) => one.id === before?.under) ?? desk.sections.find((one) => one.needed) ?? desk.sections[0];
  const section = el("input", { type: "text", list: "sections", class: "target", value: own?.name ?? "" });
  const behind = el("select", {});
  const fill = (chosen = "") => {
    const steps = sectionNamed(section.value)?.steps ?? [];
    behind.replaceChildren(el("option", { value: "" }, "it is the first"), ...steps.map(([id, name]) => el("option", { value: id }, name)));
    behind.value = steps.some(([id]) => id === chosen) ? chosen : "";
  };
  fill(before?.id);
  section.addEventListener("change", () => fill());
  const wrong = el("p", { class: "wrong", role: "alert", hidden: true });
  const field = (name, input, wide) => el("label", { class: wide ? "field wide" : "field" }, name, input);
  drawing.panel?.remove();
  drawing.panel = el("form", { class: "edit adding", novalidate: true, onsubmit: (event) => {
    event.preventDefault();
    send(box, { words, mark, section, behind, wrong });
  } },
  sectionList(), el("p", {}, "A step that was not read"), field("Its words", words, true),
  el("div", { class: "row" }, field("Mark", mark), field("Section", section)), field("Behind", behind, true),
  el("p", { class: "row" }, el("button", { type: "submit", class: "first" }, "Save"), el("button", { type: "button", onclick: stop }, "Leave it")), wrong);
  byId("facts").insertBefore(drawing.panel, byId("list"));
  byId("facts").scrollTop = 0;
  words.focus();
}

async function send(box, { words, mark, section, behind, wrong }) {
  if (!named()) return;
  const chosen = sectionNamed(section.value);
  const tell = (why) => {
    wrong.textContent = why;
    wrong.hidden = !why;
  };
  if (!chosen || !words.value.trim()) {
    tell(chosen ? "The step has no words." : `There is no section "${section.value}": choose one of the list.`);
    return;
  }
  const printed = desk.sources.find((one) => one.id === sheet.source)?.printed[sheet.page] ?? null;
  const why = await save({
    does: "step missing", fact: chosen.id, saw: chosen.name, words: words.value.trim(), mark: mark.value.trim(),
    behind: behind.value, source: sheet.source,
    place: box && { at: "pdf", pdf_page: sheet.page, printed_page: printed, box },
  });
  tell(why);
  if (!why) {
    stop();
    say("Saved: the step stands in the plan.");
  }
}

// The page: its picture, and a frame over each fact on it. Of a table the lines around the one that is meant.
import { ask } from "./ask.js";
import { desk, onChange, sourceOf } from "./desk.js";
import { byId, el } from "./dom.js";

export const sheet = { source: "", page: 0, leaf: null, facts: [], current: "", matches: [], pick: () => {} };

export function begin(pick) {
  sheet.pick = pick;
  const choice = byId("source");
  choice.replaceChildren(...desk.sources.map((one) => el("option", { value: one.id }, one.title)));
  choice.addEventListener("change", () => turn(choice.value, 1));
  byId("back").addEventListener("click", () => turnBy(-1));
  byId("on").addEventListener("click", () => turnBy(1));
  byId("number").addEventListener("change", () => turn(sheet.source, Number(byId("number").value)));
  byId("larger").addEventListener("click", larger);
  onChange(frames);
}

function larger() {
  const pressed = byId("larger").getAttribute("aria-pressed") !== "true";
  byId("larger").setAttribute("aria-pressed", String(pressed));
  sheet.leaf?.classList.toggle("wide", pressed);
  reveal();
}

export function turnBy(pages) {
  return turn(sheet.source, sheet.page + pages);
}

export async function turn(source, page) {
  const known = sourceOf(source);
  if (!known || !known.pages) return;
  const wanted = Math.min(Math.max(1, Math.round(page) || 1), known.pages);
  if (source === sheet.source && wanted === sheet.page && sheet.leaf) return;
  Object.assign(sheet, { source, page: wanted, matches: [] });
  head(known, wanted);
  if (!known.pictures) {
    paper(el("p", {}, `The file ${known.file} is not at hand, so this page cannot be shown.`));
    sheet.leaf = null;
    return;
  }
  const fine = window.devicePixelRatio > 1 || window.innerWidth > 1100 ? "large" : "small";
  const path = `page/${encodeURIComponent(source)}/${wanted}/${fine}`;
  const wide = byId("larger").getAttribute("aria-pressed") === "true";
  const image = el("img", { src: path, alt: where(known, wanted) });
  const leaf = el("div", { class: wide ? "leaf wide coming" : "leaf coming" }, image);
  image.addEventListener("load", () => leaf.classList.remove("coming"));
  image.addEventListener("error", () => {
    if (leaf === sheet.leaf) leaf.prepend(el("p", {}, "This page could not be drawn."));
  });
  sheet.leaf = leaf;
  paper(sheet.leaf);
  await frames();
}

function paper(child) {
  byId("paper").replaceChildren(child);
  byId("paper").scrollTop = 0;
}

function head(known, page) {
  byId("source").value = known.id;
  byId("number").value = page;
  byId("number").max = known.pages;
  const printed = known.printed[page];
  byId("of").textContent = `of ${known.pages}`;
  byId("printed").textContent = printed ? `printed ${printed}` : "";
}

export function where(known, page) {
  const printed = known.printed[page];
  return `${known.title}, ${printed ? `printed page ${printed}, ` : ""}PDF page ${page}`;
}

async function frames() {
  const { leaf, source, page } = sheet;
  if (!leaf) return;
  const portion = await ask("list", { source, page, count: 200 });
  if (leaf !== sheet.leaf) return;
  sheet.facts = portion.facts;
  leaf.querySelectorAll(".frame").forEach((one) => one.remove());
  leaf.append(...together(portion.facts).map(frame), ...sheet.matches.map(match));
  mark();
}

// Facts of one sentence stand in one frame: several buttons over each other could not be told apart.
function together(facts) {
  const groups = new Map();
  for (const fact of facts.filter((one) => one.box)) {
    const key = fact.box.join();
    groups.set(key, [...(groups.get(key) ?? []), fact]);
  }
  return [...groups.values()];
}

const LOUD = ["orphan", "open", "elsewhere", "doubtful", "put right", "confirmed", "as read"];

function frame(group) {
  const first = [...group].sort((a, b) => LOUD.indexOf(a.state) - LOUD.indexOf(b.state))[0];
  const kind = first.state === "put right" ? "right" : first.state.replace(" ", "-");
  const made = el("button", {
    type: "button", class: `frame ${kind}`, "aria-label": `${first.state}: ${first.words}`,
    onclick: () => sheet.pick(next(group, first)),
  });
  made.dataset.facts = group.map((one) => `${one.id}\n${one.words}`).join("\u0000");
  place(made, first.box);
  return made;
}

// A second click on a frame goes to the next fact of the same sentence.
function next(group, first) {
  const at = group.findIndex((one) => `${one.id}\n${one.words}` === sheet.current);
  return at < 0 ? first : group[(at + 1) % group.length];
}

function match(box) {
  const made = el("div", { class: "frame match" });
  place(made, box);
  return made;
}

export function place(made, [left, top, right, bottom]) {
  made.style.left = `${left * 100}%`;
  made.style.top = `${top * 100}%`;
  made.style.width = `${(right - left) * 100}%`;
  made.style.height = `${(bottom - top) * 100}%`;
}

function mark() {
  for (const one of byId("paper").querySelectorAll(".frame:not(.match)")) {
    const here = one.dataset.facts.split("\u0000").includes(sheet.current);
    one.setAttribute("aria-current", String(here));
  }
}

export async function show(fact) {
  sheet.current = `${fact.id}\n${fact.words}`;
  if (fact.page) await turn(fact.source, fact.page);
  else if (fact.line) await lines(fact);
  mark();
  reveal(fact.box);
}

export async function matches(hit) {
  sheet.matches = [];
  sheet.current = "";
  if (hit.place.at === "pdf") {
    await turn(hit.source, hit.place.pdf_page);
    sheet.matches = hit.boxes;
    await frames();
    reveal(hit.boxes[0]);
  } else if (hit.place.line) {
    await lines({ source: hit.source, line: hit.place.line });
  }
}

async function lines(fact) {
  const known = sourceOf(fact.source);
  Object.assign(sheet, { source: fact.source, page: 0, leaf: null });
  byId("source").value = fact.source;
  byId("of").textContent = "";
  byId("printed").textContent = `line ${fact.line}`;
  byId("number").value = "";
  const around = await ask("lines", { source: fact.source, line: fact.line });
  const items = around.lines.map((one) =>
    el("li", { class: one.line === fact.line ? "here" : "" }, el("b", {}, String(one.line)), one.words));
  paper(el("div", {}, el("p", {}, known ? known.title : ""), el("ul", { class: "typed" }, ...items)));
}

export function reveal(box) {
  const now = byId("paper").querySelector('.frame[aria-current="true"], .frame.match');
  if (!sheet.leaf || !(now || box)) return;
  const image = sheet.leaf.querySelector("img");
  const go = () => {
    const top = box ? box[1] * sheet.leaf.offsetHeight : now.offsetTop;
    const left = box ? box[0] * sheet.leaf.offsetWidth : now.offsetLeft;
    byId("paper").scrollTo({ top: Math.max(0, top - byId("paper").clientHeight / 3), left: Math.max(0, left - 16) });
  };
  if (image.complete) go();
  else image.addEventListener("load", go, { once: true });
}

// The page: its picture, and a frame over each fact on it. Of a table the lines around the one that is meant.
import { ask } from "./ask.js";
import { desk, onChange, sourceOf } from "./desk.js";
import { byId, el } from "./dom.js";

const SCREEN = 30;

export const sheet = { source: "", page: 0, lines: null, leaf: null, facts: [], current: "", matches: [], pick: () => {} };

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
  if (!sheet.lines) return turn(sheet.source, sheet.page + pages);
  const at = sheet.lines.at + pages * SCREEN;
  return lines({ source: sheet.source, at: Math.min(Math.max(0, at), Math.max(0, sheet.lines.total - 1)) });
}

export async function turn(source, page) {
  const known = sourceOf(source);
  if (!known) return;
  if (!known.pages) {
    await lines({ source, line: page });
    return;
  }
  const wanted = Math.min(Math.max(1, Math.round(page) || 1), known.pages);
  if (source === sheet.source && wanted === sheet.page && sheet.leaf) return;
  Object.assign(sheet, { source, page: wanted, lines: null, matches: [] });
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
    type: "button", tabindex: -1, class: `frame ${kind}`, "aria-label": `${first.state}: ${first.words}`,
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
  else if (fact.line) await lines({ source: fact.source, file: fact.file, line: fact.line });
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
    await lines({ source: hit.source, file: hit.place.file ?? "", line: hit.place.line });
  }
}

// A source without pages: the lines around the one that is meant; a line leads to what was read of it.
async function lines(wanted) {
  const asked = Object.fromEntries(Object.entries(wanted).filter(([, value]) => value !== "" && value !== undefined));
  const around = await ask("lines", asked);
  const here = around.lines.find((one) => one.here);
  if (!here) return;
  const inFile = around.lines.filter((one) => one.file === here.file);
  const span = { file: here.file, from: inFile[0].line, to: inFile.at(-1).line };
  Object.assign(sheet, { source: wanted.source, page: 0, leaf: null, facts: [], matches: [] });
  sheet.lines = { ...span, at: here.at, total: around.total };
  byId("source").value = wanted.source;
  byId("number").value = here.line;
  byId("number").removeAttribute("max");
  byId("of").textContent = "line";
  byId("printed").textContent = here.file;
  const line = (one) => el("li", {}, el("button", { type: "button", class: one.here ? "typed here" : "typed",
    onclick: () => ofLine(one) }, el("b", {}, String(one.line)), el("span", {}, one.words)));
  paper(el("ol", { class: "typed" }, ...around.lines.map(line)));
  byId("paper").querySelector(".here")?.scrollIntoView({ block: "center" });
}

async function ofLine(one) {
  const asked = { source: sheet.source, file: one.file, from: one.line, to: one.line, count: 1 };
  const [fact] = (await ask("list", asked)).facts;
  if (fact) await sheet.pick(fact);
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

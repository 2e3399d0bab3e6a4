// The list of facts: what the goal needs first. One line is chosen; its place is framed on the page.
import { ask } from "./ask.js";
import { desk, onChange } from "./desk.js";
import { byId, el } from "./dom.js";
import { form } from "./form.js";
import * as sheet from "./sheet.js";

const PORTION = 80;
const PARTS = {
  orphan: "Corrections that no longer fit",
  open: "Keeps this goal open",
  "doubtful here": "Doubtful, in the work for this goal",
  doubtful: "Doubtful elsewhere",
  "put right": "Put right",
  rest: "As read",
};
const VIEWS = { todo: "To do", page: "This page", done: "Put right", all: "All" };
const STATES = {
  open: "open", doubtful: "doubtful", "as read": "as read", confirmed: "looked at", "put right": "put right",
  orphan: "no longer fits", elsewhere: "for the bench",
};
const SORTS = {
  procedure: "section", step: "step", reference: "points elsewhere", torque: "torque", count: "count", limit: "limit",
  row: "parts list", "table row": "table", "torque row": "torque table", page: "page", problem: "doubt",
};
export const list = { view: "todo", facts: [], total: 0, here: -1, opened: false, busy: false, filling: 0 };
const key = (fact) => `${fact.id}\n${fact.words}`;

export async function begin() {
  byId("views").replaceChildren(...Object.keys(VIEWS).map((view) =>
    el("button", { type: "button", "data-view": view, onclick: () => look(view) })));
  onChange(() => fill({ keep: true }));
  new IntersectionObserver(([end]) => end.isIntersecting && more()).observe(byId("end"));
  await fill({});
}

export async function look(view) {
  list.view = view;
  byId("found").hidden = true;
  byId("list").hidden = false;
  await fill({});
}

const asked = (first) => list.view === "page"
  ? { source: sheet.sheet.source, ...spot(), first, count: PORTION }
  : { view: list.view, first, count: PORTION };

const spot = () => {
  const { page, lines } = sheet.sheet;
  return lines ? { file: lines.file, from: lines.from, to: lines.to } : { page };
};

// While a list is on its way no key may act: it would act on a line that is going.
async function fill(how) {
  list.filling += 1;
  try {
    await filled(how);
  } finally {
    list.filling -= 1;
  }
}

async function filled({ keep = false }) {
  const before = list.facts[list.here];
  const next = list.facts[list.here + 1];
  const portion = await ask("list", asked(0));
  Object.assign(list, { facts: portion.facts, total: portion.total, here: -1, opened: false });
  draw();
  const find = (fact) => (fact ? list.facts.findIndex((one) => key(one) === key(fact)) : -1);
  const at = keep && find(before) >= 0 ? find(before) : keep ? find(next) : 0;
  if (list.facts.length) await choose(Math.max(0, at), { focus: keep });
}

async function more() {
  if (list.busy || list.facts.length >= list.total) return;
  list.busy = true;
  const portion = await ask("list", asked(list.facts.length));
  const first = list.facts.length;
  list.facts.push(...portion.facts);
  byId("list").append(...items(first));
  ending();
  list.busy = false;
}

function draw() {
  const counts = desk.state.counts;
  const sum = (...names) => names.reduce((all, name) => all + (counts[name] ?? 0), 0);
  const numbers = {
    todo: sum("orphan", "open", "doubtful here", "doubtful"), page: "", done: sum("put right"),
    all: sum("open", "doubtful here", "doubtful", "put right", "rest"),
  };
  for (const one of byId("views").children) {
    const view = one.dataset.view;
    one.textContent = `${VIEWS[view]} ${numbers[view]}`.trim();
    one.setAttribute("aria-pressed", String(view === list.view && byId("found").hidden));
  }
  byId("list").replaceChildren(...items(0));
  ending();
}

function ending() {
  const none = { todo: "Nothing open, nothing doubtful.", page: "Nothing was read on this page.",
    done: "Nothing was put right yet.", all: "Nothing was read." };
  byId("end").textContent = list.total ? (list.facts.length < list.total ? "…" : "") : none[list.view];
}

function items(first) {
  const made = [];
  for (let at = first; at < list.facts.length; at += 1) {
    const fact = list.facts[at];
    const before = at ? list.facts[at - 1].group : "";
    if (list.view === "todo" && fact.group !== before) made.push(el("li", { class: "part" }, PARTS[fact.group]));
    made.push(item(fact, at));
  }
  return made;
}

function item(fact, at) {
  const loud = ["open", "doubtful", "orphan"].includes(fact.state);
  const line = el("button", { type: "button", class: "line", "aria-expanded": false, onclick: () => toggle(at) },
    el("span", { class: loud ? "state loud" : "state" }, STATES[fact.state]),
    words(fact));
  return el("li", { class: "fact", "data-at": at, "data-id": fact.id }, line);
}

function words(fact) {
  const mark = fact.mark && fact.sort === "step" ? `${fact.mark} ` : "";
  const name = [fact.section, SORTS[fact.sort]].filter(Boolean).join(" · ");
  const doubt = fact.sort === "problem" && fact.state !== "elsewhere" && fact.state !== "orphan";
  const said = fact.state === "orphan" ? `${fact.by}: ${fact.said}` : doubt ? fact.doubts[0] : fact.words;
  const quoted = fact.sort === "problem" || fact.sort === "page" || fact.state === "orphan" || fact.state === "elsewhere";
  const doubts = fact.sort === "problem" ? [] : fact.doubts;
  return el("span", { class: "words" },
    el("small", {}, fact.state === "elsewhere" || doubt ? fact.where : name),
    fact.sort === "page" ? fact.where : quoted ? said : el("q", {}, `${mark}${said}`),
    fact.read_as && fact.sort !== "problem" && fact.sort !== "step" ? el("small", {}, `read as: ${fact.read_as}`) : null,
    ...(fact.by && fact.state !== "orphan" ? [] : doubts).map((one) => el("em", {}, one)),
    fact.by && fact.state !== "orphan" ? el("em", {}, `${fact.by}: ${fact.said}`) : null,
    fact.do ? el("em", {}, fact.do) : null);
}

export async function choose(at, { focus = true } = {}) {
  if (at < 0 || at >= list.facts.length) return;
  shut();
  list.here = at;
  const lines = byId("list").querySelectorAll("li.fact");
  lines.forEach((one, number) => one.classList.toggle("here", number === at));
  const line = lines[at].querySelector("button.line");
  if (focus) line.focus({ preventScroll: true });
  lines[at].scrollIntoView({ block: "nearest" });
  if (at > list.facts.length - 10) more();
  await sheet.show(list.facts[at]);
}

export const chosen = () => list.facts[list.here];

export async function toggle(at = list.here) {
  if (at === list.here && list.opened) {
    shut();
    byId("list").querySelectorAll("li.fact")[at].querySelector("button.line").focus();
    return;
  }
  await choose(at);
  unfold(false);
}

export function unfold(enter = true) {
  const fact = chosen();
  const line = byId("list").querySelectorAll("li.fact")[list.here];
  if (!fact || list.opened) {
    if (enter && fact) line.querySelector(".edit :is(textarea, input, select)")?.focus();
    return;
  }
  const made = form(fact);
  line.append(made);
  line.querySelector("button.line").setAttribute("aria-expanded", "true");
  list.opened = true;
  line.scrollIntoView({ block: "nearest" });
  if (enter) made.querySelector("textarea, input, select, button")?.focus();
}

export function shut() {
  byId("list").querySelector(".edit")?.remove();
  byId("list").querySelector('button.line[aria-expanded="true"]')?.setAttribute("aria-expanded", "false");
  list.opened = false;
}

// From a frame on the page to its line: in this view if it stands there, else among those of the page.
export async function pick(fact) {
  let at = list.facts.findIndex((one) => key(one) === key(fact));
  if (at < 0) {
    list.view = "page";
    byId("found").hidden = true;
    byId("list").hidden = false;
    await fill({});
    at = list.facts.findIndex((one) => key(one) === key(fact));
  }
  await choose(at);
}

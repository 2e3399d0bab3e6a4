// Which screen is shown, and what every screen shares: writing, saying, going elsewhere.
import { byId, el } from "./dom.js";
import { may, record, write } from "./record.js";
import { link, once, onlyHere } from "./sync.js";
import { count, t } from "./words.js";

const SAID_MS = 6000;
const screens = {};
const stills = new Set();
const shown = { name: "", given: {}, timer: 0 };

// `still`: a screen on which somebody chooses; news do not draw it anew. None is while something is typed.
export function screen(name, draw, { still = false } = {}) {
  screens[name] = draw;
  if (still) stills.add(name);
}

export function go(name, given = {}) {
  shown.name = name;
  shown.given = given;
  render();
  scrollTo(0, 0);
  byId("main").focus({ preventScroll: true });
}

export const where = () => shown.name;

export function render() {
  if (!screens[shown.name]) return;
  byId("main").replaceChildren(...[screens[shown.name](shown.given)].flat(Infinity).filter(Boolean));
  standing();
  ways();
}

// News from others: drawn at once, with the focus where it was.
export function refresh() {
  const typed = [...byId("main").querySelectorAll("input")].some((box) => box.value || box === document.activeElement);
  if (stills.has(shown.name) || typed) {
    standing();
    return;
  }
  const at = byId("main").contains(document.activeElement) ? document.activeElement.textContent : "";
  render();
  const same = at && [...byId("main").querySelectorAll("button")].find((button) => button.textContent === at);
  if (same) same.focus({ preventScroll: true });
}

function standing() {
  const held = byId("held");
  const mine = onlyHere();
  const words = !record.me ? "" : mine ? count("only_here", mine) : t("all_sent");
  held.textContent = record.me && !link.online ? `${words}, ${t(link.unknown ? "not_known" : "no_network")}` : words;
  held.className = mine ? "only-here" : "";
  const goal = link.plan && link.plan.plan ? link.plan.plan.goal : "";
  byId("where").textContent = [goal, record.me ? record.me.name : ""].filter(Boolean).join(" · ");
  document.title = goal ? `${goal} · lastbolt` : "lastbolt";
}

function ways() {
  const nav = byId("ways");
  nav.hidden = !record.me || shown.name === "join" || shown.name === "elsewhere";
  if (nav.hidden) return;
  const way = (name) => el("button", { type: "button", "aria-current": shown.name === name ? "page" : null, onclick: () => go(name) }, t(name));
  const stuck = el("button", { type: "button", class: "stop", onclick: () => go("stuck") }, t("wont_move"));
  nav.replaceChildren(way("now"), way("joint"), way("trays"), way("more"), stuck);
}

export function say(words) {
  const line = byId("said");
  line.textContent = words;
  byId("where").hidden = Boolean(words);
  clearTimeout(shown.timer);
  if (words) shown.timer = setTimeout(() => say(""), SAID_MS);
}

// Keeps the events on this device; what cannot be kept is said, never lost in silence.
export async function note(words, ...bodies) {
  if (!bodies.every((body) => may(record.me.role, body.event))) {
    say(t("not_your_role", { role: t(`role_${record.me.role}`) }));
    return false;
  }
  try {
    await write(...bodies);
    if (words) say(words);
    once();
    return true;
  } catch (error) {
    if (error.message === "another page") go("elsewhere");
    else say(t("trouble", { why: error.message }));
    return false;
  }
}

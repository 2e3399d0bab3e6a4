// The joint: its picture with every place as it stands here, what lastbolt answered, and going round it.
import { go, note, screen } from "./app.js";
import { big, el, svg } from "./dom.js";
import { differs } from "./differ.js";
import { album, camera } from "./photos.js";
import { newId } from "./ids.js";
import { fold, joint, tally } from "./job.js";
import { record } from "./record.js";
import { keep, kept } from "./store.js";
import { link } from "./sync.js";
import { count, t } from "./words.js";

const ANSWERS = ["light through", "in", "out", "open hole", "rod to the bottom", "slack", "broken off", "solid dowel, both ends", "solid dowel", "hollow dowel, empty", "hollow dowel, bolt in", "nothing here", "cannot see"];
const EDGE_MM = 18;
export const labelOf = (place) => place.label || place.id;
const walk = { on: false, at: 0, answers: new Map(), direction: "", added: [] };

// A walk in the middle outlives the browser throwing the page away.
const keepWalk = () => keep("walk", { ...walk, answers: [...walk.answers].map(([place, saw]) => [place, [...saw]]) });

export async function loadWalk() {
  const held = await kept("walk");
  if (held) Object.assign(walk, held, { answers: new Map(held.answers.map(([place, saw]) => [place, new Set(saw)])) });
}

// "1 to 4, 7": what stands side by side is not counted out.
export function ranges(labels) {
  const told = [];
  for (const label of labels) {
    const last = told[told.length - 1];
    if (last && Number(label) === Number(last[1]) + 1) last[1] = label;
    else told.push([label, label]);
  }
  return told.map(([from, to]) => (from === to ? from : Number(to) === Number(from) + 1 ? `${from}, ${to}` : t("range", { from, to }))).join(", ");
}

// As on every sheet: dark, a fastener is in or nobody knows; light with a line below, somebody looked.
function mark(state, label) {
  const dark = !["out", "dowel"].includes(state);
  const shape = state === "dowel" ? svg("rect", { x: -9, y: -9, width: 18, height: 18 }) : svg("circle", { r: 10 });
  shape.setAttribute("fill", dark ? "#14130f" : "#fff");
  shape.setAttribute("stroke", "#14130f");
  shape.setAttribute("stroke-width", "1.5");
  const beside = {
    "": svg("circle", { r: 13, fill: "none", stroke: "#14130f", "stroke-dasharray": "2 3" }),
    out: svg("path", { d: "M-7,14H7", stroke: "#14130f", "stroke-width": 2 }),
    broken: svg("path", { d: "M-12,-12L12,12", stroke: "#14130f", "stroke-width": 3 }),
    slack: svg("path", { d: "M-7,14q3.5,-5 7,0t7,0", fill: "none", stroke: "#14130f", "stroke-width": 2 }),
    final: svg("path", { d: "M-7,13H7M-7,16H7", stroke: "#14130f", "stroke-width": 1.6 }),
  }[state.startsWith("stage") ? "slack" : state];
  return [shape, svg("text", { fill: dark ? "#fff" : "#14130f" }, label), beside];
}

// The joint with y upwards, as everywhere; `now`: the place that is asked.
export function picture(given, job, now = "") {
  const spots = given.places.filter((place) => place.ends && place.ends.length);
  if (!spots.length) return null;
  const outline = (given.outline_mm || []).map(([x, y]) => [x, -y]);
  const at = spots.map((place) => [place.ends[0].x_mm, -place.ends[0].y_mm]);
  const [xs, ys] = [0, 1].map((axis) => [...outline, ...at].map((point) => point[axis]));
  const [left, top] = [Math.min(...xs) - EDGE_MM, Math.min(...ys) - EDGE_MM];
  const box = [left, top, Math.max(...xs) - left + EDGE_MM, Math.max(...ys) - top + EDGE_MM];
  const known = (place) => job.places.get(`${given.joint}/${place.id}`);
  const places = spots.map((place, number) =>
    svg("g", { transform: `translate(${at[number].join(",")})` },
      place.id === now && svg("circle", { r: 19, fill: "none", stroke: "#7d0f0f", "stroke-width": 4 }),
      mark((known(place) || { state: "" }).state, labelOf(place))));
  const line = outline.length ? svg("polygon", { points: outline.map((point) => point.join(",")).join(" "), fill: "none", stroke: "#14130f", "stroke-width": 1.5 }) : null;
  const told = spots.map((place) => `${labelOf(place)}: ${stateWords(known(place))}`).join("; ");
  return el("figure", {}, svg("svg", { viewBox: box.join(" "), role: "img", "aria-label": told }, line, places));
}

export function stateWords(known) {
  if (!known) return t("state_none");
  return known.state.startsWith("stage") ? known.state : t(`state_${known.state}`);
}

export function verdict() {
  const answer = tally();
  const later = record.lines.slice(link.seen).filter((one) => one.event.kind !== "decision").length;
  if (!answer) return el("p", {}, t("no_verdict"));
  return [
    el("p", {}, el("b", {}, answer.sentence)),
    later > 0 && el("p", {}, count("before_last", later)),
    later <= 0 && !link.online && el("p", { class: "quiet" }, t("as_of")),
  ];
}

function holders(job) {
  const open = ((tally() || {}).holders || []).filter((one) => !one.settled && !job.holders.has(one.id));
  if (!open.length) return null;
  const settle = (one) => note(t("ticked"), { event: "holder settled", joint: joint().joint, holder: one.id, how: one.answer || "off" });
  return [
    el("h2", {}, t("other_holders")),
    open.map((one) => [el("p", {}, el("b", {}, one.name), ": ", one.words), big(t("settle", { how: one.answer || "off" }), () => settle(one))]),
  ];
}

screen("joint", () => {
  const given = joint();
  if (!given) return [el("h1", {}, t("no_walk")), verdict()];
  const job = fold();
  return [
    differs(), el("h1", {}, given.name || given.joint), verdict(), picture(given, job),
    big(walk.on ? t("next_place") : t("go_round"), () => go(walk.on ? "walk" : "direction"), { class: "big first" }),
    big(t("took_out"), () => go("deed", { event: "took out" })),
    big(t("put_in"), () => go("deed", { event: "put in" })),
    camera([]), album(),
    ((tally() || {}).next_steps || []).length > 0 && [el("h2", {}, t("next")), el("ol", {}, tally().next_steps.map((step) => el("li", {}, step.words)))],
    holders(job),
  ];
});

let tray = "";

screen("deed", ({ event }) => {
  const given = joint();
  const out = event === "took out";
  const box = el("input", { id: "tray", value: tray, autocomplete: "off" });
  const chosen = new Set();
  const keys = given.places.map((place) => el("button", { type: "button", "aria-pressed": "false", onclick: (press) => {
    if (!chosen.delete(place.id)) chosen.add(place.id);
    press.currentTarget.setAttribute("aria-pressed", String(chosen.has(place.id)));
  } }, labelOf(place)));
  const words = out ? t("took_out") : t("put_in");
  const keep = () => {
    if (!chosen.size) return;
    tray = out ? box.value.trim() : tray;
    note(t("ticked"), { event, joint: given.joint, places: [...chosen], ...(out && tray ? { tray } : {}) }).then(() => go("joint"));
  };
  return [
    el("h1", {}, words), el("p", {}, t("which_places")), el("div", { class: "keys" }, keys),
    out && [el("label", { for: "tray" }, t("into_tray")), box],
    big(words, keep, { class: "big first" }),
    big(t("back"), () => go("joint")),
  ];
}, { still: true });

screen("direction", () => [
  el("h1", {}, t("direction")), el("p", {}, t("best_proof")),
  ["clockwise", "anticlockwise"].map((way) => big(t(way), () => {
    Object.assign(walk, { on: true, at: 0, answers: new Map(), direction: way, added: [] });
    go("walk");
  })),
  big(t("back"), () => go("joint")),
]);

// Rim first, then inside, then under what is bolted on; each in the chosen direction.
function route(given) {
  const rounds = ["rim", "inside", "under"];
  const places = rounds.flatMap((round) => {
    const own = given.places.filter((place) => (place.round || "rim") === round);
    return walk.direction === "anticlockwise" ? [...own].reverse() : own;
  });
  return [...places, ...walk.added];
}

screen("walk", () => {
  const given = joint();
  const places = route(given);
  if (walk.at >= places.length) return lastWords(given, places);
  const place = places[walk.at];
  const said = walk.answers.get(place.id) || new Set();
  const keys = ANSWERS.map((saw) => el("button", { type: "button", class: "big", "aria-pressed": String(said.has(saw)), onclick: (press) => {
    if (!said.delete(saw)) said.add(saw);
    walk.answers.set(place.id, said);
    keepWalk();
    press.currentTarget.setAttribute("aria-pressed", String(said.has(saw)));
  } }, t(`saw_${saw}`)));
  const under = place.under ? t("under", { part: place.under }) : "";
  const move = (by) => { walk.at += by; keepWalk(); go("walk"); };
  return [
    el("p", { class: "source" }, [t("walk_of", { n: walk.at + 1, of: places.length }), under].filter(Boolean).join(" · ")),
    el("h1", {}, t("walk_title", { label: labelOf(place) })),
    picture(given, fold(), place.id),
    el("div", { class: "two" }, keys, camera([place.id])),
    big(t("next_place"), () => move(1), { class: "big first at-hand" }),
    walk.at > 0 && big(t("prev_place"), () => move(-1)),
  ];
}, { still: true });

function lastWords(given, places) {
  const box = el("input", { id: "more", autocomplete: "off" });
  const silent = places.filter((place) => !(walk.answers.get(place.id) || new Set()).size);
  const add = () => {
    const label = box.value.trim();
    if (label && !places.some((place) => labelOf(place) === label)) walk.added.push({ id: label, label });
    keepWalk();
    go("walk");
  };
  const end = (complete) => {
    const answers = [...walk.answers].filter(([, saw]) => saw.size).map(([place, saw]) => ({ place, saw: [...saw] }));
    const round = { id: newId(12), by: record.me.person, guided: true, complete, answers, direction: walk.direction };
    note(t("round_done"), { event: "went round", joint: given.joint, round }).then((kept) => {
      if (!kept) return;
      walk.on = false;
      keepWalk();
      go("joint");
    });
  };
  return [
    el("h1", {}, t("further")),
    silent.length > 0 && el("p", { class: "caution" }, t("round_gap", { places: ranges(silent.map(labelOf)) })),
    el("label", { for: "more" }, t("add_place")), box, big(t("add"), add),
    silent.length ? big(t("end_round"), () => end(false)) : big(t("no_further"), () => end(true), { class: "big first" }),
    big(t("prev_place"), () => { walk.at = places.length - 1; go("walk"); }),
  ];
}

// Counting the trays by keypad; and what was laid in and must come out again.
import { go, note, screen } from "./app.js";
import { big, el } from "./dom.js";
import { fold, joint, tally } from "./job.js";
import { t } from "./words.js";

const MOST = 999;

export function sizeWords(kind) {
  const length = kind.length_mm ? ` x ${kind.length_mm}` : "";
  return [kind.what && kind.what !== "screw" ? kind.what : "", `${kind.thread || ""}${length}`].filter(Boolean).join(" ");
}

const SIZE = /^(.*?)\s*(M\d+(?:\.\d+)?)(?:\s*[x×]\s*(\d+(?:\.\d+)?))?$/i;

function kindOf(words) {
  const found = SIZE.exec(words.trim());
  if (!found) return null;
  const [, what, thread, length] = found;
  return { what: what || "screw", thread: thread.toUpperCase(), ...(length ? { length_mm: Number(length) } : {}) };
}

// Sizes that more than their fit ties to the joint: a source for sure, a place, a tray or the engine's own file.
function rows() {
  const tied = (one) => one.places !== null || one.tray.length || one.engine.length || one.printed.some((source) => source.numbers.some((number) => !number.may));
  return (((tally() || {}).counts || {}).sizes || []).filter(tied).map((one) => kindOf(one.size));
}

// Every size that the walk or the sources name, each once.
function sizes() {
  const kinds = [
    ...((joint() || {}).places || []).map((place) => place.kind),
    ...rows(),
  ].filter((kind) => kind && kind.thread);
  return [...new Map(kinds.map((kind) => [sizeWords(kind), { what: kind.what || "screw", thread: kind.thread, ...(kind.length_mm ? { length_mm: kind.length_mm } : {}) }]))];
}

screen("trays", () => {
  const job = fold();
  return [
    el("h1", {}, t("count_title")), el("p", {}, t("which_size")),
    sizes().map(([words, kind]) => big(words, () => go("keypad", { words, kind }))),
    big(t("another_size"), () => go("size")),
    job.counts.length > 0 && [
      el("h2", {}, t("counts_so_far")),
      el("ul", { class: "plain" }, job.counts.map((one) => el("li", {}, `${sizeWords(one.kind)}: ${one.pieces} (${(one.time || "").slice(11, 16)})`))),
    ],
    things(job),
  ];
});

screen("size", ({ fault = "" }) => {
  const box = el("input", { id: "size", autocomplete: "off", placeholder: "M8 x 60" });
  const next = () => {
    const kind = kindOf(box.value);
    if (kind) go("keypad", { words: sizeWords(kind), kind });
    else go("size", { fault: t("size_fault") });
  };
  return [
    el("h1", {}, t("which_size")), fault && el("p", { class: "caution", role: "alert" }, fault),
    el("label", { for: "size" }, t("size")), box, big(t("go_on"), next, { class: "big first" }), big(t("back"), () => go("trays")),
  ];
}, { still: true });

screen("keypad", ({ words, kind }) => {
  let digits = "";
  let whole = true;
  const number = el("p", { class: "number", "aria-live": "polite" }, "0");
  const draw = () => { number.textContent = digits || "0"; };
  const press = (digit) => {
    if (Number(digits + digit) <= MOST) digits = String(Number(digits + digit));
    draw();
  };
  const keys = ["1", "2", "3", "4", "5", "6", "7", "8", "9"].map((digit) => el("button", { type: "button", onclick: () => press(digit) }, digit));
  const wholeKey = el("button", { type: "button", class: "big", "aria-pressed": "true", onclick: (event) => {
    whole = !whole;
    event.currentTarget.setAttribute("aria-pressed", String(whole));
    event.currentTarget.textContent = whole ? t("whole") : t("heads_only");
  } }, t("whole"));
  const keep = () => {
    const body = { event: "counted", kind, pieces: Number(digits || "0"), joint: (joint() || {}).joint || "", complete_pieces: whole, all_trays: true };
    note(t("counted", { n: body.pieces, what: words }), body).then(() => go("trays"));
  };
  return [
    el("h1", {}, words), number,
    el("div", { class: "keys" }, keys,
      el("button", { type: "button", onclick: () => { digits = ""; draw(); } }, t("clear_key")),
      el("button", { type: "button", onclick: () => press("0") }, "0")),
    wholeKey, big(t("keep_count"), keep, { class: "big first" }), big(t("back"), () => go("trays")),
  ];
}, { still: true });

function things(job) {
  const inside = [...job.things].filter(([, number]) => number > 0);
  return [
    el("h2", {}, t("things_title")),
    inside.length === 0 && el("p", {}, t("things_none")),
    inside.map(([thing, number]) => big(`${number} ${thing}: ${t("take_out")}`, () => note(t("ticked"), { event: "taken away", thing }))),
    big(t("lay_more"), () => go("lay in")),
  ];
}

screen("lay in", () => {
  const box = el("input", { id: "thing", autocomplete: "off" });
  const keep = () => box.value.trim() && note(t("ticked"), { event: "laid in", thing: box.value.trim() }).then(() => go("trays"));
  return [
    el("h1", {}, t("things_title")), el("label", { for: "thing" }, t("thing")), box,
    big(t("lay_in"), keep, { class: "big first" }), big(t("back"), () => go("trays")),
  ];
}, { still: true });

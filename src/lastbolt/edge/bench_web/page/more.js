// The handover, the whole list, the language, and leaving the bench.
import { go, note, render, say, screen } from "./app.js";
import { big, el } from "./dom.js";
import { ahead, fold, isDone, isWork, joint, planLines, tally } from "./job.js";
import { labelOf, ranges, stateWords } from "./joint.js";
import { record } from "./record.js";
import { empty, keep } from "./store.js";
import { onlyHere } from "./sync.js";
import { sizeWords } from "./trays.js";
import { LANGUAGES, speak, t } from "./words.js";

screen("more", () => [
  el("h1", {}, record.me.name),
  el("p", { class: "quiet" }, t("who", { name: record.me.name, role: t(`role_${record.me.role}`) }), " · ", t("device", { id: record.me.device.slice(0, 6) })),
  big(t("over_title"), () => go("over"), { class: "big first" }),
  big(t("list"), () => go("list")),
  el("h2", {}, t("language")),
  el("div", { class: "two" }, Object.entries(LANGUAGES).map(([code, name]) => big(name, async () => {
    await keep("language", code);
    speak(code);
    render();
  }, { lang: code, "aria-pressed": String(document.documentElement.lang === code) }))),
  big(t("leave"), leave),
]);

function leave() {
  const held = onlyHere();
  if (held) say(t("leave_unsent", { n: held }));
  else go("leave");
}

screen("leave", ({ other = false }) => [
  el("h1", {}, t("leave")),
  other && el("p", {}, t("other_bench")),
  big(t("leave_sure"), async () => {
    if (onlyHere()) return leave();
    await empty();
    return location.reload();
  }, { class: "big stop" }),
  big(t("back"), () => go(other ? "now" : "more")),
]);

function grouped(places, words) {
  const groups = new Map();
  for (const one of places) groups.set(words(one), [...(groups.get(words(one)) || []), labelOf(one.place)]);
  return [...groups].map(([said, labels]) => `${said}: ${ranges(labels)}`);
}

// The sections of which every line is done.
function whole(job) {
  const heads = new Map();
  for (const line of planLines()) {
    const known = heads.get(line.procedure) || { title: "", done: true };
    if (!isWork(line) || line.kind === "confirm") known.title = `${line.number} ${line.words.replace(/^Confirm (off|done): /, "")}`;
    if (isWork(line) && !isDone(line, job)) known.done = line.kind === "confirm" && job.handed;
    heads.set(line.procedure, known);
  }
  return [...heads.values()].filter((one) => one.done && one.title).map((one) => one.title);
}

// Of each size the last count.
const counts = (job) => [...new Map(job.counts.map((one) => [sizeWords(one.kind), one.pieces]))].map(([size, pieces]) => `${size}: ${pieces}`);

// What the next crew must know, the dangerous first.
function handover(job) {
  const given = joint();
  const places = given ? given.places.map((place) => ({ place, known: job.places.get(`${given.joint}/${place.id}`) })) : [];
  const told = (some) => grouped(some, ({ known }) => stateWords(known));
  const loose = places.filter(({ known }) => known && (known.state === "slack" || known.state.startsWith("stage") || known.state === "broken"));
  const unsure = places.filter(({ known }) => !known);
  const open = ((tally() || {}).holders || []).filter((one) => !one.settled && !job.holders.has(one.id)).map((one) => one.name);
  const inside = [...job.things].filter(([, number]) => number > 0).map(([thing, number]) => `${number} ${thing}`);
  const off = grouped(places.filter(({ known }) => known && known.state === "out"), ({ known }) => (known.tray ? t("out_in", { tray: known.tray }) : t("state_out")));
  const { head, lines } = ahead(job);
  return [
    [t("over_slack"), told(loose)], [t("over_doubt"), [...told(unsure), ...(open.length ? [t("holders_open", { names: open.join(", ") })] : [])]],
    [t("over_in"), inside], [t("counts_so_far"), counts(job)], [t("over_off"), [...off, ...whole(job)]],
    [t("over_next"), lines.length ? [`${head ? head.number : ""} ${lines[0].words}`.trim()] : []],
  ];
}

screen("over", () => {
  const box = el("input", { id: "to", autocomplete: "off" });
  const give = () => note(t("over_done"), { event: "handed over", to: box.value.trim(), kind: "handover" }).then(() => go("more"));
  return [
    el("h1", {}, t("over_title")),
    handover(fold()).map(([title, told]) => [el("h2", {}, title), told.length ? told.map((words) => el("p", {}, words)) : el("p", {}, t("nothing"))]),
    el("label", { for: "to" }, t("over_do")), box,
    big(t("over_title"), give, { class: "big first" }), big(t("back"), () => go("more")),
  ];
}, { still: true });

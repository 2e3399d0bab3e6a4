// The handover, the whole list, the language, and leaving the bench.
import { go, note, render, say, screen } from "./app.js";
import { big, el } from "./dom.js";
import { ahead, fold, joint, tally } from "./job.js";
import { labelOf, stateWords } from "./joint.js";
import { record, unsent } from "./record.js";
import { empty, keep } from "./store.js";
import { LANGUAGES, speak, t } from "./words.js";

screen("more", () => [
  el("h1", {}, record.me.name),
  el("p", { class: "quiet" }, t("who", { name: record.me.name, role: t(`role_${record.me.role}`) }), " · ", t("device", { id: record.me.device.slice(0, 6) })),
  big(t("over_title"), () => go("over"), { class: "big first" }),
  big(t("list"), () => go("list")),
  el("h2", {}, t("language")),
  el("div", { class: "two" }, Object.entries(LANGUAGES).map(([code, name]) => big(name, () => {
    speak(code);
    keep("language", code);
    render();
  }, { lang: code, "aria-pressed": String(document.documentElement.lang === code) }))),
  big(t("leave"), leave),
]);

function leave() {
  const held = unsent().length;
  if (held) say(t("leave_unsent", { n: held }));
  else go("leave");
}

screen("leave", () => [
  el("h1", {}, t("leave")),
  big(t("leave_sure"), async () => {
    if (unsent().length) return leave();
    await empty();
    return location.reload();
  }, { class: "big stop" }),
  big(t("back"), () => go("more")),
]);

// What the next crew must know, the dangerous first.
function handover(job) {
  const given = joint();
  const places = given ? given.places.map((place) => ({ place, known: job.places.get(`${given.joint}/${place.id}`) })) : [];
  const told = (some) => some.map(({ place, known }) => `${labelOf(place)} ${stateWords(known)}`);
  const loose = places.filter(({ known }) => known && (known.state === "slack" || known.state.startsWith("stage") || known.state === "broken"));
  const unsure = places.filter(({ known }) => !known);
  const open = ((tally() || {}).holders || []).filter((one) => !one.settled && !job.holders.has(one.id)).map((one) => one.name);
  const inside = [...job.things].filter(([, number]) => number > 0).map(([thing, number]) => `${number} ${thing}`);
  const off = places.filter(({ known }) => known && known.state === "out").map(({ place }) => labelOf(place));
  const { head, lines } = ahead(job);
  return [
    [t("over_slack"), told(loose)], [t("over_doubt"), [...told(unsure), ...open]], [t("over_in"), inside], [t("over_off"), off],
    [t("over_next"), lines.length ? [`${head ? head.number : ""} ${lines[0].words}`.trim()] : []],
  ];
}

screen("over", () => {
  const box = el("input", { id: "to", autocomplete: "off" });
  const give = () => note(t("over_done"), { event: "handed over", to: box.value.trim(), kind: "handover" }).then(() => go("more"));
  return [
    el("h1", {}, t("over_title")),
    handover(fold()).map(([title, told]) => [el("h2", {}, title), el("p", {}, told.length ? told.join(", ") : t("nothing"))]),
    el("label", { for: "to" }, t("over_do")), box,
    big(t("over_title"), give, { class: "big first" }), big(t("back"), () => go("more")),
  ];
}, { still: true });

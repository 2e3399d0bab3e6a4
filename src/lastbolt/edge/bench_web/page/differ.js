// What was recorded by people who did not know of each other: a person looks, and says what it is now.
import { go, note, screen } from "./app.js";
import { big, el } from "./dom.js";
import { walks } from "./job.js";
import { unsent } from "./record.js";
import { link, nameOf } from "./sync.js";
import { t } from "./words.js";

const IN = ["in", "slack", "broken off", "hollow dowel, bolt in"];

function placeName(joint, id) {
  const walk = walks().find((one) => one.joint === joint);
  const place = walk && walk.places.find((one) => one.id === id);
  return (place && place.label) || id;
}

// What an answer is called here, and the event that says it again with everything in view.
function acts(joint, place) {
  const at = { joint, places: [place] };
  return {
    out: { event: "took out", ...at }, in: { event: "put in", ...at }, slack: { event: "slackened", ...at },
    final: { event: "tightened", ...at, final: true },
  };
}

function valueOf(words) {
  const seen = words.startsWith("seen: ") ? words.slice(6) : words;
  if (seen === "slack" || seen === "final") return seen;
  if (seen.startsWith("stage") || IN.includes(seen)) return "in";
  return "out";
}

function others(subject, value) {
  const made = {
    step: { event: value === "done" ? "step done" : "step started", step: subject.id },
    holder: { event: "holder settled", joint: subject.joint, holder: subject.id, how: value },
    question: { event: "question answered", question: subject.id, answer: value },
  };
  return made[subject.sort] || null;
}

const own = (sort, id, joint) =>
  unsent().some((one) => one.event.subjects.some((subject) => subject.sort === sort && subject.id === id && subject.joint === joint));

// What two said of one thing, as long as nobody here has said it again.
export function differences() {
  const state = link.state || {};
  const places = (state.doubts || []).filter((one) => !own("place", one.place, one.joint)).map((one) => {
    const known = acts(one.joint, one.place);
    const values = [...new Set([...one.said.map((said) => valueOf(said.words)), "out", "in"])];
    return {
      title: t("differ_place", { place: placeName(one.joint, one.place) }),
      said: one.said.map((said) => `${nameOf(said.by)}: ${said.words}`),
      ways: values.map((value) => ({ words: t(`is_${value}`), body: known[value] })),
    };
  });
  const rest = (state.registers || []).filter(({ conflict, subject }) => conflict && subject.sort !== "place" && !own(subject.sort, subject.id, subject.joint));
  return [...places, ...rest.map((one) => ({
    title: t("differ_other", { what: `${one.subject.sort} ${one.subject.id}` }),
    said: one.held.map((held) => held.value),
    ways: one.held.map((held) => ({ words: held.value, body: others(one.subject, held.value) })).filter((way) => way.body),
  }))];
}

export function differs() {
  const all = differences();
  return all.length ? big(all[0].title, () => go("differ"), { class: "big stop" }) : null;
}

screen("differ", () => {
  const first = differences()[0];
  if (!first) return [el("h1", {}, t("differ_none")), big(t("back"), () => go("now"))];
  return [
    el("h1", {}, first.title), el("ul", {}, first.said.map((words) => el("li", {}, words))), el("p", {}, t("differ_look")),
    first.ways.map((way) => big(way.words, () => note(t("ticked"), way.body).then(() => go("differ")))),
    big(t("back"), () => go("now")),
  ];
});

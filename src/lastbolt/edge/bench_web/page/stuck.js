// "It won't move" and, on the way back, "It won't close": the load off first, then where to look.
import { go, note, screen } from "./app.js";
import { big, el } from "./dom.js";
import { fold, joint, tally } from "./job.js";
import { labelOf, picture, ranges, verdict } from "./joint.js";
import { t } from "./words.js";

const HOLDS = ["in", "slack", "broken"];

function doubtful(given, job) {
  const state = (place) => (job.places.get(`${given.joint}/${place.id}`) || {}).state || "";
  const holding = given.places.filter((place) => !state(place) || HOLDS.includes(state(place)) || state(place).startsWith("stage") || state(place) === "final");
  return holding.length ? t("not_out", { places: ranges(holding.map(labelOf)) }) : t("all_out_here");
}

screen("stuck", () => {
  const given = joint();
  const job = fold();
  const open = ((tally() || {}).holders || []).filter((one) => !one.settled && !job.holders.has(one.id));
  const first = ((tally() || {}).next_steps || [])[0];
  return [
    el("h1", {}, t("stuck_title")), el("p", {}, t("stuck_say")),
    first && [el("h2", {}, t("look_here")), el("p", {}, el("b", {}, first.words))],
    el("h2", {}, t("how_it_stands")), verdict(), given && el("p", {}, doubtful(given, job)),
    open.length > 0 && el("p", {}, t("holders_open", { names: open.map((one) => one.name).join(", ") })),
    given && picture(given, job),
    big(t("go_round"), () => go("direction"), { class: "big first" }),
    given && big(t("stuck_note"), () => note(t("stuck_noted"), { event: "won't move", joint: given.joint }).then(() => go("stuck"))),
    given && big(t("apart_say"), () => note(t("apart_title"), { event: "won't close", joint: given.joint }).then(() => go("now")), { class: "big stop" }),
    big(t("back"), () => go("now")),
  ];
});

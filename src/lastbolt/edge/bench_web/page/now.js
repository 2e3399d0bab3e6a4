// What to do now: one step in large words, its warning first, its page below, and the ways to say it is done.
import { go, note, screen } from "./app.js";
import { big, el } from "./dom.js";
import { differs } from "./differ.js";
import { how } from "./hold.js";
import { ahead, cited, fold, holdAt, isDone, isOpen, isWork, lastOwn, planLines } from "./job.js";
import { hasPictures } from "./pictures.js";
import { link } from "./sync.js";
import { count, did, t } from "./words.js";

const MUST_READ = ["danger", "warning"];
const read = new Set();

function tick(line, looked) {
  if (line.kind === "confirm") return { event: "procedure done", procedure: line.procedure, looked };
  if (line.kind === "step") return { event: "step done", step: line.step || line.id, looked };
  return { event: "question answered", question: line.id, answer: "yes" };
}

const cautions = (line) =>
  (line.cautions || []).map((one) => el("p", { class: "caution" }, el("b", {}, one.signal), " ", one.words));

const named = (line) => [line.number, line.mark ? t("step", { mark: line.mark }) : ""].filter(Boolean).join(" ");

function answers(line) {
  if (line.kind === "question") {
    const answer = (said) => note(t("ticked"), { event: "question answered", question: line.id, answer: said });
    const choices = (line.choices || []).length ? line.choices.map((id) => [titleOf(id), id]) : [[t("yes"), "yes"], [t("no"), "no"]];
    return [el("p", {}, line.question), choices.map(([words, id]) => big(words, () => answer(id)))];
  }
  if (line.kind === "confirm") {
    const taken = (line.said || []).map((hash) => ({ event: "undone", undoes: hash }));
    const not = () => (taken.length ? note(t("reopened"), ...taken) : go("stuck"));
    return [
      el("p", {}, line.question || t("still_so")), (line.off || []).length > 0 && el("p", { class: "quiet" }, line.off.join(", ")),
      big(t("confirm_off"), () => note(t("ticked"), tick(line, true)), { class: "big first" }), big(t("not_off"), not),
    ];
  }
  return [
    big(t("done_looked"), () => note(t("ticked"), tick(line, true)), { class: "big first" }),
    big(t("done"), () => note(t("ticked"), tick(line, false))),
  ];
}

// Of the joint's own fasteners the tick is not enough: at which places they are out is asked.
function takesOut(line) {
  const held = [...fold().holds.values()].filter((hold) => hold.joint);
  const sections = held.map((hold) => (planLines().find((one) => (one.step || one.id) === hold.step) || {}).procedure);
  return sections.includes(line.procedure) && (line.mentions || []).some((one) => one.deed === "remove" && one.kind);
}

// Past a hold that was opened otherwise than by a signature, that stays to be read.
function opened(line, job) {
  const hold = [...job.holds.values()].find((one) => one.step === (line.step || line.id) && isOpen(one.hold));
  return hold && how(hold) !== "signed" && el("p", { class: "caution" }, t(how(hold)));
}

const inBook = (line, source) => hasPictures(line) && big(t("look_picture"), () => go("page", { line, source }));

// Only where people are in danger, or a hold stands before it, somebody has to say that they have read.
function ways(line, lines, head, source) {
  const book = inBook(line, source);
  const told = [...(line.cautions || []), ...(head ? head.cautions || [] : [])];
  if (told.some((one) => MUST_READ.includes(one.signal)) && !read.has(line.id)) {
    return [big(t("have_read"), () => { read.add(line.id); go("now"); }, { class: "big first" }), book];
  }
  const steps = lines.filter((one) => one.kind === "step");
  return [
    ...answers(line),
    book,
    takesOut(line) && big(t("which_are_out"), () => go("deed", { event: "took out" })),
    steps.length > 1 && big(t("several"), () => go("several")),
    line.kind === "step" && big(t("cannot"), () => go("cannot", { line })),
  ];
}

function back() {
  const last = lastOwn();
  if (!last) return null;
  const { body } = last.event;
  const what = body.step ? stepName(body.step) : did(body.event);
  return big(t("undo", { what }), () => note(t("undone"), { event: "undone", undoes: last.hash }));
}

const titleOf = (id) => {
  const line = planLines().find((one) => one.procedure === id && !isWork(one));
  return line ? `${line.number} ${line.words}` : id.split("/").pop();
};

function stepName(step) {
  const line = planLines().find((one) => (one.step || one.id) === step);
  return line ? named(line) || line.words : step;
}

screen("now", () => {
  const job = fold();
  if (!planLines().length) return [el("h1", {}, t("no_plan"))];
  if (job.apart) return apart(job);
  const { head, lines, left } = ahead(job);
  if (!lines.length) return [el("h1", {}, t("nothing_left")), back()];
  const line = lines[0];
  const hold = holdAt(line, job);
  const source = [named(line), cited(line)].filter(Boolean).join(" · ");
  return [
    differs(), opened(line, job),
    el("p", { class: "source" }, [head ? `${head.number} ${head.words}`.trim() : named(line), count("left", left)].join(" · ")),
    head && isFirst(line, head) && cautions(head),
    cautions(line),
    el("h1", {}, line.words),
    line.left_hand && el("p", {}, el("b", {}, t("left_hand"))),
    beside(line),
    el("p", { class: "source" }, source),
    hold ? big(t("hold_title", { role: t(`role_${hold.role}`) }), () => go("hold", { hold }), { class: "big stop" }) : ways(line, lines, head && isFirst(line, head) ? head : null, source),
    hold && inBook(line, source),
    back(),
  ];
});

// What the hand needs with the step: who it is for, torque, locks, new parts; and what is doubtful in it.
function beside(line) {
  const told = [
    line.only_if, line.beside, ...(line.torques || []).map((one) => one.words), ...(line.locks || []),
    (line.renew || []).length && t("renew", { what: line.renew.join(", ") }),
    (line.tools || []).length && t("tools", { what: line.tools.join(", ") }), line.doubt,
  ].filter(Boolean);
  return told.map((words) => el("p", {}, words));
}

const isFirst = (line, head) => planLines().indexOf(line) === planLines().indexOf(head) + 1;

function apart(job) {
  const box = el("input", { id: "cause", autocomplete: "off" });
  return [
    el("h1", {}, t("apart_title")), el("p", {}, t("apart_look")),
    el("label", { for: "cause" }, t("apart_found")), box,
    big(t("apart_ok"), () => box.value.trim() && note(t("ticked"), { event: "found why", joint: job.apart, cause: box.value.trim() }).then(() => go("now")), { class: "big first" }),
  ];
}

screen("several", () => {
  const job = fold();
  const steps = ahead(job).lines.filter((line) => line.kind === "step");
  const stop = steps.findIndex((line) => holdAt(line, job));
  const open = stop < 0 ? steps : steps.slice(0, stop);
  const chosen = new Set();
  const button = big("", () => {
    const bodies = open.filter((line) => chosen.has(line.id)).map((line) => tick(line, false));
    if (bodies.length) note(t("ticked"), ...bodies).then(() => go("now"));
  }, { class: "big first" });
  const draw = () => { button.textContent = count("tick_these", chosen.size); button.disabled = !chosen.size; };
  const rows = open.map((line) => {
    const box = el("span", { class: "box", "aria-hidden": "true" });
    const toggle = (event) => {
      if (!chosen.delete(line.id)) chosen.add(line.id);
      event.currentTarget.setAttribute("aria-checked", String(chosen.has(line.id)));
      box.textContent = chosen.has(line.id) ? "×" : "";
      draw();
    };
    return el("li", {}, el("button", { type: "button", role: "checkbox", "aria-checked": "false", onclick: toggle }, box, el("span", {}, `${line.mark || ""} ${line.words}`.trim())));
  });
  draw();
  return [el("h1", {}, t("several")), el("ol", { class: "work" }, rows), button, big(t("back"), () => go("now"))];
}, { still: true });

screen("cannot", ({ line }) => [
  el("h1", {}, t("why_cannot")), el("p", {}, line.words),
  ["cannot_reach", "cannot_seized", "cannot_tool", "cannot_words"].map((why) =>
    big(t(why), () => note(t("cannot_said"), { event: "step started", step: line.step || line.id, words: t(why) }).then(() => go(why === "cannot_seized" ? "stuck" : "now")))),
  big(t("back"), () => go("now")),
]);

screen("list", () => {
  const job = fold();
  const { open = [], general = [] } = (link.plan && link.plan.plan) || {};
  const row = (line) => el("p", { class: isDone(line, job) ? "quiet" : "" }, `${isDone(line, job) ? t("done") : "–"} · ${line.mark || ""} ${line.words}`);
  return [
    el("h1", {}, t("list")),
    general.map((one) => el("p", { class: "caution" }, el("b", {}, one.signal), " ", one.words)),
    open.length > 0 && [el("h2", {}, t("open_points")), open.map((one) => el("p", {}, one.words, " ", one.do))],
    planLines().map((line) => (isWork(line) ? row(line) : el("h2", {}, `${line.number} ${line.words}`.trim()))),
    big(t("back"), () => go("more")),
  ];
});

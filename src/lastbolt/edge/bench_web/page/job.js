// What the record says of the job, folded in the order of the lines: for the screen only; the server decides.
import { record } from "./record.js";
import { link } from "./sync.js";

const SERVER_DONE = ["done", "done, not looked at", "taken for done"];
const SAW_IN = ["in", "slack", "broken off", "hollow dowel, bolt in"];
const SAW_OUT = ["out", "open hole", "light through", "rod to the bottom", "hollow dowel, empty", "nothing here"];
const SAW_DOWEL = ["solid dowel", "solid dowel, both ends"];

function undone(lines) {
  const gone = new Set();
  for (const one of [...lines].reverse()) {
    const { body } = one.event;
    if (body.event === "undone" && !gone.has(one.hash)) gone.add(body.undoes);
  }
  return gone;
}

export function standing() {
  const gone = undone(record.lines);
  return record.lines.filter((one) => !gone.has(one.hash) && one.event.body.event !== "undone");
}

export function lastOwn() {
  const mine = standing().filter((one) => one.event.device === record.me.device && one.event.kind !== "decision");
  return mine[mine.length - 1] || null;
}

function placed(job, event, one) {
  for (const id of event.places || []) {
    const state = { "took out": "out", "put in": "in", slackened: "slack", tightened: event.final ? "final" : `stage ${event.stage}` }[event.event];
    if (state) job.places.set(`${event.joint}/${id}`, { state, by: one.event.by, tray: event.tray || "" });
  }
  const answers = event.event === "looked" ? event.answers : event.event === "went round" ? event.round.answers : [];
  for (const answer of answers || []) {
    const saw = answer.saw || [];
    const state = SAW_IN.find((word) => saw.includes(word)) || (saw.some((word) => SAW_DOWEL.includes(word)) ? "dowel" : "") || (saw.some((word) => SAW_OUT.includes(word)) ? "out" : "");
    if (state) job.places.set(`${event.joint}/${answer.place}`, { state: state === "broken off" ? "broken" : state, by: one.event.by });
  }
}

function counted(job, event, one) {
  const add = { "laid in": 1, "taken away": -1 }[event.event];
  if (add) job.things.set(event.thing, (job.things.get(event.thing) || 0) + add * (event.count || 1));
  if (event.event === "counted") job.counts.push({ ...event, by: one.event.by, time: one.event.time });
}

export function fold() {
  const job = { steps: new Map(), procedures: new Map(), answers: new Map(), places: new Map(), things: new Map(), counts: [], holds: new Map(), holders: new Map(), apart: "", handed: false };
  for (const one of standing()) {
    const event = one.event.body;
    if (event.event === "step done" || event.event === "step started") job.steps.set(event.step, { ...event, by: one.event.by, hash: one.hash });
    if (event.event === "procedure done") job.procedures.set(event.procedure, { ...event, by: one.event.by });
    if (event.event === "handed over" && event.kind === "handover") {
      job.handed = true;
      job.procedures.clear();
    }
    if (event.event === "question answered") job.answers.set(event.question, event.answer);
    if (event.event === "hold set") job.holds.set(event.hold, event);
    if (event.event === "holder settled") job.holders.set(event.holder, event.how);
    if (event.event === "won't close") job.apart = event.joint;
    if (event.event === "found why" && event.joint === job.apart) job.apart = "";
    placed(job, event, one);
    counted(job, event, one);
  }
  return job;
}

export const planLines = () => (link.plan && link.plan.plan ? link.plan.plan.lines : []);
export const walks = () => (link.plan && link.plan.walks) || [];
export const tally = () => (link.plan && link.plan.tally) || null;

export function isDone(line, job) {
  const tick = job.steps.get(line.step || line.id);
  if (tick) return tick.event === "step done";
  // Whoever takes over looks once at each procedure that others did.
  if (line.kind === "confirm" && job.handed) return Boolean((job.procedures.get(line.procedure) || {}).looked);
  if (job.procedures.has(line.procedure) && line.kind !== "question") return true;
  if (job.answers.has(line.id)) return true;
  return SERVER_DONE.includes(line.state);
}

export const isWork = (line) => line.kind !== "opening";

// After a handover one look at each section that others did, in the place of its heading.
function withLooks(job) {
  const lines = planLines();
  if (!job.handed) return lines;
  const steps = (procedure) => lines.filter((line) => line.procedure === procedure && isWork(line));
  const whole = (procedure) => steps(procedure).length > 0 && steps(procedure).every((line) => line.kind === "step" && isDone(line, job));
  return lines.map((line) => {
    if (isWork(line) || !whole(line.procedure)) return line;
    const said = steps(line.procedure).map((step) => (job.steps.get(step.step || step.id) || {}).hash).filter(Boolean);
    return { ...line, kind: "confirm", question: "", cautions: [], said };
  });
}

// The section's lines from the first that is not done, and its heading.
export function ahead(job) {
  const lines = withLooks(job);
  const at = lines.findIndex((line) => isWork(line) && !isDone(line, job));
  if (at < 0) return { head: null, lines: [], left: 0 };
  const procedure = lines[at].procedure;
  const own = [];
  for (let i = at; i < lines.length && lines[i].procedure === procedure && isWork(lines[i]); i += 1) {
    if (!isDone(lines[i], job)) own.push(lines[i]);
  }
  const head = lines.find((line) => line.kind === "opening" && line.procedure === procedure) || null;
  return { head, lines: own, left: lines.filter((line) => isWork(line) && !isDone(line, job)).length };
}

export function holdAt(line, job) {
  for (const hold of job.holds.values()) {
    if (hold.step && hold.step === (line.step || line.id) && !isOpen(hold.hold)) return hold;
  }
  return null;
}

export function isOpen(hold) {
  const known = ((link.state && link.state.holds) || []).find((one) => one.hold === hold);
  return Boolean(known && known.open);
}

export function joint() {
  return walks()[0] || null;
}

export function cited(line) {
  const first = (line.citations || [])[0];
  if (!first || !first.place) return "";
  const { printed_page: printed, pdf_page: pdf, line: row } = first.place;
  if (printed) return `${first.source}, ${printed}`;
  if (pdf) return `${first.source}, ${pdf}`;
  return row ? `${first.source}, ${row}` : first.source;
}

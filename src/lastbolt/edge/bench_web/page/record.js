// The record as this device has it: lines in order, the chain of its own events, what it has seen of others.
import { addLines, allLines, keep, kept } from "./store.js";
import { isMine } from "./one_tab.js";
import { sha256 } from "./sha256.js";

export const record = { me: null, lines: [], byHash: new Map(), order: 0, fault: "" };
const listeners = [];
const MOST_HEADS = 64;

export function onRecord(listener) {
  listeners.push(listener);
}

function told() {
  for (const listener of listeners) listener();
}

export async function load() {
  record.me = (await kept("me")) || null;
  const all = await allLines();
  record.lines = all.map((one) => ({ ...one, event: JSON.parse(one.line) }));
  record.byHash = new Map(record.lines.map((one) => [one.hash, one]));
  record.order = record.lines.reduce((most, one) => Math.max(most, one.order), 0);
}

export async function joinedAs(me) {
  record.me = me;
  await keep("me", me);
  told();
}

export const own = () => record.lines.filter((one) => one.event.device === record.me.device);
export const unsent = () => own().filter((one) => !one.sent);

// The newest events of the other devices: those that no event here names as its past.
function heads(previous) {
  const passed = new Set(record.lines.flatMap((one) => [one.event.previous, ...one.event.heads]));
  const newest = record.lines.filter((one) => !passed.has(one.hash) && one.hash !== previous);
  return newest.filter((one) => one.event.device !== record.me.device).map((one) => one.hash).slice(-MOST_HEADS);
}

export function present() {
  return record.lines.every((one) => [one.event.previous, ...one.event.heads].every((hash) => !hash || record.byHash.has(hash)));
}

const kindOf = {
  observation: ["looked", "went round", "counted", "photo", "heads stand", "measured", "zero checked", "reading confirmed", "tool taken", "found bad", "handed over", "won't move"],
  decision: ["closing head", "hold set", "signed", "reopened", "override", "setting", "edition"],
};
const kindNamed = (tag) => Object.keys(kindOf).find((kind) => kindOf[kind].includes(tag)) || "act";

// As the server has it: what it would refuse is not even written here.
const OF_PARTS_ROOM = ["photo", "counted", "found bad", "renewed"];
const OF_TRAINEE = ["closing head", "signed"];
export function may(role, tag) {
  if (role === "instructor") return true;
  if (role === "trainee") return kindNamed(tag) !== "decision" || OF_TRAINEE.includes(tag);
  return role === "parts room" && OF_PARTS_ROOM.includes(tag);
}

function subjects(body) {
  const joint = body.joint || "";
  const answers = [...(body.answers || []), ...((body.round || {}).answers || [])];
  const places = [...new Set([...(body.places || []), ...answers.map((one) => one.place), ...(body.proud || []).map((one) => one.place)])];
  const found = places.map((id) => ({ sort: "place", id, joint, occupancy: 0 }));
  const one = (sort, id, at = "") => found.push({ sort, id, joint: at, occupancy: 0 });
  if (body.event === "step started" || body.event === "step done") one("step", body.step);
  if (body.event === "procedure done") one("procedure", body.procedure);
  if (body.event === "holder settled") one("holder", body.holder, joint);
  if (body.event === "question answered") one("question", body.question);
  if (body.event === "set aside") one("reference", body.reference);
  if (body.event === "laid in" || body.event === "taken away") one("thing", body.thing);
  if (body.hold) one("hold", body.hold);
  return found;
}

function sealed(body) {
  const mine = own();
  const last = mine[mine.length - 1];
  const previous = last ? last.hash : "";
  const { device, job, person } = record.me;
  const fields = {
    device, sequence: mine.length + 1, previous, heads: heads(previous), job,
    kind: kindNamed(body.event), subjects: subjects(body), body, time: localTime(), by: person,
  };
  const line = JSON.stringify(fields);
  return { line, hash: sha256(line), sent: false, event: fields };
}

export function localTime(now = new Date()) {
  const two = (number) => String(Math.abs(number)).padStart(2, "0");
  const off = -now.getTimezoneOffset();
  const zone = `${off < 0 ? "-" : "+"}${two(Math.trunc(off / 60))}:${two(off % 60)}`;
  const date = [now.getFullYear(), two(now.getMonth() + 1), two(now.getDate())].join("-");
  return `${date}T${two(now.getHours())}:${two(now.getMinutes())}:${two(now.getSeconds())}${zone}`;
}

let writing = Promise.resolve();

// Events are written one after the other: each is sealed onto the one before.
export function write(...bodies) {
  writing = writing.then(async () => {
    for (const body of bodies) {
      if (!isMine()) throw new Error("another page");
      const one = sealed(body);
      one.order = record.order + 1;
      await addLines([stored(one)]);
      take(one);
    }
    told();
  });
  const result = writing;
  writing = writing.catch(() => undefined);
  return result;
}

const stored = ({ hash, line, order, sent }) => ({ hash, line, order, sent });

function take(one) {
  record.order = Math.max(record.order, one.order);
  record.lines.push(one);
  record.byHash.set(one.hash, one);
}

export async function markSent(hashes) {
  const now = hashes.map((hash) => record.byHash.get(hash)).filter((one) => one && !one.sent);
  for (const one of now) one.sent = true;
  if (now.length) await addLines(now.map(stored));
  told();
}

export async function receive(lines) {
  const fresh = [];
  for (const line of lines) {
    const hash = sha256(line);
    const known = record.byHash.get(hash);
    if (known) {
      if (!known.sent) fresh.push(Object.assign(known, { sent: true }));
      continue;
    }
    const one = { hash, line, order: record.order + 1, sent: true, event: JSON.parse(line) };
    take(one);
    fresh.push(one);
  }
  if (!fresh.length) return;
  await addLines(fresh.map(stored));
  told();
}

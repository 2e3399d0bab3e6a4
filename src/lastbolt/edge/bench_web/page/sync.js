// Sends what is only on this device, fetches what others wrote; says at all times how it stands.
import { keep, kept, picture } from "./store.js";
import { markSent, receive, record, unsent } from "./record.js";
import { sha256 } from "./sha256.js";

export const link = { online: false, next: 0, refused: [], state: null, plan: null, people: {}, photos: [], seen: 0 };
const listeners = [];
const EVERY_MS = 4000;
const SOON_MS = 60;
const MOST_LINES = 200;

export function onLink(listener) {
  listeners.push(listener);
}

function told() {
  for (const listener of listeners) listener();
}

const headers = (more = {}) => ({ Authorization: `Bearer ${record.me.token}`, ...more });

export async function ask(path) {
  const answer = await fetch(path, { headers: headers(), cache: "no-store" });
  if (!answer.ok) throw new Error(String(answer.status));
  return answer.json();
}

export async function askBlob(path) {
  const answer = await fetch(path, { headers: headers() });
  if (!answer.ok) throw new Error(String(answer.status));
  return answer.blob();
}

export async function join(code, device, name) {
  const settings = { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ code, device, name }) };
  const answer = await fetch("api/join", settings);
  const body = await answer.json();
  if (!answer.ok) throw new Error(body.problem ? `${body.problem.what} ${body.problem.do}` : String(answer.status));
  return body;
}

async function send() {
  const lines = unsent().slice(0, MOST_LINES);
  if (!lines.length) return;
  const settings = { method: "POST", headers: headers({ "Content-Type": "application/x-ndjson" }), body: lines.map((one) => `${one.line}\n`).join("") };
  const answer = await fetch(`api/jobs/${record.me.job}/events`, settings);
  if (!answer.ok) throw new Error(String(answer.status));
  const { receipts } = await answer.json();
  const taken = receipts.filter((one) => one.status !== "refused").map((one) => one.hash);
  link.refused = receipts.filter((one) => one.status === "refused");
  await markSent(taken);
  if (taken.length && unsent().length) await send();
}

// A photo follows its event; one that the server will never take is said, and not tried again.
async function sendPhotos() {
  for (const name of [...link.photos]) {
    const blob = await picture(name);
    const settings = { method: "POST", headers: headers({ "Content-Type": "image/jpeg" }), body: blob };
    const answer = blob ? await fetch(`api/jobs/${record.me.job}/photos/${name}`, settings) : { ok: true };
    if (!answer.ok && (answer.status === 401 || answer.status === 429 || answer.status >= 500)) throw new Error(String(answer.status));
    if (!answer.ok) link.refused = [await answer.json()];
    link.photos = link.photos.filter((one) => one !== name);
    await keep("photos", link.photos);
  }
}

async function fetchNew() {
  for (;;) {
    const answer = await fetch(`api/jobs/${record.me.job}/events?after=${link.next}`, { headers: headers(), cache: "no-store" });
    if (!answer.ok) throw new Error(String(answer.status));
    const lines = (await answer.text()).split("\n").filter(Boolean);
    await receive(lines);
    const next = Number(answer.headers.get("lastbolt-next") || link.next);
    if (!lines.length || next === link.next) return;
    link.next = next;
    await keep("next", next);
  }
}

let known = "";

export const onlyHere = () => (record.me ? unsent().length + link.photos.length : 0);

export const nameOf = (person) => (person === record.me.person ? record.me.name : link.people[person] || person);

const askedFor = new Set();

// Names stand in no event: they are asked for when somebody is new, and only once, for a name may be erased.
async function fetchPeople() {
  const fresh = record.lines.map((one) => one.event.by).filter((person) => person !== record.me.server_device && !link.people[person] && !askedFor.has(person));
  if (!fresh.length) return;
  for (const person of fresh) askedFor.add(person);
  link.people = await ask("api/people");
  await keep("people", link.people);
}

const rest = { until: 0, timer: 0 };
const RESTS = 3;

async function fetchState() {
  const job = record.me.job;
  const lines = record.lines.length;
  link.state = await ask(`api/jobs/${job}/state`);
  await keep("state", link.state);
  const heads = JSON.stringify(link.state.heads);
  if (heads === known && link.plan) return;
  // The plan and the tally cost the server time: after each it has a rest, the longer the more it has to do.
  clearTimeout(rest.timer);
  if (link.plan && Date.now() < rest.until) {
    rest.timer = setTimeout(once, rest.until - Date.now());
    return;
  }
  const begun = Date.now();
  link.plan = await ask(`api/jobs/${job}/plan`);
  rest.until = Date.now() + RESTS * (Date.now() - begun);
  known = heads;
  link.seen = lines;
  await keep("plan", link.plan);
  await keep("seen", lines);
}

let running = null;
let again = false;

// A whole exchange; whoever asks while one runs waits for that and one more.
export function once() {
  if (!record.me) return Promise.resolve();
  if (running) again = true;
  else running = exchanges().finally(() => { running = null; });
  return running;
}

async function exchanges() {
  do {
    again = false;
    await exchange();
  } while (again);
}

async function exchange() {
  try {
    await send();
    await fetchNew();
    await fetchState();
    await fetchPeople();
    await sendPhotos();
    link.online = true;
    link.unknown = false;
  } catch (error) {
    link.online = false;
    link.unknown = error.message === "401";
  }
  told();
}

// What others write comes at once while there is a network; without, the clock above asks again.
function listen() {
  const query = new URLSearchParams({ after: link.next, token: record.me.token });
  const stream = new EventSource(`api/jobs/${record.me.job}/stream?${query}`);
  let soon = 0;
  stream.onmessage = (event) => {
    if (record.byHash.has(sha256(event.data))) return;
    clearTimeout(soon);
    soon = setTimeout(once, SOON_MS);
  };
}

export async function recall() {
  link.next = (await kept("next")) || 0;
  link.plan = (await kept("plan")) || null;
  link.state = (await kept("state")) || null;
  link.seen = (await kept("seen")) || 0;
  link.people = (await kept("people")) || {};
  link.photos = (await kept("photos")) || [];
}

export async function begin() {
  addEventListener("online", once);
  setInterval(once, EVERY_MS);
  await once();
  listen();
}

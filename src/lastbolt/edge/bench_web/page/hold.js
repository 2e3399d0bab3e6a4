// A hold point: who signs, what lastbolt says, and the signature, given at the bench on the signer's own device.
import { go, note, screen } from "./app.js";
import { big, byId, el } from "./dom.js";
import { isOpen, tally } from "./job.js";
import { verdict } from "./joint.js";
import { present, record } from "./record.js";
import { sha256 } from "./sha256.js";
import { ask, link, nameOf, once } from "./sync.js";
import { did, t } from "./words.js";

// What a signature rests on: every observation and act that is here, undone ones too.
function evidence() {
  const hashes = record.lines.filter((one) => one.event.kind !== "decision").map((one) => one.hash);
  return sha256(hashes.sort().join("\n"));
}

// Devices whose last event is no closing head of this hold, without this one and the server's own.
function notClosed(hold) {
  const last = new Map();
  for (const one of record.lines) last.set(one.event.device, one.event.body);
  for (const device of (link.state && link.state.devices) || []) {
    const id = typeof device === "string" ? device : device.device;
    if (!last.has(id)) last.set(id, {});
  }
  last.delete(record.me.device);
  last.delete(record.me.server_device);
  return [...last].filter(([, body]) => body.event !== "closing head" || body.hold !== hold.hold).map(([device]) => device);
}

// What the server will find too: free only if everything else that holds is settled as well.
function verdictOf(said) {
  if (!said) return "";
  return said.verdict === "free" && !said.clear_to_part ? "other holders open" : said.verdict;
}

async function fresh() {
  await once();
  if (!link.online) return false;
  link.plan = await ask(`api/jobs/${record.me.job}/plan`);
  return present();
}

const nobodyOf = (role) => !((link.state && link.state.devices) || []).some((one) => one.role === role);

// What became of the signatures so far: a refused one says why, a lapsed one names what made it lapse.
function before(hold) {
  const known = ((link.state && link.state.holds) || []).find((one) => one.hold === hold.hold);
  if (!known) return null;
  const event = (hash) => {
    const one = record.byHash.get(hash);
    return one ? `${nameOf(one.event.by)}: ${did(one.event.body.event)}` : hash.slice(0, 8);
  };
  const last = known.signatures[known.signatures.length - 1];
  return [
    known.unsigned_force.length > 0 && el("p", { class: "caution" }, t("force_unsigned")),
    last && last.state === "lapsed" && el("p", { class: "caution" }, t("lapsed", { events: last.events.map(event).join(", ") })),
    last && last.state === "lapsed" && last.incidents.length > 0 && el("p", { class: "caution" }, t("incident")),
    last && last.state === "refused" && el("p", { class: "caution" }, t("hold_refused", { why: (last.faults || []).map((one) => one.what).join(" ") || known.why_closed })),
  ];
}

// How it was opened: by a signature, by a self-check, or against what lastbolt says; for ever.
export function how(hold) {
  const known = ((link.state && link.state.holds) || []).find((one) => one.hold === hold.hold);
  const good = ((known || {}).signatures || []).filter((one) => ["standing", "confirmed"].includes(one.state));
  if (good.some((one) => !one.override && !one.self_check)) return "signed";
  return good.some((one) => one.override) ? "signed_against" : "signed_self";
}

// A box for the reason of every device that has not said that it is done.
function reasonsFor(hold) {
  const boxes = new Map(notClosed(hold).map((device) => [device, el("input", { id: `why-${device}`, autocomplete: "off" })]));
  const whose = (device) => {
    const known = ((link.state && link.state.devices) || []).find((one) => one.device === device);
    return known && known.person ? nameOf(known.person) : device.slice(0, 6);
  };
  const drawn = [...boxes].map(([device, box]) => [el("label", { for: `why-${device}` }, t("missing_device", { device: whose(device) })), box]);
  const given = () => notClosed(hold).map((device) => ({ device, reason: boxes.has(device) ? boxes.get(device).value.trim() : "" }));
  return { drawn, given, whose };
}

// Signs, or says in a sentence why not.
async function signs(hold, reasons, more) {
  if (!(await fresh())) return t("needs_network");
  const said = tally();
  const missing = reasons.given();
  const against = more.event === "override";
  if (against && !more.reason) return t("why_against");
  if (!against && hold.wants === "free" && !(said && said.clear_to_part)) return t("hold_refused", { why: said ? said.sentence : t("no_verdict") });
  const silent = missing.find((one) => !one.reason);
  if (silent) return t("missing_device", { device: reasons.whose(silent.device) });
  const body = { ...more, hold: hold.hold, verdict: verdictOf(said), evidence: evidence(), missing };
  if (await note(t("signed"), body)) await once();
  return "";
}

// Nothing is typed or pressed while the server is asked: the answer draws the screen anew.
function quiet(work) {
  for (const one of byId("main").querySelectorAll("button, input")) one.disabled = true;
  return work;
}

screen("hold", ({ hold, fault = "" }) => {
  const role = t(`role_${hold.role}`);
  const signer = record.me.role === hold.role;
  const alone = !signer && record.me.role === "trainee" && nobodyOf(hold.role);
  const reasons = reasonsFor(hold);
  const against = el("input", { id: "against", autocomplete: "off" });
  const sign = (more) => quiet(signs(hold, reasons, more)).catch(() => t("needs_network")).then((why) => (why || !isOpen(hold.hold) ? go("hold", { hold, fault: why }) : go("now")));
  if (isOpen(hold.hold)) return [el("h1", {}, t(how(hold))), verdict(), big(t("go_on"), () => go("now"), { class: "big first" })];
  return [
    el("h1", {}, t("hold_title", { role })), el("p", {}, hold.words || t("hold_why")),
    fault ? el("p", { class: "caution", role: "alert" }, fault) : before(hold),
    verdict(),
    !signer && [
      el("p", {}, el("b", {}, t("hold_wait", { role }))),
      big(t("closing"), () => note(t("closing_done"), { event: "closing head", hold: hold.hold }).then(once), { class: "big first" }),
    ],
    (signer || alone) && reasons.drawn,
    signer && big(t("hold_sign"), () => sign({ event: "signed", self_check: false }), { class: "big first" }),
    alone && big(t("self_check"), () => sign({ event: "signed", self_check: true })),
    record.me.role === "instructor" && !(tally() || {}).clear_to_part && [
      el("label", { for: "against" }, t("why_against")), against,
      big(t("open_against"), () => sign({ event: "override", reason: against.value.trim() }), { class: "big stop" }),
    ],
    big(t("go_round"), () => go("direction")), big(t("back"), () => go("now")),
  ];
});

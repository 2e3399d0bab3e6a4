// A hold point: who signs, what lastbolt says, and the signature, given at the bench on the signer's own device.
import { go, note, screen } from "./app.js";
import { big, el } from "./dom.js";
import { tally } from "./job.js";
import { verdict } from "./joint.js";
import { present, record } from "./record.js";
import { sha256 } from "./sha256.js";
import { ask, link, once } from "./sync.js";
import { t } from "./words.js";

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

screen("hold", ({ hold, fault = "" }) => {
  const role = t(`role_${hold.role}`);
  const signer = record.me.role === hold.role;
  const boxes = new Map();
  const missing = signer ? notClosed(hold) : [];
  const reasons = missing.map((device) => {
    const box = el("input", { id: `why-${device}`, autocomplete: "off" });
    boxes.set(device, box);
    return [el("label", { for: `why-${device}` }, t("missing_device", { device: device.slice(0, 6) })), box];
  });
  const sign = (selfCheck) => async () => {
    if (!(await fresh())) return go("hold", { hold, fault: t("needs_network") });
    const said = tally();
    const why = notClosed(hold).map((device) => ({ device, reason: boxes.has(device) ? boxes.get(device).value.trim() : "" }));
    const nameless = why.find((one) => !one.reason);
    if (nameless) return go("hold", { hold, fault: t("missing_device", { device: nameless.device.slice(0, 6) }) });
    if (hold.wants === "free" && !(said && said.clear_to_part)) return go("hold", { hold, fault: t("hold_refused", { why: said ? said.sentence : t("no_verdict") }) });
    const body = { event: "signed", hold: hold.hold, verdict: verdictOf(said), evidence: evidence(), missing: why, self_check: selfCheck };
    if (await note(t("signed"), body)) await once();
    return go("now");
  };
  return [
    el("h1", {}, t("hold_title", { role })), el("p", {}, hold.words || t("hold_why")),
    fault && el("p", { class: "caution", role: "alert" }, fault), verdict(),
    signer ? [reasons, big(t("hold_sign"), sign(false), { class: "big first" })] : [
      el("p", {}, el("b", {}, t("hold_wait", { role }))),
      big(t("closing"), () => note(t("closing_done"), { event: "closing head", hold: hold.hold }).then(once), { class: "big first" }),
      record.me.role !== "visitor" && big(t("self_check"), sign(true)),
    ],
    big(t("go_round"), () => go("direction")), big(t("back"), () => go("now")),
  ];
}, { still: true });

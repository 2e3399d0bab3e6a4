// The form below a line: what can be said of such a fact, beginning with what it says now.
import { save, named, undo } from "./desk.js";
import { el, say } from "./dom.js";
import { FIELDS, SETTLED_BY_WORDS } from "./fields.js";

export function form(fact) {
  const wrong = el("p", { class: "wrong", role: "alert", hidden: true });
  const fields = fact.state === "orphan" || fact.state === "elsewhere" ? null : FIELDS[fact.sort]?.(fact.values);
  const reason = el("input", { type: "text", maxlength: 400, value: fact.values.reason ?? "" });
  const made = el("form", { class: "edit", novalidate: true });
  const send = async (correction, done) => {
    if (!named()) return;
    const why = await save({ fact: fact.id, saw: fact.words, reason: reason.value.trim(), ...correction });
    if (why) {
      wrong.textContent = why;
      wrong.hidden = false;
    } else {
      say(done);
    }
  };
  made.addEventListener("submit", (event) => {
    event.preventDefault();
    const said = fields?.said();
    if (typeof said === "string") {
      wrong.textContent = said;
      wrong.hidden = false;
    } else if (said) {
      send(said, "Saved.");
    }
  });
  made.append(
    ...(fields?.rows ?? []),
    fact.state === "orphan" || fact.state === "elsewhere" ? "" : field(whyWords(fact), reason),
    buttons(fact, fields, send, reason, wrong),
    wrong,
    el("p", { class: "where" }, fact.where));
  return made;
}

const whyWords = (fact) => SETTLED_BY_WORDS.includes(fact.sort) ? "What you saw there" : "Why (if it needs saying)";

const field = (name, input) => el("label", { class: "field wide" }, name, input);

function buttons(fact, fields, send, reason, wrong) {
  const button = (words, act, name = "") => el("button", { type: "button", class: name, onclick: act }, words);
  const takeBack = async () => {
    if (!named()) return;
    const why = await undo(fact.correction);
    if (why) {
      wrong.textContent = why;
      wrong.hidden = false;
    } else {
      say("Taken back.");
    }
  };
  const row = el("p", { class: "row" });
  if (fact.state === "orphan") return el("p", { class: "row" }, button("Take it back", takeBack, "first"));
  if (fact.state === "elsewhere") return row;
  if (fields) row.append(el("button", { type: "submit", class: "first" }, "Save"));
  if (fact.sort !== "reference" || fact.values.to?.length) {
    const confirm = () => send({ does: "confirmed" }, "Noted: right as it was read.");
    row.append(button(fields ? "Right as read" : "I looked: settled", confirm, fields ? "" : "first"));
  }
  if (fact.sort === "step") row.append(button("Not a step", () => send({ does: "not a step" }, "Noted: no step.")));
  if (fact.sort === "reference") {
    row.append(button("Asks for nothing here", () => {
      if (reason.value.trim()) send({ does: "asks nothing" }, "Noted: asks for nothing.");
      else {
        wrong.textContent = "Say why it asks for nothing here.";
        wrong.hidden = false;
        reason.focus();
      }
    }));
  }
  if (fact.correction) row.append(button("Take it back", takeBack));
  return row;
}

// The fields of each sort of fact. `said` gives the correction, or words about what is missing.
import { desk } from "./desk.js";
import { el } from "./dom.js";

export const SETTLED_BY_WORDS = ["page", "problem"];
const UNITS = ["N·m", "lbf·ft", "lbf·in", "kgf·m", "kgf·cm", "N·cm", "daN·m", "ozf·in"];
const DEEDS = ["remove", "install", "loosen", "tighten", "separate", "join", "drain", "fill", "mark", "check", "other"];
const FASTENERS = ["bolt", "screw", "stud", "nut", "pin", "clip", "dowel"];

const field = (name, input, wide = false) => el("label", { class: wide ? "field wide" : "field" }, name, input);
const text = (value, short = false) =>
  el("input", { type: "text", class: short ? "short" : "", maxlength: 400, value: value ?? "" });
const number = (value) => el("input", { type: "text", inputmode: "decimal", class: "short", value: value ?? "" });
const choice = (options, value) => {
  const made = el("select", {}, ...options.map(([name, words]) => el("option", { value: name }, words)));
  made.value = value;
  return made;
};
const row = (...fields) => el("div", { class: "row" }, ...fields);

// "12", "12,5"; null when nothing is typed, NaN when it is no number.
export function read(input) {
  const typed = input.value.trim().replace(",", ".");
  return typed === "" ? null : /^-?\d+(\.\d+)?$/.test(typed) ? Number(typed) : NaN;
}

function range(low, high) {
  const first = read(low);
  const last = read(high) ?? first;
  if (first === null) return "Type a number.";
  if (Number.isNaN(first) || Number.isNaN(last)) return "This is no number.";
  return first <= last ? { low: first, high: last } : "The second number is smaller than the first.";
}

function step(values) {
  const words = el("textarea", { maxlength: 4000, value: values.words ?? "" });
  const mark = text(values.mark, true);
  const deed = choice([["", "as the words say"], ...DEEDS.map((one) => [one, one])], "");
  return {
    rows: [field("Words of the step", words, true), row(field("Mark", mark), field("Kind", deed))],
    said: () => words.value.trim()
      ? { does: "step reads", words: words.value.trim(), mark: mark.value.trim(), ...(deed.value ? { deeds: [deed.value] } : {}) }
      : "The step has no words. If it is none: Not a step.",
  };
}

const nameOf = (id) => desk.sections.find((one) => one.id === id)?.name ?? "";

export function sectionList() {
  return el("datalist", { id: "sections" }, ...desk.sections.map((one) => el("option", { value: one.name })));
}

// A section by what was typed: its whole name, or its number alone.
export function sectionNamed(typed) {
  const said = typed.trim();
  const exact = desk.sections.find((one) => one.name === said);
  const numbered = desk.sections.filter((one) => one.name.split(" ")[0] === said);
  return exact ?? (numbered.length === 1 ? numbered[0] : undefined);
}

function reference(values) {
  const inputs = (values.to?.length ? values.to : [""]).map((id) => target(nameOf(id)));
  const places = el("div", { class: "row" }, ...inputs);
  const any = el("input", { type: "checkbox", checked: values.any_of });
  const first = el("input", { type: "checkbox", checked: values.first });
  any.checked = Boolean(values.any_of);
  first.checked = Boolean(values.first);
  const more = el("button", { type: "button", onclick: () => {
    inputs.push(target(""));
    places.append(inputs.at(-1));
    inputs.at(-1).focus();
  } }, "and another");
  return {
    rows: [
      sectionList(),
      field("Leads to (number or title of a section)", places, true),
      row(more, tick(first, "must be done first"), tick(any, "one of them is enough")),
    ],
    said: () => {
      const typed = inputs.map((one) => one.value.trim()).filter(Boolean);
      const found = typed.map(sectionNamed);
      if (!typed.length) return "Say where it leads, or that it asks for nothing here.";
      const lost = typed.find((_, at) => !found[at]);
      if (lost) return `There is no section "${lost}": choose one of the list.`;
      return { does: "leads to", to: found.map((one) => one.id), any_of: any.checked && found.length > 1, first: first.checked };
    },
  };
}

const target = (value) => el("input", { type: "text", list: "sections", class: "target", value, "aria-label": "Section" });
const tick = (input, words) => el("label", { class: "tick" }, input, words);

function torque(values) {
  const [low, high, angle] = [number(values.low), number(values.high === values.low ? "" : values.high), number(values.angle_deg)];
  const units = UNITS.includes(values.unit) || !values.unit ? UNITS : [values.unit, ...UNITS];
  const unit = choice(units.map((one) => [one, one]), values.unit ?? "N·m");
  const limit = choice([["", "exactly so"], ["at most", "at most"], ["at least", "at least"]], values.limit ?? "");
  return {
    rows: [row(field("Torque", low), field("to", high), field("Unit", unit), field("then degrees", angle), field("Meant as", limit))],
    said: () => {
      const both = range(low, high);
      const turn = read(angle);
      if (typeof both === "string") return both;
      return Number.isNaN(turn) ? "The degrees are no number."
        : { does: "torque reads", ...both, unit: unit.value, angle_deg: turn, limit: limit.value };
    },
  };
}

function count(values) {
  const [low, high] = [number(values.low), number(values.high === values.low ? "" : values.high)];
  return {
    rows: [row(field("Pieces", low), field("to", high))],
    said: () => {
      const both = whole(low, high);
      return typeof both === "string" ? both : { does: "count reads", ...both };
    },
  };
}

function whole(low, high) {
  const both = range(low, high);
  if (typeof both === "string") return both;
  return Number.isInteger(both.low) && Number.isInteger(both.high) && both.low >= 0 ? both : "Pieces are whole numbers.";
}

function partsRow(values) {
  const [name, part] = [text(values.name), text(values.part_number)];
  const [low, high] = [number(values.low), number(values.high === values.low ? "" : values.high)];
  const what = choice([["?", "not known"], ["", "no fastener"], ...FASTENERS.map((one) => [one, one])], values.what ?? "?");
  const [thread, length] = [text(values.thread, true), number(values.length_mm)];
  return {
    rows: [
      row(field("Name", name), field("Part number", part)),
      row(field("Pieces", low), field("to", high), field("Fastener", what), field("Thread", thread), field("Length, mm", length)),
    ],
    said: () => {
      const made = { does: "row reads", name: name.value.trim(), part_number: part.value.trim() };
      if (low.value.trim()) {
        const both = whole(low, high);
        if (typeof both === "string") return both;
        Object.assign(made, both);
      }
      const mm = read(length);
      if (Number.isNaN(mm)) return "The length is no number.";
      if (what.value !== "?") made.what = what.value;
      if (what.value && thread.value.trim()) made.thread = thread.value.trim();
      if (what.value && mm !== null) made.length_mm = mm;
      return made;
    },
  };
}

function limit(values) {
  const ends = (span) => [number(span?.low), number(span?.high), text(span?.unit ?? "mm", true)];
  const [standard, worn] = [ends(values.standard), ends(values.limit)];
  const sense = choice([["", "not said"], ["at most", "at most"], ["at least", "at least"], ["between", "between"]], values.sense ?? "");
  const span = ([low, high, unit]) => {
    const [first, last] = [read(low), read(high)];
    if (Number.isNaN(first) || Number.isNaN(last)) return "This is no number.";
    return first === null && last === null ? null : { low: first, high: last, unit: unit.value.trim() };
  };
  const named = (name, [low, high, unit]) => row(field(`${name}, from`, low), field("to", high), field("Unit", unit));
  return {
    rows: [named("When new", standard), named("Limit", worn), row(field("The limit is", sense))],
    said: () => {
      const [one, two] = [span(standard), span(worn)];
      const wrong = [one, two].find((each) => typeof each === "string");
      if (wrong) return wrong;
      return one || two ? { does: "limit reads", standard: one, limit: two, sense: sense.value } : "Type a number.";
    },
  };
}

export const FIELDS = {
  step, reference, torque, "torque row": torque, count, "table row": count, row: partsRow, limit,
};

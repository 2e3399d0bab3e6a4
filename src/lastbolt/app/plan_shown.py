"""The plan as the sheet shows it: one block per procedure, its lines under it."""

import msgspec
from msgspec import Struct

from lastbolt.app.before_shown import before_shown
from lastbolt.app.pages import BlockShown, LineShown, Remark
from lastbolt.app.shown import Shown, cautions_shown, not_beside
from lastbolt.planning.force import bare_fasteners, parting, stops
from lastbolt.words.answer import Answer, TakenAs
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Figure, Machine, TorqueValue
from lastbolt.words.plan import Line, Plan

HEADING_PAGE = "A line without a page stands on the page of its heading."
ASK = "Where no picture is named, ask before the section begins: what must be off, and is it?"
ASK_ALL = "No section has a picture here. Ask before each begins: what must be off, and is it?"


class Halts(Struct, frozen=True):
    """The sections of a plan that part a joint, and the steps before which work stops."""

    sections: frozenset[str]
    stops: frozenset[str]


def blocks_of(
    plan: Plan, machine: Machine, shown: Shown, answer: Answer | None = None
) -> tuple[BlockShown, ...]:
    """The checklist, procedure by procedure, in the plan's own order.

    A procedure that is left for a required one and taken up again gets a second block with its number. Before
    the step that first puts force on the joint stands what the answer says today.
    """
    reasons = {line.id: line for line in plan.lines}
    figures = {figure.id: figure for figure in machine.figures}
    blocks: list[BlockShown] = []
    lines: list[LineShown] = []
    opening: Line | None = None
    titles = {line.procedure: line for line in plan.lines if line.kind == "opening"}

    quoted: set[str] = set()
    begun: set[str] = set()
    at = halts_of(plan)

    def close() -> None:
        if opening is not None and (lines or opening.kind == "opening"):
            why = _because(opening, reasons, quoted)
            blocks.append(_block(opening, tuple(lines), why, figures, shown))
        lines.clear()

    for line in plan.lines:
        if line.kind == "opening":
            close()
            opening = line
            begun.add(line.procedure)
            continue
        if opening is not None and line.kind == opening.kind == "confirm":
            lines.append(_line(line, reasons, shown))
            continue
        if opening is None or line.procedure != opening.procedure:
            close()
            opening = _continued(titles.get(line.procedure), line, begun=line.procedure in begun)
        lines.append(_with_answer(_line(line, reasons, shown), line, at, answer))
    close()
    return tuple(blocks)


def _with_answer(made: LineShown, line: Line, at: Halts, answer: Answer | None) -> LineShown:
    """The line with the stop before force, or with the fasteners that it only calls "the screws"."""
    if line.procedure not in at.sections:
        return made
    stop = _stop(answer) if line.id in at.stops else ""
    which: tuple[str, ...] = ()
    if answer is not None and bare_fasteners(line):
        which = tuple(_which(taken) for taken in answer.taken_as if taken.sure)
    return msgspec.structs.replace(made, stop=stop, which=which)


def halts_of(plan: Plan) -> Halts:
    """Where work stops; where no step says force, before the first of the goal's."""
    steps = (line.id for line in plan.lines if line.kind == "step" and line.procedure in plan.procedures)
    return Halts(frozenset(parting(plan)), stops(plan) or frozenset((next(steps, ""),)))


def _stop(answer: Answer | None) -> str:
    """What the answer says today, before force is used."""
    if answer is None:
        return "STOP. Nobody has gone round the joint: nothing is known about what still holds."
    if answer.clear_to_part:
        return ""
    return f"STOP. {answer.sentence} Go on only when it is clear to part."


def _which(taken: TakenAs) -> str:
    at = f" at {', '.join(taken.places)}" if taken.places else ""
    return f"{taken.pieces}{at} ({taken.row})"


def _continued(opened: Line | None, line: Line, *, begun: bool) -> Line:
    if line.kind == "confirm" or opened is None:
        return msgspec.structs.replace(line, kind="confirm", cautions=(), question="", figures=())
    words = f"{opened.words} ({'continued' if begun else 'before it begins'})"
    return msgspec.structs.replace(opened, kind="step", words=words, cautions=(), question="", figures=())


def _block(
    opening: Line,
    lines: tuple[LineShown, ...],
    why: str,
    figures: dict[str, Figure],
    shown: Shown,
) -> BlockShown:
    picture = None
    for figure_id in opening.figures:
        figure = figures.get(figure_id)
        if figure is not None and figure.place:
            picture = shown.picture(Citation(figure.source, figure.place, figure.title))
            break
    confirm = opening.kind == "confirm"
    where = "" if confirm else shown.first_where(opening.citations)
    return BlockShown(
        number="" if confirm else opening.number,
        title="Taken for done: confirm each before going on" if confirm else _limited(opening),
        where=where,
        why="" if confirm else why,
        question=opening.question if opening.kind == "opening" and opening.figures else "",
        picture=picture,
        cautions=cautions_shown(opening.cautions),
        lines=tuple(_without_place(line, where) for line in lines),
    )


def _without_place(line: LineShown, where: str) -> LineShown:
    """The line without the page of its heading; what shows a picture of it stays."""
    kept = tuple(cite for cite in line.cites if cite.crop or cite.where != where)
    return line if len(kept) == len(line.cites) else msgspec.structs.replace(line, cites=kept)


def reading_rule(plan: Plan) -> str:
    """How the checklist is to be read: where a page is not said, what to ask where there is no picture."""
    openings = [line for line in plan.lines if line.kind == "opening"]
    bare = [line for line in openings if not line.figures]
    if not openings:
        return ""
    asks = (ASK_ALL if len(bare) == len(openings) else ASK) if bare else ""
    return f"{HEADING_PAGE} {asks}".rstrip()


def _line(line: Line, reasons: dict[str, Line], shown: Shown) -> LineShown:
    aside = [line.question] if line.question and line.question != line.words else []
    if line.required_by.because not in ("part of", "goal"):
        aside.append(_because(line, reasons))
    words = _limited(line)
    return LineShown(
        mark=f"{line.number}.{line.mark}" if line.kind == "step" and line.mark else line.number,
        words=words,
        cautions=cautions_shown(line.cautions),
        tags=_tags(line),
        why=" · ".join(part for part in aside if part),
        cites=shown.cites(line.citations, 1, " ".join((words, *aside)), pictures=line.kind != "confirm"),
        confirm=line.kind != "step",
        done=line.state in ("done", "done, not looked at") and line.kind == "step",
    )


def _limited(line: Line) -> str:
    limit = limit_beside(line)
    return f"{limit[:1].upper()}{limit[1:]}: {line.words}" if limit else line.words


def limit_beside(line: Line) -> str:
    """The limit of a line where its own words do not say it: "only if ..." once, also where it is printed
    as "if they are loose"."""
    if not line.only_if or line.only_if.casefold() in line.words.casefold():
        return ""
    begins = line.only_if.casefold()
    if begins.startswith("only "):
        return line.only_if
    return f"only {'' if begins.startswith(('if ', 'when ')) else 'if '}{line.only_if}"


def _tags(line: Line) -> tuple[str, ...]:
    said = [
        *((line.beside,) if line.beside else ()),
        *(("left-hand thread",) if line.left_hand else ()),
        *line.locks,
    ]
    if line.kind == "confirm":
        return (*said, f"ticked by {', '.join(line.by)}") if line.by else ("nobody ticked it",)
    said += [f"new: {part}" for part in line.renew]
    torques = (torque_words(value) for value in line.torques)
    said += [words for words in torques if words not in line.beside]
    if line.state != "to do":
        said.append("nobody ticked it" if line.state == "taken for done" else line.state)
    return tuple(dict.fromkeys(said))


def torque_words(value: TorqueValue) -> str:
    """A torque exactly as printed, every unit, with the condition under which it holds."""
    said = value.words or ", ".join(
        f"{value.limit} {low:g}".lstrip() + (f" to {high:g}" if high != low else "") + f" {unit}"
        for low, high, unit in value.printed
    )
    return f"{said} ({value.condition})" if value.condition else said


def _because(line: Line, reasons: dict[str, Line], quoted: set[str] | None = None) -> str:
    """Why it is there. Words that ask for it are quoted unless they are among `quoted`, which they join."""
    because = line.required_by
    if because.because == "goal":
        return "the goal itself"
    needs = reasons.get(because.line)
    name = f"{needs.number}{'.' + needs.mark if needs.mark else ''}".strip() if needs else ""
    said = f"needed by {name}" if name else because.because
    if not because.words or (quoted is not None and because.words in quoted):
        return said
    if quoted is not None:
        quoted.add(because.words)
    return f"{said}: “{because.words}”"


def before_off(plan: Plan, shown: Shown) -> tuple[Remark, ...]:
    """Before you take it off, gathered; what is said of one step in the same words is one remark. The parts
    that must be new stand with what to have ready."""
    made = []
    for one in before_shown(item for item in plan.before_off if item.kind != "single use"):
        quote = _quoted(one.citations)
        quoted = f"“{quote}”" if quote and not_beside(quote, one.sentence) else ""
        aside = ": ".join(part for part in (one.at, quoted) if part)
        made.append(Remark(one.sentence, aside, shown.cites(one.citations, 1, pictures=False)))
    return tuple(made)


def first_open(plan: Plan, shown: Shown) -> tuple[Remark, ...]:
    """The first line of the checklist that is still to be done or confirmed."""
    for line in plan.lines:
        if line.kind == "confirm" or (line.kind == "step" and not line.state.startswith("done")):
            made = _line(line, {}, shown)
            return (Remark(f"{made.mark} {made.words}".strip(), "The first open line of the checklist."),)
    return ()


def open_points(plan: Plan, shown: Shown) -> tuple[Remark, ...]:
    """What keeps the plan from being complete."""
    return tuple(
        Remark(item.words, item.do, shown.cites(item.citations, beside=f"{item.words} {item.do}"))
        for item in plan.open
    )


def _quoted(citations: tuple[Citation, ...]) -> str:
    return citations[0].words if citations else ""


def plan_state(plan: Plan) -> str:
    """One sentence on whether the plan can be relied on as the whole."""
    steps = sum(line.kind == "step" for line in plan.lines)
    confirms = sum(line.kind == "confirm" for line in plan.lines)
    said = f"{steps} steps" + (f", {confirms} to confirm" if confirms else "")
    return f"{said}. " + (
        "Complete."
        if plan.complete
        else f"Not complete: {len(plan.open)} open point{'s' if len(plan.open) != 1 else ''}, listed below."
    )

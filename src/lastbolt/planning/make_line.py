"""Plan lines from procedures, steps and references."""

from lastbolt.planning.book import limits
from lastbolt.planning.names import any_of, words
from lastbolt.planning.reach import Asker
from lastbolt.planning.state import Done, Tick
from lastbolt.words.machine import Mention, Procedure, Reference, Step
from lastbolt.words.plan import Line, LineState, RequiredBy

PICTURE_QUESTION = "Hold the picture beside the bench: what is off there that is still on here?"
NO_PICTURE_QUESTION = "No picture here. What must be off before this begins, and is it?"
OFF = ("remove", "separate")
LOOK_QUESTION = "Look, do not rely on the tick: is it off, and every fastener with it?"
LOOKED_QUESTION = "Somebody looked. Is it still off, and nothing put back?"
UNTICKED_QUESTION = (
    "Nobody ticked this; what needs it was ticked. Look: is it off, and every fastener with it?"
)
DONE_QUESTION = "Is it done, and still so?"


def opening_line(
    procedure: Procedure, required_by: RequiredBy, depth: int, asker: Asker, perhaps: str
) -> Line:
    """A procedure begins: its title, picture, warnings and the question to ask first.

    `perhaps`: the words of the references that limit the need for it, when all of them do.
    """
    doubted = asker.applies(procedure.id, procedure.applies) == "unknown"
    limited = {one.casefold(): one for one in (perhaps, limits(procedure.applies) if doubted else "") if one}
    return Line(
        procedure.id, "opening", procedure.id, required_by,
        cautions=procedure.cautions,
        words=procedure.title,
        number=procedure.number,
        depth=depth,
        only_if="; ".join(reversed(list(limited.values()))),
        question=PICTURE_QUESTION if procedure.figures else NO_PICTURE_QUESTION,
        figures=procedure.figures,
        tools=procedure.tools,
        doubt=procedure.doubt,
        citations=procedure.citations,
    )  # fmt: skip


def step_line(step: Step, procedure: Procedure, depth: int, done: Done, because: RequiredBy) -> Line:
    """Something to do, with all that the source says of it."""
    tick = done.steps.get(step.id) or done.procedures.get(procedure.id)
    return Line(
        step.id, "step", procedure.id, because,
        cautions=step.cautions,
        words=step.words,
        number=procedure.number,
        mark=step.mark,
        step=step.id,
        depth=depth,
        state=state_of(tick, step.id in done.started),
        by=tick.by if tick else (),
        looked=bool(tick and tick.looked),
        said=tick.events if tick else (),
        only_if=step.condition,
        figures=step.figures,
        mentions=step.mentions,
        torques=step.torques,
        locks=step.locks,
        left_hand=step.left_hand,
        renew=step.renew,
        tools=step.tools,
        doubt=step.doubt,
        citations=step.citations,
        beside=step.beside,
    )  # fmt: skip


def state_of(tick: Tick | None, started: bool) -> LineState:
    """How far a line is by its tick."""
    if tick is None:
        return "started" if started else "to do"
    return "done" if tick.looked else "done, not looked at"


def confirm_line(procedure: Procedure, required_by: RequiredBy, depth: int, tick: Tick | None) -> Line:
    """A procedure taken for done: what must be off, who ticked it, where to look."""
    off = [part for part in procedure.parts if procedure.deed in ("remove", "separate", "drain")]
    taking = [step for step in procedure.steps if any(_comes_off(m, step) for m in step.mentions)]
    off += [mention.name for step in taking for mention in step.mentions if _comes_off(mention, step)]
    named = {name.casefold(): name for name in reversed(off) if name}
    gone = tuple(dict.fromkeys(named[name.casefold()] for name in off if name))
    figures = (*procedure.figures, *(figure for step in taking for figure in step.figures))
    verb = "off" if procedure.deed in OFF else "done"
    return Line(
        procedure.id, "confirm", procedure.id, required_by,
        words=f"Confirm {verb}: {procedure.title}",
        number=procedure.number,
        depth=depth,
        state="taken for done" if tick is None else ("done" if tick.looked else "done, not looked at"),
        by=tick.by if tick else (),
        looked=bool(tick and tick.looked),
        said=tick.events if tick else (),
        question=_confirm_question(procedure, tick),
        off=gone,
        figures=tuple(dict.fromkeys(figures)),
        citations=(*procedure.citations, *(one for step in taking for one in step.citations[:1])),
    )  # fmt: skip


def _comes_off(mention: Mention, step: Step) -> bool:
    """Whether the step takes it off, as "slacken the nut and unscrew it" does."""
    if mention.deed in OFF:
        return True
    threaded = any_of(mention.name, words()["crack"]["fasteners"])
    return mention.deed == "loosen" and "remove" in step.deeds and bool(threaded)


def _confirm_question(procedure: Procedure, tick: Tick | None) -> str:
    if procedure.deed not in OFF:
        return DONE_QUESTION
    if tick is None:
        return UNTICKED_QUESTION
    return LOOKED_QUESTION if tick.looked else LOOK_QUESTION


def question_line(
    reference: Reference,
    procedure: Procedure,
    because: RequiredBy,
    depth: int,
    asked: tuple[str, tuple[str, ...]],
) -> Line:
    """A person must answer before the plan can go on."""
    return Line(
        reference.id, "question", procedure.id, because,
        words=reference.words,
        number=procedure.number,
        depth=depth,
        question=asked[0],
        choices=asked[1],
        only_if=reference.condition,
        citations=reference.citations,
    )  # fmt: skip


def condition_line(reference: Reference, procedure: Procedure, because: RequiredBy, depth: int) -> Line:
    """What a source requires in words, with no steps to follow."""
    return Line(
        reference.id, "condition", procedure.id, because,
        words=reference.words,
        number=procedure.number,
        depth=depth,
        citations=reference.citations,
    )  # fmt: skip

"""Where in a plan force parts a joint: work stops before it until that joint is clear to part."""

from collections.abc import Collection

from lastbolt.planning.names import any_of, stems, words
from lastbolt.words.machine import Step
from lastbolt.words.plan import Line, Plan

HAND = "by hand"
SEVERAL = 2
FASTENERS = ("screw", "bolt", "nut")
WHOLE = ("opening", "confirm")
"""Lines that stand for a whole section, with its title."""


def stops(plan: Plan) -> frozenset[str]:
    """Ids of the steps before which work stops: the first with force in each section that parts a joint."""
    sections = frozenset(parting(plan))
    found: dict[str, str] = {}
    for line in plan.lines:
        if line.kind == "step" and line.procedure in sections and forces(line):
            found.setdefault(line.procedure, line.id)
    return frozenset(found.values())


def begun_past(plan: Plan) -> tuple[Line, ...]:
    """The first step begun or ticked from each stop on, in the section of that stop."""
    at, past = stops(plan), set()
    found: dict[str, Line] = {}
    for line in plan.lines:
        past |= {line.procedure} if line.id in at else set()
        if line.kind == "step" and line.procedure in past and line.state != "to do":
            found.setdefault(line.procedure, line)
    return tuple(found.values())


def parting(plan: Plan) -> tuple[str, ...]:
    """The sections of the plan that part a joint: those whose titles say so, and the goal's own.

    A goal that only goes on where others have parted the joint ("Removing gears and shafts") parts none,
    unless it takes out several fasteners itself.
    """
    named = _apart_by_title(plan)
    own = not named or bool(set(named) & set(plan.procedures)) or _takes_several_out(plan)
    return tuple(dict.fromkeys((*named, *(plan.procedures if own else ()))))


def parting_of(plan: Plan, about: Collection[str]) -> tuple[str, ...]:
    """The sections that part the one joint which is called by these words: the goal's own, if they part."""
    sections = parting(plan)
    if set(sections) & set(plan.procedures):
        return plan.procedures
    titles = {line.procedure: frozenset(stems(line.words)) for line in plan.lines if line.kind in WHOLE}
    ours = tuple(one for one in sections if titles.get(one, frozenset()) & set(about))
    return ours or sections


def _apart_by_title(plan: Plan) -> list[str]:
    apart = frozenset(words()["deeds"]["apart"])
    titles = [line for line in plan.lines if line.kind in WHOLE]
    return [line.procedure for line in titles if apart & set(line.words.casefold().split())]


def _takes_several_out(plan: Plan) -> bool:
    """Whether the goal's own steps take out screws, bolts or nuts, more than one at a time."""
    return any(
        mention.deed == "remove"
        and mention.kind is not None
        and mention.kind.what in FASTENERS
        and (mention.quantity.low is None or mention.quantity.low >= SEVERAL)
        for line in plan.lines
        if line.kind == "step" and line.procedure in plan.procedures
        for mention in line.mentions
    )


def uses_force(said: str) -> bool:
    """Whether a step presses, pulls, drives or parts."""
    return bool(any_of(said, words()["force"]["words"]))


def forces(line: Line | Step) -> bool:
    """Whether a step uses force, and not only on pins and screws that it takes out."""
    out = [mention for mention in line.mentions if mention.deed == "remove"]
    only_pieces = bool(out) and all(mention.kind is not None for mention in out)
    return uses_force(line.words) and HAND not in line.words.casefold() and not only_pieces


def bare_fasteners(line: Line) -> bool:
    """Whether the step takes fasteners out and names neither size nor how many."""
    return line.kind == "step" and any(
        mention.deed == "remove" and mention.kind is not None
        and mention.kind.thread is None and mention.quantity.low is None
        and mention.kind.what in FASTENERS
        for mention in line.mentions
    )  # fmt: skip

"""Limits of wear end to end: what is measured, its standard, its limit and which side of it is good."""

from __future__ import annotations

from dataclasses import dataclass

from lastbolt.words.machine import Machine
from lastbolt.words.measured import Limit, Span
from styles.counts import Count, Miss
from styles.matching import alike, anchor, tokens, within
from styles.truth import TrueLimit, Truth

TABLE = "limits"
"""The key of the section that is a table of limits: there stand those that the model holds as a table's."""
SAME_NAME = 0.8
"""As for the names of lines in tables of torques."""


@dataclass(frozen=True)
class Held:
    """A limit as read and where it stands."""

    section: str
    step: str
    limit: Limit


def held(machine: Machine, section_of: dict[str, str]) -> list[Held]:
    """Every limit of the model: those of steps with their true section ("" if in none), those of tables."""
    found = [
        Held(section_of.get(procedure.id, ""), anchor(step.mark), one)
        for procedure in machine.procedures
        for step in procedure.steps
        for one in step.limits
    ]
    return found + [Held(TABLE, "", one) for one in machine.limits]


def score_limits(machine: Machine, truth: Truth, section_of: dict[str, str]) -> tuple[Count, list[Miss]]:
    """Each truth is found once at most, each read limit is one truth at most; the rest nobody printed."""
    read = held(machine, section_of)
    left, missed = list(read), []
    for true in truth.limits:
        hit = next((one for one in left if _same_place(one, true) and not differs(one.limit, true)), None)
        if hit is None:
            missed.append(true)
        else:
            left.remove(hit)
    found = len(truth.limits) - len(missed)
    return Count(len(truth.limits), found, len(read), found), _misses(truth, missed, left)


def _misses(truth: Truth, missed: list[TrueLimit], left: list[Held]) -> list[Miss]:
    """A miss says what is wrong with the likest limit that was read there."""
    page = {one.key: one.page for one in truth.sections}
    name = {one.key: f"{one.number} {one.title}".strip() for one in truth.sections}
    told = []
    for true in missed:
        wrong = min((differs(one.limit, true) for one in left if _same_place(one, true)), key=len, default=())
        what = f"read with another {', '.join(wrong)}" if 0 < len(wrong) < 3 else "missed"
        words = f"{true.step} {true.what}: {true.words} / {true.limit_mm}".strip()
        told.append(Miss("limits", page.get(true.section, 0), name.get(true.section, ""), words, what))
    for one in left:
        words = f"{one.step} {one.limit.what}: {one.limit.words}".strip()
        told.append(
            Miss("limits", page.get(one.section, 0), name.get(one.section, ""), words, "no such limit there")
        )
    return told


def _same_place(read: Held, true: TrueLimit) -> bool:
    return read.section == true.section and (not true.step or read.step == anchor(true.step))


def differs(read: Limit, true: TrueLimit) -> tuple[str, ...]:
    """In what a read limit is not this truth; empty when it is."""
    wanted = None if true.limit_mm is None else _ends(true.limit_mm, read.sense)
    same = {
        "name": _same_name(read, true),
        "standard": _same_span(read.standard, true.standard_mm, true.rounding_mm),
        "limit": _same_span(read.limit, wanted, true.rounding_mm),
        "sense": true.limit_mm is None or read.sense in true.senses,
    }
    return tuple(what for what, right in same.items() if not right)


def _ends(limit: float, sense: str) -> tuple[float | None, float | None]:
    """The ends that a model says for one printed limit of that sense."""
    return (None if sense == "at most" else limit, None if sense == "at least" else limit)


def _same_name(read: Limit, true: TrueLimit) -> bool:
    """What is measured, and of which part where the truth tells: in the words, and in no field another."""
    part, _, measure = true.what.rpartition(", ")
    wanted = ((part, read.part), (measure, read.measure))
    return within(tokens(true.what), tokens(read.what)) >= SAME_NAME and all(
        not words or not said or alike(tokens(words), tokens(said)) >= SAME_NAME for words, said in wanted
    )


def _same_span(read: Span | None, true: tuple[float | None, float | None] | None, rounding_mm: float) -> bool:
    if read is None or true is None:
        return read is None and true is None
    ends = zip((read.low, read.high), true, strict=True)
    return read.unit == "mm" and all(
        one is other or (one is not None and other is not None and abs(one - other) <= rounding_mm)
        for one, other in ends
    )

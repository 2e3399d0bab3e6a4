"""A model with its corrections taken into account, as plan, tally and report use it."""

from collections.abc import Container
from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.app.step_words import words_reader
from lastbolt.correcting.apply import Applied, apply
from lastbolt.correcting.facts import Fact, facts_of, reference_fact
from lastbolt.correcting.find import GONE, Finder, Orphan
from lastbolt.correcting.rules import Rules
from lastbolt.correcting.said import said_of, words_of
from lastbolt.planning.named_work import NAMED, with_named_work
from lastbolt.planning.numbers import numbered
from lastbolt.planning.told_back import with_ways_back
from lastbolt.reading.units import NEWTON_METRES
from lastbolt.words.corrections import AsksNothing, Correction, Corrections, LeadsTo
from lastbolt.words.machine import Machine, PutRight
from lastbolt.words.problem import Problem
from lastbolt.words.where import places

APART = frozenset((
    "LB-F09", "LB-F10", "LB-F11", "LB-F12", "LB-F13", "LB-F14", "LB-F36", "LB-F42", "LB-F48", "LB-P01",
    "LB-P02", "LB-P03", "LB-P08", "LB-P15", "LB-R10", "LB-R11", "LB-R13", "LB-R17",
))  # fmt: skip
"""Problems by which something was not read at all: confirming a fact at their place does not settle them."""


class Righted(NamedTuple):
    """The model put right, the orphans, the corrections that hold, and every fact that can be put right."""

    machine: Machine
    orphans: tuple[Orphan, ...]
    held: tuple[Correction, ...]
    facts: tuple[Fact, ...]


def put_right(machine: Machine, corrections: Corrections | None, by_rules: Rules | None = None) -> Righted:
    """The model with every correction that finds its fact; each orphan is a problem of the model.

    Args:
        machine: as read
        corrections: of it, if there are any
        by_rules: to be used again and again for one model, where it is put right often
    """
    if corrections is None or not corrections.corrections:
        return Righted(machine, (), (), ())
    applied = apply(machine, corrections, by_rules or rules())
    named, orphans = _named(applied)
    problems = tuple(orphan_problem(one) for one in orphans)
    righted = replace(
        applied.machine,
        put_right=(*applied.machine.put_right, *named),
        problems=(*applied.machine.problems, *problems),
    )
    by_id = {one.id: one for one in corrections.corrections}
    held = (*applied.held, *(by_id[one.correction] for one in named))
    return Righted(righted, orphans, held, applied.facts)


def rules() -> Rules:
    """The reading rules by which words of people are read."""
    return Rules(words_reader(), NEWTON_METRES, APART, {})


def facts_shown(
    machine: Machine, righted: Righted, needed: Container[str], by_rules: Rules
) -> tuple[Fact, ...]:
    """Every fact that can be put right, and the references that planning finds by the names of work.

    Args:
        machine: as read
        righted: the same put right
        needed: ids of the procedures that the goal needs; by names only these are looked through
        by_rules: those it was put right by
    """
    facts = righted.facts or facts_of(machine, APART, by_rules.kept)
    return (*facts, *_named_facts(righted.machine, needed))


def _named_facts(machine: Machine, of: Container[str]) -> tuple[Fact, ...]:
    planned = with_named_work(with_ways_back(numbered(machine)), of)
    return tuple(
        reference_fact(reference, procedure.id, step)
        for procedure in planned.procedures
        if procedure.id in of
        for step, reference in (
            *(("", one) for one in procedure.before),
            *((step.id, one) for step in procedure.steps for one in step.references),
        )
        if NAMED in reference.id
    )


def _named(applied: Applied) -> tuple[tuple[PutRight, ...], tuple[Orphan, ...]]:
    """What is said of references that only planning makes, and the orphans that remain."""
    asked = [one.correction for one in applied.orphans if _of_planning(one.correction)]
    if not asked:
        return (), applied.orphans
    facts = {one.fact.partition(NAMED)[0] for one in asked}
    procedures = applied.machine.procedures
    of = {p.id for p in procedures if p.id in facts or any(step.id in facts for step in p.steps)}
    finder = Finder(_named_facts(applied.machine, of))
    found = {one.id: finder.find(one) for one in asked}
    said = [said_of(one, fact) for one in asked if isinstance(fact := found[one.id], Fact)]
    rest = [found.get(one.correction.id, one) for one in applied.orphans]
    return tuple(said), tuple(one for one in rest if isinstance(one, Orphan))


def _of_planning(one: Correction) -> bool:
    if not isinstance(one, LeadsTo | AsksNothing) or NAMED not in one.fact:
        return False
    return isinstance(one, LeadsTo) or bool(one.reason)


def orphan_problem(orphan: Orphan) -> Problem:
    """An orphan as people are told of it."""
    one = orphan.correction
    now = orphan.now or orphan.elsewhere
    cited = now.citations[:1] if now else ()
    what = f"A correction by {one.by} no longer fits, and is not used: {orphan.why}. {words_of(one)}"
    if orphan.why != GONE and orphan.now is not None and orphan.now.saw != one.saw:
        what += f' Now "{orphan.now.saw}" stands there.'
    do = "Look at the page: say it again of what stands there now, or withdraw it (lastbolt correct)."
    return Problem("LB-K01", what, places(cited) or one.fact, do, "doubt", cited)

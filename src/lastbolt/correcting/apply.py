"""A model and its corrections -> the model put right, what was put right by whom, and the orphans.

In three passes, since what a person says of a step's words brings forth new facts that can be put right too:
steps that were missing, then words of steps, then everything else. Nothing is applied to a fact whose words
are not those that the correction saw.
"""

from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.correcting.edited import Edited
from lastbolt.correcting.facts import Fact, facts_of
from lastbolt.correcting.find import Finder, Orphan
from lastbolt.correcting.rules import Rules
from lastbolt.correcting.said import said_of
from lastbolt.words.corrections import (
    Correction,
    Corrections,
    StepMissing,
    StepReads,
    standing,
)
from lastbolt.words.machine import Machine, PutRight


class Applied(NamedTuple):
    """The model put right, the corrections that hold in it, and those that do not."""

    machine: Machine
    held: tuple[Correction, ...]
    orphans: tuple[Orphan, ...]
    facts: tuple[Fact, ...]
    """Every fact with the words by which it is known: a step whose words were put right as it was read."""


def apply(machine: Machine, corrections: Corrections, rules: Rules) -> Applied:
    """The model put right: each standing correction is either held or an orphan, none is lost."""
    every = standing(corrections)
    if not every:
        return Applied(machine, (), (), facts_of(machine, rules.apart, rules.kept))
    held: list[Correction] = []
    orphans: list[Orphan] = []
    said: list[PutRight] = []
    missing = [one for one in every if isinstance(one, StepMissing)]
    reads = [one for one in every if isinstance(one, StepReads)]
    rest = [one for one in every if not isinstance(one, StepMissing | StepReads)]
    as_read: dict[str, Fact] = {}
    facts: tuple[Fact, ...] = ()
    for group in (missing, reads, rest):
        facts = facts_of(machine, rules.apart, rules.kept)
        if group is reads:
            as_read = {fact.id: fact for fact in facts if fact.sort == "step"}
        finder = Finder(facts)
        edited = Edited(machine, rules)
        for one in group:
            found = finder.find(one)
            if isinstance(found, Orphan):
                orphans.append(found)
            elif (why := edited.take(one, found)) is not None:
                orphans.append(Orphan(one, why, found))
            else:
                held.append(one)
                said.append(said_of(one, found))
        machine = edited.machine()
    known = tuple(as_read.get(fact.id, fact) if fact.sort == "step" else fact for fact in facts)
    righted = replace(machine, put_right=(*machine.put_right, *said))
    return Applied(righted, tuple(held), tuple(orphans), known)

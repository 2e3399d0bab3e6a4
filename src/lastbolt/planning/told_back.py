"""Ways back that sources tell in passing: "Putting the gear case together", "see 3.2 in reverse order"."""

import re
from functools import lru_cache

from msgspec.structs import replace

from lastbolt.planning.names import words
from lastbolt.planning.pairs import ON
from lastbolt.words.machine import Machine, Procedure, Reference, Step


def with_ways_back(machine: Machine) -> Machine:
    """The machine with what is told in passing said as it is meant."""
    named = {procedure.id: procedure for procedure in machine.procedures}
    procedures = tuple(_told(procedure, named) for procedure in machine.procedures)
    if all(new is old for new, old in zip(procedures, machine.procedures, strict=True)):
        return machine
    return replace(machine, procedures=procedures)


def _told(procedure: Procedure, named: dict[str, Procedure]) -> Procedure:
    joins = _joins().match(procedure.title) if procedure.deed == "other" else None
    if joins is not None:
        procedure = replace(procedure, deed="join", parts=(joins["part"],))
    steps = tuple(_reversed(step, procedure.id, named) for step in procedure.steps)
    if all(new is old for new, old in zip(steps, procedure.steps, strict=True)):
        return procedure
    return replace(procedure, steps=steps)


@lru_cache(maxsize=1)
def _joins() -> re.Pattern[str]:
    known = words()["joins"]
    begins, ends, articles, again = (
        "|".join(map(re.escape, known[key])) for key in ("begins", "ends", "articles", "again")
    )
    part = rf"(?:(?:{articles})\s+)?(?P<part>.+?)"
    return re.compile(rf"(?:{begins})\s+{part}\s+(?:{ends})(?:\s+(?:{again}))?$", re.I)


def _reversed(step: Step, own: str, named: dict[str, Procedure]) -> Step:
    """The step with "see 3.2 in reverse order" as one reference: the reverse of 3.2, no work to do first."""
    backwards = [one for one in step.references if one.role == "reverse of" and one.to in ((), (own,))]
    if not backwards:
        return step
    said = {one.words for one in backwards}
    meant = [one for one in step.references if one.words in said and _removal(one, own, named)]
    if not meant:
        return step
    kept = [
        replace(one, role="reverse of") if one in meant else one
        for one in step.references
        if one not in backwards
    ]
    return replace(step, references=tuple(kept))


def _removal(reference: Reference, own: str, named: dict[str, Procedure]) -> bool:
    """Whether a reference leads to work that can be done backwards."""
    there = [named[target] for target in reference.to if target in named]
    return (
        reference.role in ("before", "see")
        and bool(there)
        and all(one.id != own and one.deed not in ON for one in there)
    )

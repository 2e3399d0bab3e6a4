"""The documents that evidence is gathered from, and names in them that lead nowhere."""

from collections.abc import Iterator

from msgspec import Struct

from lastbolt.app.gather_job import Heard
from lastbolt.app.plan_sections import PlanSections
from lastbolt.planning.problems import unnamed_variant
from lastbolt.tally.problems import leads_nowhere, unknown_step
from lastbolt.words.answer import HolderState
from lastbolt.words.engine import Engine
from lastbolt.words.job import Job, Undone
from lastbolt.words.joint import Walk
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Open
from lastbolt.words.problem import Problem
from lastbolt.words.strange import StrangeField


class Documents(Struct, frozen=True):
    """What is at hand. `closure`: ids of the procedures that the goal needs; `goals`: those that part it.
    `plan_open`: what keeps the goal's plan from being complete.

    `recorded`: somebody keeps a record of the job, so that what it does not tick says something too.
    `strange`: fields of the files that nobody reads.
    """

    machine: Machine | None = None
    engine: Engine | None = None
    walks: tuple[Walk, ...] = ()
    job: Job | None = None
    closure: tuple[str, ...] = ()
    goals: tuple[str, ...] = ()
    plan_open: tuple[Open, ...] = ()
    strange: tuple[StrangeField, ...] = ()
    recorded: bool = True

    @property
    def sections(self) -> PlanSections:
        """The plan's sections: all, and those that part the joint."""
        return PlanSections(self.closure, self.goals)

    @property
    def variant(self) -> str:
        """Which variant the engine is, by its own file or the job; empty when nobody says."""
        return (self.engine.variant if self.engine else "") or (self.job.variant if self.job else "")

    @property
    def parting(self) -> str:
        """The sections that part the joint, with their titles: "4.3 Removing the cap"."""
        procedures = self.machine.procedures if self.machine else ()
        return ", ".join(f"{p.number} {p.title}".strip() for p in procedures if p.id in self.goals)


def slips(
    documents: Documents, walks: tuple[Walk, ...], heard: Heard, holders: tuple[HolderState, ...]
) -> list[Problem]:
    """A problem for each name of walk, job or engine file that no document has, so that it claims nothing."""
    listed = {holder.id for holder in holders}
    said = {**heard.settled, **heard.not_settled}
    found = [leads_nowhere("job settles holder", name) for name in said if name not in listed]
    events = documents.job.events if documents.job else ()
    ids = {event.id for event in events}
    taken_back = [event.undoes for event in events if isinstance(event, Undone)]
    found += [leads_nowhere("job takes back event", name) for name in taken_back if name not in ids]
    machine = documents.machine
    if machine is None:
        return found
    return [
        *unnamed_variant(documents.variant, machine),
        *_ticks(machine, heard),
        *_lines(documents, machine, walks),
        *found,
    ]


def _ticks(machine: Machine, heard: Heard) -> Iterator[Problem]:
    procedures = {procedure.id for procedure in machine.procedures}
    steps = {step.id for procedure in machine.procedures for step in procedure.steps}
    yield from (unknown_step(name) for name in heard.steps if name not in steps)
    yield from (unknown_step(name) for name in heard.procedures if name not in procedures)


def _lines(documents: Documents, machine: Machine, walks: tuple[Walk, ...]) -> Iterator[Problem]:
    """Parts rows named by a walk that the model does not have."""
    rows = {row.id for row in machine.rows}
    tied = [tie.line for walk in walks for tie in walk.ties]
    named = [line for walk in walks for place in walk.places for line in place.lines]
    for line in dict.fromkeys((*tied, *named)):
        if line not in rows:
            yield leads_nowhere("walk names parts row", line)

"""What says that a joint was put together again, or is to be; and a record that is not in its own order.

Looks and rounds speak of the joint as it was then. Whoever ticks a step that fits its screws has ended that.
"""

from collections.abc import Iterator

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import WALKED, Heard
from lastbolt.planning.pairs import TOGETHER, Pairs
from lastbolt.tally.unused import no_section_parts, not_in_order, ticked_together
from lastbolt.words.job import Event, ProcedureDone, StepDone, StepStarted
from lastbolt.words.machine import Machine
from lastbolt.words.problem import Problem
from lastbolt.words.standing import standing


def put_together(documents: Documents, joint: str, heard: Heard) -> Iterator[Problem]:
    """A goal that parts nothing, ticks of steps that put the joint together, events out of their order."""
    machine = documents.machine
    if machine is not None and machine.procedures:
        if not any(p.id in documents.goals and p.deed not in TOGETHER for p in machine.procedures):
            yield no_section_parts(joint)
        yield from _ticked(documents, machine, heard)
    yield from _out_of_order(documents)


def _ticked(documents: Documents, machine: Machine, heard: Heard) -> Iterator[Problem]:
    """A problem for the last tick in a section that closes the joint, unless somebody went round since."""
    closing = Pairs(machine).closing(documents.goals)
    sections = {procedure.id: procedure.number or procedure.title for procedure in closing}
    steps = {step.id: sections[procedure.id] for procedure in closing for step in procedure.steps}
    last_round = max((round_.moment for round_ in heard.rounds), default=0)
    ticks = [
        (number, event, section)
        for number, event in standing(documents.job)
        if (section := _section(event, sections, steps)) and WALKED + 1 + number > last_round
    ]
    if ticks:
        _, event, section = ticks[-1]
        yield ticked_together(f'Event "{event.id}"', section)


def _section(event: Event, sections: dict[str, str], steps: dict[str, str]) -> str:
    if isinstance(event, StepStarted | StepDone):
        return steps.get(event.step, "")
    return sections.get(event.procedure, "") if isinstance(event, ProcedureDone) else ""


def _out_of_order(documents: Documents) -> Iterator[Problem]:
    """A problem for the first two events of one person and device whose numbers go back."""
    last: dict[tuple[str, str], Event] = {}
    for _, event in standing(documents.job):
        if not event.sequence:
            continue
        before = last.setdefault((event.by, event.device), event)
        if before.sequence > event.sequence:
            yield not_in_order(f'Event "{before.id}"', f'"{event.id}"', event.by)
            return
        last[event.by, event.device] = event

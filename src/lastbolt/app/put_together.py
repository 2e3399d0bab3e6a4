"""What says that a joint was put together again, or is to be; and a record that is not in its own order.

Looks and rounds speak of the joint as it was then. Whoever ticks a step that fits its screws has ended that.
"""

from collections.abc import Container, Iterator

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import WALKED, Heard
from lastbolt.planning.pairs import OFF, TOGETHER, Pairs
from lastbolt.tally.unused import being_closed, no_section_parts, not_in_order, put_back_on, ticked_together
from lastbolt.words.job import Event, FoundWhy, ProcedureDone, StepDone, StepStarted, WontClose
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
        yield from _put_back(documents, Pairs(machine))
    yield from _being_closed(documents, joint, heard)
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


def _put_back(documents: Documents, pairs: Pairs) -> Iterator[Problem]:
    """A problem for each section that puts a part back which another one took off, and was ticked since.

    The part lies across the joint again, until somebody looks that it is off.
    """
    said = standing(documents.job)
    for name in documents.closure:
        removal = pairs.named.get(name)
        if removal is None or removal.deed not in OFF or name in documents.goals:
            continue
        backs = {
            pair.procedure.id: pair.procedure
            for pair in pairs.of(removal)
            if pair.procedure.deed in ("install", "join") and pair.procedure.id not in documents.closure
        }
        off = frozenset(step.id for step in removal.steps)
        looked_off = [n for n, event in said if _looked_at(event, removal.id, off)]
        for back in backs.values():
            steps = frozenset(step.id for step in back.steps)
            on = [(n, event) for n, event in said if _is_tick_of(event, back.id, steps)]
            if on and on[-1][0] > max(looked_off, default=-1):
                called = (back.number or back.title, removal.number or removal.title)
                yield put_back_on(f'Event "{on[-1][1].id}"', *called)


def _is_tick_of(event: Event, section: str, steps: Container[str]) -> bool:
    if isinstance(event, StepStarted | StepDone):
        return event.step in steps
    return isinstance(event, ProcedureDone) and event.procedure == section


def _looked_at(event: Event, section: str, steps: Container[str]) -> bool:
    return isinstance(event, StepDone | ProcedureDone) and event.looked and _is_tick_of(event, section, steps)


def _being_closed(documents: Documents, joint: str, heard: Heard) -> Iterator[Problem]:
    """A problem for "won't close" or what was found then, unless somebody went round since."""
    last_round = max((round_.moment for round_ in heard.rounds), default=0)
    for number, event in standing(documents.job):
        closing = isinstance(event, WontClose | FoundWhy) and event.joint in ("", joint)
        if closing and WALKED + 1 + number > last_round:
            yield being_closed(f'Event "{event.id}"')
            return


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

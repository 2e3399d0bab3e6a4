"""Which lines of a plan and which ticks of a job rest on something that a new edition changed."""

from collections import defaultdict
from collections.abc import Iterable

from lastbolt.words.changes import Change, Touched
from lastbolt.words.job import Job, ProcedureDone, StepDone, StepStarted
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Line, Plan
from lastbolt.words.standing import standing


def touched(
    changes: Iterable[Change], old: Machine, plan: Plan | None = None, job: Job | None = None
) -> tuple[Touched, ...]:
    """Lines and ticks by the ids of the old edition, each with the numbers of the changes it rests on."""
    by_id: dict[str, list[int]] = defaultdict(list)
    for number, change in enumerate(changes):
        if change.old:
            by_id[change.old].append(number)
    found = list(_lines(plan.lines, by_id)) if plan else []
    return (*found, *(_ticks(job, old, by_id) if job else ()))


def _lines(lines: Iterable[Line], by_id: dict[str, list[int]]) -> Iterable[Touched]:
    for line in lines:
        about = line.step or line.procedure
        if about in by_id:
            words = f"{line.number} {line.mark}".strip() + f": {line.words}"
            yield Touched("plan", line.id, words, tuple(by_id[about]))


def _ticks(job: Job, old: Machine, by_id: dict[str, list[int]]) -> Iterable[Touched]:
    steps = {step.id: step.words for procedure in old.procedures for step in procedure.steps}
    procedures = {procedure.id: procedure for procedure in old.procedures}
    for _, event in standing(job):
        if isinstance(event, StepStarted | StepDone) and event.step in by_id:
            yield Touched("job", event.id, steps.get(event.step, event.step), tuple(by_id[event.step]))
        elif isinstance(event, ProcedureDone) and event.procedure in procedures:
            procedure = procedures[event.procedure]
            inside = [procedure.id, *(step.id for step in procedure.steps)]
            numbers = [number for one in inside for number in by_id.get(one, ())]
            if numbers:
                words = f"{procedure.number} {procedure.title}".strip()
                yield Touched("job", event.id, words, tuple(dict.fromkeys(numbers)))

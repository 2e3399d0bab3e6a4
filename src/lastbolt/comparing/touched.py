"""Which lines of a plan and which ticks of a job rest on something that a new edition changed."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from lastbolt.words.changes import Change, Touched
from lastbolt.words.job import Job, ProcedureDone, StepDone, StepStarted
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Line, Plan
from lastbolt.words.standing import standing

Numbers = Mapping[str, Sequence[int]]


def touched(
    changes: Iterable[Change], old: Machine, plan: Plan | None = None, job: Job | None = None
) -> tuple[Touched, ...]:
    """Lines and ticks by the ids of the old edition, each with the numbers of the changes it rests on.

    What changed in a section as a whole (set-up, warnings, limits, a new step) is told at the section's first
    line in the plan, and at every tick in it. A row of a parts list or
    of a table concerns the steps that speak of it or refer to its table.
    """
    by_id: dict[str, list[int]] = defaultdict(list)
    whole: dict[str, list[int]] = defaultdict(list)
    sections = {procedure.id for procedure in old.procedures}
    for number, change in enumerate(changes):
        section = change.within or change.old
        if section in sections and (change.about != "section" or change.kind == "gone"):
            whole[section].append(number)
        for one in (change.old, *change.steps):
            if one:
                by_id[one].append(number)
    found = list(_lines(plan.lines, by_id, whole)) if plan else []
    return (*found, *(_ticks(job, old, by_id, whole) if job else ()))


def _lines(lines: Iterable[Line], by_id: Numbers, whole: Numbers) -> Iterable[Touched]:
    begun: set[str] = set()
    for line in lines:
        numbers = [*by_id.get(line.step or line.procedure, ())]
        if line.procedure not in begun:
            numbers += whole.get(line.procedure, ())
        begun.add(line.procedure)
        if numbers:
            words = f"{line.number} {line.mark}".strip() + f": {line.words}"
            yield Touched("plan", line.id, words, tuple(sorted(set(numbers))))


def _ticks(job: Job, old: Machine, by_id: Numbers, whole: Numbers) -> Iterable[Touched]:
    steps = {step.id: (step.words, procedure.id) for procedure in old.procedures for step in procedure.steps}
    procedures = {procedure.id: procedure for procedure in old.procedures}
    for _, event in standing(job):
        if isinstance(event, StepStarted | StepDone):
            words, section = steps.get(event.step, (event.step, ""))
            inside = [event.step]
        elif isinstance(event, ProcedureDone) and event.procedure in procedures:
            procedure = procedures[event.procedure]
            words, section = f"{procedure.number} {procedure.title}".strip(), procedure.id
            inside = [procedure.id, *(step.id for step in procedure.steps)]
        else:
            continue
        numbers = {number for one in inside for number in by_id.get(one, ())} | {*whole.get(section, ())}
        if numbers:
            yield Touched("job", event.id, words, tuple(sorted(numbers)))

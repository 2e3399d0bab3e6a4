"""Which lines of a plan and which statements of a job rest on something that a new edition changed."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from lastbolt.words.changes import Change, Touched
from lastbolt.words.job import (
    Counted,
    Event,
    Job,
    ProcedureDone,
    PutIn,
    QuestionAnswered,
    SetAside,
    StepDone,
    StepStarted,
    TookOut,
)
from lastbolt.words.machine import Machine, Procedure
from lastbolt.words.plan import Line, Plan, WayBack
from lastbolt.words.standing import standing

Numbers = Mapping[str, Sequence[int]]


class _Changed:
    """The changes by what they are of: their numbers by the id of a step or row, and by whole section."""

    def __init__(self, changes: Iterable[Change], old: Machine) -> None:
        self.by_id: dict[str, list[int]] = defaultdict(list)
        self.whole: dict[str, list[int]] = defaultdict(list)
        sections = {procedure.id for procedure in old.procedures}
        for number, change in enumerate(changes):
            section = change.within or change.old
            if section in sections and (change.about != "section" or change.kind == "gone"):
                self.whole[section].append(number)
            for one in (change.old, *change.steps):
                if one:
                    self.by_id[one].append(number)

    def of(self, ids: Iterable[str], sections: Iterable[str] = ()) -> tuple[int, ...]:
        """The numbers of the changes of any of these."""
        found = {number for one in ids for number in self.by_id.get(one, ())}
        return tuple(sorted(found | {number for one in sections for number in self.whole.get(one, ())}))


def touched(
    changes: Iterable[Change], old: Machine, plan: Plan | None = None, job: Job | None = None
) -> tuple[Touched, ...]:
    """Lines and statements by the ids of the old edition, each with the numbers of the changes it rests on.

    What changed in a section as a whole (set-up, warnings, limits, a new step) is told at the section's first
    line in the plan, and at every tick in it. A row of a parts list or of a table concerns the steps that
    speak of it or refer to its table, the torques that the plan's way back takes from it, and what the job
    says was taken out, put in or counted by it.
    """
    changed = _Changed(changes, old)
    found = [*_lines(plan.lines, changed), *_way_back(plan.way_back, changed, old)] if plan else []
    return (*found, *(_said(job, old, changed) if job else ()))


def _lines(lines: Iterable[Line], changed: _Changed) -> Iterator[Touched]:
    begun: set[str] = set()
    for line in lines:
        first = (line.procedure,) if line.procedure not in begun else ()
        begun.add(line.procedure)
        if numbers := changed.of((line.step or line.procedure,), first):
            words = f"{line.number} {line.mark}".strip() + f": {line.words}"
            yield Touched("plan", line.id, words, numbers)


def _way_back(back: WayBack, changed: _Changed, old: Machine) -> Iterator[Touched]:
    """What the plan says of putting together: its sections, its torques, its new parts."""
    procedures = {procedure.id: procedure for procedure in old.procedures}
    for one in back.procedures:
        procedure = procedures.get(one)
        inside = [step.id for step in procedure.steps] if procedure else []
        if procedure and (numbers := changed.of((one, *inside), (one,))):
            yield Touched("plan", one, f"way back, {_called(procedure)}", numbers)
    for fastening in back.fastenings:
        if numbers := changed.of(filter(None, (fastening.step, fastening.row))):
            named = f"{fastening.number} {fastening.mark}".strip()
            words = f"way back, torque{f' of {named}' if named else ''}: {fastening.words}"
            yield Touched("plan", fastening.step or fastening.row, words, numbers)
    for part in back.new_parts:
        if numbers := changed.of(part.rows):
            yield Touched("plan", part.rows[0], f"way back, a new one goes in: {part.part}", numbers)


def _called(procedure: Procedure) -> str:
    return f"{procedure.number} {procedure.title}".strip()


class _Book:
    """The old edition, to be asked by the ids that a job names."""

    def __init__(self, old: Machine) -> None:
        self.procedures = {procedure.id: procedure for procedure in old.procedures}
        self.steps = {s.id: (s.words, p.id) for p in old.procedures for s in p.steps}
        self.rows = {row.id: row.name for row in old.rows}
        self.owners: dict[str, str] = {}
        for procedure in old.procedures:
            owned = [(procedure.id, (*procedure.before, *procedure.after))]
            owned += [(step.id, step.references) for step in procedure.steps]
            self.owners |= {one.id: owner for owner, references in owned for one in references}


def _said(job: Job, old: Machine, changed: _Changed) -> Iterator[Touched]:
    book = _Book(old)
    for _, event in standing(job):
        words, numbers = _of_event(event, book, changed)
        if numbers:
            yield Touched("job", event.id, words, numbers)


def _of_event(event: Event, book: _Book, changed: _Changed) -> tuple[str, tuple[int, ...]]:
    """What an event says, and the changes that it rests on."""
    match event:
        case StepStarted() | StepDone():
            words, section = book.steps.get(event.step, (event.step, ""))
            return words, changed.of((event.step,), (section,))
        case ProcedureDone() if event.procedure in book.procedures:
            procedure = book.procedures[event.procedure]
            inside = (procedure.id, *(step.id for step in procedure.steps))
            return _called(procedure), changed.of(inside, (procedure.id,))
        case SetAside() | QuestionAnswered():
            asked = event.reference if isinstance(event, SetAside) else event.question
            subject = book.owners.get(asked, asked)
            chosen = event.answer if isinstance(event, QuestionAnswered) else ""
            deed = "set aside" if isinstance(event, SetAside) else "answered"
            of = book.steps.get(subject, (subject, ""))[0]
            return f"{deed}: {of}", changed.of((subject, chosen), (subject,))
        case TookOut() | PutIn() | Counted() if event.line:
            deed = (
                "taken out"
                if isinstance(event, TookOut)
                else "put in"
                if isinstance(event, PutIn)
                else "counted"
            )
            return f"{deed}: {book.rows.get(event.line, event.line)}", changed.of((event.line,))
        case _:
            return "", ()


def strangers(old: Machine, plan: Plan | None = None, job: Job | None = None) -> tuple[int, int]:
    """How many lines of a plan, or ticks of a job, name what the old edition does not have; and of how many.

    Such a document was made with another model: that nothing touches it says nothing.
    """
    known = {procedure.id for procedure in old.procedures}
    known |= {step.id for procedure in old.procedures for step in procedure.steps}
    named = [line.step or line.procedure for line in plan.lines] if plan else []
    for _, event in standing(job) if job else ():
        if isinstance(event, StepStarted | StepDone):
            named.append(event.step)
        elif isinstance(event, ProcedureDone):
            named.append(event.procedure)
    return sum(one not in known for one in named), len(named)

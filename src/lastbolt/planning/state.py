"""What the job file says is done, set aside or answered; undone events never happened."""

from msgspec import Struct

from lastbolt.words.job import (
    Event,
    Job,
    ProcedureDone,
    QuestionAnswered,
    SetAside,
    StepDone,
    StepStarted,
    Undone,
)


class Tick(Struct, frozen=True):
    """Who ticked something, whether any of them looked, and the events that say so."""

    by: tuple[str, ...] = ()
    looked: bool = False
    events: tuple[str, ...] = ()

    def also(self, event: StepDone | ProcedureDone) -> "Tick":
        """With one more tick."""
        by = tuple(dict.fromkeys((*self.by, event.by)))
        return Tick(by, self.looked or event.looked, (*self.events, event.id))


class Done(Struct, frozen=True):
    """The job as the plan sees it."""

    procedures: dict[str, Tick] = {}
    steps: dict[str, Tick] = {}
    started: frozenset[str] = frozenset()
    aside: dict[str, SetAside] = {}
    answers: dict[str, str] = {}


def done_so_far(job: Job | None) -> Done:
    """The standing events, gathered."""
    procedures: dict[str, Tick] = {}
    steps: dict[str, Tick] = {}
    started: set[str] = set()
    aside: dict[str, SetAside] = {}
    answers: dict[str, str] = {}
    for event in standing(job):
        if isinstance(event, ProcedureDone):
            procedures[event.procedure] = procedures.get(event.procedure, Tick()).also(event)
        elif isinstance(event, StepDone):
            steps[event.step] = steps.get(event.step, Tick()).also(event)
        elif isinstance(event, StepStarted):
            started.add(event.step)
        elif isinstance(event, SetAside):
            aside[event.reference] = event
        elif isinstance(event, QuestionAnswered):
            answers[event.question] = event.answer
    return Done(procedures, steps, frozenset(started), aside, answers)


def standing(job: Job | None) -> tuple[Event, ...]:
    """The events that were not undone, in their order; an undo can itself be undone."""
    events = job.events if job else ()
    undone: set[str] = set()
    for event in reversed(events):
        if isinstance(event, Undone) and event.id not in undone:
            undone.add(event.undoes)
    return tuple(event for event in events if event.id not in undone and not isinstance(event, Undone))

"""What the job file says is done, set aside or answered; undone events never happened."""

from collections.abc import Iterable
from functools import reduce

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.words.job import (
    Job,
    ProcedureDone,
    QuestionAnswered,
    SetAside,
    StepDone,
    StepStarted,
)
from lastbolt.words.machine import Procedure
from lastbolt.words.standing import standing


class Tick(Struct, frozen=True):
    """Who ticked something, whether any of them looked, and the events that say so."""

    by: tuple[str, ...] = ()
    looked: bool = False
    events: tuple[str, ...] = ()

    def also(self, event: StepDone | ProcedureDone) -> "Tick":
        """With one more tick."""
        by = tuple(dict.fromkeys((*self.by, event.by)))
        return Tick(by, self.looked or event.looked, (*self.events, event.id))

    def joined(self, other: "Tick") -> "Tick":
        """Two ticks of parts of one thing: looked at only when both were."""
        by = tuple(dict.fromkeys((*self.by, *other.by)))
        return Tick(by, self.looked and other.looked, (*self.events, *other.events))


class Done(Struct, frozen=True):
    """The job as the plan sees it."""

    procedures: dict[str, Tick] = {}
    steps: dict[str, Tick] = {}
    started: frozenset[str] = frozenset()
    aside: dict[str, SetAside] = {}
    answers: dict[str, QuestionAnswered] = {}

    def answer(self, question: str) -> str:
        """The last answer to it, or nothing."""
        event = self.answers.get(question)
        return event.answer if event else ""

    def with_whole(self, procedures: Iterable[Procedure]) -> "Done":
        """With those procedures done of which every step was ticked by itself."""
        if not self.steps:
            return self
        whole: dict[str, Tick] = {}
        for procedure in procedures:
            ticks = [self.steps.get(step.id) for step in procedure.steps]
            there = [tick for tick in ticks if tick is not None]
            if there and len(there) == len(ticks):
                whole[procedure.id] = reduce(Tick.joined, there)
        return replace(self, procedures={**whole, **self.procedures})


def done_so_far(job: Job | None) -> Done:
    """The standing events, gathered. What nobody stands for is not decided."""
    procedures: dict[str, Tick] = {}
    steps: dict[str, Tick] = {}
    started: set[str] = set()
    aside: dict[str, SetAside] = {}
    answers: dict[str, QuestionAnswered] = {}
    for _, event in standing(job):
        if isinstance(event, ProcedureDone):
            procedures[event.procedure] = procedures.get(event.procedure, Tick()).also(event)
        elif isinstance(event, StepDone):
            steps[event.step] = steps.get(event.step, Tick()).also(event)
        elif isinstance(event, StepStarted):
            started.add(event.step)
        elif isinstance(event, SetAside) and event.by.strip() and event.reason.strip():
            aside[event.reference] = event
        elif isinstance(event, QuestionAnswered) and event.by.strip():
            answers[event.question] = event
    return Done(procedures, steps, frozenset(started), aside, answers)

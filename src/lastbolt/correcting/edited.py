"""A model being put right: takes corrections one by one and gives the model with all of them."""

import operator
from collections.abc import Callable
from typing import Any

from msgspec.structs import replace

from lastbolt.correcting.changes import (
    confirmed_by,
    limit_of,
    quantity_of,
    reference_of,
    row_of,
    torque_of,
    witness,
)
from lastbolt.correcting.facts import Fact
from lastbolt.correcting.rules import Rules
from lastbolt.words.citation import Citation
from lastbolt.words.corrections import (
    AsksNothing,
    Confirmed,
    Correction,
    CountReads,
    LeadsTo,
    LimitReads,
    NotAStep,
    RowReads,
    StepMissing,
    StepReads,
    TorqueReads,
)
from lastbolt.words.machine import Machine, PageSeen, Procedure, Reference, Step
from lastbolt.words.problem import Problem

Change = Callable[[Any], Any]
NO_STEP_BEFORE = "the step before it is no longer there"
NO_PLACE = "the section it leads to is no longer there"
WRONG_SORT = "a correction of another sort than its fact"
NO_REASON = "no reason is given"

SORTS: dict[type, tuple[str, ...]] = {
    NotAStep: ("step",),
    StepReads: ("step",),
    StepMissing: ("procedure",),
    LeadsTo: ("reference",),
    AsksNothing: ("reference",),
    TorqueReads: ("torque", "torque row"),
    LimitReads: ("limit",),
    CountReads: ("count", "table row"),
    RowReads: ("row",),
}
"""Which corrections can be made of which facts; confirmed can be any."""
NEEDS_REASON = ("page", "problem")
"""Facts that are settled only with a reason: what stands there, in the person's words."""


class Edited:
    """One pass of corrections over a model."""

    def __init__(self, machine: Machine, rules: Rules) -> None:
        self._machine = machine
        self._rules = rules
        self._changes: dict[tuple[str, str], Change] = {}
        self._reads: dict[str, StepReads] = {}
        self._dropped: set[str] = set()
        self._added: dict[tuple[str, str], list[StepMissing]] = {}
        self._told: list[Problem] = []
        self._touched: set[str] = set()
        ids = {procedure.id for procedure in machine.procedures}
        self._places = ids | {section.id for section in machine.sections}
        self._steps = {step.id: p.id for p in machine.procedures for step in p.steps}

    def take(self, one: Correction, fact: Fact) -> str | None:
        """Take in a correction of a fact; why not, if it cannot be."""
        if fact.sort not in SORTS.get(type(one), (fact.sort,)):
            return WRONG_SORT
        match one:
            case StepMissing(behind=behind):
                if behind and self._steps.get(behind) != one.fact:
                    return NO_STEP_BEFORE
                self._added.setdefault((one.fact, behind), []).append(one)
                self._steps[added_id(one)] = one.fact
            case LeadsTo(to=to) if not to or not self._places.issuperset(to):
                return NO_PLACE
            case AsksNothing(reason=""):
                return NO_REASON
            case Confirmed(reason="") if fact.sort in NEEDS_REASON:
                return NO_REASON
            case AsksNothing() | NotAStep():
                self._dropped.add(fact.id)
            case StepReads():
                self._reads[fact.id] = one
            case _:
                self._changes[fact.sort, fact.id] = lambda thing: self._changed(thing, one, fact)
        self._touched.add(fact.under)
        if one.read_as == fact.seen:
            self._told += fact.told
        return None

    def machine(self) -> Machine:
        """The model with everything that was taken in."""
        told = set(map(_key, self._told))
        machine = self._machine
        return replace(
            machine,
            procedures=tuple(
                self._procedure(one) if one.id in self._touched else one for one in machine.procedures
            ),
            torques=self._each("torque row", machine.torques),
            limits=self._each("limit", machine.limits),
            bolt_rows=self._each("table row", machine.bolt_rows),
            rows=self._each("row", machine.rows),
            pages=tuple(self._page(page) for page in machine.pages),
            problems=tuple(p for p in machine.problems if _key(p) not in told) if told else machine.problems,
        )

    def _changed(self, thing: Any, one: Correction, fact: Fact) -> Any:
        match one:
            case Confirmed() if fact.sort == "reference":
                return reference_of(thing, one)
            case Confirmed() if fact.sort == "page":
                return replace(thing, state="read", why=f"{one.by} read it: {one.reason}")
            case Confirmed() if fact.sort in ("torque", "table row", "torque row"):
                return replace(thing, citations=(*thing.citations, confirmed_by(one)))
            case Confirmed() if fact.sort in ("count", "problem"):
                return thing
            case Confirmed():
                return replace(thing, doubt="", citations=(*thing.citations, confirmed_by(one)))
            case LeadsTo():
                return reference_of(thing, one)
            case TorqueReads():
                return self._torque(thing, one, fact)
            case LimitReads():
                return limit_of(thing, one)
            case CountReads():
                return replace(thing, quantity=quantity_of(thing.quantity, one))
            case RowReads():
                return row_of(thing, one)
        return thing

    def _torque(self, thing: Any, one: TorqueReads, fact: Fact) -> Any:
        factor = self._rules.newton_metres.get(one.unit)
        if fact.sort == "torque row":
            cited = (*thing.citations, witness(one))
            return replace(thing, value=torque_of(thing.value, one, factor), citations=cited)
        return torque_of(thing, one, factor)

    def _each(self, sort: str, things: tuple[Any, ...]) -> tuple[Any, ...]:
        if not any(key[0] == sort for key in self._changes):
            return things
        return tuple(self._one(sort, thing.id, thing) for thing in things)

    def _one(self, sort: str, identity: str, thing: Any) -> Any:
        change = self._changes.get((sort, identity))
        return change(thing) if change else thing

    def _page(self, page: PageSeen) -> PageSeen:
        changed: PageSeen = self._one("page", f"{page.source}/page/{page.pdf_page}", page)
        return changed

    def _procedure(self, procedure: Procedure) -> Procedure:
        steps = self._new_behind("", procedure)
        left: list[Step] = []
        for step in procedure.steps:
            made = self._step(step, procedure)
            (left if step.id in self._dropped else steps).append(made)
            steps += self._new_behind(step.id, procedure)
        changed: Procedure = self._one("procedure", procedure.id, procedure)
        before, after = self._references(procedure.before), self._references(procedure.after)
        same = len(steps) == len(procedure.steps) and all(map(operator.is_, steps, procedure.steps))
        if same and (before, after) == (procedure.before, procedure.after):
            return changed
        return replace(
            changed,
            steps=tuple(steps),
            before=(*before, *(one for step in left for one in step.references)),
            after=after,
            cautions=(*changed.cautions, *(one for step in left for one in step.cautions)),
        )

    def _new_behind(self, behind: str, procedure: Procedure) -> list[Step]:
        """The steps said to be missing behind a step, and those behind them."""
        found: list[Step] = []
        waiting = self._added.get((procedure.id, behind), [])[::-1]
        while waiting:
            one = waiting.pop()
            found.append(self._new(one, procedure))
            waiting += self._added.get((procedure.id, found[-1].id), [])[::-1]
        return found

    def _new(self, one: StepMissing, procedure: Procedure) -> Step:
        cited = (Citation(one.source, one.place, one.words), witness(one)) if one.place else (witness(one),)
        step = Step(added_id(one), one.mark, one.words, citations=cited)
        return self._rules.read(step, procedure, self._machine)

    def _step(self, step: Step, procedure: Procedure) -> Step:
        made = self._reread(self._one("step", step.id, step), procedure)
        references = self._references(made.references)
        torques = self._turns("torque", step.id, made.torques)
        mentions = self._turns("part", step.id, made.mentions)
        limits = self._each("limit", made.limits)
        now = (references, torques, mentions, limits)
        if now == (made.references, made.torques, made.mentions, made.limits):
            return made
        return replace(made, references=references, torques=torques, mentions=mentions, limits=limits)

    def _turns(self, name: str, step: str, things: tuple[Any, ...]) -> tuple[Any, ...]:
        sort = "count" if name == "part" else name
        return tuple(self._one(sort, f"{step}/{name}/{n}", one) for n, one in enumerate(things, 1))

    def _reread(self, step: Step, procedure: Procedure) -> Step:
        """The step with what a person says of its words, mark and kind."""
        one = self._reads.get(step.id)
        if one is None:
            return step
        mark = step.mark if one.mark is None else one.mark
        made = replace(step, mark=mark, doubt="", citations=(*step.citations, witness(one)))
        if one.words is not None and one.words != step.words:
            made = self._rules.read(replace(made, words=one.words), procedure, self._machine)
        return made if one.deeds is None else replace(made, deeds=one.deeds)

    def _references(self, references: tuple[Reference, ...]) -> tuple[Reference, ...]:
        if not references:
            return references
        return tuple(self._one("reference", one.id, one) for one in references if one.id not in self._dropped)


def added_id(one: StepMissing) -> str:
    """The id of a step that was not read: by the correction that adds it."""
    source, found, anchor = one.fact.partition("/procedure/")
    return f"{source}/step/{anchor}/added~{one.id}" if found else f"{source}/added~{one.id}"


def _key(problem: Problem) -> tuple[str, str, str]:
    return problem.code, problem.where, problem.what

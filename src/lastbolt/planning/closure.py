"""The required-condition closure of a goal as one ordered list of lines.

Every procedure is worked off by a generator that hands over the needs it meets; a loop with a stack of its
own runs them, so that a chain of any depth is only a longer list. A required procedure stands before what
needs it: before its set-up, or before the very step that refers to it. Inside a procedure the source's order
stands, also when only some of its steps are wanted, or some of them sooner than others.
"""

from collections.abc import Generator

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.planning.book import Book, Need, binding, binds, limits
from lastbolt.planning.circles import Circle, circles_of
from lastbolt.planning.make_line import (
    UNTICKED_QUESTION,
    condition_line,
    confirm_line,
    opening_line,
    question_line,
    step_line,
)
from lastbolt.planning.reach import Asked, Asker, reach_from
from lastbolt.planning.safe_first import safe_sections
from lastbolt.planning.state import Done
from lastbolt.words.machine import Procedure, Reference, Step
from lastbolt.words.plan import LeftOut, Line, RequiredBy

GOAL = RequiredBy("goal")


class Call(Struct, frozen=True):
    """A need with the line that has it."""

    need: Need
    required_by: RequiredBy
    depth: int


class Closure(Struct, frozen=True):
    """What came of it: the lines, the references met, the circles, and what was left out."""

    lines: tuple[Line, ...]
    references: tuple[tuple[Reference, str], ...]
    """Every reference of the plan, with the procedure it stands in."""
    circles: tuple[Circle, ...]
    questions: tuple[tuple[Line, Reference], ...]
    left_out: tuple[LeftOut, ...]
    empty: tuple[Procedure, ...] = ()
    """Procedures that are needed, in which no step was read."""


Work = Generator[Call, None, None]


def close(goals: tuple[str, ...], book: Book, done: Done) -> Closure:
    """Every line that the goals need, each once, in order; sections that make safe at their head."""
    writer = _written(goals, book, done, ())
    if not writer.circular and (safe := safe_sections(writer.lines, book.procedures)):
        writer = _written(goals, book, done, safe)
    circles = circles_of(goals, writer.asker) if writer.circular else ()
    return Closure(
        tuple(writer.lines), tuple(writer.references.values()), circles,
        tuple(writer.questions), tuple(writer.left_out.values()),
        tuple(writer.empty),
    )  # fmt: skip


def _written(goals: tuple[str, ...], book: Book, done: Done, first: tuple[Line, ...]) -> "_Writer":
    writer = _Writer(book, done, goals)
    for line in first:
        writer.run(Call(Need(line.procedure), line.required_by, line.depth))
    for goal in goals:
        writer.run(Call(Need(goal), GOAL, 0))
    return writer


class _Writer:
    def __init__(self, book: Book, done: Done, goals: tuple[str, ...]) -> None:
        self.book, self.done, self.goals = book, done, frozenset(goals)
        self.asker = Asker(book, done)
        self.reach = reach_from(goals, self.asker)
        self.lines: list[Line] = []
        self.references: dict[str, tuple[Reference, str]] = {}
        self.questions: list[tuple[Line, Reference]] = []
        self.left_out: dict[str, LeftOut] = {}
        self.said: set[str] = set()
        """References that have a line of their own."""
        self.passed: dict[str, int] = {}
        """How many steps of an opened procedure are written or passed over."""
        self.open_now: dict[str, int] = {}
        """Procedures being worked off, with the place of the last step wanted so far."""
        self.circular = False
        self.empty: list[Procedure] = []

    def run(self, first: Call) -> None:
        """Work the call off, and every call that comes of it."""
        stack: list[tuple[str, Work]] = []
        self._push(first, stack)
        while stack:
            name, work = stack[-1]
            call = next(work, None)
            if call is not None:
                self._push(call, stack)
                continue
            stack.pop()
            self.open_now.pop(name)

    def _push(self, call: Call, stack: list[tuple[str, Work]]) -> None:
        name = call.need.procedure
        last = self.book.span(call.need).last
        if self.passed.get(name, -1) > last:
            return
        if name in self.open_now:
            self.circular = True
            self.open_now[name] = max(last, self.open_now[name])
            return
        self.open_now[name] = last
        procedure = self.book.procedures[name]
        confirm = name not in self.goals and (name in self.done.procedures or name not in self.reach.live)
        work = self._confirmed(procedure, call) if confirm else self._worked(procedure, call)
        stack.append((name, work))

    def _confirmed(self, procedure: Procedure, call: Call) -> Work:
        """A ticked procedure: what it stood on first, then one line to confirm."""
        line = confirm_line(procedure, call.required_by, call.depth, self.done.procedures.get(procedure.id))
        steps = [step for step in procedure.steps if self.asker.step_applies(step) != "no"]
        for reference in (
            *binding(procedure.before, self.done),
            *(r for s in steps for r in binding(s.references, self.done)),
        ):
            self.references.setdefault(reference.id, (reference, procedure.id))
            because = RequiredBy("set-up", line.id, reference.id, reference.words, reference.citations)
            asked = self.asker.asked(reference)
            if asked.question:
                self._ask(reference, procedure, because, call.depth, asked)
            for need in asked.needs:
                yield Call(need, because, call.depth + 1)
        self.lines.append(line)
        self.passed[procedure.id] = len(procedure.steps)

    def _worked(self, procedure: Procedure, call: Call) -> Work:
        """A procedure to do: its set-up, its opening, then step by step up to the last one wanted now."""
        because = RequiredBy("part of", procedure.id)
        if procedure.id not in self.passed:
            for reference in procedure.before:
                yield from self._before(reference, procedure, procedure.id, call.depth, "set-up")
            yield from self._lead(procedure, call)
            for reference in procedure.after:
                self.references.setdefault(reference.id, (reference, procedure.id))
            perhaps = self.reach.perhaps.get(procedure.id, "")
            self.lines.append(opening_line(procedure, call.required_by, call.depth, self.asker, perhaps))
            self.passed[procedure.id] = 0
        else:
            because = call.required_by
        some = self.reach.some.get(procedure.id)
        behind = self.reach.behind.get(procedure.id, frozenset())
        while (place := self.passed[procedure.id]) <= self.open_now[procedure.id]:
            step = procedure.steps[place]
            if some is None or place in some or place in behind:
                taken = some is not None and place not in some
                yield from self._step(step, procedure, call.depth, because, taken)
                if because is call.required_by:
                    because = RequiredBy("part of", step.id)
            self.passed[procedure.id] = place + 1
        if not procedure.steps:
            self.passed[procedure.id] = 1
            if not binding(procedure.before, self.done) and procedure.id not in self.done.aside:
                self.empty.append(procedure)

    def _lead(self, procedure: Procedure, call: Call) -> Work:
        """What a first sentence without a mark asks for stands before the section begins."""
        some = self.reach.some.get(procedure.id)
        first = next(iter(procedure.steps), None)
        if first is None or first.mark or len(procedure.steps) == 1 or (some is not None and 0 not in some):
            return
        if self.asker.step_applies(first) != "no":
            for reference in first.references:
                yield from self._before(reference, procedure, first.id, call.depth, "step")

    def _step(self, step: Step, procedure: Procedure, depth: int, because: RequiredBy, taken: bool) -> Work:
        """One step after what it needs. `taken`: only ticked work needs it, so it is taken for done."""
        applies = self.asker.step_applies(step)
        if applies == "no":
            event = self.done.answers.get(step.id)
            why = "answered: no" if event else f"only for {limits(step.applies)}"
            by, said = (event.by, event.id) if event else ("", "")
            self.left_out[step.id] = LeftOut(step.id, step.words, why, by, said, step.citations)
            return
        for reference in step.references:
            yield from self._before(reference, procedure, step.id, depth, "step")
        line = step_line(step, procedure, depth, self.done, because)
        if taken and not line.said:
            line = replace(line, state="taken for done", question=UNTICKED_QUESTION)
        if applies == "unknown":
            both = dict.fromkeys((line.only_if, limits(step.applies)))
            line = replace(line, only_if="; ".join(part for part in both if part))
        elif line.only_if and line.only_if == step.applies.words:
            line = replace(line, only_if="")
        self.lines.append(line)

    def _before(self, reference: Reference, procedure: Procedure, line: str, depth: int, how: str) -> Work:
        self.references.setdefault(reference.id, (reference, procedure.id))
        if not binds(reference, self.done):
            return
        if self.book.applies(reference.applies) == "no":
            self._leave_out(reference, reference.id, reference.words, f"only for {limits(reference.applies)}")
            return
        asked = self.asker.asked(reference)
        for other, why in asked.not_these:
            one = self.book.procedures[other]
            self._leave_out(reference, other, f"{one.number} {one.title}".strip(), why)
        because = RequiredBy(
            "part named" if asked.named else ("set-up" if how == "set-up" else "step"),
            line, reference.id, reference.words, reference.citations,
        )  # fmt: skip
        if self.done.answer(reference.id) and asked.needs:
            because = replace(because, because="question answered")
        if self.done.answer(reference.id) == "no" and not asked.needs:
            self._leave_out(reference, reference.id, reference.words, "answered: no")
        if asked.question:
            self._ask(reference, procedure, because, depth, asked)
        elif (asked.more or not asked.needs) and reference.status == "in words":
            self._state(reference, procedure, because, depth)
        for need in asked.needs:
            yield Call(need, because, depth + 1)

    def _leave_out(self, reference: Reference, subject: str, words: str, why: str) -> None:
        event = self.done.answers.get(reference.id)
        by, said = (event.by, event.id) if event else ("", "")
        self.left_out.setdefault(subject, LeftOut(subject, words, why, by, said, reference.citations))

    def _ask(
        self, reference: Reference, procedure: Procedure, because: RequiredBy, depth: int, asked: Asked
    ) -> None:
        """A question, also behind ticked work: unanswered, nobody knows what was taken for done."""
        if reference.id not in self.said:
            self.said.add(reference.id)
            made = question_line(reference, procedure, because, depth, (asked.question, asked.choices))
            self.lines.append(made)
            self.questions.append((made, reference))

    def _state(self, reference: Reference, procedure: Procedure, because: RequiredBy, depth: int) -> None:
        if reference.id not in self.said and reference.id not in self.done.aside:
            self.said.add(reference.id)
            self.lines.append(condition_line(reference, procedure, because, depth))

"""The required-condition closure of a goal as one ordered list of lines.

Every procedure is worked off by a generator that hands over the needs it meets; a loop with a stack of its
own runs them, so that a chain of any depth is only a longer list. A required procedure stands before what
needs it: before its set-up, or before the very step that refers to it. Inside a procedure the source's order
stands.
"""

from collections.abc import Generator

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.planning.book import Book, Need, binding
from lastbolt.planning.make_line import (
    condition_line,
    confirm_line,
    opening_line,
    question_line,
    step_line,
)
from lastbolt.planning.reach import asked_by, live_from
from lastbolt.planning.state import Done
from lastbolt.words.machine import Procedure, Reference, Step
from lastbolt.words.plan import LeftOut, Line, RequiredBy

GOAL = RequiredBy("goal")


class Call(Struct, frozen=True):
    """A need with the line that has it."""

    need: Need
    required_by: RequiredBy
    depth: int
    taken_for_done: bool = False


class Closure(Struct, frozen=True):
    """What came of it: the lines, the references met, the circles, and what was left out."""

    lines: tuple[Line, ...]
    references: tuple[tuple[Reference, str], ...]
    """Every reference of the plan, with the procedure it stands in."""
    cycles: tuple[tuple[str, ...], ...]
    questions: tuple[tuple[Line, Reference | None], ...]
    left_out: tuple[LeftOut, ...]


Work = Generator[Call, None, None]


def close(goals: tuple[str, ...], book: Book, done: Done) -> Closure:
    """Every line that the goals need, each once, in order."""
    writer = _Writer(book, done, live_from(goals, book, done), frozenset(goals))
    for goal in goals:
        writer.run(Call(Need(goal), GOAL, 0))
    return Closure(
        tuple(writer.lines), tuple(writer.references.values()), tuple(writer.cycles.values()),
        tuple(writer.questions), tuple(writer.left_out.values()),
    )  # fmt: skip


class _Writer:
    def __init__(self, book: Book, done: Done, live: frozenset[str], goals: frozenset[str]) -> None:
        self.book, self.done, self.live, self.goals = book, done, live, goals
        self.lines: list[Line] = []
        self.references: dict[str, tuple[Reference, str]] = {}
        self.cycles: dict[frozenset[str], tuple[str, ...]] = {}
        self.questions: list[tuple[Line, Reference | None]] = []
        self.left_out: dict[str, LeftOut] = {}
        self.written: set[str] = set()
        self.opened: set[str] = set()
        self.open_now: dict[str, int] = {}

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
            self.open_now.pop(name, None)

    def _push(self, call: Call, stack: list[tuple[str, Work]]) -> None:
        name = call.need.procedure
        if name in self.open_now:
            members = tuple(one for one, _ in stack[self.open_now[name] :])
            self.cycles.setdefault(frozenset(members), (*members, name))
            return
        if self._nothing_left(call):
            return
        self.open_now[name] = len(stack)
        procedure = self.book.procedures[name]
        confirm = name not in self.goals and (name in self.done.procedures or name not in self.live)
        stack.append((name, self._confirmed(procedure, call) if confirm else self._worked(procedure, call)))

    def _nothing_left(self, call: Call) -> bool:
        steps = self.book.steps_of(call.need)
        name = call.need.procedure
        return name in self.opened and all(step.id in self.written for step in steps)

    def _confirmed(self, procedure: Procedure, call: Call) -> Work:
        """A ticked procedure: what it stood on first, then one line to confirm."""
        steps = procedure.steps
        self.opened.add(procedure.id)
        self.written.update(step.id for step in steps)
        line = confirm_line(procedure, call.required_by, call.depth, self.done.procedures.get(procedure.id))
        for reference in (*binding(procedure.before), *(r for s in steps for r in binding(s.references))):
            self.references.setdefault(reference.id, (reference, procedure.id))
            because = RequiredBy("set-up", line.id, reference.id, reference.words, reference.citations)
            for need in asked_by(reference, self.book, self.done).needs:
                yield Call(need, because, call.depth + 1, True)
        self.lines.append(line)

    def _worked(self, procedure: Procedure, call: Call) -> Work:
        """A procedure to do: its set-up, its opening, then step by step."""
        steps = self.book.steps_of(call.need)
        again = procedure.id in self.opened
        self.opened.add(procedure.id)
        if not again:
            for reference in procedure.before:
                yield from self._before(reference, procedure, procedure.id, call.depth, "set-up")
            for reference in procedure.after:
                self.references.setdefault(reference.id, (reference, procedure.id))
            self.lines.append(opening_line(procedure, call.required_by, call.depth, self.book))
        for step in steps:
            if step.id not in self.written:
                self.written.add(step.id)
                yield from self._step(step, procedure, call.depth)

    def _step(self, step: Step, procedure: Procedure, depth: int) -> Work:
        applies = self.book.applies(step.applies)
        if applies == "no" or self.done.answers.get(step.id) == "no":
            why = step.applies.words or "answered: no"
            self.left_out[step.id] = LeftOut(step.id, step.words, why, citations=step.citations)
            return
        for reference in step.references:
            yield from self._before(reference, procedure, step.id, depth, "step")
        line = step_line(step, procedure, depth, self.done)
        if applies == "unknown" and not line.only_if:
            line = replace(line, only_if=step.applies.words or ", ".join(step.applies.variants))
        self.lines.append(line)

    def _before(self, reference: Reference, procedure: Procedure, line: str, depth: int, how: str) -> Work:
        self.references.setdefault(reference.id, (reference, procedure.id))
        if reference.role != "before":
            return
        if self.book.applies(reference.applies) == "no":
            words = reference.applies.words or "another variant"
            self.left_out[reference.id] = LeftOut(
                reference.id, reference.words, words, citations=reference.citations
            )
            return
        asked = asked_by(reference, self.book, self.done)
        because = RequiredBy(
            "part named" if asked.named else ("set-up" if how == "set-up" else "step"),
            line, reference.id, reference.words, reference.citations,
        )  # fmt: skip
        if reference.id in self.done.answers and asked.needs:
            because = RequiredBy(
                "question answered", line, reference.id, reference.words, reference.citations
            )
        if asked.question:
            self._ask(reference, procedure, because, depth, asked.question, asked.choices)
        elif not asked.needs and reference.status == "in words":
            self._state(reference, procedure, because, depth)
        for need in asked.needs:
            yield Call(need, because, depth + 1)

    def _ask(
        self, reference: Reference, procedure: Procedure, because: RequiredBy, depth: int,
        question: str, choices: tuple[str, ...],
    ) -> None:  # fmt: skip
        if reference.id in self.written or reference.id in self.done.aside:
            return
        self.written.add(reference.id)
        made = question_line(reference, procedure, because, depth, (question, choices))
        self.lines.append(made)
        self.questions.append((made, reference))

    def _state(self, reference: Reference, procedure: Procedure, because: RequiredBy, depth: int) -> None:
        if reference.id not in self.written and reference.id not in self.done.aside:
            self.written.add(reference.id)
            self.lines.append(condition_line(reference, procedure, because, depth))

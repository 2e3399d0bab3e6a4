"""What a goal reaches: which procedures and steps are to be done, and what stands only behind ticked work."""

from collections import deque
from collections.abc import Iterator

from msgspec import Struct

from lastbolt.planning.book import BAD, Applied, Book, Need, Span, binding, limits
from lastbolt.planning.state import Done
from lastbolt.words.machine import Applies, Procedure, Reference, Step


class Asked(Struct, frozen=True):
    """What one binding reference comes to: work to do, or a question that must be answered first."""

    needs: tuple[Need, ...] = ()
    question: str = ""
    choices: tuple[str, ...] = ()
    named: bool = False
    """Found by the name of the part, not by a pointer."""
    not_these: tuple[tuple[str, str], ...] = ()
    """Procedures it names that are left out, each with why."""


NOTHING = Asked()


class Asker:
    """Every reference, with variants, alternatives, conditions and answers taken into account."""

    def __init__(self, book: Book, done: Done) -> None:
        self.book, self.done = book, done
        self._memory: dict[int, Asked] = {}

    def asked(self, reference: Reference) -> Asked:
        """What the reference comes to."""
        known = self._memory.get(id(reference))
        if known is None:
            known = self._memory[id(reference)] = self._ask(reference)
        return known

    def applies(self, name: str, applies: Applies) -> Applied:
        """Whether something applies here, a person's answer included."""
        known = self.book.applies(applies)
        if known == "unknown":
            answer = self.done.answer(name)
            return "yes" if answer == "yes" else "no" if answer == "no" else "unknown"
        return known

    def step_applies(self, step: Step) -> Applied:
        """Whether the step is to be done here."""
        if step.condition and self.done.answer(step.id) == "no":
            return "no"
        return self.applies(step.id, step.applies)

    def _ask(self, reference: Reference) -> Asked:
        answer = self.done.answer(reference.id)
        if reference.id in self.done.aside or self.applies(reference.id, reference.applies) == "no":
            return NOTHING
        if answer == "no" and (reference.condition or reference.status == "doubtful"):
            return NOTHING
        needs, others = self._here(reference)
        if answer in self.book.procedures:
            chosen = tuple(need for need in needs if need.procedure == answer) or (Need(answer),)
            rest = tuple((n.procedure, "another was chosen") for n in needs if n.procedure != answer)
            return Asked(chosen, not_these=(*others, *rest))
        if reference.status in BAD:
            return NOTHING
        if not needs and reference.status == "in words":
            named = self.book.removal_named_in(reference.words)
            return Asked((Need(named),), named=True) if named else NOTHING
        choices = tuple(need.procedure for need in needs)
        if reference.condition and answer != "yes":
            return Asked((), f"Is it so: {reference.condition}?", choices)
        if self.book.mixed(reference):
            return Asked((), "Which of these is meant?", choices, not_these=others)
        if reference.any_of and len(needs) > 1:
            return self._one_of(needs, others)
        return Asked(needs, not_these=others)

    def _here(self, reference: Reference) -> tuple[tuple[Need, ...], tuple[tuple[str, str], ...]]:
        """The needs that can apply to this engine, and those that cannot."""
        needs, others = [], []
        for need in self.book.needs(reference):
            procedure = self.book.procedures[need.procedure]
            if self.applies(procedure.id, procedure.applies) == "no":
                others.append((procedure.id, f"only for {limits(procedure.applies)}"))
            else:
                needs.append(need)
        return tuple(needs), tuple(others)

    def _one_of(self, needs: tuple[Need, ...], others: tuple[tuple[str, str], ...]) -> Asked:
        """One of several: what is ticked, else the one printed for just this engine, else a question."""
        book = self.book
        ticked = tuple(need for need in needs if need.procedure in self.done.procedures)
        certain = tuple(
            need
            for need in needs
            if _limited(procedure := book.procedures[need.procedure])
            and self.applies(procedure.id, procedure.applies) == "yes"
        )
        chosen = ticked[:1] or (certain if len(certain) == 1 else ())
        if not chosen:
            choices = tuple(need.procedure for need in needs)
            return Asked((), "Which of these is it here?", choices, not_these=others)
        why = "its alternative is ticked" if ticked else "its alternative is for this engine"
        rest = tuple((need.procedure, why) for need in needs if need not in chosen)
        return Asked(chosen, not_these=(*others, *rest))


def _limited(procedure: Procedure) -> bool:
    return bool(procedure.applies.variants) or procedure.applies.from_serial is not None


class Reach(Struct, frozen=True):
    """The procedures to be done and, where not all steps of one are wanted, the places of those that are."""

    live: frozenset[str]
    some: dict[str, frozenset[int]]


def reach_from(goals: tuple[str, ...], asker: Asker) -> Reach:
    """What the goals reach without passing through ticked work (ticked procedures themselves included)."""
    book, done = asker.book, asker.done
    waiting = deque(Need(goal) for goal in goals)
    seen: set[Need] = set(waiting)
    live: set[str] = set()
    spans: dict[str, list[Span]] = {}
    while waiting:
        need = waiting.popleft()
        live.add(need.procedure)
        span = book.span(need)
        spans.setdefault(need.procedure, []).append(span)
        if need.procedure in done.procedures:
            continue
        for reference in _references(book.procedures[need.procedure], span, asker):
            for more in asker.asked(reference).needs:
                if more not in seen:
                    seen.add(more)
                    waiting.append(more)
    return Reach(frozenset(live), _some(spans, book))


def _references(procedure: Procedure, span: Span, asker: Asker) -> Iterator[Reference]:
    """The binding references of those steps, and of the set-up, that nobody has yet gone past."""
    if not begun(procedure, asker.done):
        yield from binding(procedure.before)
    for step in procedure.steps[span.first : span.last + 1]:
        if step.references and step.id not in asker.done.steps and asker.step_applies(step) != "no":
            yield from binding(step.references)


def begun(procedure: Procedure, done: Done) -> bool:
    """Whether a step of it, or all of it, is ticked, so that its set-up is taken for done."""
    if procedure.id in done.procedures:
        return True
    return bool(done.steps) and any(step.id in done.steps for step in procedure.steps)


def _some(spans: dict[str, list[Span]], book: Book) -> dict[str, frozenset[int]]:
    found = {}
    for name, asked in spans.items():
        count = len(book.procedures[name].steps)
        if not any(span.first == 0 and span.last == count - 1 for span in asked):
            found[name] = frozenset(n for span in asked for n in range(span.first, span.last + 1))
    return found

"""What a goal reaches: which procedures and steps are to be done, and what stands only behind ticked work."""

from collections import deque
from collections.abc import Iterable, Iterator

from msgspec import Struct

from lastbolt.planning.book import BAD, Book, Need, Span, binding, limits, only_limits
from lastbolt.planning.state import Done
from lastbolt.words.applies import is_limited
from lastbolt.words.machine import Applies, Procedure, Reference, Step
from lastbolt.words.quantity import Belief


class Asked(Struct, frozen=True):
    """What one binding reference comes to: work to do, or a question that must be answered first."""

    needs: tuple[Need, ...] = ()
    question: str = ""
    choices: tuple[str, ...] = ()
    named: bool = False
    """Found by the name of the part, not by a pointer."""
    more: bool = False
    """The words ask for something else as well."""
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

    def applies(self, name: str, applies: Applies) -> Belief:
        """Whether something applies here, a person's answer included."""
        known = self.book.applies(applies)
        if known == "unknown":
            answer = self.done.answer(name)
            return "yes" if answer == "yes" else "no" if answer == "no" else "unknown"
        return known

    def step_applies(self, step: Step) -> Belief:
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
            named, more = self.book.removals_named_in(reference.words)
            return Asked(tuple(Need(one) for one in named), named=True, more=more) if named else NOTHING
        choices = tuple(need.procedure for need in needs)
        if answer != "yes" and self._limited(reference) and not self.done.procedures.keys() & set(choices):
            return Asked((), f"Is it so: {reference.condition}?", choices)
        if self.book.mixed(reference):
            return Asked((), "Which of these is meant?", choices, not_these=others)
        if reference.any_of and len(needs) > 1:
            return self._one_of(needs, others)
        return Asked(needs, not_these=others)

    def _limited(self, reference: Reference) -> bool:
        """Whether a person must say if its condition is so: the engine's variant is not such a condition."""
        return bool(reference.condition) and not only_limits(reference)

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
    return is_limited(procedure.applies)


class Reach(Struct, frozen=True):
    """What is to be done, and what stands only behind ticked work.

    `some`: where not all steps of a procedure are to be done, the places of those that are. `behind`: the
    places of all its steps that are wanted at all. `perhaps`: procedures that are needed only if this engine
    is of a certain variant, with the words that say so.
    """

    live: frozenset[str]
    some: dict[str, frozenset[int]]
    behind: dict[str, frozenset[int]] = {}
    perhaps: dict[str, str] = {}


def reach_from(goals: tuple[str, ...], asker: Asker) -> Reach:
    """What the goals reach without passing through ticked work (ticked procedures themselves included)."""
    work = _spread(goals, asker)
    some = _some(work.spans, asker.book)
    behind: dict[str, frozenset[int]] = {}
    if some and (asker.done.procedures or asker.done.steps):
        every = _spread(goals, asker, through_ticked=True).spans
        behind = {name: _places(every[name], asker.book.procedures[name]) for name in some}
    perhaps = {}
    if work.perhaps:
        sure = _spread(goals, asker, sure=True).spans
        perhaps = {name: said for name, said in work.perhaps.items() if name not in sure}
    return Reach(frozenset(work.spans), some, behind, perhaps)


class _Spread(Struct):
    spans: dict[str, list[Span]] = {}
    perhaps: dict[str, str] = {}


def _spread(
    goals: tuple[str, ...], asker: Asker, *, through_ticked: bool = False, sure: bool = False
) -> _Spread:
    """The spans of steps that are needed, need by need. `sure`: not by references that may be for others."""
    book, done = asker.book, asker.done
    waiting = deque(Need(goal) for goal in goals)
    seen: set[Need] = set(waiting)
    found = _Spread()
    while waiting:
        need = waiting.popleft()
        span = book.span(need)
        found.spans.setdefault(need.procedure, []).append(span)
        procedure = book.procedures[need.procedure]
        if through_ticked:
            whole = book.span(Need(procedure.id)) if procedure.id in done.procedures else span
            references = _references(procedure, whole, asker, every=True)
        elif need.procedure in done.procedures:
            continue
        else:
            references = _references(procedure, span, asker)
        for reference in references:
            asked = asker.asked(reference)
            doubted = asked.needs and asker.applies(reference.id, reference.applies) == "unknown"
            if doubted and sure:
                continue
            for more in asked.needs:
                if doubted:
                    found.perhaps.setdefault(more.procedure, limits(reference.applies))
                if more not in seen:
                    seen.add(more)
                    waiting.append(more)
    return found


def _references(
    procedure: Procedure, span: Span, asker: Asker, *, every: bool = False
) -> Iterator[Reference]:
    """The binding references of those steps, and of the set-up; unless `every`, not of what is ticked."""
    if every or not begun(procedure, asker.done):
        yield from binding(procedure.before, asker.done)
    for step in procedure.steps[span.first : span.last + 1]:
        if not step.references or asker.step_applies(step) == "no":
            continue
        if every or step.id not in asker.done.steps:
            yield from binding(step.references, asker.done)


def begun(procedure: Procedure, done: Done) -> bool:
    """Whether a step of it, or all of it, is ticked, so that its set-up is taken for done."""
    if procedure.id in done.procedures:
        return True
    return bool(done.steps) and any(step.id in done.steps for step in procedure.steps)


def _some(spans: dict[str, list[Span]], book: Book) -> dict[str, frozenset[int]]:
    found = {}
    for name, asked in spans.items():
        procedure = book.procedures[name]
        last = len(procedure.steps) - 1
        if not any(span.first == 0 and span.last == last for span in asked):
            found[name] = _places(asked, procedure)
    return found


def _places(spans: Iterable[Span], procedure: Procedure) -> frozenset[int]:
    places = frozenset(n for span in spans for n in range(span.first, span.last + 1))
    return places & frozenset(range(len(procedure.steps)))

"""Which procedures a goal reaches: those to be done, and those only behind work that is already ticked."""

from collections import deque
from collections.abc import Iterator

from msgspec import Struct

from lastbolt.planning.book import BAD, Book, Need, binding
from lastbolt.planning.state import Done
from lastbolt.words.machine import Procedure, Reference, Step


class Asked(Struct, frozen=True):
    """What one binding reference comes to: work to do, or a question that must be answered first."""

    needs: tuple[Need, ...] = ()
    question: str = ""
    choices: tuple[str, ...] = ()
    named: bool = False
    """Found by the name of the part, not by a pointer."""


def asked_by(reference: Reference, book: Book, done: Done) -> Asked:
    """The needs of one reference, with variants, alternatives, conditions and answers taken into account."""
    if reference.id in done.aside or book.applies(reference.applies) == "no":
        return Asked()
    answer = done.answers.get(reference.id, "")
    if reference.condition and answer == "no":
        return Asked()
    needs = tuple(
        n for n in book.needs(reference) if book.applies(book.procedures[n.procedure].applies) != "no"
    )
    if answer in {need.procedure for need in needs}:
        return Asked(tuple(need for need in needs if need.procedure == answer))
    if reference.status in BAD:
        return Asked()
    if not needs and reference.status == "in words":
        named = book.removal_named_in(reference.words)
        return Asked((Need(named),), named=True) if named else Asked()
    choices = tuple(need.procedure for need in needs)
    if reference.condition and answer != "yes":
        return Asked((), f"Is it so: {reference.condition}?", choices)
    if reference.any_of and len(needs) > 1:
        ticked = tuple(need for need in needs if need.procedure in done.procedures)
        certain = tuple(n for n in needs if book.applies(book.procedures[n.procedure].applies) == "yes"
                        and _limited(book.procedures[n.procedure]))  # fmt: skip
        chosen = ticked[:1] or (certain if len(certain) == 1 else ())
        return Asked(chosen) if chosen else Asked((), "Which of these is it here?", choices)
    return Asked(needs)


def _limited(procedure: Procedure) -> bool:
    return bool(procedure.applies.variants) or procedure.applies.from_serial is not None


def references_of(procedure: Procedure, steps: tuple[Step, ...], book: Book) -> Iterator[Reference]:
    """Every binding reference of the procedure's set-up and of those steps that may apply here."""
    yield from binding(procedure.before)
    for step in steps:
        if book.applies(step.applies) != "no":
            yield from binding(step.references)


def live_from(goals: tuple[str, ...], book: Book, done: Done) -> frozenset[str]:
    """The procedures that the goals reach without passing through a ticked one (ticked ones included)."""
    waiting = deque(Need(goal) for goal in goals)
    seen: set[Need] = set(waiting)
    live: set[str] = set()
    while waiting:
        need = waiting.popleft()
        live.add(need.procedure)
        if need.procedure in done.procedures and need.procedure not in goals:
            continue
        procedure = book.procedures[need.procedure]
        for reference in references_of(procedure, book.steps_of(need), book):
            for more in asked_by(reference, book, done).needs:
                if more not in seen:
                    seen.add(more)
                    waiting.append(more)
    return frozenset(live)

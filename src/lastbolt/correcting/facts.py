"""Every fact of a model that can be put right: its id, the words it stands on, what was read from them.

The id survives re-reading; the words tell whether it is still the same fact. Where a fact has no id of its
own in the model (a torque of a step, a count in it), it is named by its step and its turn there.
"""

from collections.abc import Container, Iterable, Iterator
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.correcting.read_as import (
    count_words,
    limit_words,
    reference_words,
    row_words,
    step_words,
    torque_words,
)
from lastbolt.words.citation import Citation, PdfPlace, Place, TextPlace
from lastbolt.words.machine import (
    Machine,
    Mention,
    PageSeen,
    PartsRow,
    Procedure,
    Reference,
    Step,
    TableRow,
    TorqueRow,
    TorqueValue,
)
from lastbolt.words.measured import Limit
from lastbolt.words.problem import Problem

Sort = Literal[
    "procedure", "step", "reference", "torque", "count", "limit", "row", "table row", "torque row", "page",
    "problem",
]  # fmt: skip
OPEN_REFERENCES = ("doubtful", "ambiguous", "dangling", "self", "other book")


Thing = Step | Reference | TorqueValue | TorqueRow | Mention | Limit | PartsRow | TableRow


class Fact(Struct, frozen=True):
    """One fact as the page of corrections shows it.

    `under`: the procedure it stands in; `of`: the step it is part of. `doubts`: why it may be wrong;
    `told`: problems of the reader about just this fact. `named`: words by which a problem names it. `thing`
    is the fact itself, as the model has it.
    """

    id: str
    sort: Sort
    saw: str
    read_as: str
    under: str = ""
    of: str = ""
    mark: str = ""
    doubts: tuple[str, ...] = ()
    citations: tuple[Citation, ...] = ()
    told: tuple[Problem, ...] = ()
    named: str = ""
    thing: Thing | None = None

    @property
    def seen(self) -> str:
        """What was read, with every doubt: what a person who confirms it has seen."""
        return " | ".join((self.read_as, *self.doubts)) if self.doubts else self.read_as


def even(words: str) -> str:
    """Words as they are compared: with single spaces."""
    return " ".join(words.split())


Kept = dict[int, tuple[Procedure, tuple[Fact, ...]]]
"""By the identity of a procedure its facts, and the procedure itself so that its identity stays its own."""


def facts_of(machine: Machine, apart: Container[str] = (), kept: Kept | None = None) -> tuple[Fact, ...]:
    """All facts in the order of the sources: procedures with their steps, tables, parts, pages, problems.

    Args:
        machine: the model
        apart: codes of problems that are to be settled by themselves, whatever fact they are about
        kept: facts of procedures listed before, to be used again
    """
    found: list[Fact] = []
    for procedure in machine.procedures:
        held = None if kept is None else kept.get(id(procedure))
        facts = tuple(_of_procedure(procedure)) if held is None else held[1]
        if kept is not None and held is None:
            kept[id(procedure)] = (procedure, facts)
        found += facts
    found += [_torque_row(row) for row in machine.torques]
    found += [_limit(one) for one in machine.limits]
    found += [
        Fact(one.id, "table row", even(_cited(one.citations, one.name)), count_words(one.quantity, one.kind),
             citations=one.citations, thing=one)
        for one in machine.bolt_rows
    ]  # fmt: skip
    found += [_row(row) for row in machine.rows]
    digests = {source.id: source.sha256 for source in machine.sources}
    found += [_page(page, digests) for page in machine.pages if page.state == "unexplained"]
    return tuple(_with_problems(found, machine.problems, apart))


def _of_procedure(procedure: Procedure) -> Iterator[Fact]:
    name = even(f"{procedure.number} {procedure.title}")
    doubts = (procedure.doubt,) if procedure.doubt else ()
    yield Fact(
        procedure.id, "procedure", name, "", procedure.id, doubts=doubts, citations=procedure.citations
    )
    for reference in procedure.before:
        yield reference_fact(reference, procedure.id)
    for step in procedure.steps:
        yield from _of_step(step, procedure.id)
    for reference in procedure.after:
        yield reference_fact(reference, procedure.id)


def _of_step(step: Step, under: str) -> Iterator[Fact]:
    doubts = (step.doubt,) if step.doubt else ()
    yield Fact(
        step.id, "step", even(step.words), step_words(step), under, "", step.mark, doubts,
        step.citations, (), step.words, step,
    )  # fmt: skip
    for reference in step.references:
        yield reference_fact(reference, under, step.id)
    for number, torque in enumerate(step.torques, 1):
        cited = torque.citations or step.citations
        identity = f"{step.id}/torque/{number}"
        yield Fact(
            identity, "torque", even(torque.words), torque_words(torque), under, step.id, citations=cited,
            thing=torque,
        )  # fmt: skip
    for number, mention in enumerate(step.mentions, 1):
        if mention.kind is None and mention.quantity.kind == "unsaid":
            continue
        saw = even(f"{mention.quantity.words} {mention.name}")
        said = count_words(mention.quantity, mention.kind)
        identity = f"{step.id}/part/{number}"
        yield Fact(identity, "count", saw, said, under, step.id, citations=step.citations, thing=mention)
    for limit in step.limits:
        yield _limit(limit, under, step.id)


def reference_fact(reference: Reference, under: str, of: str = "") -> Fact:
    """A reference as a fact; one that is not resolved is in doubt by that."""
    doubts = (reference_words(reference),) if reference.status in OPEN_REFERENCES else ()
    read_as = reference_words(reference)
    return Fact(
        reference.id, "reference", even(reference.words), read_as, under, of, "", doubts,
        reference.citations, (), reference.words, reference,
    )  # fmt: skip


def _torque_row(row: TorqueRow) -> Fact:
    saw = even(_cited(row.citations, row.what))
    said = torque_words(row.value)
    return Fact(row.id, "torque row", saw, said, citations=row.citations, named=row.what, thing=row)


def _limit(limit: Limit, under: str = "", of: str = "") -> Fact:
    doubts = (limit.doubt,) if limit.doubt else ()
    saw = even(_cited(limit.citations, limit.words or limit.what))
    return Fact(
        limit.id, "limit", saw, limit_words(limit), under, of, "", doubts, limit.citations, (),
        limit.what, limit,
    )  # fmt: skip


def _row(row: PartsRow) -> Fact:
    doubts = (row.doubt,) if row.doubt else ()
    saw = even(_cited(row.citations, f"{row.item} {row.part_number} {row.name}"))
    return Fact(
        row.id, "row", saw, row_words(row), "", "", row.item, doubts, row.citations, (), row.name, row
    )


def _page(page: PageSeen, digests: dict[str, str]) -> Fact:
    """A page nobody could explain. It is the same page only in the very same file."""
    saw = f"{page.why} (file {digests.get(page.source, '')[:16]})"
    place = PdfPlace(page.pdf_page, page.printed_page)
    if page.part:
        place = TextPlace(page.pdf_page, under=page.part)
    why = page.why or "not explained"
    return Fact(
        f"{page.source}/page/{page.pdf_page}", "page", saw, "", doubts=(why,),
        citations=(Citation(page.source, place),),
    )  # fmt: skip


def _cited(citations: tuple[Citation, ...], otherwise: str) -> str:
    return (citations[0].words if citations else "") or otherwise


PROBLEM = "problem/"


def _with_problems(facts: list[Fact], problems: Iterable[Problem], apart: Container[str]) -> Iterator[Fact]:
    """The facts, each doubt of the reader's put to the fact that it names at its place, or by itself."""
    at: dict[tuple[str, Place], list[int]] = {}
    for number, fact in enumerate(facts):
        for citation in fact.citations[:1]:
            at.setdefault((citation.source, citation.place), []).append(number)
    alone: list[Problem] = []
    for problem in problems:
        if problem.grade == "note":
            continue
        here = (
            at.get((problem.citations[0].source, problem.citations[0].place), []) if problem.citations else []
        )
        named = [number for number in here if _names(problem, facts[number])]
        if problem.code in apart or not named:
            alone.append(problem)
            continue
        pointing = (number for number in named if facts[number].sort == "reference" and facts[number].doubts)
        number = next(pointing, named[0])
        fact = facts[number]
        facts[number] = replace(fact, doubts=(*fact.doubts, problem.what), told=(*fact.told, problem))
    yield from facts
    for problem in alone:
        yield Fact(
            f"{PROBLEM}{problem.code}", "problem", even(f"{problem.where}: {problem.what}"), problem.do,
            doubts=(problem.what,), citations=problem.citations, told=(problem,),
        )  # fmt: skip


def _names(problem: Problem, fact: Fact) -> bool:
    return bool(fact.named) and even(fact.named) in even(problem.what)

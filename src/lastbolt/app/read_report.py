"""How much was read, counted in the model."""

from collections import Counter

from msgspec import Struct

from lastbolt.words.columns import ColumnsRead
from lastbolt.words.machine import Machine, Procedure, Reference


class ReadReport(Struct, frozen=True):
    """How much was read, for people; references by their status, pages by what became of them."""

    pages: int = 0
    sections: int = 0
    procedures: int = 0
    steps: int = 0
    figures: int = 0
    rows: int = 0
    torques: int = 0
    limits: int = 0
    consumables: int = 0
    tools: int = 0
    references: dict[str, int] = {}
    page_states: dict[str, int] = {}
    unexplained: tuple[str, ...] = ()
    """Each unexplained page: its source, its numbers and why."""
    columns: tuple[ColumnsRead, ...] = ()
    """Of each table file, what its columns were taken for."""


def report_of(machine: Machine) -> ReadReport:
    """What a model holds, counted."""
    references = Counter(r.status for p in machine.procedures for r in references_of(p))
    steps = [step for procedure in machine.procedures for step in procedure.steps]
    titles = {source.id: source.title for source in machine.sources}
    states = Counter(page.state for page in machine.pages)
    open_pages = tuple(
        f"{titles.get(page.source, page.source)}, {page.called()}: {page.why}"
        for page in machine.pages
        if page.state == "unexplained"
    )
    return ReadReport(
        pages=len(machine.pages),
        sections=len(machine.sections),
        procedures=len(machine.procedures),
        steps=len(steps),
        figures=len(machine.figures),
        rows=len(machine.rows),
        torques=len(machine.torques) + sum(len(s.torques) for s in steps),
        limits=len(machine.limits) + sum(len(s.limits) for s in steps),
        consumables=len(machine.consumables)
        + sum(len(s.consumables) for s in steps)
        + sum(len(p.consumables) for p in machine.procedures),
        tools=len(machine.tools)
        + sum(len(s.numbered_tools) for s in steps)
        + sum(len(p.numbered_tools) for p in machine.procedures),
        references={str(k): v for k, v in references.items()},
        page_states={str(k): v for k, v in states.items()},
        unexplained=open_pages,
    )


def references_of(procedure: Procedure) -> tuple[Reference, ...]:
    """Every reference of a procedure, of its set-up block, its follow-on and its steps."""
    return (*procedure.before, *procedure.after, *(r for s in procedure.steps for r in s.references))

"""What the answer keys are held against: what the program made of the demo, in the keys' own terms."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from msgspec import Struct

from lastbolt.app.make_plan import make_plan
from lastbolt.cli.papers import Papers, answer_for
from lastbolt.edge import documents
from lastbolt.words.answer import Answer
from lastbolt.words.citation import CellPlace, Citation, PdfPlace
from lastbolt.words.engine import Engine
from lastbolt.words.job import Job
from lastbolt.words.joint import Walk
from lastbolt.words.machine import Machine, PartsRow, Reference, Step
from lastbolt.words.plan import Line, Plan
from lastbolt.words.problem import Problem

DEMO = Path(__file__).parents[2] / "demo"
KEY: dict[str, Any] = json.loads((DEMO / "answer_key.json").read_text(encoding="utf-8"))
SMALL: dict[str, Any] = json.loads((DEMO / "small" / "answer_key.json").read_text(encoding="utf-8"))
MATTER: dict[str, Any] = {matter["id"]: matter for matter in KEY["matters"]}
ALLEGED: dict[str, Any] = {allegation["id"]: allegation for allegation in KEY["allegations"]}

KIND_OF_CODE = {
    "LB-B01": "quantity disagrees",
    "LB-B02": "size or length disagrees",
    "LB-B03": "lengths swapped",
    "LB-B04": "size or length disagrees",
    "LB-L01": "cycle of required conditions",
    "LB-P03": "callout without row",
    "LB-P04": "row without callout",
    "LB-P05": "units disagree",
    "LB-R01": "dangling reference",
    "LB-R02": "ambiguous reference",
    "LB-R04": "cycle of required conditions",
    "LB-R07": "units disagree",
    "LB-R09": "dangling reference",
    "LB-R12": "quantity disagrees",
    "LB-R15": "ambiguous reference",
    "LB-W01": "removal without installation",
    "LB-W02": "installation without removal",
}
"""The problems by which the program alleges something of the documents, as the key names the kinds."""

ASKS_ONLY = {"LB-R03", "LB-R06"}
"""A condition said in words only, or taken for the nearest section: a person is asked to look.
A code in neither list fails the test until somebody has decided which of the two it is."""

PAGED = {
    "manual": "manual.pdf",
    "Manual": "manual.pdf",
    "parts-list": "parts_list.pdf",
    "Parts list": "parts_list.pdf",
}

Page = tuple[str, int, str | None]


class Told(Struct, frozen=True):
    """One job as the program answers it."""

    job: Job
    plan: Plan
    answer: Answer


def told(machine: Machine, name: str, walk: Walk | None = None) -> Told:
    """The plan and the answer for one of the demo's jobs, made as `lastbolt demo` makes them."""
    engine = documents.load(DEMO / "engine_3.json", Engine)
    walk = walk or documents.load(DEMO / "walk.json", Walk)
    job = documents.load(DEMO / f"{name}.json", Job)
    plan = make_plan(machine, job.goal, engine, job)
    return Told(job, plan, answer_for(Papers(machine, True, (walk,), engine, job), plan))


def pages(citations: Iterable[Citation]) -> set[Page]:
    """The PDF pages cited: (document, PDF page, printed page)."""
    return {
        (PAGED[c.source], c.place.pdf_page, c.place.printed_page)
        for c in citations
        if isinstance(c.place, PdfPlace)
    }


def table_lines(citations: Iterable[Citation]) -> set[int]:
    """The lines of a table file cited."""
    return {c.place.line for c in citations if isinstance(c.place, CellPlace)}


def page_of(source: dict[str, Any]) -> Page:
    """The page that one source of the key stands on."""
    return source["document"], source["pdf_page"], source["printed_page"]


def pages_of(matter: dict[str, Any]) -> set[Page]:
    """All PDF pages of one matter of the key."""
    return {page_of(source) for source in matter["sources"] if "pdf_page" in source}


def alleged(problems: Iterable[Problem]) -> Iterator[tuple[str, frozenset[Page], Problem]]:
    """What the problems allege, as (the key's kind, the pages cited, the problem)."""
    for problem in problems:
        if problem.code not in ASKS_ONLY:
            yield KIND_OF_CODE[problem.code], frozenset(pages(problem.citations)), problem


def key_names(kind: str, cited: frozenset[Page], allegations: Iterable[dict[str, Any]]) -> list[str]:
    """The allegations of the key that a problem of this kind on these pages is."""
    return [a["id"] for a in allegations if a["kind"] == kind and cited and cited <= pages_of(a)]


def section_of(procedure: str) -> str:
    """The section number in a procedure's id, without which half of the section it is."""
    return procedure.rsplit("/", 1)[-1].removesuffix(".removal").removesuffix(".installation")


def begins(plan: Plan) -> list[str]:
    """Section numbers in the order in which their procedures begin (or are confirmed) in the plan."""
    return [section_of(line.procedure) for line in plan.lines if line.kind in ("opening", "confirm")]


def line_of(plan: Plan, section: str, mark: str) -> Line:
    """The one line of the plan for that step."""
    (line,) = (
        line
        for line in plan.lines
        if line.kind == "step" and section_of(line.procedure) == section and line.mark == mark
    )
    return line


def step_of(machine: Machine, section: str, mark: str) -> Step:
    """One step as it was read."""
    (step,) = (
        step
        for procedure in machine.procedures
        if section_of(procedure.id) == section
        for step in procedure.steps
        if step.mark == mark
    )
    return step


def row_of(machine: Machine, figure: str, item: str) -> PartsRow:
    """One row of the parts list as it was read."""
    (row,) = (row for row in machine.rows if (row.figure, row.item) == (figure, item))
    return row


def conditions(machine: Machine, section: str) -> list[Reference]:
    """What the set-up block of a section requires."""
    return [ref for p in machine.procedures if section_of(p.id) == section for ref in p.before]


def heard(machine: Machine, section: str) -> str:
    """All that was read under one section's procedures, as one string."""
    found = [p for p in machine.procedures if section_of(p.id) == section]
    return " ".join([p.text for p in found] + [step.words for p in found for step in p.steps])


def size_in(words: str) -> str:
    """The size and length at the end of a name, without blanks: "M8x45"."""
    return words.rsplit(", ", maxsplit=1)[-1].replace(" ", "")


def count(said: Told, size: str, source: str) -> str:
    """One cell of the counts side by side; sizes are written without blanks in it."""
    at = said.answer.counts.heads.index(source)
    (row,) = (r for r in said.answer.counts.rows if r[0].replace(" ", "").endswith(size.replace(" ", "")))
    return row[at]

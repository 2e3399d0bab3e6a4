"""Which problems stand in the report, and which are only counted."""

from lastbolt.app.report import ReportParts, report_page
from lastbolt.words.citation import CellPlace, Citation, PdfPlace
from lastbolt.words.machine import MODEL_SCHEMA, Machine
from lastbolt.words.plan import PLAN_SCHEMA, Line, Plan, RequiredBy
from lastbolt.words.problem import Problem


def on_page(pdf_page: int) -> tuple[Citation, ...]:
    return (Citation("m", PdfPlace(pdf_page)),)


def problem(name: str, *citations: Citation) -> Problem:
    return Problem("LB-X00", name, "m", "Look.", citations=citations)


LINE = Line("m/1", "step", "m/p", RequiredBy("goal"), words="Do it.", citations=on_page(5))


def told(machine: tuple[Problem, ...], plan: tuple[Problem, ...] = ()) -> list[str]:
    page = report_page(
        ReportParts(
            Machine(MODEL_SCHEMA, "m", problems=machine),
            Plan(PLAN_SCHEMA, "goal", lines=(LINE,), problems=plan),
        )
    )
    return [remark.words for remark in page.disagreements]


def test_what_the_plan_found_is_told_wherever_it_stands() -> None:
    assert told((), (problem("no way back", *on_page(9)),)) == ["LB-X00  no way back"]


def test_the_readers_problems_far_from_this_plan_are_counted() -> None:
    words = told((problem("near", *on_page(5)), problem("far", *on_page(9))))
    assert words == ["LB-X00  near", "1 more doubt of the reading, on pages that this plan does not need."]


def test_a_problem_of_a_table_file_has_no_page_and_is_told() -> None:
    assert told((problem("row", Citation("list", CellPlace(3))),)) == ["LB-X00  row"]

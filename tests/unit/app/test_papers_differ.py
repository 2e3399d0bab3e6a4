"""Where sources print different counts of one row, both pages are named beside what to do."""

from lastbolt.app.papers_differ import papers_differ
from lastbolt.words.citation import CellPlace, Citation, PdfPlace
from lastbolt.words.evidence import Line, Printed
from lastbolt.words.quantity import Kind, exactly

M8 = Kind("screw", "M8", 50.0)
LIST = Printed(exactly(7), "parts.csv", "maker", citation=Citation("parts.csv", CellPlace(6, "Qty")))
TABLE = Printed(exactly(6), "Table 4-1", "maker", citation=Citation("manual", PdfPlace(5, "4-2")))


def line(*printed: Printed, **more: object) -> Line:
    return Line("row", M8, printed, "wholly", **more)  # type: ignore[arg-type]


def test_both_places_are_named() -> None:
    (step,) = papers_differ([line(LIST, TABLE)])
    assert "parts.csv, line 6" in step.words
    assert "printed page 4-2" in step.words
    assert "says 7" in step.words
    assert "says 6" in step.words


def test_no_step_where_they_agree_or_the_engine_file_speaks_or_the_row_may_be_elsewhere() -> None:
    assert not papers_differ([line(LIST)])
    assert not papers_differ([line(LIST, TABLE, on_engine=6)])
    assert not papers_differ([Line("row", M8, (LIST, TABLE), "maybe")])

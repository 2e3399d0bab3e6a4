"""How the sources themselves say that a size is measured; steps about something else are not taken for it."""

import pytest
from msgspec.structs import replace
from small_book import cited, machine, names, proc, step

from lastbolt.measuring.how_told import with_sources
from lastbolt.measuring.sheet import Wanted, sheet_of
from lastbolt.words.machine import Reference
from lastbolt.words.measured import Limit, Span
from lastbolt.words.readings import Size

MEASURE = proc("6.2", "Measuring the shafts", "check", "shafts",
               step("1", "Measure each bearing seat of the layshaft at two heights, each in two directions."),
               step("2", "Lay the straightedge over the joint face and try the gap with feeler gauges."),
               step("3", "Push the layshaft back, then pull it. The difference is the end float."),
               step("4", "Measure the depth a from the joint face of the lid to the bearing."),
               step("5", "What is beyond its limit is replaced, the layshaft with its gear."),
               page=12)  # fmt: skip
ELSE = proc("4.1", "Removing the layshaft", "remove", "layshaft",
            step("1", "Draw the layshaft with its bearing out of the case.", names("layshaft")),
            step("2", "Check that the layshaft turns freely."))  # fmt: skip


def size(what: str, words: str = "") -> Size:
    limit = Limit(f"book/limit/{what}", what, standard=Span(1.0, 2.0, "mm"), limit=Span(None, 3.0, "mm"),
                  sense="at most", citations=cited("book", 40, words or f"{what} | 1 - 2 | 3"))  # fmt: skip
    return sheet_of([Wanted(limit)])[0]


@pytest.mark.parametrize(
    ("what", "mark", "readings"),
    [
        ("Layshaft, seat of bearing, diameter", "1", 4),
        ("Flatness of the joint face", "2", 6),
        ("End float, layshaft", "3", 3),
    ],
)
def test_the_step_that_measures_it_is_told_with_its_page(what: str, mark: str, readings: int) -> None:
    made = with_sources([size(what)], machine(ELSE, MEASURE))[0]
    assert made.how.startswith(f"6.2 step {mark}: ")
    assert made.how_citations[0].place == MEASURE.steps[0].citations[0].place
    assert made.how_source == ""
    assert made.readings == readings


@pytest.mark.parametrize(
    "what", ["Layshaft weight", "Friction plate, thickness", "Valve stem, clearance in guide"]
)
def test_no_step_is_taken_for_what_it_does_not_measure(what: str) -> None:
    before = size(what)
    assert with_sources([before], machine(ELSE, MEASURE))[0] == before
    assert before.how_source == "common practice, no source"


def test_what_is_done_beyond_the_limit() -> None:
    shaft, plate = size("End float, layshaft"), size("Friction plate, thickness")
    own = size("Clutch disc, thickness", "Replace the disc if it is thinner than 3 mm.")
    made = with_sources([shaft, plate, own], machine(ELSE, MEASURE))
    assert made[0].decides == "6.2 step 5: What is beyond its limit is replaced, the layshaft with its gear."
    assert made[0].then_citations == MEASURE.steps[4].citations
    assert made[1].then_citations == ()
    assert made[2].decides == "Replace the disc if it is thinner than 3 mm."


def test_a_step_that_refers_to_the_table_says_it_for_all_of_it() -> None:
    see = Reference("r", "Compare with 8.3.", "see", "resolved", ("book/section/8.3",))
    refers = replace(MEASURE, steps=(*MEASURE.steps[:4], replace(MEASURE.steps[4], references=(see,))))
    plate = size("Friction plate, thickness")
    made = with_sources([plate], machine(ELSE, refers), stands_in={plate.limit: "book/section/8.3"})[0]
    assert made.then_citations == MEASURE.steps[4].citations

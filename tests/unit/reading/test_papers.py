"""Whole small papers, set by typst here, in two styles: every matter planted in them is found."""

from pathlib import Path

import pytest
import typst

from lastbolt.app.read_sources import Paged, ReadResult, SourceFile, read_sources, references_of
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.words.citation import PdfPlace
from lastbolt.words.machine import Machine, Procedure

PAPERS = Path(__file__).parent / "papers"


def _read(name: str, folder: Path) -> ReadResult:
    target = folder / f"{name}.pdf"
    typst.compile(str(PAPERS / f"{name}.typ"), output=str(target))
    return read_sources([Paged(SourceFile(target.name), read_pages(target, PdfSettings(source=name)))])


@pytest.fixture(scope="module")
def paragraphs(tmp_path_factory: pytest.TempPathFactory) -> ReadResult:
    return _read("paragraph_numbers", tmp_path_factory.mktemp("papers"))


@pytest.fixture(scope="module")
def names(tmp_path_factory: pytest.TempPathFactory) -> ReadResult:
    return _read("names_and_pages", tmp_path_factory.mktemp("papers"))


def _procedure(machine: Machine, title: str) -> Procedure:
    (found,) = [p for p in machine.procedures if p.title.lower() == title.lower()]
    return found


def _codes(machine: Machine) -> list[str]:
    return sorted(problem.code for problem in machine.problems)


def test_lettered_tasks_are_procedures_of_their_paragraph(paragraphs):
    found = [(p.number, p.deed, p.parts[0]) for p in paragraphs.machine.procedures]
    assert found == [
        ("3-2a", "remove", "drum guard"),
        ("3-2b", "install", "drum guard"),
        ("3-3a", "remove", "hydraulic pump"),
        ("3-3b", "install", "hydraulic pump"),
        ("3-4a", "remove", "transmission cover"),
        ("3-4b", "install", "transmission cover"),
        ("3-5a", "remove", "output flange"),
        ("3-6a", "remove", "brake"),
    ]


def test_set_up_block_leads_to_the_removals(paragraphs):
    cover = _procedure(paragraphs.machine, "transmission cover: removal")
    guard, pump, brake = cover.before
    assert (guard.status, guard.to) == ("resolved", ("paragraph-numbers/procedure/3-2a",))
    assert (pump.status, pump.to) == ("resolved", ("paragraph-numbers/procedure/3-3a",))
    assert (brake.status, brake.to) == ("dangling", ("paragraph-numbers/procedure/3-6a",))


def test_condition_narrows_a_reference_to_steps(paragraphs):
    cover = _procedure(paragraphs.machine, "transmission cover: removal")
    (reference,) = cover.steps[0].references
    assert reference.to == ("paragraph-numbers/procedure/3-5a",)
    assert "steps 3 to 4 only" in reference.condition
    assert cover.steps[0].mentions[0].callouts == ()


def test_callouts_of_one_count(paragraphs):
    cover = _procedure(paragraphs.machine, "transmission cover: removal")
    (screws,) = cover.steps[1].mentions
    assert screws.quantity.low == 22
    assert screws.callouts == ("6", "10", "11", "16", "17", "18", "20", "21")


def test_reverse_leads_to_the_removal_with_its_exception(paragraphs):
    pump = _procedure(paragraphs.machine, "hydraulic pump, with heater: installation")
    (reference,) = [r for r in references_of(pump) if r.role == "reverse of"]
    assert reference.to == ("paragraph-numbers/procedure/3-3a",)
    assert reference.condition == "except that the nuts are tightened to 78 in-lbs"


def test_repeated_steps_stay_in_their_procedure(paragraphs):
    cover = _procedure(paragraphs.machine, "transmission cover: removal")
    (reference,) = cover.steps[3].references
    assert (reference.to, reference.from_step, reference.to_step) == (
        ("paragraph-numbers/procedure/3-4a",),
        "2",
        "3",
    )


def test_warning_goes_with_its_task(paragraphs):
    (caution,) = _procedure(paragraphs.machine, "hydraulic pump, with heater: removal").cautions
    assert caution.signal == "warning"
    assert caution.words.startswith("Oil under pressure can pierce the skin.")


def test_only_what_is_wrong_is_reported(paragraphs):
    # 3-9 and 423 do not exist, table 3-1 is not there, the operator's manual is another book.
    assert _codes(paragraphs.machine) == ["LB-R01", "LB-R01", "LB-R01", "LB-R05"]


def test_turned_clockwise_to_undo_is_left_hand(paragraphs):
    (step,) = _procedure(paragraphs.machine, "output flange: removal").steps
    assert step.left_hand
    assert step.locks == ("lock tab",)


def test_names_and_printed_pages_lead_to_procedures(names):
    plate = _procedure(names.machine, "Removing the side plate")
    roller, lifter = (reference for step in plate.steps for reference in step.references)
    assert roller.to == (_procedure(names.machine, "Removing the feed roller").id,)
    assert (lifter.status, lifter.applies.variants) == ("dangling", ("crop lifter",))


def test_printed_pages_behind_roman_ones(names):
    pages = {page.pdf_page: page.printed_page for page in names.machine.pages}
    assert (pages[3], pages[6]) == ("1", "4")
    place = _procedure(names.machine, "Fitting the side plate").citations[0].place
    assert isinstance(place, PdfPlace)
    assert (place.pdf_page, place.printed_page) == (6, "4")


def test_title_in_capitals_over_two_lines(names):
    housing = _procedure(names.machine, "Opening the gear housing")
    assert housing.before[0].to == (_procedure(names.machine, "Removing the side plate").id,)


def test_each_misprint_of_the_names_paper_is_reported(names):
    # "Removing the crop lifter" is nowhere; 25 N·m is not 30 lbf·ft; one section points to itself.
    assert _codes(names.machine) == ["LB-R01", "LB-R04", "LB-R07"]


def test_every_page_is_accounted_for(names, paragraphs):
    assert names.report.unexplained == paragraphs.report.unexplained == ()
    assert {page.state for page in names.machine.pages} == {"read", "front matter"}


def test_every_step_is_cited_with_its_page_and_box(names, paragraphs):
    for machine in (names.machine, paragraphs.machine):
        for procedure in machine.procedures:
            for step in procedure.steps:
                place = step.citations[0].place
                assert isinstance(place, PdfPlace)
                assert place.box is not None
                assert step.citations[0].words == step.words


def test_ids_are_unlike(names, paragraphs):
    for machine in (names.machine, paragraphs.machine):
        ids = [p.id for p in machine.procedures] + [s.id for p in machine.procedures for s in p.steps]
        ids += [s.id for s in machine.sections] + [r.id for p in machine.procedures for r in references_of(p)]
        assert len(ids) == len(set(ids))

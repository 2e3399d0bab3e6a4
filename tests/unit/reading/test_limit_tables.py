"""Tables of limits: ruled or not, two units, split rows, page breaks; what cannot be read is told."""

from pathlib import Path

import pytest
from limit_papers import read_paper, table

from lastbolt.words.machine import Machine
from lastbolt.words.measured import Limit, Span

CODES = ("LB-P09", "LB-P10", "LB-P11")


def told(machine: Machine) -> list[str]:
    return [problem.code for problem in machine.problems if problem.code in CODES]


def values(limit: Limit) -> tuple[object, object, str]:
    return limit.standard_mm, limit.limit_mm, limit.sense


@pytest.mark.parametrize("ruled", [True, False])
def test_standard_limit_and_a_column_of_units(ruled: bool, tmp_path: Path) -> None:
    """The side of a limit is told by the standard range beside it; a dash is no value."""
    cells = """[Item], [Standard], [Service limit], [Unit],
      [Piston ring, end gap], [0.15-0.30], [0.80], [mm],
      [Brake disc, thickness], [4.9 to 5.1], [4.5], [mm],
      [Valve spring, force], [180-200], [165], [N],
      [Shaft, runout], [–], [0.05], [mm],
      [Cam lobe], [N/A], [–], [mm]"""
    machine = read_paper(table(4, cells, ruled=ruled), tmp_path)
    ring, disc, spring, shaft = machine.limits
    assert values(ring) == ((0.15, 0.3), (None, 0.8), "at most")
    assert (ring.part, ring.measure) == ("Piston ring", "end gap")
    assert values(disc) == ((4.9, 5.1), (4.5, None), "at least")
    assert spring.limit == Span(165.0, None, "N")
    assert (shaft.sense, shaft.standard) == ("at most", None)
    assert "taken from what is measured" in shaft.doubt
    assert not ring.doubt
    place = ring.citations[0].place
    assert (place.pdf_page, place.box is not None) == (1, True)  # type: ignore[union-attr]
    assert told(machine) == []


@pytest.mark.parametrize("ruled", [True, False])
def test_two_columns_of_units_are_compared(ruled: bool, tmp_path: Path) -> None:
    """1 in is 25.4 mm (NIST SP 811, appendix B.8): 0.30 mm is 0.0118 in and not 0.0218."""
    cells = """[Item], [Standard, mm], [Standard, in], [Limit, mm], [Limit, in],
      [Pad thickness], [4.75], [0.187], [2.0], [0.079],
      [Shaft clearance], [0.02-0.05], [0.0008-0.0020], [0.30], [0.0218]"""
    machine = read_paper(table(5, cells, ruled=ruled), tmp_path)
    pad, shaft = machine.limits
    assert pad.printed_limit == (Span(2.0, 2.0, "mm"), Span(0.079, 0.079, "in"))
    assert (pad.limit_mm, pad.doubt) == ((2.0, None), "")
    assert "do not convert" in shaft.doubt
    assert told(machine) == ["LB-P10"]


def test_two_units_in_one_cell(tmp_path: Path) -> None:
    cells = """[Part and size], [New, mm (in)], [Wear limit, mm (in)],
      [Pin, diameter], [19.98-20.00 (0.7866-0.7874)], [19.95 (0.7854)]"""
    (pin,) = read_paper(table(3, cells, ruled=True), tmp_path).limits
    assert values(pin) == ((19.98, 20.0), (19.95, None), "at least")
    assert pin.printed_standard[1] == Span(0.7866, 0.7874, "in")


def test_a_decimal_comma_and_min_and_max_columns(tmp_path: Path) -> None:
    cells = """[Part], [Min. mm], [Max. mm], [Wear limit mm],
      [Cam, height], [35,480], [35,520], [35,30], [Groove, width], [1,20], [1,25], [1,35]"""
    cam, groove = read_paper(table(4, cells, ruled=True), tmp_path).limits
    assert values(cam) == ((35.48, 35.52), (35.3, None), "at least")
    assert values(groove) == ((1.2, 1.25), (None, 1.35), "at most")


def test_units_over_two_rows_of_headings(tmp_path: Path) -> None:
    cells = """[Part], [New], [], [Limit], [], [], [mm], [in], [mm], [in],
      [Bush, bore], [20.00-20.02], [0.7874-0.7882], [20.06], [0.7898]"""
    (bush,) = read_paper(table(5, cells, ruled=True), tmp_path).limits
    assert values(bush) == ((20.0, 20.02), (None, 20.06), "at most")
    assert len(bush.printed_limit) == 2


@pytest.mark.parametrize("ruled", [True, False])
def test_a_name_over_two_rows_and_a_group(ruled: bool, tmp_path: Path) -> None:
    cells = """[Item], [Standard, mm], [Limit, mm],
      [Clearance between piston and], [], [], [cylinder], [0.03-0.06], [0.15],
      [Camshaft], [], [], [Runout], [0-0.02], [0.05], [End float], [0.05-0.15], [0.25]"""
    machine = read_paper(table(3, cells, ruled=ruled), tmp_path)
    assert [limit.what for limit in machine.limits] == [
        "Clearance between piston and cylinder", "Camshaft: Runout", "Camshaft: End float"
    ]  # fmt: skip
    assert machine.limits[1].part == "Camshaft"


@pytest.mark.parametrize("again", ["[Part and size], [Standard, mm], [Limit, mm],", ""])
def test_a_table_goes_on_over_the_page(again: str, tmp_path: Path) -> None:
    """Also without headings on the second page, where the rules are drawn."""
    rows = "".join(f"[Gear {n}, thickness], [{n}.00-{n}.02], [{n - 1}.90]," for n in range(2, 80))
    header = f"table.header({again}), " if again else "[Part and size], [Standard, mm], [Limit, mm],"
    machine = read_paper(table(3, header + rows, ruled=True), tmp_path)
    assert [limit.what for limit in machine.limits] == [f"Gear {n}, thickness" for n in range(2, 80)]
    assert {limit.citations[0].place.pdf_page for limit in machine.limits} == {1, 2}  # type: ignore[union-attr]
    assert told(machine) == []


def test_a_table_without_rules_goes_on_over_the_page(tmp_path: Path) -> None:
    """Its rows on the second page have no headings; an empty cell stays empty."""
    rows = "".join(f"[Gear {n}, thickness], [{n}.00-{n}.02], [{n - 1}.90]," for n in range(2, 60))
    cells = "[Part and size], [Standard, mm], [Limit, mm]," + rows + "[Lug, thickness], [], [19.95]"
    machine = read_paper(table(3, cells, ruled=False) + "\n== 1.2 General\nClean all parts.", tmp_path)
    names = [f"Gear {n}, thickness" for n in range(2, 60)]
    assert [limit.what for limit in machine.limits] == [*names, "Lug, thickness"]
    assert values(machine.limits[-1]) == (None, (19.95, None), "at least")
    assert {limit.citations[0].place.pdf_page for limit in machine.limits} == {1, 2}  # type: ignore[union-attr]
    assert told(machine) == []


def test_a_unit_that_cannot_be_told_has_a_doubt(tmp_path: Path) -> None:
    cells = "[Part], [Standard], [Limit], [Pin, diameter], [19.98-20.00], [19.95]"
    machine = read_paper(table(3, cells, ruled=True), tmp_path)
    (pin,) = machine.limits
    assert (pin.limit_mm, pin.limit) == (None, Span(19.95, None, ""))
    assert "unit is not printed" in pin.doubt
    assert told(machine) == ["LB-P11"]


def test_the_words_above_the_table_tell_the_unit(tmp_path: Path) -> None:
    cells = "[Part], [Standard], [Limit], [Pin, diameter], [19.98-20.00], [19.95]"
    paper = table(3, cells, ruled=True).replace("#table", "All dimensions in mm.\n#table")
    (pin,) = read_paper(paper, tmp_path).limits
    assert (pin.limit_mm, pin.doubt) == ((19.95, None), "")


@pytest.mark.parametrize(
    ("standard", "limit", "code"),
    [
        ("19.98-20.00", "19.99", "LB-P11"),  # inside the standard range: a misprint
        ("19.98-20.00", "min. 20.05", "LB-P11"),  # at least what no new part has
        ("19.98-20.00", "0.05", "LB-P11"),  # an amount of wear, no size
        ("19.98-20.00", "1,995", "LB-P11"),  # a point elsewhere: 1995 mm
        ("STD 19.98, 0.25 20.23", "19.95", "LB-P09"),  # two values in one cell
        ("19.98-2O.00", "19.95", "LB-P09"),  # a letter among the digits
        ("20.00-19.98", "19.95", "LB-P09"),  # backwards
    ],
)
def test_what_is_odd_is_told(standard: str, limit: str, code: str, tmp_path: Path) -> None:
    cells = f"[Part], [Standard, mm], [Limit, mm], [Pin, diameter], [{standard}], [{limit}]"
    machine = read_paper(table(3, cells, ruled=True), tmp_path)
    assert told(machine) == [code]
    assert len(machine.limits) == (0 if code == "LB-P09" else 1)
    assert all(one.doubt for one in machine.limits)


def test_steps_below_the_table_stay_steps(tmp_path: Path) -> None:
    """One was once taken for a row: its words happened to leave the columns free."""
    cells = "[Measurement], [New], [Limit], [Gap], [2-3 mm], [4 mm], [Offset], [0-0.2 mm], [0.4 mm]"
    steps = "\n+ Lay a straightedge over both the rims at the top and sides. Measure.\n+ Measure the gap."
    machine = read_paper(table(3, cells, ruled=False, title="Aligning the pump") + steps, tmp_path)
    assert [len(procedure.steps) for procedure in machine.procedures] == [2]
    assert [limit.what for limit in machine.limits] == ["Gap", "Offset"]


def test_torques_with_a_limit_are_none(tmp_path: Path) -> None:
    cells = "[Joint], [Torque, N·m], [Limit, N·m], [Cover], [10], [12]"
    assert read_paper(table(3, cells, ruled=True, title="Tightening"), tmp_path).limits == ()


def test_a_section_of_limits_of_which_nothing_was_read_is_told(tmp_path: Path) -> None:
    """Here the values stand in running words."""
    text = "= 1 Data\n== 1.1 Wear limits\nCam height 35.30 mm or so, bush 20.06 mm.\n== 1.2 Other\nNothing."
    machine = read_paper(text, tmp_path)
    assert machine.limits == ()
    assert told(machine) == ["LB-P09"]


@pytest.mark.parametrize("ruled", [True, False])
def test_a_fit_from_interference_to_clearance(ruled: bool, tmp_path: Path) -> None:
    """ISO 286-1 calls it a transition fit (from memory): its least clearance is below zero."""
    cells = """[Item], [Standard, mm], [Limit, mm],
      [Pin in bore, clearance], [-0.01 to 0.02], [0.05],
      [Ring on shaft, clearance], [-0.03 to -0.01], [0.01],
      [Piston, clearance], [0.04 to 0.06], [0.12]"""
    pin, ring, _ = read_paper(table(3, cells, ruled=ruled), tmp_path).limits
    assert values(pin)[0] == (-0.01, 0.02)
    assert values(ring)[0] == (-0.03, -0.01)


def test_a_fraction_under_a_heading_in_millimetres_is_not_taken_for_one(tmp_path: Path) -> None:
    cells = """[Item], [Standard, mm], [Limit, mm],
      [Pad, thickness], [5.0], [1/2], [Ring, gap], [0.15-0.30], [0.80]"""
    machine = read_paper(table(3, cells, ruled=True), tmp_path)
    assert all((limit.limit_mm or (0,))[0] != 0.5 for limit in machine.limits)
    assert "LB-P09" in told(machine)

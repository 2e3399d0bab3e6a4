"""An assembly manual and bill that nobody here wrote: what was found by eye is found, and nothing invented.

Source: the manual (28 pages) and the bill (98 rows) of an open-hardware machine, MIT licence (2020), kept
beside the project and not in it. What was found by eye stands in the README beside them; the sums were added
up by hand from the printed pages. Set LASTBOLT_SAMPLES to the folder that holds `gantry_robot`, if it lies
elsewhere.
"""

import os
from pathlib import Path

import pytest

from lastbolt.app.compare_sources import compare_sources
from lastbolt.cli.read import read_files
from lastbolt.words.compared import Compared, Finding
from lastbolt.words.machine import Machine

BESIDE = Path(__file__).parents[3] / "shared" / "samples"
FOLDER = Path(os.environ.get("LASTBOLT_SAMPLES", BESIDE)) / "gantry_robot"


@pytest.fixture(scope="module")
def machine() -> Machine:
    if not (FOLDER / "manual.pdf").is_file():
        pytest.skip(f"NOT CHECKED: {FOLDER.name}/manual.pdf is not here (LASTBOLT_SAMPLES)")
    return read_files([FOLDER / "manual.pdf", FOLDER / "bom.csv"]).machine


@pytest.fixture(scope="module")
def found(machine: Machine) -> Compared:
    return compare_sources([machine])


def one(found: Compared, what: str, within: str = "", engines: str = "") -> Finding:
    some = [
        f for f in found.findings if (f.what, f.within) == (what, within) and f.engines.startswith(engines)
    ]
    assert len(some) == 1, [(f.what, f.within, f.engines) for f in found.findings if what in f.what]
    return some[0]


def told(finding: Finding) -> tuple[str, list[str]]:
    return finding.verdict, [side.says for side in finding.sides]


def test_the_list_that_its_steps_contradict(found: Compared) -> None:
    """README: "one assembly's own component list has 2 screws M5 x 16 mm where its steps use 4"."""
    assert told(one(found, "M5 x 16mm Screw", "Z-Axis")) == ("disagree", ["2", "2 + 2 = 4"])
    # The README adds that the bill's 8 fits the steps. By the printed pages the lists and the steps without a
    # list make 4 (p. 5) + 2 (p. 16) + 2 (p. 18) = 8; by the steps alone it is 4 + 4 + 2 = 10. Both are shown.
    of_bill = one(found, "M5 x 16mm Screw")
    assert told(of_bill) == ("not comparable", ["8", "4 + 2 + 2 = 8"])
    assert "By the steps it would be 10." in of_bill.why


def test_the_nuts_that_a_list_omits(found: Compared) -> None:
    """README: "one step uses flange locknuts that its list omits"."""
    finding = one(found, "flange locknuts (nut M5)", "Z-Axis")
    assert told(finding) == ("disagree", ["not in it", "used, no number"])


def test_the_bill_that_is_short(found: Compared) -> None:
    """README: "the steps need 12 screws M5 x 30 mm and this edition's bill says 10"."""
    assert told(one(found, "M5 x 30mm Screw")) == ("disagree", ["10", "10 + 2 = 12"])


def test_one_part_under_two_names(found: Compared) -> None:
    """README: "the same part stands under two names"."""
    proposed = {(match.one.says, match.other.says): match.why for match in found.matches}
    assert "the counts fit" in proposed["NEMA 17 Motor", "Motor"]
    assert "the counts fit" in proposed["20 Tooth GT2 Pulley", "Pulley"]


def test_counts_that_are_only_implied(found: Compared) -> None:
    """README: "some counts are only implied ("the other two ... with ... screws")"."""
    for side in ("Left", "Right"):
        finding = one(found, "M5 x 40mm Screw", f"{side} Gantry Column")
        assert told(finding) == ("not comparable", ["4", "2 + ? = 2 and more"])
        assert "One for each would make 4; as the list says." in finding.why


def test_a_state_that_must_be_there_first(machine: Machine) -> None:
    """README: "one step must not start before another assembly is done"."""
    told_ = [problem for problem in machine.problems if problem.code == "LB-R06"]
    assert ["loaded" in problem.what for problem in told_] == [True]


AGREE = {
    # By hand from the bill and the component lists (pages 1, 5, 8, 13, 14, 16).
    "M2.5 x 4mm Screw": "8", "M3 x 12mm Screw": "4 + 4 + 4 + 4 = 16", "M3 x 35mm Screw": "4",
    "M5 x 25mm Screw": "2", "M5 x 40mm Screw": "4 + 4 = 8", "Gantry Column": "1 + 1 = 2",
    "M5 x 14.5mm Spacer": "2 + 2 = 4", "Idler Pulley": "4 + 4 = 8", "V-Wheel": "10", "M5 x 6mm Spacer": "5",
}  # fmt: skip


@pytest.mark.parametrize("name", AGREE)
def test_what_agrees_is_said_to(found: Compared, name: str) -> None:
    verdict, (_, total) = told(one(found, name))
    assert (verdict, total) == ("agree", AGREE[name])


def test_nothing_is_invented(found: Compared) -> None:
    """Every disagreement, each looked up by hand on its pages."""
    told_ = [f for f in found.findings if f.verdict == "disagree"]
    assert {(f.what, f.within, f.sides[0].says, f.sides[1].total) for f in told_} == {
        ("M5 x 16mm Screw", "Z-Axis", "2", 4),  # p. 16 list; steps 1 and 4
        ("flange locknuts (nut M5)", "Z-Axis", "not in it", 0),  # p. 17 step 4
        ("M5 x 10mm Screw", "Left Gantry Column", "16", 12),  # p. 5 list; steps 3, 5 and 7: 6 + 4 + 2
        ("M5 x 30mm Screw", "", "10", 12),  # p. 14 list 10, p. 19 step 8: 2
        ("M5 x 20mm Screw", "", "10", 12),  # lists 4 + 4 + 2 (p. 5, 8, 14), p. 22 step 1: 2
        ("M3 Locknut", "", "4", 4),  # p. 1 list 4; pages 22 and 23 use more, without a number
    }  # fmt: skip


def test_every_side_has_its_place(found: Compared) -> None:
    for finding in found.findings:
        assert all(side.citations for side in finding.sides)

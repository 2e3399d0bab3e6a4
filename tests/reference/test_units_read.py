"""Torques and lengths as they are read from a page, against the published conversion factors.

Source: NIST Special Publication 811 (2008), appendix B.8, from memory: pound-force foot 1.355 818 N·m,
pound-force
inch 0.112 984 8 N·m, kilogram-force metre 9.806 65 N·m (exact), ounce-force inch 7.061 552 mN·m, inch 25.4 mm
(exact), mil 25.4 µm (exact). Checked a second time with pint, a general-purpose library of units.
"""

from pathlib import Path
from typing import Any

import pint
import pytest

from reference.printed import ON_A_PAGE, read_lines, steps_of

NEWTON_METRES = {
    "lb-ft": 1.355818, "lbf·ft": 1.355818, "ft-lb": 1.355818, "ft lbs": 1.355818, "lb ft": 1.355818,
    "ft·lbf": 1.355818, "lb-in": 0.1129848, "in-lb": 0.1129848, "lbf·in": 0.1129848, "in lbs": 0.1129848,
    "kgf-m": 9.80665, "kgf·m": 9.80665, "kg-m": 9.80665, "kgf-cm": 0.0980665, "kgf·cm": 0.0980665,
    "kg-cm": 0.0980665, "ozf-in": 0.007061552, "ozf·in": 0.007061552, "oz-in": 0.007061552, "N·m": 1.0,
    "Nm": 1.0,
    "N-m": 1.0, "N·cm": 0.01,
}  # fmt: skip
VALUES = ("24", "7.5", "108")
IN_PINT = {
    1.355818: "force_pound * foot", 0.1129848: "force_pound * inch", 9.80665: "kilogram_force * meter",
    0.0980665: "kilogram_force * centimeter", 0.007061552: "force_ounce * inch", 1.0: "newton * meter",
    0.01: "newton * centimeter",
}  # fmt: skip
TORQUES = [(value, unit) for unit in NEWTON_METRES for value in VALUES]
ROUNDED_NM = 0.00006
"""The model keeps four places."""


def test_the_factors_agree_with_a_library() -> None:
    units = pint.UnitRegistry()
    for factor, name in IN_PINT.items():
        assert units.Quantity(1, name).to("newton * meter").magnitude == pytest.approx(factor, rel=1e-6)


@pytest.fixture(scope="module")
def tightened(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, Any]]:
    """One step for each value and unit."""
    steps: list[dict[str, Any]] = []
    for first in range(0, len(TORQUES), ON_A_PAGE):
        some = TORQUES[first : first + ON_A_PAGE]
        words = [f"Tighten the screws of the cover to {value} {unit}." for value, unit in some]
        lines = [f"{number}. {one}" for number, one in enumerate(words, start=1)]
        steps += steps_of(read_lines(tmp_path_factory.mktemp("torques"), lines))
    return steps


def test_each_step_has_its_torque(tightened: list[dict[str, Any]]) -> None:
    wrong = []
    assert len(tightened) == len(TORQUES)
    for step, (value, unit) in zip(tightened, TORQUES, strict=True):
        expected = float(value) * NEWTON_METRES[unit]
        torques = step.get("torques", [])
        near = pytest.approx([expected] * 2, rel=1e-6, abs=ROUNDED_NM)
        if (
            len(torques) != 1
            or torques[0]["torque_Nm"] != near
            or torques[0]["printed"][0][:2] != [float(value)] * 2
        ):
            wrong.append((value, unit, torques))
    assert not wrong


@pytest.mark.parametrize(
    ("words", "low", "high"),
    [
        ("18 to 20 lb-ft", 18 * 1.355818, 20 * 1.355818), ("18-20 lb-ft", 18 * 1.355818, 20 * 1.355818),
        ("2.4 ± 0.2 kgf-m", 2.2 * 9.80665, 2.6 * 9.80665), ("24 N·m (17.7 lbf·ft)", 24.0, 24.0),
        ("17.7 lbf·ft (24 N·m)", 17.7 * 1.355818, 17.7 * 1.355818), ("245 kgf-cm (24 N·m)", 245 * 0.0980665,
        245 * 0.0980665),
    ],
)  # fmt: skip
def test_ranges_and_two_units(tmp_path: Path, words: str, low: float, high: float) -> None:
    (step,) = steps_of(read_lines(tmp_path, [f"1. Tighten the screws of the cover to {words}."]))
    (torque,) = step["torques"]
    assert torque["torque_Nm"] == pytest.approx([low, high], rel=1e-6, abs=ROUNDED_NM)


@pytest.mark.parametrize("words", ["24 N·m (24 lbf·ft)", "24 lb-ft (2.4 kgf-m)", "90 lb-in (90 N·m)"])
def test_units_that_do_not_convert_are_told(tmp_path: Path, words: str) -> None:
    model = read_lines(tmp_path, [f"1. Tighten the screws of the cover to {words}."])
    assert {one["code"] for one in model["problems"]} & {"LB-R07", "LB-P05"}


LENGTHS = (
    ("more than 0.006 in.", 0.1524), ("more than 6 mil.", 0.1524), ("more than 12 mils.", 0.3048),
    ('more than 0.375".', 9.525), ("more than 2 inches.", 50.8), ("more than 0.15 mm.", 0.15),
    ("more than 1.5 cm.", 15.0), ("more than 150 µm.", 0.15),
)  # fmt: skip


def test_lengths_of_limits(tmp_path: Path) -> None:
    """A limit of wear in each unit: in millimetres by the factor, and as printed."""
    lines = [
        f"{n}. Replace the bush if the clearance is {words}" for n, (words, _) in enumerate(LENGTHS, start=1)
    ]
    steps = steps_of(read_lines(tmp_path, lines, "Inspection of the bush"))
    wrong = []
    for step, (words, expected) in zip(steps, LENGTHS, strict=True):
        limits = step.get("limits", [])
        if (
            len(limits) != 1
            or limits[0]["limit"]["unit"] != "mm"
            or limits[0]["limit"]["high"] != pytest.approx(expected)
        ):
            wrong.append((words, limits))
    assert not wrong


@pytest.mark.parametrize(
    ("words", "mm"),
    [("3/8-16 x 1-1/2 in", 38.1), ("1/4-20 x 3/4", 19.05), ("5/16-18 x 2", 50.8), ("1/2-13 x 2 1/4 in",
    57.15), ("M8 x 25", 25.0)],
)  # fmt: skip
def test_lengths_of_bolts(tmp_path: Path, words: str, mm: float) -> None:
    (step,) = steps_of(read_lines(tmp_path, [f"1. Remove the 4 bolts {words}."]))
    (bolt,) = step["mentions"]
    assert bolt["kind"]["length_mm"] == pytest.approx(mm)
    assert bolt["quantity"]["low"] == 4

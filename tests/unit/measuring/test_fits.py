"""Fits and bearing clearances at single places of the standards' tables (figures from memory)."""

import pytest

from lastbolt.measuring.fits import bearing_clearance_um, deviation_um, fit, limits_um, tolerance_um


@pytest.mark.parametrize(
    ("nominal", "name", "lower", "upper"),
    [
        (25, "H7", 0, 21),  # ISO 286-2:2010 table 6
        (25, "g6", -20, -7),  # table 22
        (40, "K7", -18, 7),  # table 8: the hole is raised by IT7 - IT6
        (40, "N9", -62, 0),  # table 10: coarse grades of N begin at nothing
        (60, "P9", -106, -32),  # table 11: coarse grades of P are the shaft's mirror
        (280, "M6", -41, -9),  # table 9: the one exception, -9 for -11
        (2, "K6", -6, 0),  # to 3 mm nothing is raised
        (28, "t6", 41, 54),  # table 31: begins above 24 mm
        (100, "js7", -17.5, 17.5),
    ],
)
def test_both_ends_of_a_tolerance_class(nominal: float, name: str, lower: float, upper: float) -> None:
    assert limits_um(nominal, name) == (lower, upper)


def test_a_fit_is_the_hole_less_the_shaft() -> None:
    # 40 H7/p6: hole 0..+25, shaft +26..+42; least 0 - 42, most 25 - 26.
    made = fit(40, "H7", "p6")
    assert (made.min_um, made.max_um, made.kind) == (-42, -1, "interference")
    # 40 H7/k6: shaft +2..+18.
    assert fit(40, "H7", "k6").kind == "transition"
    assert fit(40, "H7", "h6").kind == "clearance"


@pytest.mark.parametrize(
    ("nominal", "letter", "grade"),
    [(0, "h", 7), (501, "h", 7), (40, "i", 7), (40, "h", 19), (20, "t", 6), (40, "j", 9), (40, "K", 9)],
)
def test_outside_the_tables_nothing_is_guessed(nominal: float, letter: str, grade: int) -> None:
    with pytest.raises(ValueError, match=r"no such|not in the tables|tables go"):
        deviation_um(nominal, letter, grade) + tolerance_um(nominal, grade)


def test_coarser_grades_are_wider_at_every_size() -> None:
    for nominal in (2, 5, 8, 15, 25, 40, 70, 100, 150, 200, 300, 350, 450):
        widths = [tolerance_um(nominal, grade) for grade in ("01", *range(19))]
        assert widths == sorted(widths)


def test_bearing_clearance_by_group() -> None:
    # ISO 5753-1:2009 table 1, bore over 30 to 40 mm.
    assert bearing_clearance_um(35, "N") == bearing_clearance_um(35, "") == (6, 20)
    assert bearing_clearance_um(35, "C3") == (15, 33)
    assert bearing_clearance_um(30, "C3") == (13, 28)
    assert bearing_clearance_um(1, "C3") is None
    assert bearing_clearance_um(35, "C9") is None
    assert bearing_clearance_um(5, "C4") is None

"""Torque units against NIST SP 811 (2008), appendix B.8, and against pint."""

import pint
import pytest

from lastbolt.reading.units import NEWTON_METRES, Printed, half_digit, newton_metres, torque_unit, units_agree

# NIST SP 811 (2008), table B.8, "to convert from ... to newton meter, multiply by" (typed in from memory of
# the published table; the digits are those printed there).
NIST = {"lbf·ft": 1.355818, "lbf·in": 1.129848e-1, "kgf·m": 9.80665, "ozf·in": 7.061552e-3}
IN_PINT = {
    "lbf·ft": "force_pound * foot",
    "lbf·in": "force_pound * inch",
    "ozf·in": "force_ounce * inch",
    "kgf·m": "force_kilogram * metre",
    "kgf·cm": "force_kilogram * centimetre",
    "kN·m": "kilonewton * metre",
    "daN·m": "decanewton * metre",
    "dN·m": "decinewton * metre",
    "mN·m": "millinewton * metre",
    "cN·m": "centinewton * metre",
    "N·cm": "newton * centimetre",
    "N·mm": "newton * millimetre",
    "kN·cm": "kilonewton * centimetre",
    "kN·mm": "kilonewton * millimetre",
    "daN·cm": "decanewton * centimetre",
    "kgf·mm": "force_kilogram * millimetre",
    "N·m": "newton * metre",
}


@pytest.mark.parametrize("unit", NIST)
def test_factor_is_the_published_one(unit):
    assert newton_metres(1.0, unit) == pytest.approx(NIST[unit], rel=5e-7)


@pytest.mark.parametrize("unit", NEWTON_METRES)
def test_factor_agrees_with_pint(unit):
    quantity = pint.UnitRegistry()(IN_PINT[unit])
    assert newton_metres(1.0, unit) == pytest.approx(quantity.to("newton * metre").magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("spelled", "unit"),
    [
        ("Nm", "N·m"),
        ("N·m", "N·m"),
        ("N.m", "N·m"),
        ("N-m", "N·m"),
        ("N m", "N·m"),
        ("Newton metres", "N·m"),
        ("kgf·m", "kgf·m"),
        ("kg-m", "kgf·m"),
        ("kgf-cm", "kgf·cm"),
        ("kpm", "kgf·m"),
        ("mkg", "kgf·m"),
        ("lb-ft", "lbf·ft"),
        ("lbf·ft", "lbf·ft"),
        ("ft. lbs.", "lbf·ft"),
        ("ft-lb", "lbf·ft"),
        ("foot pounds", "lbf·ft"),
        ("in-lbs", "lbf·in"),
        ("in. lb.", "lbf·in"),
        ("lb-in", "lbf·in"),
        ("inch-pounds", "lbf·in"),
        ("ozf·in", "ozf·in"),
        ("mm", None),
        ("bar", None),
    ],
)
def test_spelling_means(spelled, unit):
    assert torque_unit(spelled) == unit


def _printed(*values: tuple[str, str]) -> tuple[Printed, ...]:
    return tuple(Printed(float(number), float(number), unit, half_digit(number)) for number, unit in values)


@pytest.mark.parametrize(
    ("values", "agree"),
    [
        # 35 lbf·ft is 47.45 N·m, printed as 47; 10 N·m is 1.02 kgf·m and 7.376 lbf·ft
        ([("35", "lbf·ft"), ("47", "N·m")], "yes"),
        ([("10", "N·m"), ("1.0", "kgf·m"), ("7.4", "lbf·ft")], "yes"),
        ([("10", "N·m"), ("1.0", "kgf·m"), ("8.4", "lbf·ft")], "no"),
        # 25 N·m is 18.4 lbf·ft
        ([("25", "N·m"), ("18", "lbf·ft")], "yes"),
        ([("25", "N·m"), ("30", "lbf·ft")], "no"),
        # 110 N·m is 81.1 lbf·ft, which makers round to 80
        ([("110", "N·m"), ("80", "lbf·ft")], "yes"),
        ([("110", "N·m"), ("90", "lbf·ft")], "no"),
        ([("78", "lbf·in")], "unknown"),
    ],
)
def test_units_agree_within_their_rounding(values, agree):
    assert units_agree(_printed(*values)) == agree


def test_both_ends_of_a_range_must_agree():
    # 75 and 80 lbf·in are 8.47 and 9.04 N·m
    good = (Printed(75, 80, "lbf·in", 0.5), Printed(8.4, 9.0, "N·m", 0.05))
    bad = (Printed(75, 80, "lbf·in", 0.5), Printed(8.4, 10.9, "N·m", 0.05))
    assert units_agree(good) == "yes"
    assert units_agree(bad) == "no"

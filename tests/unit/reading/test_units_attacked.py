"""Torques and sizes in forms that were once read wrongly or dropped without a word.

Factors: NIST SP 811 (2008), appendix B.8: lbf·ft 1.355818 N·m, lbf·in 0.1129848 N·m, kgf·m 9.80665 N·m.
"""

import pytest

from lastbolt.app.typed_kind import typed_kind
from lastbolt.reading.fasteners import sizes_in
from lastbolt.reading.torques import read_torque, torques_in

LBF_FT, LBF_IN, KGF_M = 1.355818, 0.1129848, 9.80665


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("Tighten the screws M6 x 45, 10 Nm.", 10, 10),
        ("M8 x 30 / 25 Nm", 25, 25),
        ("screws M8 x 1.25, 25 Nm", 25, 25),
        ("4 screws 6, 10 Nm", 10, 10),
        ("bolts (L = 45), 10 Nm", 10, 10),
        ("screw M6 x 20, 9.8 Nm", 9.8, 9.8),
        ("screws M6 - 10 Nm", 10, 10),
        ("25 +2 -0 Nm", 25, 27),
        ("25 (+2/-0) Nm", 25, 27),
        ("25 Nm +2/-1", 24, 27),
        ("25 Nm ± 2 Nm", 23, 27),
        ("10 ± 10% Nm", 9, 11),
        ("20 thru 25 Nm", 20, 25),
        ("20 Nm to 25 Nm", 20, 25),
        ("between 20 and 25 Nm", 20, 25),
        ("min 8, max 10 Nm", 8, 10),
        ("8 Nm min., 10 Nm max.", 8, 10),
        ("1 200 Nm", 1200, 1200),
        ("1,200 Nm (885 lbf·ft)", 1200, 1200),
        ("1,200 Nm (0.885 lbf·ft)", 1.2, 1.2),
        ("12.5 Nm, and then up to 1,250 Nm", 12.5, 12.5),
        ("10 daNm", 100, 100),
        ("10 mNm", 0.01, 0.01),
        ("7 1/2 lb-ft", 7.5 * LBF_FT, 7.5 * LBF_FT),
        ("7½ lb-ft", 7.5 * LBF_FT, 7.5 * LBF_FT),
        ("1,200 lb-in", 1200 * LBF_IN, 1200 * LBF_IN),
        ("1.0 m-kg", KGF_M, KGF_M),
    ],
)
def test_torque_in_newton_metres(text, low, high):
    torque = torques_in(text)[0]
    assert torque.value.torque_Nm == pytest.approx((low, high), rel=2e-5)
    assert (torque.doubt, torque.value.stage) == ("", "")


@pytest.mark.parametrize(
    ("text", "newton_metres", "unit"),
    [
        ("tighten to 90 kg/cm", 0.9 * KGF_M, "kg/cm"),
        ("tighten to 9 ft/lb", 9 * LBF_FT, "ft/lb"),
        ("25 1b-ft", 25 * LBF_FT, "1b-ft"),
    ],
)
def test_a_misprinted_unit_is_read_as_meant_with_doubt(text, newton_metres, unit):
    (torque,) = torques_in(text)
    assert torque.value.torque_Nm == pytest.approx((newton_metres, newton_metres), rel=2e-5)
    assert unit in torque.doubt


@pytest.mark.parametrize(
    "text",
    [
        "1,200 Nm",
        "1.200 Nm",
        "bolts M8 x 25 Nm",
        "M8x30/25 Nm",
        "M6x45,10 Nm",
        "10/12 Nm",
        "the bolts to 20 and 25 Nm",
        "4 120 Nm",
    ],
)
def test_what_cannot_be_told_is_no_number_but_a_doubt(text):
    (torque,) = torques_in(text)
    assert torque.value.torque_Nm is None
    assert torque.doubt
    assert torque.value.words


def test_only_words_or_units_make_stages_of_a_list():
    assert [t.value.stage for t in torques_in("Tighten in two passes to 15 and 30 Nm")] == ["1", "2"]
    assert [t.value.stage for t in torques_in("to 15, then to 30 Nm")] == ["1", "2"]
    (torque,) = torques_in("washers 3, 8, 10 Nm")
    assert torque.value.torque_Nm == (10, 10)
    assert "3, 8" in torque.doubt


@pytest.mark.parametrize("text", ["The spring rate is 9 lb/in", "a pressure of 5 kg/cm2", "5 kg/cm²", "25 N"])
def test_springs_and_pressures_are_no_torques(text):
    assert torques_in(text) == []


def test_a_cell_with_two_torques_is_doubtful():
    torque = read_torque("20 Nm; 40 Nm")
    assert torque is not None
    assert "2 torques" in torque.doubt


@pytest.mark.parametrize(
    ("cell", "unit", "low", "high"),
    [("25 +2/-0", "N·m", 25, 27), ("20 thru 25", "Nm", 20, 25), ("8 ± 10%", "Nm", 7.2, 8.8)],
)
def test_a_bare_cell_takes_the_unit_of_its_column(cell, unit, low, high):
    torque = read_torque(cell, unit)
    assert torque is not None
    assert torque.value.torque_Nm == (low, high)


@pytest.mark.parametrize(
    ("text", "thread", "length"),
    [
        ('M8x1.5"', "M8", 38.1),  # one inch is 25.4 mm exactly
        ("M6 x 4S", "M6", None),
        ("M1O x 40", None, 40),
        ("MIO x 40", None, 40),
        ("M6 x 45 - 60", "M6", None),
        ("M6 x 45 to 60 mm", "M6", None),
        ("M6 x 45/60", "M6", None),
    ],
)
def test_a_size_that_may_be_misread_is_doubtful(text, thread, length):
    (size,) = sizes_in(f"Screw {text}")
    assert (size.thread, size.length_mm) == (thread, length)
    assert size.doubt
    assert typed_kind(text) is None


@pytest.mark.parametrize(
    ("text", "length"),
    [("M8 x 4 cm", 40), ("M6x20-10.9", 20), ("M8x1.25-6H", None), ("screws M6 x 45 - 4 pieces", 45)],
)
def test_a_size_with_other_words_behind_it_is_sure(text, length):
    (size,) = sizes_in(text)
    assert (size.length_mm, size.doubt) == (length, "")


@pytest.mark.parametrize(
    ("text", "limit", "bound_Nm"),
    [
        ("Tighten to max. 30 N·m.", "at most", 30),
        ("not more than 30 N·m", "at most", 30),
        ("Torque must not exceed 12 Nm", "at most", 12),
        ("10 Nm (7 lb-ft) max.", "at most", 10),
        ("at least 30 N·m", "at least", 30),
        ("min. 25 Nm", "at least", 25),
        ("30 N·m", "", 30),
        ("approx. 30 N·m", "", 30),
        ("10 Nm; min. 3 threads", "", 10),
        ("not less than 30 N·m", "at least", 30),
        ("must never be less than 25 N·m", "at least", 25),
        ("Do not tighten to more than 30 N·m", "at most", 30),
        ("must not exceed a torque of 30 N·m", "at most", 30),
        ("without exceeding 30 N·m", "at most", 30),
        ("Never tighten it over 30 N·m, else more than the seal breaks", "at most", 30),
        ("more than 30 N·m", "at least", 30),
        ("less than 30 N·m", "at most", 30),
        ("30 N·m or less", "at most", 30),
        ("30 N·m or more", "at least", 30),
        ("approx. 30 N·m max.", "at most", 30),
        ("Maximum tightening torque is 30 N·m", "at most", 30),
        ("Do not use an impact wrench, tighten to 30 N·m", "", 30),
        ("30 N·m above the shaft", "", 30),
    ],
)
def test_a_limit_is_told_from_a_value(text: str, limit: str, bound_Nm: float) -> None:
    """Of "max. 30 N·m" one end is not printed: it is no value to tighten to (common practice, no source)."""
    (torque,) = torques_in(text)
    assert torque.value.limit == limit
    assert torque.value.torque_Nm == (bound_Nm, bound_Nm)
    if limit:
        beside = ("max", "more", "less", "over", "exceed", "least", "min")
        assert any(word in torque.value.words.lower() for word in beside)


def test_a_range_has_no_limit() -> None:
    """Where both ends stand there, neither is missing."""
    assert [one.value.limit for one in torques_in("min 8, max 10 Nm")] == [""]


@pytest.mark.parametrize(("cell", "limit"), [("max. 30", "at most"), ("30 max", "at most"), ("30", "")])
def test_a_limit_in_a_table_cell(cell: str, limit: str) -> None:
    """The column gives the unit, the cell the limit."""
    torque = read_torque(cell, "N·m")
    assert torque is not None
    assert (torque.value.limit, torque.value.torque_Nm) == (limit, (30, 30))


@pytest.mark.parametrize(
    ("text", "low_Nm", "high_Nm", "length_mm"),
    [
        ("Tighten the bolts M14 x 70 to 130 ± 13 N·m.", 117, 143, 70),
        ("bolts M14 x 70 to 130 +/- 13 N·m", 117, 143, 70),
        ("bolts M14 x 70 to 130 (±10 %) N·m", 117, 143, 70),
        ("hex bolts M14 (L = 70 mm) to 130 ± 13 N·m", 117, 143, 70),
        ("bolts M14 x 70 to 130–143 N·m", 130, 143, 70),
        ("bolts M14 x 70 to 130 – 143 N·m", 130, 143, 70),
        ("bolts M14 x 70 to 130 to 143 N·m", 130, 143, 70),
        ("bolts M14 x 70 to 130 N·m", 130, 130, 70),
        ("bolts M8 x 45 to 25 N·m", 25, 25, 45),
        ("bolts M8 x 45 +5/-0 mm to 25 N·m", 25, 25, 45),
    ],
)
def test_a_torque_behind_a_size_keeps_its_tolerance(
    text: str, low_Nm: float, high_Nm: float, length_mm: float
) -> None:
    """130 with its tolerance of 13 is neither a second length nor a torque of 13."""
    (torque,) = torques_in(text)
    assert (torque.value.torque_Nm, torque.doubt) == ((low_Nm, high_Nm), "")
    assert [size.length_mm for size in sizes_in(text)][:1] == [length_mm]


@pytest.mark.parametrize("text", ["M14 x 130 ± 13 N·m", "as marked ± 13 N·m", "as marked +/- 13 N·m"])
def test_a_tolerance_alone_is_never_a_torque(text: str) -> None:
    (torque,) = torques_in(text)
    assert torque.value.torque_Nm is None
    assert torque.doubt

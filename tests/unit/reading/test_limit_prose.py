"""Limits in sentences, with the side that is good; numbers that are none."""

import pytest

from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.limit_facts import made_limit
from lastbolt.reading.limit_prose import Prose, limits_in
from lastbolt.words.citation import Citation, SaidPlace
from lastbolt.words.measured import Limit


def limits_of(text: str) -> list[Limit]:
    cite = Citation("m", SaidPlace("test"), text)
    return [made_limit("m/l", one.name, one.read, cite).limit for one in limits_in(text, lexicon()).limits]


@pytest.mark.parametrize(
    ("text", "measure", "standard", "limit", "sense"),
    [
        ("Replace the lining if thinner than 2.8 mm.", "thickness", None, (2.8, None), "at least"),
        ("End float 0.05-0.15 mm, limit 0.25.", "end float", (0.05, 0.15), (None, 0.25), "at most"),
        ("Measure the bore of the drum. Standard: 24.25 - 24.27 mm. Service limit: 24.33 mm.", "bore",
         (24.25, 24.27), (None, 24.33), "at most"),
        ("Thickness of disc: new 5.0-5.1, worn 4.5 mm.", "thickness", (5.0, 5.1), (4.5, None), "at least"),
        ("Check the diameter of the cam: 33.84-33.86 mm, not less than 33.72 mm.", "diameter",
         (33.84, 33.86), (33.72, None), "at least"),
        ("Measure the rotor's end float: 0.05 to 0.15 mm; scrap at 0.25 mm.", "end float",
         (0.05, 0.15), (None, 0.25), "at most"),
        ("The clearance between piston and cylinder must not exceed 0.1 mm.", "clearance", None,
         (None, 0.1), "at most"),
        ("If the runout exceeds 0.05 mm (0.002 in), renew it.", "runout", None, (None, 0.05), "at most"),
        ("The lining must be at least 3 mm thick.", "thickness", None, (3.0, None), "at least"),
        ("The runout must be less than 0.03 mm.", "runout", None, (None, 0.03), "at most"),
        ("Replace the chain when the stretch is 2.5 mm or more.", "stretch", None, (None, 2.5), "at most"),
        ("Renew the pads at a thickness of 2 mm or less.", "thickness", None, (2.0, None), "at least"),
        ("Renew it if its thickness has fallen below 4.5 mm.", "thickness", None, (4.5, None), "at least"),
        ("Maximum permissible ovality: 0,02 mm.", "ovality", None, (None, 0.02), "at most"),
        ("Free length 38.5 mm, limit 37.0 mm.", "free length", (38.5, 38.5), (37.0, None), "at least"),
        ("Measure the bore: 21.66 thru 21.68 mm new, 21.72 mm max. in service.", "bore",
         (21.66, 21.68), (None, 21.72), "at most"),
        ("Set the valve clearance to 0.10-0.15 mm.", "valve clearance", (0.1, 0.15), None, ""),
    ],
)  # fmt: skip
def test_sentences(text: str, measure: str, standard: object, limit: object, sense: str) -> None:
    (found,) = limits_of(text)
    assert (found.measure, found.standard_mm, found.limit_mm, found.sense) == (
        measure,
        standard,
        limit,
        sense,
    )
    assert found.doubt == ""


def test_what_is_measured_and_of_which_part() -> None:
    (found,) = limits_of(
        "Measure the thickness of the pressure plate with a gauge: 5.0 to 5.1 mm, limit 4.5 mm."
    )
    assert (found.what, found.part) == ("thickness of the pressure plate", "pressure plate")


def test_two_limits_in_one_sentence() -> None:
    text = (
        "Check ring end gap (new 0.15-0.30 mm, limit 0.80 mm), side clearance (0.03-0.07 mm, limit 0.15 mm)."
    )
    assert [(one.measure, one.limit_mm) for one in limits_of(text)] == [
        ("end gap", (None, 0.8)), ("side clearance", (None, 0.15))
    ]  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        "Tighten the bolts to 25 N·m.",
        "Remove the two bolts M6 x 45 mm.",
        "Apply a bead of sealant 2 to 3 mm wide.",
        "Do not heat the case above 120 °C.",
        "Lift the engine at least 50 mm.",
        "Push the shaft 10 mm out.",
        "For the wear limits see 4.2.",
        "Compare with the wear limits (6.3).",
        "Bend the tab 2 mm at most.",
        "Drill a 5 mm hole.",
        "Use a new 5 mm pin.",
    ],
)
def test_other_numbers_are_no_limits(text: str) -> None:
    assert limits_in(text, lexicon()) == Prose()


def test_units_that_do_not_convert_are_doubted() -> None:
    """0.05 mm is 0.002 in (NIST SP 811, appendix B.8: 1 in is 25.4 mm), not 0.02 in."""
    (found,) = limits_of("If the runout exceeds 0.05 mm (0.02 in), renew the shaft.")
    assert "do not convert" in found.doubt


@pytest.mark.parametrize(
    "text",
    [
        "The wear limit is 0.1O mm.",  # a letter among the digits
        "Bore: service limit 1,200 mm.",  # 1.2 or 1200
        "Gap Play New Limit 0.10 mm 0.20 mm 0.30 mm limit 0.40 mm",  # a table read column by column
    ],
)
def test_what_is_not_understood_is_told(text: str) -> None:
    prose = limits_in(text, lexicon())
    assert prose.limits == ()
    assert prose.unread


def test_without_a_standard_the_side_is_taken_from_the_size_or_doubted() -> None:
    (gap,) = limits_of("Check the ring end gap, limit 0.8 mm.")
    assert (gap.sense, gap.limit_mm) == ("at most", (None, 0.8))
    assert "taken from what is measured" in gap.doubt
    (width,) = limits_of("Check the width, limit 8 mm.")
    assert (width.sense, width.limit_mm) == ("", (8.0, 8.0))
    assert width.doubt

"""Rows of a parts list that name more than they count (common practice, no source)."""

import pytest

from lastbolt.reading.fastener_signs import is_unknown
from lastbolt.reading.fasteners import read_kind
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.several_in_row import doubt_of_remarks, doubt_of_several


@pytest.mark.parametrize(
    "name",
    ["SCREW M6x45 / BOLT M8x70", "SCREW M6x45 OR M6x50", "SCREW M6x45 WITH NUT M6", "BOLT M8x70 + NUT",
     "STUD M8x40 AND NUT"],
)  # fmt: skip
def test_a_name_of_several_fasteners_is_doubted(name: str) -> None:
    kind = read_kind(name)
    assert kind is not None
    assert doubt_of_several(name, kind, lexicon())


@pytest.mark.parametrize(
    "name", ["SCREW M6x45", "BOLT, HEX M8x70 WITH WASHER", "Nut M10", "Screw M6x45 (left-hand)"]
)
def test_a_name_of_one_is_not(name: str) -> None:
    assert doubt_of_several(name, read_kind(name), lexicon()) == ""


def test_remarks_that_add_a_fastener() -> None:
    screw = read_kind("SCREW M6x45")
    assert doubt_of_remarks("and 2 off BOLT M8x70 (far side)", screw, lexicon())
    assert doubt_of_remarks("with screw M6x45", screw, lexicon()) == ""
    assert doubt_of_remarks("for bolt M8x70", None, lexicon()) == ""


@pytest.mark.parametrize(
    "name",
    [
        "COVER, GEARCASE, WITH 2 BOLTS M8x70",
        "WASHER AND BOLT M8x70",
        "STAR KNOB M8",
        "HARDWARE KIT",
        "WIDGET",
    ],
)
def test_a_name_that_may_hide_one_is_unknown(name: str) -> None:
    assert read_kind(name) is None
    assert is_unknown(name, lexicon())


@pytest.mark.parametrize(
    "name", ["Plug M14x1.5", "Spacer M5 x 14.5mm", "Piston pin", "Pump assembly", "Washer, M6"]
)
def test_a_part_whose_name_explains_it_is_not(name: str) -> None:
    assert not is_unknown(name, lexicon())


@pytest.mark.parametrize(
    ("name", "what"),
    [("SCREVV", "screw"), ("BO1T", "bolt"), ("S CREW", "screw"), ("NUTT", "nut"), ("BLOT", "bolt"),
     ("LOCKBOLT", "bolt"), ("HEXAGON HEAD M8x70", None), ("SOCKET CAP M6x45", None),
     ("DOWEL BOLT M8x70", "bolt")],
)  # fmt: skip
def test_misprints_and_short_forms_are_fasteners(name: str, what: str | None) -> None:
    kind = read_kind(name)
    assert kind is not None
    assert kind.what == what


@pytest.mark.parametrize(
    "remarks", ["and 1 longer at the rear", "plus 1 x M8 x 60 under the eye", "9 on machines with oil cooler"]
)
def test_remarks_that_count_more_pieces_are_doubted(remarks: str) -> None:
    english = lexicon("english")
    assert doubt_of_remarks(remarks, read_kind("Screw M8 x 45", english), english)


@pytest.mark.parametrize(
    "remarks", ["for oil pump", "8.8", "matched", "2 mm thick", "replace and oil", "see 4.2"]
)
def test_other_remarks_are_not(remarks: str) -> None:
    english = lexicon("english")
    assert doubt_of_remarks(remarks, read_kind("Screw M8 x 45", english), english) == ""

"""Sizes and kinds as sources print them."""

import pytest

from lastbolt.reading.fasteners import COARSE_PITCH_MM, THREADS_PER_INCH, read_kind, sizes_in

# ISO 261:1998, ISO 262 (general purpose metric threads), a few rows of its coarse series.
ISO_261 = {
    "3": 0.5,
    "4": 0.7,
    "5": 0.8,
    "6": 1.0,
    "8": 1.25,
    "10": 1.5,
    "12": 1.75,
    "16": 2.0,
    "20": 2.5,
    "24": 3.0,
}
# ASME B1.1, UNC and UNF, as compiled in Shigley's Mechanical Engineering Design, 9th ed., table 8-2.
ASME_B1_1 = {
    "#10": {24, 32},
    "1/4": {20, 28},
    "5/16": {18, 24},
    "3/8": {16, 24},
    "1/2": {13, 20},
    "3/4": {10, 16},
}


def test_coarse_pitches_are_those_of_iso_261():
    assert {size: COARSE_PITCH_MM[size] for size in ISO_261} == ISO_261


def test_threads_per_inch_are_those_of_asme_b1_1():
    assert {size: THREADS_PER_INCH[size] for size in ASME_B1_1} == ASME_B1_1


@pytest.mark.parametrize(
    ("name", "what", "thread", "length"),
    [
        ("Screw M6 x 45", "screw", "M6", 45),
        ("Screw, hex socket head, M6-45", "screw", "M6", 45),
        ("M6x45 screw", "screw", "M6", 45),
        ("BOLT, 6 x 45 mm", "bolt", "M6", 45),
        ("Bolt M6x1x45", "bolt", "M6", 45),
        ("Bolt M8 x 1 x 45", "bolt", "M8x1", 45),
        ("Bolt M8x1.25x30", "bolt", "M8", 30),
        ("Stud M10 x 1,5 x 60", "stud", "M10", 60),
        ("hex bolt M8 (L = 70)", "bolt", "M8", 70),
        ("Bolt M8, 70 mm long", "bolt", "M8", 70),
        ("1/4-20 x 1-1/2 capscrew", "screw", "1/4-20", 38.1),
        ("Capscrew, 3/8-16 UNC x 2 in", "screw", "3/8-16", 50.8),
        ("10-32 x 1/2 screw", "screw", "#10-32", 12.7),
        ("Nut M10", "nut", "M10", None),
        ("M5 Flange Locknut", "nut", "M5", None),
        ("Pin 6 x 20", "pin", "6", 20),
        ("Dowel pin, hollow, 12 x 16", "dowel", "12", 16),
        ("Circlip 30 x 1.5", "clip", "30", None),
        ("Split pin 3.2 x 25", "pin", "3.2", 25),
        ("SCREW COVER RETAINING M6x20", "screw", "M6", 20),
        ("Cylinder head bolt M10x90", "bolt", "M10", 90),
        ("Screw, self tapping 4 x 20", "screw", "4", 20),
    ],
)
def test_kind_of_a_fastener(name, what, thread, length):
    kind = read_kind(name)
    assert kind is not None
    assert (kind.what, kind.thread, kind.length_mm) == (what, thread, length)


@pytest.mark.parametrize(
    "name",
    [
        "Washer, M6",
        "Spacer M5 x 14.5mm",
        "60mm Nut Bar",
        "Gasket, bolt cover",
        "Nut plate",
        "bolt washer M6",
        "Crank pin bearing",
        "Bolt hole cover",
        "Cover",
        "Shaft 20 x 300",
        "Screw cover",
    ],
)
def test_no_fastener(name):
    assert read_kind(name) is None


@pytest.mark.parametrize(
    ("name", "strength", "head"),
    [
        ("Screw M8 x 70 - 8.8", "8.8", None),
        ("Hex bolt M10 x 40, 10.9", "10.9", "hex"),
        ("SCREW, SOCKET HEAD, M6 x 20 A2-70", "A2-70", "socket"),
    ],
)
def test_strength_and_head(name, strength, head):
    kind = read_kind(name)
    assert kind is not None
    assert (kind.strength, kind.head) == (strength, head)


def test_callout_spans_are_no_sizes():
    assert sizes_in("Remove screws (3-5, 10-12) and see 4-23.") == []

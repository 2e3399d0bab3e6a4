"""Parts rows that name no fastener in full are fasteners of unknown sort, never quietly parts.

The abbreviations are common practice in parts lists, no source.
"""

import pytest

from lastbolt.reading.fasteners import read_kind


@pytest.mark.parametrize(
    ("name", "thread", "length_mm"),
    [
        ("SHCS M8 X 70", "M8", 70.0),
        ("CAP SCR M8X70", "M8", 70.0),
        ("M8X70 HEX SOCKET", "M8", 70.0),
        ("FASTENER M8X70", "M8", 70.0),
        ("BLT M8X70", "M8", 70.0),
        ("TIE ROD M10", "M10", None),
        ("TAPTITE M6X45", "M6", 45.0),
        ("HEX HD 5/16-18 X 2", "5/16-18", 50.8),
        ("SET SCR M6X10", "M6", 10.0),
        ("STUDBOLT M10 X 60", "M10", 60.0),
        ("B0LT M8X70", "M8", 70.0),
        ("SCFEW M6X45", "M6", 45.0),
        ("ROD, TIE M10", "M10", None),
        ("BAR, DRAW M12", "M12", None),
        ("COVER BOLT ASSY M8X30", "M8", 30.0),
    ],
)
def test_a_row_with_the_sign_of_a_fastener_is_one(name: str, thread: str, length_mm: float | None) -> None:
    kind = read_kind(name)
    assert kind is not None
    assert (kind.thread, kind.length_mm) == (thread, length_mm)


@pytest.mark.parametrize(
    "name", ["THUMBSCREW", "CLAMP BAND", "JACK SCREW", "GRUB SCREW", "THRU BOLT", "CAPSCREW", "ROD, TIE"]
)
def test_a_word_for_a_fastener_is_enough(name: str) -> None:
    assert read_kind(name) is not None


@pytest.mark.parametrize(
    "name",
    ["GASKET", "WASHER 8.4", "COVER, GEARCASE", "BALL BEARING 6204", "O-RING 40 X 2", "PIPE M14X1.5",
     "SHIM 0.1", "PLUG, SEALING", "SHAFT, OUTPUT", "PISTON", "DIPSTICK", "HOSE 12 X 2",
     "COVER ASSY", "PUMP, COMPLETE", "GASKET SET",
     "SPRING, GOVERNOR"],
)  # fmt: skip
def test_other_parts_are_none(name: str) -> None:
    assert read_kind(name) is None

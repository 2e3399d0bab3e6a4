"""Strange entries are questioned; worn parts are not."""

import math

import pytest

from lastbolt.measuring.decide import Limits
from lastbolt.measuring.questioned import Beside, questioned

BORE = Limits(86.0, 86.1)
FLOAT = Limits(0.1, 0.35)
WARP = Limits(0.0, 0.1)


def whys(value: float, expected: Limits, **more: object) -> list[str]:
    return [one.why for one in questioned(value, "mm", expected, **more)]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "expected", "why"),
    [
        (8.605, BORE, "slipped decimal"),
        (860.5, BORE, "slipped decimal"),
        (3.3878, BORE, "wrong unit"),  # 86.05 / 25.4
        (86050.0, BORE, "wrong unit"),  # micrometres
        (1.4, FLOAT, "slipped decimal"),
        (120.0, FLOAT, "wrong unit"),  # thousandths of a millimetre
        (68.05, BORE, "far off"),  # two digits changed places
        (-86.0, BORE, "negative"),
        (-0.2, FLOAT, "negative"),
        (0.6, WARP, "slipped decimal"),
        (28.5, Limits(2.8, None), "slipped decimal"),
        (math.nan, BORE, "no number"),
    ],
)
def test_what_cannot_be_is_questioned(value: float, expected: Limits, why: str) -> None:
    assert whys(value, expected) == [why]


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (86.05, BORE),
        (86.45, BORE),
        (85.7, BORE),
        (0.5, FLOAT),
        (0.0, FLOAT),
        (0.3, WARP),
        (0.0, WARP),
        (2.7, Limits(2.8, None)),
        (3.5, Limits(2.8, None)),
        (2.5, Limits(2.8, 3.3)),
    ],
)
def test_a_worn_part_is_no_strange_entry(value: float, expected: Limits) -> None:
    assert whys(value, expected) == []


def test_the_tool_cannot_read_outside_its_range() -> None:
    assert whys(86.05, BORE, tool_range=(50.0, 75.0)) == ["tool range"]
    assert whys(86.05, BORE, tool_range=(75.0, None)) == []


def test_a_piston_larger_than_its_bore() -> None:
    piston = Limits(85.9, 86.0)
    assert whys(86.08, piston, beside=[Beside("its bore", 86.05, "larger")]) == ["beside"]
    assert whys(85.95, piston, beside=[Beside("its bore", 86.05, "larger")]) == []
    assert whys(86.0, BORE, beside=[Beside("its piston", 86.05, "smaller")]) == ["beside"]

"""Words below a row of a parts list: its second line, or a fastener of its own whose numbers were lost."""

import pytest

from lastbolt.reading.parts import PartsSettings, rows_of_sheet
from lastbolt.words.machine import PartsRow
from lastbolt.words.sheet import Sheet, SheetRow

HEADS = ("Item", "Part no", "Description", "Qty")


def rows_of(*rows: tuple[str, str, str, str]) -> tuple[tuple[PartsRow, ...], list[str]]:
    """The rows, and the codes of what is told."""
    sheet = Sheet(HEADS, tuple(SheetRow(n, row) for n, row in enumerate(rows, start=2)))
    parts = rows_of_sheet(sheet, PartsSettings("p", "p.csv"))
    return parts.rows, [problem.code for problem in parts.problems]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("SCREW M6x45", "SCREW M8x70"),
        ("BOLT M8x90", "BOLT M8x95"),
        ("SCREW, M6 X 45", "M8 X 70"),
        ("SCREW M6x45", "NUT M6"),
        ("SCREW 1/4-20 x 1", "SCREW 5/16-18 x 2"),
        ("SCREW", "NUT"),
    ],
)
def test_a_fastener_of_its_own_is_no_second_line(first: str, second: str) -> None:
    rows, codes = rows_of(("3", "100-3", first, "7"), ("", "", second, ""))
    assert [row.name for row in rows] == [first, second]
    assert rows[1].quantity.kind == "unsaid"
    assert codes == ["LB-P08"]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("SCREW, hex", "M6x45"),
        ("SCREW M6x45", "zinc plated"),
        ("SCREW M6x45", "M6x45 DIN 912"),
        ("SCREW M6", "M6 x 45"),
        ("COVER", "for screw M6x45"),
        ("SCREW M6x45", "with nut M6"),
        ("O-RING 40 x 2", "50 x 3"),
        ("SCREW", "screw, special"),
    ],
)
def test_a_second_line_stays_one(first: str, second: str) -> None:
    rows, codes = rows_of(("3", "100-3", first, "7"), ("", "", second, ""))
    assert [row.name for row in rows] == [f"{first} {second}"]
    assert codes == [] or second in ("M6 x 45", "with nut M6")  # two sizes in one row may be a doubt


def test_another_size_in_a_second_line_is_a_doubt() -> None:
    rows, codes = rows_of(("3", "100-3", "SCREW M6x45", "7"), ("", "", "or M8x70", ""))
    assert [row.doubt for row in rows] == ['its second line says another size: "or M8x70"']
    assert codes == ["LB-P08"]


def test_a_fastener_without_numbers_at_the_top_is_a_row() -> None:
    rows, codes = rows_of(("", "", "SCREW M8x70", ""), ("3", "100-3", "SCREW M6x45", "7"))
    assert [row.name for row in rows] == ["SCREW M8x70", "SCREW M6x45"]
    assert codes == ["LB-P08"]

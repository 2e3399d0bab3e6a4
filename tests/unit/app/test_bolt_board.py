"""The bolt board: where its holes and sheets lie, and what the printed PDF measures.

The paper is measured with pdfplumber, a general PDF library. A4 is 210 x 297 mm (ISO 216), 1 pt 1/72 inch.
"""

from collections.abc import Iterator
from typing import Any

import msgspec
import pdfplumber
import pytest

from lastbolt.app.bolt_board import EDGE_MM, STRIP_MM, TILE_MM, bolt_board
from lastbolt.cli.main import main
from lastbolt.words.joint import WALK_SCHEMA, End, JointPlace, Walk
from lastbolt.words.problem import Refusal
from lastbolt.words.quantity import Kind

PT_MM = 25.4 / 72
OUTLINE = ((0.0, 0.0), (300.0, 0.0), (300.0, 400.0), (0.0, 400.0))


def place(label: str, x_mm: float, y_mm: float, side: str = "near", kind: Kind | None = None) -> JointPlace:
    return JointPlace(f"p{label}", label, (End("cover", side, x_mm, y_mm, "head"),), kind=kind)  # type: ignore[arg-type]


M8 = Kind("screw", "M8", 45.0)
WALK = Walk(
    WALK_SCHEMA, "case", "Case joint", outline_mm=OUTLINE,
    places=(place("1", 10, 390, kind=M8), place("2", 290, 10, "far", M8), place("3", 150, 200)),
)  # fmt: skip


def test_the_first_place_lies_at_the_top_left_and_y_runs_down() -> None:
    first, second, _ = bolt_board(WALK).holes
    assert (first.x_mm, first.y_mm) == (10 + EDGE_MM, 10 + EDGE_MM)
    assert (second.x_mm, second.y_mm) == (290 + EDGE_MM, 390 + EDGE_MM)
    assert (first.far, second.far) == (False, True)


def test_a_hole_passes_its_screw_and_one_of_no_size_says_so() -> None:
    first, _, third = bolt_board(WALK).holes
    assert first.diameter_mm == 9.0, "ISO 273, medium, M8"
    assert first.sized
    assert not third.sized


def test_every_spot_of_the_board_is_on_a_sheet_and_neighbours_name_each_other() -> None:
    board = bolt_board(WALK)
    names = {sheet.name: sheet for sheet in board.sheets}
    for hole in board.holes:
        assert any(
            sheet.left_mm <= hole.x_mm <= sheet.left_mm + TILE_MM[0] + STRIP_MM
            and sheet.top_mm <= hole.y_mm <= sheet.top_mm + TILE_MM[1] + STRIP_MM
            for sheet in board.sheets
        )
    for sheet in board.sheets:
        if sheet.right:
            assert names[sheet.right].left_mm == sheet.left_mm + TILE_MM[0]
        if sheet.below:
            assert names[sheet.below].top_mm == sheet.top_mm + TILE_MM[1]
    assert max(sheet.left_mm for sheet in board.sheets) + TILE_MM[0] + STRIP_MM >= board.width_mm
    assert max(sheet.top_mm for sheet in board.sheets) + TILE_MM[1] + STRIP_MM >= board.height_mm


def test_a_walk_without_positions_or_in_other_units_is_refused() -> None:
    with pytest.raises(Refusal):
        bolt_board(Walk(WALK_SCHEMA, "case", "Case", places=(JointPlace("p1", "1"),)))
    far = Walk(WALK_SCHEMA, "case", "Case", places=(place("1", 0, 0), place("2", 90_000, 0)))
    with pytest.raises(Refusal):
        bolt_board(far)


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[Any]]:
    folder = tmp_path_factory.mktemp("board")
    (folder / "walk.json").write_bytes(msgspec.json.encode(WALK))
    assert main(["board", "--walk", str(folder / "walk.json"), "--out", str(folder / "b.pdf")]) == 0
    with pdfplumber.open(folder / "b.pdf") as document:
        yield list(document.pages)


def box_mm(item: dict[str, Any]) -> tuple[float, float, float, float]:
    """Left, top, right, bottom from the top left corner of the paper."""
    left, top, right, bottom = (item[side] * PT_MM for side in ("x0", "top", "x1", "bottom"))
    return left, top, right, bottom


def test_paper_is_a4_and_the_check_line_is_100_mm_long(printed: list[Any]) -> None:
    assert len(printed) == len(bolt_board(WALK).sheets)
    for page in printed:
        assert (page.width * PT_MM, page.height * PT_MM) == pytest.approx((210, 297), abs=0.2)
        level = [box_mm(line) for line in page.lines]
        assert any(right - left == pytest.approx(100, abs=0.2) for left, _, right, _ in level)


def test_a_hole_stands_where_it_should_at_full_size(printed: list[Any]) -> None:
    """Place 1, 25 mm right of and below the board's corner, which is 10 mm and 24 mm from the paper's."""
    left, top, right, bottom = box_mm(printed[0].curves[0])
    assert (right - left, bottom - top) == pytest.approx((9, 9), abs=0.2)
    assert ((left + right) / 2, (top + bottom) / 2) == pytest.approx((10 + 25, 24 + 25), abs=0.2)


def test_the_same_hole_on_two_sheets_lies_apart_by_what_one_shows(printed: list[Any]) -> None:
    """Each sheet draws every hole, clipped to what it shows: the drawn places differ by one tile."""
    one, beside = (box_mm(page.curves[0]) for page in printed[:2])
    assert one[0] - beside[0] == pytest.approx(TILE_MM[0], abs=0.2)
    assert one[1] - beside[1] == pytest.approx(0, abs=0.2)

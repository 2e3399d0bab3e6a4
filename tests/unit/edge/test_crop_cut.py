"""Pictures of pages are cut along white: no line of print halved, no slice of the next column."""

import random

import pytest

from lastbolt.edge.crop_cut import PADDING, around, cut
from lastbolt.edge.png import CHANNELS, Pixels, pixels_of, png_of, size_of

WHITE, BLACK = b"\xff\xff\xff", b"\x00\x00\x00"
WHOLE = (0.0, 0.0, 1.0, 1.0)
SIDE = 100


def page(*print_boxes: tuple[int, int, int, int]) -> bytes:
    """A white page of 100 x 100 pixels with black boxes (left, top, right, bottom) on it."""
    rows = [[WHITE] * SIDE for _ in range(SIDE)]
    for left, top, right, bottom in print_boxes:
        for y in range(top, bottom):
            rows[y][left:right] = [BLACK] * (right - left)
    return png_of(Pixels(SIDE, SIDE, tuple(b"".join(row) for row in rows)))


def ink_of(png: bytes) -> tuple[int, int, int]:
    """Width, height and number of black pixels."""
    pixels = pixels_of(png)
    assert pixels is not None
    black = sum(
        row[x * CHANNELS : (x + 1) * CHANNELS] == BLACK for row in pixels.rows for x in range(pixels.width)
    )
    return pixels.width, pixels.height, black


def test_a_line_that_the_box_halves_is_kept_whole() -> None:
    made = cut(page((30, 40, 60, 50)), WHOLE, (0.3, 0.2, 0.6, 0.45))
    assert ink_of(made) == (30 + 2 * PADDING, 30 + 2 * PADDING, 30 * 10)


def test_the_next_column_is_left_out() -> None:
    width, _, black = ink_of(cut(page((30, 40, 60, 50), (63, 0, 100, 100)), WHOLE, (0.3, 0.4, 0.6, 0.5)))
    assert black == 30 * 10
    assert width <= 30 + 3 + PADDING


def test_the_next_line_is_left_out() -> None:
    _, height, black = ink_of(cut(page((30, 40, 60, 50), (30, 52, 60, 62)), WHOLE, (0.3, 0.4, 0.6, 0.5)))
    assert black == 30 * 10
    assert height <= 10 + 2 + PADDING


def test_rules_of_a_table_are_no_print() -> None:
    rules = ((20, 0, 21, 100), (80, 0, 81, 100))
    made = cut(page((30, 40, 60, 50), *rules), WHOLE, (0.2, 0.35, 0.81, 0.55))
    assert ink_of(made)[1] <= 20 + 2 * PADDING


def test_where_there_is_no_white_within_reach_the_box_stays() -> None:
    spots = tuple((x, y, x + 1, y + 1) for y in range(SIDE) for x in range(y % 3, SIDE, 3))
    assert ink_of(cut(page(*spots), WHOLE, (0.2, 0.2, 0.5, 0.6)))[:2] == (30, 40)


def test_a_drawing_whose_box_reaches_into_the_next_column_loses_that_slice() -> None:
    made = cut(page((10, 20, 60, 80), (72, 0, 100, 100)), WHOLE, (0.1, 0.2, 0.76, 0.8))
    width, _, black = ink_of(made)
    assert black == 50 * 60
    assert 50 <= width < 62 + PADDING


def test_a_drawing_leaves_out_the_numbers_of_a_list_that_its_box_halves() -> None:
    numbers = ((72, 20, 80, 30), (72, 50, 80, 60), (90, 0, 100, 100))
    made = cut(page((10, 20, 60, 80), *numbers), WHOLE, (0.1, 0.2, 0.76, 0.8))
    assert ink_of(made)[2] == 50 * 60


def test_a_callout_that_hangs_on_its_leader_stays_whole() -> None:
    made = cut(page((10, 20, 60, 80), (60, 40, 74, 41), (72, 36, 80, 46)), WHOLE, (0.1, 0.2, 0.76, 0.8))
    assert ink_of(made)[2] == 50 * 60 + 12 + 8 * 10


def test_a_line_of_print_is_not_cut_between_its_words() -> None:
    made = cut(page((10, 40, 60, 44), (72, 0, 100, 100)), WHOLE, (0.1, 0.4, 0.76, 0.44))
    assert ink_of(made)[0] >= 66


def test_a_box_as_large_as_the_page_is_the_page() -> None:
    whole = page((10, 10, 90, 90))
    assert size_of(cut(whole, WHOLE, WHOLE)) == (SIDE, SIDE)


@pytest.mark.parametrize("data", [b"", b"no picture", page()[:40]])
def test_what_is_no_picture_is_given_back(data: bytes) -> None:
    assert cut(data, WHOLE, (0.1, 0.1, 0.9, 0.9)) == data


def test_the_room_around_a_box_stays_on_the_page() -> None:
    assert around((0.0, 0.5, 1.0, 1.0))[0] == 0.0
    assert around((0.0, 0.5, 1.0, 1.0))[2:] == (1.0, 1.0)


def test_pixels_come_back_as_they_were_written() -> None:
    dice = random.Random(7)
    rows = tuple(dice.randbytes(5 * CHANNELS) for _ in range(3))
    assert pixels_of(png_of(Pixels(5, 3, rows))) == Pixels(5, 3, rows)

"""A step that takes off a part that is asked for, and opens something else besides, is asked as a whole."""

from pathlib import Path

import pytest

from failure.test_book_says import Case, answer


@pytest.mark.parametrize(
    ("remove", "clear"),
    [
        ("Remove the eight screws M8 x 45 and cut the seal.", False),
        ("Slit the rivet heads and remove the eight screws M8 x 45.", False),
        ("Remove the eight screws M8 x 45 and grind off the tack weld.", False),
        ("Remove the eight screws M8 x 45 and lay them in order.", True),
        ("Remove the eight screws M8 x 45 with their washers.", True),
        ("Remove the eight screws M8 x 45 (3) and the washers (5).", True),
        ("Remove the eight screws M8 x 45, the washers and the strap.", False),
        ("Slacken the eight screws M8 x 45 crosswise and remove them.", True),
    ],
)
def test_what_a_step_opens_besides_is_asked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], remove: str, clear: bool
) -> None:
    assert answer(tmp_path, capsys, Case(remove=remove))["clear_to_part"] is clear

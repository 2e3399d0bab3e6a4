"""Two counts of the same trays that do not agree keep the joint from clear until somebody counts again."""

from pathlib import Path

import pytest

from failure.test_book_says import TYPED, Case, answer


@pytest.mark.parametrize(
    ("more", "clear"),
    [
        ("by Dan\ntray 7 x M8x45\n", False),
        ("by Ben\ntray 7 x M8x45\n", False),
        ("by Dan\ntray 7 x M8x45\nby Eve\ntray 8 x M8x45\n", True),
        ("by Dan\ntray 8 x M8x45\n", True),
        ("by Dan\ntray 7 x M8x45\nholder counts that differ: done\n", True),
    ],
)
def test_a_later_count_that_is_lower_is_asked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], more: str, clear: bool
) -> None:
    assert answer(tmp_path, capsys, Case(), TYPED + more)["clear_to_part"] is clear


def test_an_early_count_of_some_is_no_disagreement(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    typed = TYPED.replace("tray 8 x M8x45", "tray 3 x M8x45\ntray 8 x M8x45")
    assert answer(tmp_path, capsys, Case(), typed)["clear_to_part"]

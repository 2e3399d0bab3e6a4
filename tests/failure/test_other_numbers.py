"""A number in a sentence about the joint's fasteners that no count explains keeps the joint from clear."""

from pathlib import Path

import pytest

from failure.test_book_says import FIT, REMOVE, Case, answer

TAKEN = [
    "Remove the screws M8 x 45; two more are reached through the hand hole.",
    "Remove the screws M8 x 45: 5 in the upper row, 4 in the lower row.",
    "Remove the screws M8 x 45, of which there are nine.",
    "Remove the screws M8 x 45, 9 x.",
    "Remove the screws M8 x 45 in pairs, five pairs in all.",
    "Remove the screws M8 x 45, three at each corner.",
]
"""Common practice, no source: how manuals count without a word for what they count."""


@pytest.mark.parametrize("remove", TAKEN)
def test_a_number_that_no_count_explains_is_asked(
    remove: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert not answer(tmp_path, capsys, Case(remove=remove))["clear_to_part"]


@pytest.mark.parametrize(
    "remove",
    [
        REMOVE,
        "Slacken the eight screws M8 x 45 by two turns and remove them.",
        "Remove the screws M8 x 45: 5 in the upper row, 3 in the lower row.",
    ],
)
def test_what_the_counts_explain_is_not_asked(
    remove: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert answer(tmp_path, capsys, Case(remove=remove))["clear_to_part"]


@pytest.mark.parametrize("fit", ["Fit the nine screws M8 x 45.", f"{FIT} Tighten all nine again."])
def test_the_section_that_puts_together_is_a_witness(
    fit: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert not answer(tmp_path, capsys, Case(fit=fit))["clear_to_part"]

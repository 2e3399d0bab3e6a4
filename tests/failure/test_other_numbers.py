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


ALONE = [
    Case(note="Note: Screw under breather: see that it is out before the halves are pressed off."),
    Case(about="| Joint | Fasteners |\n|---|---|\n| Gearbox halves | 8 M8, 1 M10 stud nut |\n"),
    Case(step="With the pump out of the way (see section five), clean the seam."),
    Case(closing="Fit the eight screws M8 x 45 and the ninth, longer one at the filler."),
]


@pytest.mark.parametrize("case", ALONE)
def test_one_more_that_is_told_beside_the_steps_is_asked(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert not answer(tmp_path, capsys, case)["clear_to_part"]


@pytest.mark.parametrize("title", ["Putting the gearbox together", "Building up", "Closing the gearbox"])
def test_the_section_that_puts_together_is_known_by_its_fasteners(
    title: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    import failure.test_book_says as base

    monkeypatch.setattr(base, "BOOK", base.BOOK.replace("Closing the gearbox", title))
    assert answer(tmp_path, capsys, Case())["clear_to_part"]
    assert not answer(tmp_path, capsys, Case(fit="Fit the nine screws M8 x 45 (3)."))["clear_to_part"]

"""Counts that are no single number, clauses of another language, what another section takes off both parts,
packs and parts with fasteners of their own, further sheets of the joint's figure: each is asked.

Common practice of manuals and lists, no source. The base of each case is clear.
"""

from pathlib import Path

import pytest

from failure.test_book_says import LIST, Case, answer

GUARD = "1. Remove the two screws M6 x 16 and take off the chain guard."


def held_by(answered: dict[str, object]) -> str:
    """The names of what is asked for and open, in one line."""
    holders = answered["holders"]
    assert isinstance(holders, list)
    return "; ".join(f"{one['name']}: {one['words']}" for one in holders if not one["settled"])


@pytest.mark.parametrize(
    ("remove", "asked"),
    [
        ("Remove the screws M8 x 45 (eight at the rim and two below).", "two below"),
        ("Remove the 8 + 1 screws M8 x 45.", "8 + 1"),
        ("Remove the eight screws M8 x 45. / Die neun Schrauben M8 x 45 entfernen.", "neun"),
        ("Remove the eight screws M8 x 45. Desserrer la vis centrale.", "centrale"),
        ("Remove the eight screws M8 x 45 / retirer les neuf vis M8 x 45.", "neuf"),
    ],
)
def test_a_step_whose_count_nobody_can_take_for_one_number_is_asked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], remove: str, asked: str
) -> None:
    answered = answer(tmp_path, capsys, Case(remove=remove))
    assert not answered["clear_to_part"]
    assert asked in held_by(answered)


@pytest.mark.parametrize(
    "about",
    [
        "The guard is screwed to both gearbox halves; two of its screws hold the halves as well.",
        "The guard is screwed to both gearbox halves, and one pin goes through both.",
    ],
)
def test_the_rest_of_a_sentence_that_is_asked_in_part_is_asked_too(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], about: str
) -> None:
    answered = answer(tmp_path, capsys, Case(about=about))
    assert not answered["clear_to_part"]


@pytest.mark.parametrize(
    ("step", "clear"),
    [
        ("Unbolt the lever support from the gearbox halves.", False),
        ("Take off the stay, which lies across the joint of the gearbox.", False),
        ("Lift the chain off the sprocket of the gearbox.", True),
        ("Take the dipstick out of the gearbox.", True),
    ],
)
def test_what_another_section_takes_off_both_parts_is_asked(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    step: str,
    clear: bool,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    import failure.test_book_says as base

    monkeypatch.setattr(base, "BOOK", base.BOOK.replace(GUARD, f"{GUARD}\n2. {step}"))
    assert answer(tmp_path, capsys, Case())["clear_to_part"] is clear


@pytest.mark.parametrize(
    ("row", "clear"),
    [
        ("4,Gearbox,5,W-205,Fitting kit,1,", False),
        ("4,Gearbox,5,W-205,Small parts,1,", False),
        ("4,Gearbox,5,W-205,Support with fixing M8,1,", False),
        ("4,Gearbox,5,W-205,Lug incl. two screws,1,", False),
        ("4,Gearbox,5,W-205,Gasket kit,1,", True),
        ("4,Gearbox,5,W-205,Drain plug M14 x 1.5,1,", True),
        ("4,Gearbox,5,W-205,Filler neck with cap,1,", True),
        ("5,Pump,5,W-305,Fitting kit,1,", True),
        ("5,Pump,5,W-305,Screw M10 x 90,1,", True),
        ("5,Pump,5,W-305,Screw M10 x 90,1,passes through both gearbox halves", False),
        ('5,"Gearbox, rear",5,W-305,Screw M10 x 90,1,', False),
        ("5,Gearbox (continued),5,W-305,Screw M10 x 90,1,", False),
        ('5,"Gearbox, selector fork",5,W-305,Screw M10 x 90,1,', True),
    ],
)
def test_rows_that_may_hold_more_are_asked_and_no_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, row: str, clear: bool
) -> None:
    monkeypatch.setattr("failure.test_book_says.LIST", f"{LIST}{row}\n")
    answered = answer(tmp_path, capsys, Case())
    assert answered["clear_to_part"] is clear, held_by(answered)

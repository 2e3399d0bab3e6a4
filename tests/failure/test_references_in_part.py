"""Lists of which one section is not there, neighbouring chapters, papers with numbers: followed or told."""

import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main

BOOK = """# Lathe: handbook

## 2.1 Taking off the guard

1. Remove the 2 nuts M6.
2. Take off the guard.

## 2.2 Taking off the belt

1. Slacken the motor.
2. Take off the belt.

## 3.1 Taking off the head

{before}

1. Remove the 4 screws M8x30.
2. {step}

## 3.2 Shutdown checklist

1. Switch off the motor.
2. Remove the fuse.
"""


def planned(folder: Path, capsys: pytest.CaptureFixture[str], **words: str) -> tuple[list[str], str]:
    """The numbers of the sections in the plan, and what keeps it open."""
    text = BOOK.format(before=words.get("before", ""), step=words.get("step", "Take off the head."))
    (folder / "m.md").write_text(text, encoding="utf-8")
    main(["read", str(folder / "m.md"), "--out", str(folder / "m.json")])
    capsys.readouterr()
    main(["plan", "take off the head", "--model", str(folder / "m.json"), "--json"])
    plan = json.loads(capsys.readouterr().out)
    numbers = dict.fromkeys(line["number"] for line in plan["lines"])
    return list(numbers), " / ".join(one["words"] for one in plan.get("open", ()))


@pytest.mark.parametrize(
    "before",
    [
        "Required beforehand: 2.1, 2.2 and 2.9.",
        "Required beforehand: 2.9, 2.1 and 2.2.",
        "Carry out 2.1, 2.2, 2.9.",
        "Before this work do sections 2.1, 2.2 and 9.9.",
    ],
)
def test_of_a_list_what_is_there_is_in_the_plan_and_what_is_not_is_told(
    before: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    numbers, told = planned(tmp_path, capsys, before=before)
    assert {"2.1", "2.2", "3.1"} <= set(numbers)
    assert "there is no 2.9." in told or "there is no 9.9." in told


@pytest.mark.parametrize(
    "words",
    [
        {"step": "Go on as in the previous chapter, then take off the head."},
        {"step": "Take off the head, which is done like in the foregoing section."},
        {"before": "The work of the preceding chapter must be done."},
        {"before": "Required beforehand: service letter 22 is done."},
        {"before": "Required beforehand: the guard is off. Technical bulletin TB-7 applies."},
        {"before": "Carry out the start-up checklist (form S12)."},
        {"step": "Take off the head; the maker sends instruction K 4 for this."},
        {"step": "Take off the head as in video HV-3."},
    ],
)
def test_what_stands_in_another_paper_or_chapter_keeps_the_plan_open(
    words: dict[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert planned(tmp_path, capsys, **words)[1]


@pytest.mark.parametrize(
    "step",
    [
        "Take off the head and form a loop of wire.",
        "Take off the head; note 2 dowels.",
        "Take off the head with a sheet of 3 mm rubber below it.",
        "Take off the head with the last screw in section.",
        "Take off the head; the plan is to go on tomorrow.",
    ],
)
def test_words_that_name_no_paper_leave_the_plan_as_it_is(
    step: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert planned(tmp_path, capsys, step=step)[1] == ""


def test_a_checklist_that_the_book_holds_is_followed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    numbers, told = planned(tmp_path, capsys, before="Carry out the shutdown checklist.")
    assert "3.2" in numbers or "checklist" in told

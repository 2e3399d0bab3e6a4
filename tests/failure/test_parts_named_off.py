"""A part that has to be off, in whatever words, is followed or keeps the plan from complete."""

from pathlib import Path

import pytest

from lastbolt.cli.main import main

MANUAL = """# Winch
{front}
## 1.1 Draining the drum case

1. Remove the drain plug and let the oil run out.

## 2.1 Removing the brake bracket

1. Remove the two screws M8x70.
2. Lift off the brake bracket.

## 2.2 Installing the brake bracket

1. Put the brake bracket on.

## 4 Drum case

{chapter}

### 4.1 Separating the drum case

{lead}

1. {step}
2. Separate the case halves.

### 4.2 Joining the drum case

1. Put the case halves together, the brake bracket stays off.

## 5 Remarks

{end}
"""
STEP = "Remove the seven screws M6x45."


@pytest.fixture
def planned(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):  # type: ignore[no-untyped-def]
    monkeypatch.chdir(tmp_path)

    def made(**said: str) -> str:
        words = {"front": "", "chapter": "", "lead": "", "step": STEP, "end": "", **said}
        Path("m.md").write_text(MANUAL.format(**words), encoding="utf-8")
        main(["read", "m.md", "--out", "m.json"])
        capsys.readouterr()
        main(["plan", "separate the drum case", "--model", "m.json"])
        return " ".join(capsys.readouterr().out.split())

    return made


def followed_or_open(out: str) -> bool:
    return "2.1 Removing" in out or "not complete" in out


@pytest.mark.parametrize(
    "lead",
    [
        "The brake bracket has to come off first.", "Brake bracket first.", "The brake bracket goes first.",
        "Without removing the brake bracket the case does not open.", "After removal of the brake bracket:",
        "No brake bracket may be on.", "The brake bracket may not be on.",
        "The drum case can only be separated with the brake bracket off.",
    ],
)  # fmt: skip
def test_in_the_lead_of_the_goal(planned, lead: str) -> None:  # type: ignore[no-untyped-def]
    assert followed_or_open(planned(lead=lead))


@pytest.mark.parametrize(
    "step",
    [
        "When the brake bracket is off, remove the seven screws M6x45.",
        "Remove the seven screws M6x45 (brake bracket off).",
        "Remove the seven screws M6x45 (not accessible with the brake bracket on).",
        "Remove the seven screws M6x45 after the brake bracket.",
        "Remove the seven screws M6x45, swing the brake bracket aside.",
    ],
)
def test_in_a_step_of_the_goal(planned, step: str) -> None:  # type: ignore[no-untyped-def]
    assert followed_or_open(planned(step=step))


ELSEWHERE = [
    "Before separating the drum case, carry out 2.1.",
    "Before separating the drum case remove the brake bracket.",
    "Never separate the drum case before the brake bracket is off.",
    "Before section 4.1: 2.1.",
    "4.1 needs 2.1.",
]


@pytest.mark.parametrize("said", ELSEWHERE)
@pytest.mark.parametrize("where", ["front", "end"])
def test_in_general_sections_that_name_the_goal(planned, said: str, where: str) -> None:  # type: ignore[no-untyped-def]
    words = f"\n## Safety\n\n{said}\n" if where == "front" else said
    assert followed_or_open(planned(**{where: words}))


@pytest.mark.parametrize(
    "said",
    [
        "The brake bracket must be off for the work in this chapter.",
        "Before working on the drum case remove the brake bracket.",
        "The drum case can only be separated with the brake bracket off.",
    ],
)
def test_in_the_introduction_of_the_chapter(planned, said: str) -> None:  # type: ignore[no-untyped-def]
    assert followed_or_open(planned(chapter=said))


@pytest.mark.parametrize(
    "said",
    [
        {}, {"lead": "The drum case is heavy."}, {"end": "Before lifting the winch, look at 2.1."},
        {"lead": "The brake bracket carries the lever."},
    ],
)  # fmt: skip
def test_what_asks_for_nothing_leaves_the_plan_complete(planned, said: dict[str, str]) -> None:  # type: ignore[no-untyped-def]
    assert "not complete" not in planned(**said)

"""Work that must come first, however a section says so, is on the plan, or the plan is not complete."""

from pathlib import Path

import pytest

from lastbolt.cli.main import main

MANUAL = """# Winch

## 1.1 Draining the drum case

1. Remove the drain plug and let the oil run out.

## 2.1 Removing the brake bracket

1. Remove the two screws M8x70.
2. Lift off the brake bracket.

## 4.1 Separating the drum case

{lead}

1. Remove the seven screws M6x45.
2. Separate the case halves.
"""


@pytest.fixture
def plan_of(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):  # type: ignore[no-untyped-def]
    monkeypatch.chdir(tmp_path)

    def made(lead: str) -> str:
        Path("m.md").write_text(MANUAL.format(lead=lead), encoding="utf-8")
        main(["read", "m.md", "--out", "m.json"])
        capsys.readouterr()
        main(["plan", "separate the drum case", "--model", "m.json"])
        return capsys.readouterr().out

    return made


BOTH = ("1.1  Draining", "2.1  Removing")


@pytest.mark.parametrize(
    "lead",
    [
        "Required before this work: 1.1 and 2.1.", "Before this work: 1.1 and 2.1",
        "Before this job: 1.1 and 2.1",
        "Needed before this job: 1.1 and 2.1.", "To do before: 1.1 and 2.1", "Required before: 1.1, 2.1",
        "Required before the work in this section: 1.1 and 2.1", "Prior to this work: 1.1 and 2.1.",
        "Ahead of this work: 1.1 and 2.1.", "Before this operation - 1.1 and 2.1",
        "Before starting: 1.1, 2.1.",
    ],
)  # fmt: skip
def test_a_list_behind_before_comes_first(plan_of, lead: str) -> None:  # type: ignore[no-untyped-def]
    out = plan_of(lead)
    assert all(section in out for section in BOTH), out


@pytest.mark.parametrize(
    "lead",
    [
        "Required before: the work of 2.1.", "Nothing may be loosened here before 2.1.", "Preceded by 2.1.",
        "Before 2.1 is done nothing here may be loosened.", "Before 2.1 you cannot do this.",
        "Proceed with 2.1, then come back here.", "Continue with 2.1 and then come back here.",
        "Proceed with 2.1 and return here.", "Do not begin before 2.1 is done.",
    ],
)  # fmt: skip
def test_one_section_that_comes_first(plan_of, lead: str) -> None:  # type: ignore[no-untyped-def]
    out = plan_of(lead)
    assert BOTH[1] in out, out


@pytest.mark.parametrize(
    "lead",
    ["Do this before 2.1.", "Go on with 2.1.", "This work comes before 2.1.", "Before 2.1 check the oil."],
)
def test_what_comes_later_is_not_put_first(plan_of, lead: str) -> None:  # type: ignore[no-untyped-def]
    out = plan_of(lead)
    assert BOTH[1] not in out
    assert "complete" in out


@pytest.mark.parametrize(
    "label", ["Before", "Before:", "Preparation", "Preparation:", "#### Preparation", "Conditions"]
)
def test_steps_behind_a_label_and_its_paragraph_are_the_sections_own(plan_of, label: str) -> None:  # type: ignore[no-untyped-def]
    out = plan_of(f"{label}\n\nCarry out 2.1.")
    assert BOTH[1] in out, out
    assert "[?]" not in out
    assert out.index("Lift off the brake bracket") < out.index("Separate the case halves")

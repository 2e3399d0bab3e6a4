"""The checklist as it stands in the terminal: limits, numbers and questions are to be read there."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from lastbolt.app.make_plan import make_plan
from lastbolt.cli.main import main
from lastbolt.cli.plan import show
from lastbolt.edge import documents
from lastbolt.words.job import JOB_SCHEMA, Job, ProcedureDone
from lastbolt.words.machine import Applies, Machine
from planned import machine, proc, ref


def text(made: Machine, capsys: pytest.CaptureFixture[str], *ticked: str) -> str:
    events = tuple(ProcedureDone(id=f"e {name}", by="kim", procedure=name) for name in ticked)
    show(make_plan(made, "9.1", None, Job(JOB_SCHEMA, "j", "a", events=events)))
    return " ".join(capsys.readouterr().out.split())


def test_a_section_for_one_variant_says_so_where_it_begins(capsys: pytest.CaptureFixture[str]) -> None:
    late = Applies(("E",), words="Variant E")
    said = text(machine(proc("9.1", "1", before=(ref("r", "3.3", applies=late),)), proc("3.3", "1")), capsys)
    assert "3.3 only if Variant E: Removing the 3.3" in said


def test_a_line_to_confirm_gives_its_section(capsys: pytest.CaptureFixture[str]) -> None:
    made = machine(proc("9.1", "1", before=(ref("r", "3.3"),)), proc("3.3", "1"))
    assert "[?] 3.3 Confirm off: Removing the 3.3" in text(made, capsys, "3.3")


def test_a_step_taken_for_done_asks_to_look(capsys: pytest.CaptureFixture[str]) -> None:
    made = machine(
        proc("9.1", "1", before=(ref("r", "4.4", steps=("1", "1")), ref("s", "3.3"))),
        proc("3.3", "1", before=(ref("t", "4.4"),)),
        proc("4.4", "1", "2"),
    )
    said = text(made, capsys, "3.3")
    assert "[ ] 1 Do step 1." in said
    assert "[?] 2 Do step 2. (m, printed page 4-8, PDF page 8) Nobody ticked this" in said


def test_asked_why_with_an_unclear_goal_the_plan_offers_sections(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "m.json"
    documents.save(path, machine(proc("9.1", "1"), proc("3.3", "1")))
    assert main(["plan", "polish the moon", "--model", str(path), "--why", "3"]) == 2
    said = capsys.readouterr().out
    assert "No procedure is clearly" in said
    assert "1 to 0" not in said


def said_of(made: Machine, goal: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> list[str]:
    path = tmp_path / "m.json"
    documents.save(path, made)
    assert main(["plan", goal, "--model", str(path)]) == 2
    return [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]


def test_a_goal_that_nothing_is_near_to_lists_what_there_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = said_of(machine(proc("9.1", "1"), proc("3.3", "1")), "asdf", tmp_path, capsys)
    assert said[-2:] == ["9.1 Removing the 9.1", "3.3 Removing the 3.3"]


def test_of_many_procedures_the_chapters_are_listed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    made = machine(
        *(replace(proc(f"{c}.{n}", "1"), chapter=f"{c} Part {c}") for c in (3, 4) for n in range(1, 20))
    )
    said = said_of(made, "asdf", tmp_path, capsys)
    assert said[-2:] == ["3 Part 3: 19 procedures (3.1 to 3.19)", "4 Part 4: 19 procedures (4.1 to 4.19)"]
    assert len(said) < 12


def test_a_model_without_procedures_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "The model holds no procedure" in " ".join(said_of(machine(), "asdf", tmp_path, capsys))


def test_a_limit_is_not_said_twice(capsys: pytest.CaptureFixture[str]) -> None:
    """ "Remove the two dowels if they are loose" says itself when it holds; there is no "if if" either."""
    made = machine(proc("9.1", "1"))
    plan = make_plan(made, "9.1")
    first = plan.lines[-1]
    for words, limit, told in (
        ("Remove the dowels if they are loose.", "if they are loose", "Remove the dowels if they are loose."),
        ("Remove the dowels.", "if they are loose", "only if they are loose: Remove the dowels."),
        ("Remove the dowels.", "Variant E", "only if Variant E: Remove the dowels."),
    ):
        show(replace(plan, lines=(*plan.lines[:-1], replace(first, words=words, only_if=limit))))
        said = " ".join(capsys.readouterr().out.split())
        assert f"[ ] 1 {told}" in said


def test_an_open_point_says_where_it_is_answered(capsys: pytest.CaptureFixture[str]) -> None:
    open_ = machine(proc("9.1", "1", before=(ref("r", status="dangling"),)))
    assert 'lastbolt correct MODEL --goal "9.1"' in text(open_, capsys)
    assert "lastbolt correct" not in text(machine(proc("9.1", "1")), capsys)

"""The checklist as it stands in the terminal: limits, numbers and questions are to be read there."""

from pathlib import Path

import pytest

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

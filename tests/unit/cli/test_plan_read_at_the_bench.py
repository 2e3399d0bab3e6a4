"""What somebody at the bench reads: headings over the right steps, plain words, nothing twice."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from lastbolt.app.make_plan import make_plan
from lastbolt.cli.main import main
from lastbolt.cli.plan import show_why
from lastbolt.cli.plan_text import show
from lastbolt.edge import documents
from lastbolt.words.machine import (
    Machine,
    Mention,
    PartsRow,
    Procedure,
    Section,
    Step,
    TorqueRow,
    TorqueValue,
)
from lastbolt.words.quantity import Kind, exactly
from planned import machine, page, proc, ref, step


def shown(made: Machine, capsys: pytest.CaptureFixture[str], goal: str = "9.1") -> list[str]:
    show(make_plan(made, goal))
    return capsys.readouterr().out.splitlines()


def under(lines: list[str], heading: str) -> list[str]:
    """The lines below a heading up to the next."""
    at = lines.index(heading) + 2
    ends = [n for n, line in enumerate(lines[at:], at) if line.startswith("----")]
    return lines[at : ends[0] - 1] if ends else lines[at:]


def test_a_section_that_is_taken_up_again_has_its_heading_again(capsys: pytest.CaptureFixture[str]) -> None:
    goal = proc("9.1", step("1"), step("2", ref("r", "3.3")), "3")
    lines = [" ".join(line.split()) for line in shown(machine(goal, proc("3.3", "1")), capsys)]
    again = lines.index("9.1 Removing the 9.1 (continued) (m, printed page 4-3, PDF page 3)")
    assert lines[again + 1].startswith("5 [ ] 2 Do step 2.")
    assert lines[again - 2].startswith("4 [ ] 1 Do step 1.")


def test_a_line_before_its_section_begins_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    goal = proc(
        "9.1", "1", before=(ref("r", "3.3"), replace(ref("w", status="in words"), words="engine on a stand"))
    )
    said = " ".join(" ".join(shown(machine(goal, proc("3.3", "1")), capsys)).split())
    assert "(before it begins) (m, printed page 4-3, PDF page 3) 3 [?] 9.1 engine on a stand" in said
    assert "continued" not in said


def test_a_page_is_said_with_the_heading_and_where_it_changes(capsys: pytest.CaptureFixture[str]) -> None:
    same = proc("9.1", "1", "2")
    steps = tuple(replace(one, citations=page(3)) for one in same.steps[:1]) + same.steps[1:]
    lines = shown(machine(replace(same, steps=steps)), capsys)
    assert "   2  [ ] 1  Do step 1." in lines
    assert "   3  [ ] 2  Do step 2.  (m, printed page 4-8, PDF page 8)" in lines


def test_marks_have_a_key_and_a_missing_picture_is_told_once(capsys: pytest.CaptureFixture[str]) -> None:
    said = " ".join(shown(machine(proc("9.1", "1", before=(ref("r", "3.3"),)), proc("3.3", "1")), capsys))
    assert "[ ] to do" in said
    assert "[/]" not in said
    assert said.count("picture") == 1


def removing(name: str, part: str, kind: Kind | None = None) -> Procedure:
    taken = Step(
        "1",
        "1",
        f"Take the {part} off.",
        ("remove",),
        (Mention(part, "remove", kind=kind),),
        citations=page(8),
    )
    return proc(name, taken, title=f"Removing the {part}", parts=(part,))


def test_what_has_no_way_back_is_told_once(capsys: pytest.CaptureFixture[str]) -> None:
    lines = shown(machine(removing("9.1", "belt")), capsys)
    assert "  - belt (9.1 step 1)" in under(lines, "Comes off, and no source says how it goes back")
    assert "LB-W01" not in " ".join(lines)


def test_screws_of_the_joint_and_torques_of_tables_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    value = TorqueValue((9.0, 9.0), ((9.0, 9.0, "N·m"),), words="9 N·m")
    rows = (
        TorqueRow("t1", "Lid screws", value, "M6", page(5, "Lid screws | M6 x 16 | 9 | threadlock")),
        TorqueRow("t2", "Drain plug", value, "M18x1.5", page(5, "Drain plug | M18 x 1.5 | 9")),
    )
    lid = removing("9.1", "lid")
    screws = Mention("screws", "remove", kind=Kind("screw", "M6", 16.0))
    lid = replace(lid, before=(ref("r", "3.3"),), steps=(replace(lid.steps[0], mentions=(screws,)),))
    lines = shown(machine(lid, removing("3.3", "drain plug", Kind("plug")), torques=rows), capsys)
    own = under(lines, "How the fasteners of this joint go back")
    assert "  - torque table  Lid screws (M6 x 16, threadlock): 9 N·m" in own
    assert "  - torque table  Drain plug (M18 x 1.5): 9 N·m" in under(
        lines, "Torques for what else comes off"
    )


def test_tools_and_warnings_stand_at_the_head(capsys: pytest.CaptureFixture[str]) -> None:
    safety = Section("m/section/1", "1", "Safety", 1, text="A load kills.", citations=page(1))
    lines = shown(machine(proc("9.1", "1", tools=("socket 10 mm",)), sections=(safety,)), capsys)
    assert under(lines, "For all work")[0] == "! SAFETY  A load kills.  (m, printed page 4-1, PDF page 1)"
    assert under(lines, "Have ready")[1] == "  - 9.1: socket 10 mm  (m, printed page 4-3, PDF page 3)"
    assert lines.index("For all work") < lines.index("Have ready") < lines.index("Checklist")


def test_what_one_step_asks_for_first_is_one_entry_in_plain_words(capsys: pytest.CaptureFixture[str]) -> None:
    nut = Mention("shaft nut", "remove", kind=Kind("nut", "M20"))
    words = "Bend the tab back and undo the shaft nut."
    undo = Step("1", "1", words, ("remove",), (nut,), locks=("tab washer",), citations=page(8))
    lines = shown(machine(proc("9.1", undo)), capsys)
    said = " ".join(" ".join(under(lines, "Before you take it off")).split())
    assert said == (
        "m, printed page 4-8, PDF page 8: - 9.1 step 1 Open the lock first (tab washer); slacken while it is "
        "still held: Bend the tab back and undo the shaft nut."
    )


def test_a_limit_that_the_words_say_is_not_said_twice(capsys: pytest.CaptureFixture[str]) -> None:
    only = Step(
        "1", "1", "Variant E only: disconnect it.", ("other",), condition="Variant E", citations=page(8)
    )
    assert any(
        "[ ] 1  Variant E only: disconnect it." in line for line in shown(machine(proc("9.1", only)), capsys)
    )


def test_why_names_the_line_and_quotes_a_sentence_once(capsys: pytest.CaptureFixture[str]) -> None:
    words = "Before beginning: oil drained (see 3.3)."
    lead = Step(
        "b1", "", words, ("other",), references=(replace(ref("r", "3.3"), words=words),), citations=page(8)
    )
    plan = make_plan(machine(proc("9.1", lead, "1"), proc("3.3", "1")), "9.1")
    assert show_why(plan, "3.3.1") == 0
    said = " ".join(capsys.readouterr().out.split())
    assert said.count("Before beginning") == 1
    assert "required by the first words of 9.1" in said


@pytest.mark.parametrize("wanted", ["²", "7²", "9" * 5000])
def test_why_of_what_only_looks_like_a_number_says_what_to_give(
    wanted: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert show_why(make_plan(machine(proc("9.1", "1")), "9.1"), wanted) == 2
    assert "give the number at the left" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    ("goal", "told"),
    [
        ("9.9", "There is no section 9.9 with steps."),
        ("section 4-7", "There is no section 4-7 with steps."),
        ("", "No goal was given."),
        ("N-08040", '"N-08040" is the number of a part: Screw, case.'),
        ("polish the moon", 'No procedure is clearly "polish the moon".'),
    ],
)
def test_a_goal_that_is_nothing_is_told_in_plain_words(
    goal: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "m.json"
    rows = (PartsRow("p/row/1", "p", "1", "4", "N-08040", "Screw, case", exactly(4)),)
    documents.save(path, machine(proc("9.1", "1"), proc("3.3", "1"), rows=rows))
    assert main(["plan", goal, "--model", str(path)]) == 2
    said = capsys.readouterr().out
    assert told in said
    assert "deed" not in said


def test_a_goal_that_comes_near_gives_the_line_to_type(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "m.json"
    documents.save(path, machine(removing("3.4", "gear cover"), removing("3.5", "pump cover")))
    assert main(["plan", "remove the cover", "--model", str(path)]) == 2
    assert 'lastbolt plan "3.4" ...' in capsys.readouterr().out

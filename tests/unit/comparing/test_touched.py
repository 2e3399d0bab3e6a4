"""Which plans and jobs a new edition touches: lines, the way back, what a job says; those of other models."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from lastbolt.cli.main import main
from lastbolt.comparing.editions import compare
from lastbolt.comparing.touched import strangers, touched
from lastbolt.edge import documents
from lastbolt.edge.model_file import save_model
from lastbolt.words.job import Counted, Job, QuestionAnswered, SetAside, StepDone, TookOut
from lastbolt.words.machine import Machine, PartsRow, Procedure, Reference, Step, TorqueRow, TorqueValue
from lastbolt.words.plan import Fastening, Line, NewPart, Plan, RequiredBy, WayBack
from lastbolt.words.quantity import Kind, exactly


def newton(value: float) -> TorqueValue:
    return TorqueValue((value, value), ((value, value, "N·m"),))


SEE = Reference("m/step/1.1/1/r1", "see the operator's manual", "see", "other book")
OFF = Procedure("m/procedure/1.1", "1.1", "Cover - removal", "remove", steps=(
    Step("m/step/1.1/1", "1", "Remove the 4 screws.", references=(SEE,)),
    Step("m/step/1.1/2", "2", "Lift it off."),
))  # fmt: skip
ON = Procedure("m/procedure/1.2", "1.2", "Cover - fitting", "install", steps=(
    Step("m/step/1.2/1", "1", "Fit the cover."),
    Step("m/step/1.2/2", "2", "Tighten to 9 N·m.", torques=(newton(9),)),
))  # fmt: skip
ROW = PartsRow("p/row/1/2", "p", "1", "2", "K-2", "Screw M6 x 20", exactly(4), Kind("screw", "M6", 20))
SEAL = PartsRow("p/row/1/3", "p", "1", "3", "K-3", "Seal", exactly(1))
TORQUE = TorqueRow("m/torque/cover", "Cover screws", newton(9), "M6")
OLD = Machine("lastbolt.model/1", "winch", procedures=(OFF, ON), rows=(ROW, SEAL), torques=(TORQUE,))
GOAL = RequiredBy("goal")
PLAN = Plan(
    "lastbolt.plan/1", "open the cover",
    lines=tuple(
        Line(s.id, "step", OFF.id, GOAL, words=s.words, number="1.1", mark=s.mark, step=s.id)
        for s in OFF.steps
    ),
    way_back=WayBack(
        procedures=(ON.id,),
        new_parts=(NewPart("seal", rows=(SEAL.id,)),),
        fastenings=(Fastening("9 N·m", OFF.id, "cover", "its name", row=TORQUE.id),),
    ),
)  # fmt: skip


def job(*events: object) -> Job:
    return Job("lastbolt.job/1", "j", "open the cover", events=events)  # type: ignore[arg-type]


def lines(new: Machine, plan: Plan | None = PLAN, of: Job | None = None) -> list[tuple[str, str]]:
    return [(one.document, one.line) for one in touched(compare(OLD, new).changes, OLD, plan, of)]


def test_a_torque_of_the_way_back_touches_the_plan() -> None:
    stronger = replace(ON, steps=(ON.steps[0], replace(ON.steps[1], torques=(newton(12),))))
    assert lines(replace(OLD, procedures=(OFF, stronger))) == [("plan", ON.id)]
    assert lines(replace(OLD, torques=(replace(TORQUE, value=newton(12)),))) == [("plan", TORQUE.id)]


def test_a_new_part_of_the_way_back_touches_the_plan() -> None:
    assert lines(replace(OLD, rows=(ROW, replace(SEAL, part_number="K-30")))) == [("plan", SEAL.id)]


@pytest.mark.parametrize(
    "event",
    [
        TookOut(id="e", by="A", joint="j", line=ROW.id, count=4),
        Counted(id="e", by="A", kind=Kind("screw", "M6", 20), pieces=4, line=ROW.id),
    ],
)
def test_what_was_taken_out_by_a_row_that_changed(event: object) -> None:
    new = replace(OLD, rows=(replace(ROW, quantity=exactly(5)), SEAL))
    assert lines(new, None, job(event)) == [("job", "e")]


@pytest.mark.parametrize(
    "event",
    [
        SetAside(id="e", by="A", reference=SEE.id, reason="not here"),
        QuestionAnswered(id="e", by="A", question=OFF.steps[0].id, answer="no"),
    ],
)
def test_an_answer_on_a_step_that_changed(event: object) -> None:
    first = replace(OFF.steps[0], words="Remove the 5 screws and the clip.")
    new = replace(OLD, procedures=(replace(OFF, steps=(first, OFF.steps[1])), ON))
    assert lines(new, None, job(event)) == [("job", "e")]


def test_what_did_not_change_is_not_named() -> None:
    assert lines(OLD, PLAN, job(StepDone(id="e", by="A", step=OFF.steps[0].id))) == []
    assert strangers(OLD, PLAN, None) == (0, 2)


def test_a_document_of_another_model_is_told() -> None:
    assert strangers(OLD, None, job(StepDone(id="e", by="A", step="x/step/9"))) == (1, 1)


def test_several_plans_and_jobs_from_the_shell(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    new = replace(OLD, torques=(replace(TORQUE, value=newton(12)),))
    save_model(Path("old.json"), OLD)
    save_model(Path("new.json"), new)
    documents.save(Path("a.json"), PLAN)
    documents.save(Path("b.json"), replace(PLAN, way_back=WayBack()))
    documents.save(Path("j.json"), job(StepDone(id="e", by="A", step="x/step/9")))
    command = ["changes", "old.json", "new.json", "--plan", "a.json", "--plan", "b.json", "--job", "j.json"]
    assert main(command) == 1
    text = capsys.readouterr().out
    assert "a.json: lines that rest on a change (1)" in text
    assert "b.json: nothing in it was found to rest on a change." in text
    assert "LB-D22" in text
    assert main([*command, "--json"]) == 1
    document = json.loads(capsys.readouterr().out)
    assert [(one["file"], one["line"]) for one in document["touched"]] == [("a.json", TORQUE.id)]
    assert document["untouched"] == ["b.json", "j.json"]

"""What `lastbolt read` prints: the doubts that a torque hangs on before all others."""

import pytest
from msgspec.structs import replace

from lastbolt.app.read_sources import report_of
from lastbolt.cli.read import show
from lastbolt.words.problem import Problem
from planned import machine, proc


@pytest.mark.parametrize("code", ["LB-P05", "LB-P06", "LB-P07", "LB-R16"])
def test_doubts_about_torques_come_first(code: str, capsys: pytest.CaptureFixture[str]) -> None:
    other = [Problem("LB-R18", f"doubt {number}", f"page {number}", "Look.") for number in range(60)]
    torque = Problem(code, "A torque was not understood.", "page 99", "Read it from the page.")
    made = replace(machine(proc("9.1", "1")), problems=(*other, torque))
    show(made, report_of(made), made.problems)
    said = capsys.readouterr().out
    assert said.index("A torque was not understood.") < said.index("doubt 0")

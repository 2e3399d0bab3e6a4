"""A small workshop book set here (papers/hay_hoist.typ, written for this): the plan as a whole."""

from pathlib import Path

import pytest
import typst

from lastbolt.app.make_plan import make_plan
from lastbolt.app.read_sources import Paged, SourceFile, read_sources
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan

BOOK = Path(__file__).parent / "papers" / "hay_hoist.typ"


@pytest.fixture(scope="module")
def hoist(tmp_path_factory: pytest.TempPathFactory) -> Machine:
    target = tmp_path_factory.mktemp("hoist") / "hay_hoist.pdf"
    typst.compile(str(BOOK), output=str(target))
    pages = read_pages(target, PdfSettings(source="hoist"))
    return read_sources([Paged(SourceFile(target.name), pages)]).machine


@pytest.fixture(scope="module")
def plan(hoist: Machine) -> Plan:
    return make_plan(hoist, "part the gear case")


def sections(plan: Plan) -> list[str]:
    return [line.number for line in plan.lines if line.kind == "opening"]


def test_a_requirement_over_two_lines_is_no_step_to_tick(plan: Plan) -> None:
    own = [line for line in plan.lines if line.number == "2.4" and line.kind == "step"]
    assert [line.mark for line in own] == ["1", "2", "3", "4"]
    assert {"2.1", "2.2", "2.3", "1.2"} < set(sections(plan))

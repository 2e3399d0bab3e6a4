"""A list of which anything was not understood is no witness that it leaves no row out, whatever the code."""

import pytest

from lastbolt.app.lists_whole import lists_not_read_whole
from lastbolt.words.citation import CellPlace, Citation
from lastbolt.words.machine import MODEL_SCHEMA, Machine, Source
from lastbolt.words.problem import Problem

LIST = Source("parts", "Parts", "parts list", "maker", file="parts.csv")


def not_whole(code: str) -> set[str]:
    cited = (Citation("parts", CellPlace(4, "Qty")),)
    problem = Problem(code, "Something.", "parts.csv, line 4", "Look.", citations=cited)
    return lists_not_read_whole(Machine(MODEL_SCHEMA, "", (LIST,), problems=(problem,)))


@pytest.mark.parametrize("code", ["LB-P01", "LB-P08", "LB-P15", "LB-P18", "LB-R10", "LB-P99"])
def test_a_problem_of_the_list_takes_its_word_for_its_end(code: str) -> None:
    assert not_whole(code) == {"parts"}


@pytest.mark.parametrize("code", ["LB-P05", "LB-R14", "LB-R12"])
def test_doubt_about_a_value_or_a_reference_does_not(code: str) -> None:
    assert not_whole(code) == set()

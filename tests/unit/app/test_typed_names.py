"""Who is a witness by a typed line: nobody is made of a tool, a remark or a name with words behind it."""

import pytest

from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind
from lastbolt.app.typed_names import name_in, nearly_said, new_name_in
from lastbolt.words.answer import Answer

CLEAR = (
    "by Lea\n7 x M6x45\nend of list\nby Ann\n1-7 light through\nwent round\n{tray}\n"
    "by Ben\n1-7 open hole both sides\nwent round\n{more}\nno other holders\n"
)


def told(more: str = "", tray: str = "tray 7 x M6x45") -> Answer:
    made = read_typed(CLEAR.format(more=more, tray=tray), typed_kind)
    return tally_joint(made.evidence, made.beside)


def test_the_case_itself_is_clear() -> None:
    assert told().clear_to_part


@pytest.mark.parametrize(
    "line",
    [
        "by Ann: 4 still in", "by Ann 4 still in", "by Tom: 4 head off", "by Ann 4 put back",
        "by Ben - 4 is still in", "by Ann left the bench", "first by Lea 4 in", "1-6 out by Tom 4 in",
        "by Ann again", "by Ann (again)", "by Ann 2nd look", "by Ann 2", "by Ann next day", "by Ann Miller",
        "by hand", "by torch", "by the book", "by BEN STILL IN", "1-7 out by tomorrow", "1-7 out by hand",
        "1-7 out by Tom and Ann", "1-7 out by touch", "1-7 out by nine", "1-7 out by Ann again",
        "1-7 out by the looks of it", "by the same", "by same", "by both", "by everybody", "by A.", "by -",
        "by the crew", "by another", "1-7 out by Both",
    ],
)  # fmt: skip
def test_what_is_no_name_is_never_swallowed(line: str) -> None:
    answer = told(line)
    assert not answer.clear_to_part
    assert "Do not pull" in answer.sentence
    assert set(answer.witnesses) <= {"Ann", "Ben", "Lea"}


@pytest.mark.parametrize("how", ["hand", "eye", "weight", "Ann again"])
def test_a_tool_counts_no_pieces(how: str) -> None:
    answer = told(tray=f"tray 7 x M6x45 by {how}")
    assert not answer.clear_to_part
    assert how not in answer.witnesses


@pytest.mark.parametrize(
    "name",
    ["Ann", "ann", "Maria del Carmen Ruiz", "O'Neill", "J. Kofi-Mensah", "Group 4", "trainee 12", "Rod",
     "Oumou Ba", "Łukasz"],
)  # fmt: skip
def test_names_as_people_have_them(name: str) -> None:
    assert name_in(name) == name


@pytest.mark.parametrize(
    "name", ["Ann 2", "4", "Group", "Ann: 3", "rod", "still in", "a b c d e", "Bolt 3 out"]
)
def test_no_names(name: str) -> None:
    assert name_in(name) == ("Group" if name == "Group" else "")


def test_somebody_new_behind_a_line_is_written_as_names_are() -> None:
    assert new_name_in("Tom Reed") == "Tom Reed"
    assert new_name_in("tom") == ""
    answer = told("4 out by Tom")
    assert "Tom" in answer.witnesses


def test_one_name_inside_another_may_be_one_person() -> None:
    assert nearly_said("Ann Miller", ["ann"]) == "ann"
    assert nearly_said("Ann", ["ann miller"]) == "ann miller"
    assert nearly_said("Ben Miller", ["ann miller"]) == ""
    assert nearly_said("Group 5", ["group 4"]) == ""


@pytest.mark.parametrize(
    "remark",
    ["from the photo", "from photo", "as manual says", "check far side", "far side to check", "per picture"],
)
def test_remarks_that_take_a_look_back_are_asked(remark: str) -> None:
    assert not told(f"1-7 open hole both sides # {remark}").clear_to_part


def test_a_side_is_no_interjection() -> None:
    assert not told("right: 1-7 out").clear_to_part

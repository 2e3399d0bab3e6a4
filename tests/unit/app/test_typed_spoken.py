"""Lines as people say them: whose they are, and places behind what was seen."""

import pytest

from lastbolt.app.gather import Gathered
from lastbolt.app.quick import read_typed
from lastbolt.app.typed_kind import typed_kind
from lastbolt.app.typed_spoken import as_typed


def read(*lines: str) -> Gathered:
    return read_typed("\n".join(("by Mira", "4 x M8x50", "by Ann", "end of list", *lines)), typed_kind)


def seen(gathered: Gathered) -> list[tuple[str, str, str]]:
    return [(look.by, look.place, look.saw) for look in gathered.evidence.looks]


@pytest.mark.parametrize(
    ("line", "looks"),
    [
        ("Mira: 4 out", [("Mira", "4", "out")]),
        ("4 out by Mira", [("Mira", "4", "out")]),
        ("4 out, by Mira", [("Mira", "4", "out")]),
        ("out 1-2", [("Ann", "1", "out"), ("Ann", "2", "out")]),
        ("Mira: light through 1 and 2", [("Mira", "1", "light through"), ("Mira", "2", "light through")]),
        ("no, 3 is still in", [("Ann", "3", "in")]),
        ("8 broke off", [("Ann", "8", "broken off")]),
        ("9 looks empty", [("Ann", "9", "open hole")]),
        ("3 still there", [("Ann", "3", "in")]),
    ],
)
def test_what_people_say_is_taken_as_they_mean_it(line: str, looks: list[tuple[str, str, str]]) -> None:
    gathered = read(line)
    assert seen(gathered) == looks
    assert not gathered.beside.unused


def test_whoever_spoke_before_goes_on_behind_it() -> None:
    assert seen(read("Mira: 4 out", "5 out")) == [("Mira", "4", "out"), ("Ann", "5", "out")]


def test_a_count_of_somebody_else() -> None:
    assert [(one.by, one.pieces) for one in read("Mira: tray 4 x M8x50").evidence.counts] == [("Mira", 4)]


@pytest.mark.parametrize(
    "line",
    [
        "in 3",
        "top: 4 out",
        "Cid: 4 out",
        "holder: off",
        "tray: 3",
        "out",
        "by",
        "note: 4 out",
        "Ann and Ben: 4 out",
    ],
)
def test_what_may_mean_something_else_is_not_guessed(line: str) -> None:
    gathered = read(line)
    assert not gathered.evidence.looks
    assert gathered.beside.unused


def test_lines_as_they_are_typed_stay_so() -> None:
    for line in ("1-7 out", "by Ann", "holder pump: off", "tray 7 x M6x45", "went round", "7 x M6x45"):
        assert as_typed(line) == ("", line)


def test_hints_speak_of_this_joints_own_sizes() -> None:
    (problem,) = (one for one in read("what now").beside.problems if one.code == "LB-T07")
    assert "4 x M8x50" in problem.do
    assert "M6x45" not in problem.do

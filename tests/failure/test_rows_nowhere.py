"""A row of this joint's list that nobody ever met: three rounds of the known holes do not clear the joint."""

import pytest

from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind
from lastbolt.words.answer import Answer

LIST = "by Lea\n7 x M6x45\n2 x M8x70\n4 x M5x16\nend of list\nlist compared\n"
ROUNDS = "".join(f"by {name}\n1-9 light through\nwent round\n" for name in ("Ann", "Ben", "Cy"))
TRAY = "tray 7 x M6x45, 2 x M8x70\n"
NO_MORE = "no other holders\n"


def told(lines: str) -> Answer:
    gathered = read_typed(lines, typed_kind)
    return tally_joint(gathered.evidence, gathered.beside)


@pytest.mark.parametrize("tray", [TRAY, "", TRAY + "by Ann\n" + TRAY])
def test_a_size_that_is_nowhere_is_asked_for_however_many_went_round(tray: str) -> None:
    answer = told(LIST + ROUNDS + tray + NO_MORE)
    assert not answer.clear_to_part
    assert "M5x16" in answer.sentence or any("M5x16" in step.words for step in answer.next_steps)


@pytest.mark.parametrize("name", ["4 x M5x16", "4 X m5x16"])
def test_somebody_says_that_it_is_not_of_this_joint(name: str) -> None:
    answer = told(LIST + ROUNDS + TRAY + NO_MORE + f"by Ann\nholder {name}: not fitted\n")
    assert answer.clear_to_part
    assert any("not fitted" in holder.words for holder in answer.holders)


def test_found_in_at_a_further_place_it_holds() -> None:
    answer = told(LIST + ROUNDS + TRAY + NO_MORE + "by Ann\n10 in\n")
    assert not answer.clear_to_part
    assert "still in at place 10" in answer.sentence


def test_all_of_it_in_the_tray_needs_no_word() -> None:
    places = ROUNDS.replace("1-9", "1-13")
    answer = told(LIST + places + "tray 7 x M6x45, 2 x M8x70, 4 x M5x16\n" + NO_MORE)
    assert answer.clear_to_part
    assert not answer.holders

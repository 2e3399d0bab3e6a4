"""Ten typed lines, no manual."""

import pytest

from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind

WHOLE = """by Lea
7 x M6x45
2 x M8x70 far side     # from the paper list
end of list
by Ann
1-7 out, 8 light through, 9 far side open hole
went round
by Ben
tray 7 x M6x45
tray: 2 x M8x70
"""


def test_ten_typed_lines_can_show_it_free_and_say_what_was_not_read() -> None:
    gathered = read_typed(WHOLE, typed_kind)
    answer = tally_joint(gathered.evidence, gathered.beside)
    assert answer.verdict == "free"
    assert not answer.clear_to_part, "nobody has listed the other holders"
    assert "service manual" in answer.not_read


def test_a_place_not_seen_is_named() -> None:
    gathered = read_typed(WHOLE.replace("far side open hole", "far side not seen"), typed_kind)
    answer = tally_joint(gathered.evidence, gathered.beside)
    assert answer.sentence == "Do not pull: 1 of 9 places is not accounted for: place 9."
    assert next(place for place in gathered.evidence.places if place.label == "9").words == "far side"


def test_places_typed_without_going_round_are_glances() -> None:
    gathered = read_typed(WHOLE.replace("went round\n", ""), typed_kind)
    guided = {look.saw for look in gathered.evidence.looks if look.guided}
    assert guided == {"light through"}, "a light goes through on purpose, whoever looks"
    assert tally_joint(gathered.evidence, gathered.beside).verdict == "not shown"


def test_a_list_not_typed_to_its_end_claims_no_completeness() -> None:
    gathered = read_typed(WHOLE.replace("end of list\n", ""), typed_kind)
    assert gathered.evidence.lists == ()
    assert any("end of list" in step.words for step in gathered.beside.next_steps)


@pytest.mark.parametrize(
    "words", ["hello", "x M6", "9-1 out", "99999999999 x M6x45", "1-99999 out", "5 gaskets"]
)
def test_what_is_not_understood_is_named_by_its_line_and_nothing_is_guessed(words: str) -> None:
    gathered = read_typed(f"7 x M6x45\n{words}\n", typed_kind)
    (problem,) = [p for p in gathered.beside.problems if p.code == "LB-T07"]
    assert problem.where == f'line 2: "{words}"'
    assert len(gathered.evidence.lines) == 1
    assert gathered.evidence.places == ()


def test_a_holder_is_settled_only_with_how() -> None:
    gathered = read_typed("holder pump bracket\nholder shaft nut: off, in tin 2\n", typed_kind)
    assert [(h.name, h.sort, h.settled) for h in gathered.beside.holders] == [
        ("pump bracket", "bridging part", False),
        ("shaft nut", "shaft-end nut", True),
    ]

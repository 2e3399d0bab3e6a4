"""Next steps as people read them: joined, ordered, at most five."""

from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind
from lastbolt.tally.checks import Proposal
from lastbolt.tally.wording_steps import PAPERWORK, Ranked, in_order, joined_steps
from lastbolt.words.answer import Answer, HolderState, NextStep
from lastbolt.words.claims import Check


def ranked(sort: str, place: str, value: float, margin: int | None = None) -> Ranked:
    check = Check(f"{sort} {place}", 0.5, (), f"Place {place}: {sort}.")
    proposal = Proposal(check, sort, "open hole", place, deed=f"{sort} into {{}}", at=(place,))
    return Ranked(proposal, value, margin)


def told(lines: str) -> Answer:
    gathered = read_typed(lines, typed_kind)
    return tally_joint(gathered.evidence, gathered.beside)


def test_looks_of_like_worth_are_one_step_and_the_rod_at_the_same_places_is_left_out() -> None:
    steps = joined_steps(
        [ranked("look", p, 0.2, 1) for p in "125"] + [ranked("rod", p, 0.1) for p in "125"], {}
    )
    (step,) = steps
    assert step.words == "Places 1, 2 and 5: look into each."
    assert step.places == ("1", "2", "5")
    assert step.effort_min == 1.5


def test_a_look_worth_more_stands_alone_and_first() -> None:
    steps = joined_steps([ranked("look", "9", 0.5, 2), *(ranked("look", p, 0.2) for p in "12")], {"9": "9a"})
    assert [step.check for step in steps] == ["look 9", "look 1"]
    assert steps[0].margin_if_it_agrees == 2


SETTLE = "Settle the other holders: pump. Type only what somebody has looked at."


def test_at_most_five_paperwork_last_and_the_best_check_first() -> None:
    checks = tuple(NextStep(f"check {n}", 1.0, f"c{n}") for n in range(6))
    pump = HolderState("pump", "bridging part", "pump", settled=False, words="not checked")
    beside = (NextStep("type it", 0.2, PAPERWORK), NextStep("go round", 3.0))
    words = [step.words for step in in_order(checks, beside, [pump])]
    assert words == ["check 0", "go round", "check 1", SETTLE, "type it"]


def test_typed_lines_with_a_place_not_seen() -> None:
    answer = told("7 x M6x45\n2 x M8x70 far side\n1-7 out\n8 out\n9 not seen\ntray 7 x M6x45\n")
    words = [step.words for step in answer.next_steps]
    assert words[0].startswith("Place 9: look into it")
    # Nobody has gone round: a fastener at a place that nobody listed is as little excluded as one at place 9.
    assert answer.next_steps[0].not_alone
    assert words[1].startswith("Somebody goes round the joint place by place")
    assert "end of list" in words[-1]
    assert len(words) == 5
    (count,) = [w for w in words if "counts" in w and "M8x70" in w]
    assert count.endswith("(listed: 2).")
    glanced = [s for s in answer.suspicions if len(s.about) == 8]
    assert len(glanced) == 1
    assert "you say" in glanced[0].words
    assert "place 1" not in glanced[0].ways

"""Next steps as shown: looks at the same places once, whom it takes, what it would settle."""

import pytest
from msgspec.structs import replace

from lastbolt.app.next_shown import deed_words, next_shown, then_words, whom_words
from lastbolt.words.answer import ANSWER_SCHEMA, Answer, HolderState, NextStep, PlaceState
from lastbolt.words.joint import HolderSort

BEST = "best somebody who has not looked there yet"
PLACES = (
    PlaceState("p4", "4", "out", "", True, glanced=True),
    PlaceState("p9", "9", "out", "", True, seen_by=("Ana",)),
    PlaceState("p16", "16", "not seen", "", False),
)


def answered(*steps: NextStep, unused: tuple[str, ...] = ()) -> Answer:
    return Answer(ANSWER_SCHEMA, "j", "J", "held", "Do not pull.", False, "", steps, PLACES, unused=unused)


def look(places: str, *checks: str, margin: int | None = None, more: str = "") -> NextStep:
    words = f"{places}: look into {'each' if ' and ' in places else 'it'} from both sides; {BEST}.{more}"
    return NextStep(words, 1.0, checks[0], margin, also=checks[1:], to_type=(f"{places} open hole",))


def test_looks_at_the_same_places_are_one_step_in_the_order_of_the_places() -> None:
    first = look("Place 16", "look p16", more=" Not enough by itself: go on with the next steps.")
    goes_round = NextStep("Somebody goes round the joint.", 6.0, "round", 1)
    answer = answered(first, goes_round, look("Places 4 and 16", "look p4", "look p16", margin=1))
    steps = next_shown(answer)
    assert [deed_words(step, answer) for step in steps] == [
        "Places 4 and 16: look into each from both sides.",
        "Somebody goes round the joint.",
    ]
    assert (steps[0].check, steps[0].also) == ("look p16", ("look p4",))
    assert steps[0].to_type == ("Place 16 open hole", "Places 4 and 16 open hole")
    assert steps[0].margin_if_it_agrees == 1


def test_another_deed_is_another_step() -> None:
    rod = NextStep(f"Place 16: put a rod or a light through it; {BEST}.", 1.0, "rod p16")
    assert len(next_shown(answered(look("Place 16", "look p16"), rod))) == 2


def test_whether_another_person_is_wanted() -> None:
    def whom(places: str) -> str:
        step = look(places, "look p4")
        return whom_words(step, answered(step))

    assert whom("Place 16") == "Anybody can do it: nobody has looked there yet."
    assert whom("Places 4 and 9") == "Best another person than looked there before."
    assert whom("Places 4 and 16") == (
        "Place 4: best another person than looked there before. Place 16: anybody."
    )
    assert whom_words(NextStep("Settle the other holders: Bracket.", 1.0), answered()) == ""


def test_a_place_that_is_not_known_leaves_the_words_as_they_are() -> None:
    step = look("Place 77", "look p77")
    assert deed_words(step, answered(step)) == step.words


def test_what_a_check_would_settle() -> None:
    step = look("Place 16", "look p16", margin=1)
    assert "one more check is needed" in then_words(step, answered(step))
    step = look("Place 16", "look p16", margin=2)
    assert "no more fastener is in doubt" in then_words(step, answered(step))
    assert then_words(step, answered(step, unused=("line 3",))) == ""


@pytest.mark.parametrize("sort", ["fastener not counted", "bridging part"])
@pytest.mark.parametrize("margin", [1, 2])
def test_nothing_is_promised_while_another_holder_is_open(sort: HolderSort, margin: int) -> None:
    step = look("Place 16", "look p16", margin=margin)
    holder = HolderState("h", sort, "the bolt behind the pump", settled=False, words="not checked")
    answer = replace(answered(step), holders=(holder,))
    assert then_words(step, answer) == ""
    settled = replace(answer, holders=(replace(holder, settled=True),))
    assert then_words(step, settled) == then_words(step, answered(step)) != ""

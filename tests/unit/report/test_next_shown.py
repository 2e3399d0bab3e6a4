"""Next steps as shown: looks at the same places once, whom it takes, what it would settle."""

import pytest
from msgspec.structs import replace

from lastbolt.app.next_shown import next_shown, then_words, whom_words
from lastbolt.words.answer import ANSWER_SCHEMA, Answer, HolderState, NextStep, PlaceState
from lastbolt.words.joint import HolderSort
from lastbolt.words.place_runs import deed_at

LOOK = "look into {} from both sides"
PLACES = (
    PlaceState("p4", "4", "out", "", True, glanced=True),
    PlaceState("p9", "9", "out", "", True, seen_by=("Ana",)),
    PlaceState("p16", "16", "not seen", "", False),
)


def answered(*steps: NextStep, unused: tuple[str, ...] = ()) -> Answer:
    return Answer(ANSWER_SCHEMA, "j", "J", "held", "Do not pull.", False, "", steps, PLACES, unused=unused)


def look(*places: str, margin: int | None = None, deed: str = LOOK, not_alone: bool = False) -> NextStep:
    checks = [f"look p{place}" for place in places]
    return NextStep(
        deed_at(places, deed), 1.0, checks[0], margin, also=tuple(checks[1:]),
        to_type=(f"{', '.join(places)} open hole",),
        places=places, deed=deed, new_eyes=True, not_alone=not_alone,
    )  # fmt: skip


def test_looks_at_the_same_places_are_one_step_in_the_order_of_the_places() -> None:
    first = look("16", not_alone=True)
    goes_round = NextStep("Somebody goes round the joint.", 6.0, "round", 1)
    steps = next_shown(answered(first, goes_round, look("4", "16", margin=1)))
    assert [step.deed for step in steps] == [
        "Places 4 and 16: look into each from both sides.",
        "Somebody goes round the joint.",
    ]
    assert steps[0].to_type == ("16 open hole", "4, 16 open hole")
    assert steps[0].beside.startswith("Not enough by itself")
    assert "one more check is needed" in steps[0].beside


def test_the_only_step_points_to_no_others() -> None:
    (step,) = next_shown(answered(look("16", not_alone=True)))
    assert step.beside == "Anybody can do it: nobody has looked there yet."


def test_another_deed_is_another_step() -> None:
    rod = look("16", deed="put a rod or a light through {}")
    assert len(next_shown(answered(look("16"), rod))) == 2


def test_whether_another_person_is_wanted() -> None:
    def whom(*places: str) -> str:
        step = look(*places)
        return whom_words(step, answered(step))

    assert whom("16") == "Anybody can do it: nobody has looked there yet."
    assert whom("4", "9") == "Best another person than looked there before."
    assert whom("4", "16") == "Place 4: best another person than looked there before. Place 16: anybody."
    assert whom_words(NextStep("Settle the other holders: Bracket.", 1.0), answered()) == ""
    assert whom("77") == ""


def test_what_a_check_would_settle() -> None:
    step = look("16", margin=1)
    assert "one more check is needed" in then_words(step, answered(step))
    step = look("16", margin=2)
    assert "no more fastener is in doubt" in then_words(step, answered(step))
    assert then_words(step, answered(step, unused=("line 3",))) == ""


@pytest.mark.parametrize("sort", ["fastener not counted", "bridging part"])
@pytest.mark.parametrize("margin", [1, 2])
def test_nothing_is_promised_while_another_holder_is_open(sort: HolderSort, margin: int) -> None:
    step = look("16", margin=margin)
    holder = HolderState("h", sort, "the bolt behind the pump", settled=False, words="not checked")
    answer = replace(answered(step), holders=(holder,))
    assert then_words(step, answer) == ""
    settled = replace(answer, holders=(replace(holder, settled=True),))
    assert then_words(step, settled) == then_words(step, answered(step)) != ""

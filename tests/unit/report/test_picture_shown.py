"""What the picture says of each place: who has looked, where to look next, what the legend explains."""

from lastbolt.app.picture_shown import FOR_YEARS, SHAPE_WORDS, key_of, legend_of, named_next, picture_of
from lastbolt.words.answer import ANSWER_SCHEMA, Answer, NextStep, PlaceState
from lastbolt.words.joint import WALK_SCHEMA, End, JointPlace, Walk
from lastbolt.words.picture import SEEN_WORDS, Mark, Spot

LABELS = {"p1": "1", "p2": "2", "p3": "3A", "p9": "9"}


def walked(*names: str, side: str = "near") -> Walk:
    places = tuple(
        JointPlace(name, name[1:], (End("cover", "near" if side == "near" else "far", i, 0),))
        for i, name in enumerate(names)
    )
    return Walk(WALK_SCHEMA, "j", "Joint", places=places)


def answered(*states: PlaceState, steps: tuple[NextStep, ...] = ()) -> Answer:
    return Answer(ANSWER_SCHEMA, "j", "Joint", "held", "Do not pull.", False, next_steps=steps, places=states)


def one_spot(state: PlaceState) -> Spot:
    return picture_of(walked("p1"), answered(state)).spots[0]


def state(mark: Mark = "out", *, accounted: bool = True, seen_by: tuple[str, ...] = ()) -> PlaceState:
    return PlaceState("p1", "1", mark, "", accounted, seen_by=seen_by, glanced=True)


def test_one_person_and_two_and_a_glance() -> None:
    assert one_spot(state(accounted=False)).seen == "glance"
    assert one_spot(state(seen_by=("Ana",))).seen == "one"
    assert one_spot(state(seen_by=("Ana", "Bo"))).seen == "two"
    assert one_spot(PlaceState("p1", "1", "not seen", "", False)).seen == "nobody"


def test_a_fastener_still_in_needs_no_witness() -> None:
    assert one_spot(state("in", accounted=False, seen_by=("Ana", "Bo"))).seen == ""


def test_what_is_not_accounted_for_is_open_and_ringed() -> None:
    spot = one_spot(state(accounted=False))
    assert spot.open
    assert spot.look
    assert not one_spot(state(seen_by=("Ana",))).look


def test_without_an_answer_nobody_has_looked_anywhere() -> None:
    spot = picture_of(walked("p1"), None).spots[0]
    assert (spot.seen, spot.open, spot.look) == ("nobody", True, True)


def test_places_that_next_steps_name_are_ringed() -> None:
    steps = (NextStep("Places 1 and 9: look into each.", 1.0, places=("1", "9")),)
    picture = picture_of(
        walked("p1", "p9", "p2"),
        answered(*(PlaceState(p, p[1:], "out", "", True) for p in ("p1", "p9", "p2")), steps=steps),
    )
    assert [spot.look for spot in picture.spots] == [True, True, False]


def test_places_are_known_by_their_labels() -> None:
    steps = (NextStep("Look.", 1.0, places=("9", "3A")), NextStep("Settle pump.", 1.0, places=("77",)))
    assert named_next(steps, LABELS) == {"p9", "p3"}
    assert named_next((), LABELS) == frozenset()


def test_the_legend_holds_only_what_is_met() -> None:
    spots = (
        Spot("1", 0, 0, "out", seen="one"),
        Spot("2", 0, 0, "out", seen="glance", for_years=True),
        Spot("3", 0, 0, "not seen", seen="nobody"),
    )
    assert [words for _, words in legend_of(spots)] == [
        SEEN_WORDS["nobody"],
        SEEN_WORDS["glance"],
        SEEN_WORDS["one"],
        SHAPE_WORDS[FOR_YEARS],
    ]


def test_what_holds_stands_first_in_the_legend() -> None:
    spots = (Spot("1", 0, 0, "out", seen="two"), Spot("2", 0, 0, "broken"), Spot("3", 0, 0, "in"))
    assert [spot.mark for spot, _ in legend_of(spots)] == ["in", "broken", "out"]


def test_what_papers_call_out_and_nobody_saw_is_in_the_legend_as_not_looked_at() -> None:
    ((spot, words),) = legend_of((Spot("1", 0, 0, "out", seen="nobody"),))
    assert (spot.mark, words) == ("not seen", SEEN_WORDS["nobody"])


def test_the_key_speaks_of_what_is_met() -> None:
    safe = Spot("1", 0, 0, "out", seen="one")
    assert (
        key_of((safe,))
        == "White with a line below: somebody looked, and nothing is in. Seen from the near side."
    )
    assert "Black or half black: not safe." in key_of((safe, Spot("2", 0, 0, "in")))
    assert "Large ring" in key_of((Spot("2", 0, 0, "not seen", look=True),))

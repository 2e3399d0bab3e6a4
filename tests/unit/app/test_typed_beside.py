"""Typed lines beside documents: what was seen goes to the walked places by their labels."""

from lastbolt.app.gather import Gathered
from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind
from lastbolt.tally.wording import Beside
from lastbolt.words.answer import Answer, HolderState
from lastbolt.words.evidence import Evidence, EvidencePlace, Line, ListRead, Look, Printed, RoundMade
from lastbolt.words.quantity import Kind, exactly

M8 = Kind("bolt", "M8", 55)
PLACES = tuple(EvidencePlace(f"p{n}", n, M8) for n in ("1", "2", "3"))
LINE = Line(
    "case", M8, (Printed(exactly(3), "Parts list", "maker"),), "wholly", "step", words="figure 3, item 4"
)
PUMP = HolderState("h1", "bridging part", "Priming pump", False, "off?")
WALKED = Gathered(
    Evidence(
        "case",
        PLACES,
        (LINE,),
        (ListRead("Parts list", "maker"),),
        looks=tuple(Look("a7", p.id, "out", True, 5) for p in PLACES),
        rounds=(RoundMade("a7", 5),),
        people=(("a7", "Ann"),),
    ),
    Beside("case", holders=(PUMP,)),
)


def added(lines: str) -> Gathered:
    return read_typed(lines, typed_kind, onto=WALKED)


def told(lines: str) -> Answer:
    gathered = added(lines)
    return tally_joint(gathered.evidence, gathered.beside)


def test_a_count_and_a_settled_holder_typed_by_another_make_it_clear() -> None:
    assert not told("").clear_to_part
    answer = told("by Ben\ntray 3 x M8x55\nholder priming  pump: off\n")
    assert answer.clear_to_part
    assert answer.witnesses == ("Ann", "Ben")


def test_a_count_by_the_walker_under_the_same_name_is_no_second_witness() -> None:
    assert not told("by ann\ntray 3 x M8x55\nholder priming pump: off\n").clear_to_part


def test_what_is_seen_goes_to_the_walked_place_and_later_than_the_walk() -> None:
    (look,) = added("by Ben\n2 in\n").evidence.looks[3:]
    assert (look.place, look.saw, look.moment > 5) == ("p2", "in", True)
    assert told("by Ben\n2 in\n").sentence == "Do not pull: a fastener is still in at place 2."


def test_a_label_the_walk_does_not_have_is_one_more_place_and_named() -> None:
    gathered = added("by Ben\n9 not seen\n")
    assert [p.code for p in gathered.beside.problems] == ["LB-T03"]
    assert [place.id for place in gathered.evidence.places] == ["p1", "p2", "p3", "9"]


def test_a_row_of_a_list_is_not_counted_twice_and_keeps_it_from_clear() -> None:
    answer = told("by Ben\ntray 3 x M8x55\nholder priming pump: off\n3 x M8x55\n")
    assert not answer.clear_to_part
    assert "line 4 speaks of the list" in answer.sentence


def test_a_holder_of_another_name_settles_none_of_the_papers() -> None:
    answer = told("by Ben\ntray 3 x M8x55\nholder pump: off\n")
    assert [holder.settled for holder in answer.holders] == [False, True]


def test_a_round_needs_a_word_of_every_walked_place() -> None:
    assert len(added("by Ben\n1-3 open hole\nwent round\n").evidence.rounds) == 2
    assert len(added("by Ben\n1-2 open hole\nwent round\n").evidence.rounds) == 1

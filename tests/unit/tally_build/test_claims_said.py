"""Row by row of the claim table: what is claimed, and which causes may break it."""

import pytest
from msgspec.structs import replace

from lastbolt.tally.build import build_claims
from lastbolt.tally.solve import solve
from lastbolt.words.claims import Claim, ClaimSet
from lastbolt.words.evidence import (
    Act,
    Break,
    Evidence,
    EvidencePlace,
    Line,
    ListRead,
    Look,
    Printed,
    StepSaid,
    TrayCount,
)
from lastbolt.words.joint import Saw
from lastbolt.words.quantity import UNSAID, Kind, Quantity, exactly

M6 = Kind("screw", "M6", 45)
PLACE = EvidencePlace("7", "7", M6)
LINE = Line("m6", M6, (Printed(exactly(1), "list", "maker"),), "wholly", "list")
BARE = Evidence("joint", (PLACE,), (LINE,), people=(("A", "Ann"), ("B", "Ben")))


def of_kind(claims: ClaimSet, *kinds: str) -> list[Claim]:
    """The claims of these kinds."""
    return [claim for claim in claims.claims if claim.kind in kinds]


def cause_kinds(claims: ClaimSet, claim: Claim) -> set[str]:
    """The kinds of the causes of one claim."""
    kinds = {cause.id: cause.kind for cause in claims.causes}
    return {kinds[cause] for cause in claim.causes}


def costs(evidence: Evidence) -> tuple[int | None, int | None]:
    """F and G."""
    found = solve(build_claims(evidence))
    return found.free_cost, found.held_cost


@pytest.mark.parametrize(
    ("quantity", "relations"),
    [
        (exactly(4), [("=", 4)]),
        (Quantity("range", 3, 5), [(">=", 3), ("<=", 5)]),
        (Quantity("at least", 2), [(">=", 2)]),
        (Quantity("exactly", 2, 2, "side"), [(">=", 2)]),
        (Quantity("exactly", 2, 2, "each"), [(">=", 2)]),
        (Quantity("as required"), []),
        (Quantity("remaining", 2, 2), []),
        (UNSAID, []),
    ],
)
def test_a_printed_quantity_claims_no_more_than_it_says(
    quantity: Quantity, relations: list[tuple[str, int]]
) -> None:
    line = replace(LINE, printed=(Printed(quantity, "list", "maker"),))
    said = of_kind(build_claims(replace(BARE, lines=(line,))), "prints")
    assert [(claim.sense, claim.bound) for claim in said] == relations


def test_two_sources_of_one_lineage_share_a_cause_and_the_engine_is_shared_by_all_papers() -> None:
    printed = (Printed(exactly(1), "list", "maker"), Printed(exactly(1), "table", "maker"))
    step = StepSaid("s", "m6", M6, exactly(1), "manual", "maker", places=("7",))
    claims = build_claims(replace(BARE, lines=(replace(LINE, printed=printed),), steps=(step,)))
    papers = of_kind(claims, "prints", "removes")
    assert len(papers) == 3
    assert all({"misprint", "lineage", "engine"} <= cause_kinds(claims, claim) for claim in papers)
    assert len(set.intersection(*(set(claim.causes) for claim in papers))) == 2


def test_one_reading_of_one_page_is_one_cause_for_all_its_rows() -> None:
    other = replace(LINE, id="other", printed=(Printed(exactly(1), "list", "maker", "page 4"),))
    first = replace(LINE, printed=(Printed(exactly(1), "list", "maker", "page 4"),))
    claims = build_claims(replace(BARE, lines=(first, other)))
    assert all("misreading" in cause_kinds(claims, claim) for claim in of_kind(claims, "prints"))


def test_the_engine_file_replaces_the_papers_for_its_line() -> None:
    step = StepSaid("s", "m6", M6, exactly(1), "manual", "maker", places=("7",))
    line = replace(LINE, on_engine=0, on_engine_by="A")
    claims = build_claims(replace(BARE, lines=(line,), steps=(step,)))
    assert of_kind(claims, "prints", "removes") == []
    (said,) = of_kind(claims, "engine file")
    assert (said.sense, said.bound) == ("=", 0)
    assert cause_kinds(claims, said) == {"engine file wrong", "did not look"}


@pytest.mark.parametrize(
    ("saw", "relations", "broken"),
    [
        ("out", [("=", 0), (">=", 1)], True),
        ("open hole", [("=", 0)], True),
        ("hollow dowel, empty", [("=", 0)], True),
        ("light through", [("=", 0)], False),
        ("rod to the bottom", [("=", 0)], False),
        ("nothing here", [("=", 0)], True),
        ("solid dowel", [("=", 0)], True),
        ("solid dowel, both ends", [("=", 0)], False),
        ("in", [(">=", 1)], False),
        ("slack", [(">=", 1)], False),
        ("broken off", [(">=", 1)], False),
        ("hollow dowel, bolt in", [(">=", 1)], False),
        ("cannot see", [], False),
    ],
)
def test_what_each_answer_claims(saw: Saw, relations: list[tuple[str, int]], broken: bool) -> None:
    claims = build_claims(replace(BARE, looks=(Look("A", "7", saw, True, 1),)))
    said = of_kind(claims, "look", "look, gone")
    assert [(claim.sense, claim.bound) for claim in said] == relations
    for claim in said:
        own = "rod misread" if saw == "rod to the bottom" else "misjudged"
        assert {own, "did not look"} <= cause_kinds(claims, claim)
        assert ("broken" in cause_kinds(claims, claim)) == broken


@pytest.mark.parametrize(("saw", "cost"), [("out", 0), ("open hole", 0), ("in", 1), ("slack", 1)])
def test_a_glance_is_weak_only_for_what_it_did_not_see(saw: Saw, cost: int) -> None:
    claims = build_claims(replace(BARE, looks=(Look("A", "7", saw, False, 1),)))
    least = {cause.id: cause.cost for cause in claims.causes}
    assert min(least[cause] for cause in of_kind(claims, "look")[0].causes) == cost


def test_heads_alone_are_a_weak_count_and_some_trays_only_a_lower_bound() -> None:
    heads = TrayCount("A", M6, 3, 1, complete_pieces=False)
    claims = build_claims(replace(BARE, counts=(heads,)))
    assert "heads only" in cause_kinds(claims, of_kind(claims, "tray")[0])
    some = replace(heads, complete_pieces=True, all_trays=False)
    (said,) = of_kind(build_claims(replace(BARE, counts=(some,))), "tray")
    assert (said.sense, said.bound) == (">=", 3)


def test_a_count_becomes_a_bound_when_fasteners_came_out_or_went_in_afterwards() -> None:
    count = TrayCount("A", M6, 3, 5)
    more = Act("B", "7", "took out", 6, kind=M6)
    back = Act("B", "7", "put in", 6, kind=M6)
    for act, relations in ((more, [(">=", 3), ("<=", 4)]), (back, [(">=", 2), ("<=", 3)])):
        said = of_kind(build_claims(replace(BARE, counts=(count,), acts=(act,))), "tray")
        assert [(claim.sense, claim.bound) for claim in said] == relations
    before = replace(more, moment=4)
    (said,) = of_kind(build_claims(replace(BARE, counts=(count,), acts=(before,))), "tray")
    assert (said.sense, said.bound) == ("=", 3)


def test_a_look_is_retired_by_a_later_act_at_its_place_and_by_no_earlier_one() -> None:
    look = Look("A", "7", "out", True, 3)
    later = build_claims(replace(BARE, looks=(look,), acts=(Act("B", "7", "put in", 4),)))
    assert of_kind(later, "look", "look, gone") == []
    earlier = build_claims(replace(BARE, looks=(look,), acts=(Act("B", "7", "took out", 2),)))
    assert len(of_kind(earlier, "look", "look, gone")) == 2


def test_a_later_tick_retires_a_bolt_seen_in_but_not_a_hole_seen_open() -> None:
    tick = StepSaid("s", "m6", M6, exactly(1), "manual", "maker", ("7",), "done", "B", 4)
    for saw, left in (("in", 0), ("open hole", 1), ("broken off", 1)):
        looks = (Look("A", "7", saw, True, 3),)
        assert len(of_kind(build_claims(replace(BARE, looks=looks, steps=(tick,))), "look")) == left


def test_changed_since_covers_what_came_before_the_last_break_only() -> None:
    looks = (Look("A", "7", "open hole", True, 3), Look("B", "7", "open hole", True, 8))
    claims = build_claims(replace(BARE, looks=looks, breaks=(Break(2), Break(5))))
    first, second = of_kind(claims, "look")
    assert "changed since" in cause_kinds(claims, first)
    assert "changed since" not in cause_kinds(claims, second)


def test_studs_and_dowels_stay_out_and_a_stud_is_counted_as_its_nut() -> None:
    stud = Line("stud", Kind("stud", "M8", 60), (Printed(exactly(4), "list", "maker"),), "wholly")
    dowel = Line("dowel", Kind("dowel", "8", 16), (Printed(exactly(2), "list", "maker"),), "wholly")
    nuts = Line("nuts", Kind("nut", "M8"), (Printed(exactly(4), "list", "maker"),), "wholly")
    lines = (LINE, stud, nuts, dowel)
    claims = build_claims(replace(BARE, lines=lines, counts=(TrayCount("A", stud.kind, 4, 1),)))
    names = " ".join(unknown.id for unknown in claims.unknowns)
    assert ",stud]" not in names
    assert ",dowel]" not in names
    assert "nut M8" in names


def test_studs_whose_nuts_no_row_gives_stand_for_as_many_nuts() -> None:
    stud = Line("stud", Kind("stud", "M8", 60), (Printed(exactly(4), "list", "maker"),), "wholly")
    other = Line("nuts", Kind("nut", "M10"), (Printed(exactly(4), "list", "maker"),), "wholly")
    (mine,) = (
        claim
        for claim in of_kind(build_claims(replace(BARE, lines=(LINE, stud, other))), "prints")
        if claim.bound == 4 and all(name.endswith(",stud]") for name, _ in claim.terms)
    )
    assert {name.partition("[")[0] for name, _ in mine.terms} == {"in", "out"}
    no_thread = replace(stud, kind=Kind("stud"))
    names = " ".join(u.id for u in build_claims(replace(BARE, lines=(LINE, no_thread, other))).unknowns)
    assert ",stud]" not in names


def test_an_unknown_kind_matches_everything_so_a_count_bounds_it_only_from_below() -> None:
    odd = Line("odd", Kind(), (Printed(exactly(1), "list", "maker"),))
    claims = build_claims(replace(BARE, lines=(LINE, odd), counts=(TrayCount("A", M6, 2, 1),)))
    least, most = of_kind(claims, "tray")
    assert any("odd" in name for name, _ in least.terms)
    assert not any("odd" in name for name, _ in most.terms)


def test_two_steps_on_one_line_speak_each_of_its_own_places() -> None:
    line = replace(LINE, printed=(Printed(exactly(2), "list", "maker"),))
    steps = tuple(StepSaid(p, "m6", M6, exactly(1), "manual", "maker", places=(p,)) for p in ("7", "8"))
    said = of_kind(build_claims(replace(BARE, lines=(line,), steps=steps)), "removes")
    assert [{name for name, _ in claim.terms} for claim in said] == [
        {"in[7,m6]", "out[7,m6]"},
        {"in[8,m6]", "out[8,m6]"},
    ]


def test_a_step_that_names_no_line_and_no_place_claims_nothing() -> None:
    step = StepSaid("s", None, M6, exactly(6), "manual", "maker", state="done", by="A", moment=2)
    assert of_kind(build_claims(replace(BARE, steps=(step,))), "removes", "done", "not recorded") == []


# ---- attempts to make it say "free" ------------------------------------------------------------------


def test_a_place_nobody_looked_at_is_never_free_however_many_papers_agree() -> None:
    lists = tuple(ListRead(f"list {n}", f"maker {n}") for n in range(4))
    printed = tuple(Printed(exactly(0), f"list {n}", f"maker {n}") for n in range(4))
    counts = tuple(TrayCount(by, M6, 0, 1) for by in ("A", "B"))
    evidence = replace(BARE, lines=(replace(LINE, printed=printed),), lists=lists, counts=counts)
    assert (costs(evidence)[1] or 0) <= 1


def test_a_dowel_may_be_hollow_so_a_place_said_to_have_one_can_hold_a_bolt() -> None:
    dowel = EvidencePlace("18", "18", Kind("dowel", "8", 24))
    claims = build_claims(replace(BARE, places=(dowel,)))
    assert any(holder.startswith("in[18,") for holder in claims.holders)


def test_every_place_can_hold_something_whatever_kind_is_said_to_belong_there() -> None:
    kinds = [Kind("stud", "M8"), Kind("nut", "M10"), Kind("pin", "6"), Kind("clip"), Kind(), None]
    places = tuple(EvidencePlace(str(n), str(n), kind) for n, kind in enumerate(kinds))
    holders = build_claims(replace(BARE, places=places)).holders
    assert {name.split("[")[1].split(",")[0] for name in holders} >= {place.id for place in places}


def test_any_number_of_glances_by_any_number_of_people_clears_nothing() -> None:
    looks = tuple(Look(f"P{n}", "7", "out", False, n) for n in range(9))
    assert (costs(replace(BARE, lists=(ListRead("list", "maker"),), looks=looks))[1] or 0) <= 1


def test_a_lone_person_without_paper_reaches_one_at_most() -> None:
    looks = (Look("A", "7", "out", True, 1), Look("A", "7", "light through", True, 2))
    evidence = Evidence("joint", (PLACE,), looks=looks, counts=(TrayCount("A", M6, 1, 3),))
    assert costs(evidence)[1] == 0, "nobody went round, so an unlisted place costs nothing"


def test_a_shank_left_in_fools_three_lookers_as_one_mistake() -> None:
    looks = tuple(Look(by, "7", "out", True, 1) for by in ("A", "B", "C"))
    assert (costs(replace(BARE, looks=looks))[1] or 0) <= 1


def test_a_bolt_seen_in_by_two_and_then_taken_out_unrecorded_is_one_mistake() -> None:
    """F: what was seen in came out since; one event, two witnesses."""
    looks = tuple(Look(by, "7", "in", True, 1) for by in ("A", "B"))
    assert costs(replace(BARE, looks=looks))[0] == 1


def test_taken_out_unrecorded_after_a_count_is_one_mistake_for_the_count_and_for_who_saw_it_in() -> None:
    count = TrayCount("B", M6, 0, 2)
    evidence = replace(BARE, looks=(Look("A", "7", "in", True, 1),), counts=(count,))
    assert costs(evidence)[0] == 1


def test_a_whole_procedure_ticked_at_once_is_one_mistake() -> None:
    steps = tuple(
        StepSaid(p, "m6", M6, exactly(1), "manual", "maker", (p,), "done", "A", 4) for p in ("7", "8")
    )
    claims = build_claims(replace(BARE, steps=steps))
    first, second = of_kind(claims, "done")
    shared = set(first.causes) & set(second.causes)
    kinds = {cause.id: cause.kind for cause in claims.causes}
    assert {kinds[cause] for cause in shared} == {"ticked, not done", "did not look"}


def test_strange_ids_never_run_into_one_another() -> None:
    places = (EvidencePlace("a,b", "1"), EvidencePlace("a", "2"))
    lines = (Line("c", M6), Line("b,c", M6))
    claims = build_claims(Evidence("joint", places, lines))
    names = [unknown.id for unknown in claims.unknowns]
    assert len(names) == len(set(names))
    assert len({claim.id for claim in claims.claims}) == len(claims.claims)

"""Cases in which the simulated shop broke the law, cut down by hand, and what the builder must say of them.

In each of them no mistake at all was made.
"""

import pytest
from msgspec.structs import replace as with_fields

from lastbolt.tally.build import build_claims
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
from lastbolt.words.quantity import UNSAID, Kind, exactly
from law.judge import Engine, costs_of

SCREW = Kind("screw", "M5", 20.0)
LINE = Line("L1", SCREW, (Printed(exactly(2), "list A", "A"),), "wholly", "figure heading")


def costs(evidence: Evidence) -> tuple[int | None, int | None]:
    found = costs_of(build_claims(evidence))
    return found.free, found.held


def seen(by: str, place: str, saw: str, moment: int) -> Look:
    return Look(by, place, saw, True, moment)  # type: ignore[arg-type]


KNOWN_GAP = Evidence(
    "joint",
    (EvidencePlace("p1", "1"), EvidencePlace("p2", "2")),
    (with_fields(LINE, on_engine=1),),
    (ListRead("list A", "A"),),
    looks=tuple(seen(by, place, "out", 1) for by in ("ada", "bram") for place in ("p1", "p2")),
)


def test_a_gap_that_the_engine_file_knows_is_no_mistake_of_those_who_see_the_hole_empty() -> None:
    """List: 2; the engine's own file: 1. Two people see both holes empty, and so they are."""
    assert costs(KNOWN_GAP)[0] == 0


def test_where_the_file_names_the_gap_the_other_hole_must_have_had_its_fastener() -> None:
    """The engine's one fastener is out of place 2, as two people say; none is left for a third place."""
    first, second = KNOWN_GAP.places
    named = with_fields(KNOWN_GAP, places=(with_fields(first, never_there="missing for years"), second))
    assert costs(named)[0] == 0
    third = EvidencePlace("p3", "3")
    assert costs(with_fields(named, places=(*named.places, third)))[1] == 1
    assert costs(with_fields(KNOWN_GAP, places=(*KNOWN_GAP.places, third)))[1] == 0


@pytest.mark.parametrize("state", ["started", "done"])
def test_what_was_seen_in_may_have_come_out_under_a_step_that_was_only_started(state: str) -> None:
    step = StepSaid("S1", "L1", None, UNSAID, "manual", "M", state=state, by="dov", moment=2)  # type: ignore[arg-type]
    if state == "started":
        step = with_fields(step, by="", moment=0)
    looks = (seen("dov", "p1", "in", 1), seen("ada", "p1", "out", 3), seen("bram", "p1", "out", 4))
    evidence = Evidence("joint", (EvidencePlace("p1", "1"),), (LINE,), steps=(step,), looks=looks)
    assert costs(evidence)[0] == 0
    assert costs(with_fields(evidence, steps=(with_fields(step, state="not recorded", moment=0),)))[0] == 1


def test_a_shank_seen_broken_in_is_not_retired_by_a_step_that_was_only_started() -> None:
    step = StepSaid("S1", "L1", None, UNSAID, "manual", "M", state="started")
    evidence = Evidence(
        "joint",
        (EvidencePlace("p1", "1"),),
        (LINE,),
        steps=(step,),
        looks=(seen("dov", "p1", "broken off", 1),),
    )
    assert costs(evidence) == (1, 0)


def test_a_count_taken_before_a_step_is_no_upper_bound_after_it() -> None:
    """One screw out when the tray was counted; then the step, misprinted "1", took the other two out."""
    line = with_fields(LINE, printed=(Printed(exactly(3), "list A", "A"),))
    step = StepSaid("S1", "L1", None, exactly(1), "manual", "M", state="done", by="dov", moment=3)
    evidence = Evidence(
        "joint",
        tuple(EvidencePlace(f"p{n}", str(n), SCREW) for n in (1, 2, 3)),
        (line,),
        (ListRead("list A", "A"),),
        (step,),
        tuple(seen(by, f"p{n}", "out", 4) for by in ("ada", "bram") for n in (1, 2, 3)),
        counts=(TrayCount("ada", SCREW, 1, 2),),
    )
    assert costs(evidence)[0] == 0
    before = with_fields(evidence, counts=(TrayCount("ada", SCREW, 1, 5),))
    assert costs(before)[0] == 1


def test_a_kind_that_nobody_named_may_have_been_there() -> None:
    """Two screws taken out and counted, and out of a hole of no said kind a third piece: no M5 screw."""
    evidence = Evidence(
        "joint",
        (EvidencePlace("p1", "1", SCREW), EvidencePlace("p2", "2", SCREW), EvidencePlace("p3", "3")),
        (LINE,),
        acts=tuple(Act("dov", f"p{n}", "took out", n) for n in (1, 2, 3)),
        counts=(TrayCount("ada", SCREW, 2, 5),),
    )
    assert costs(evidence)[0] == 0
    named = (*evidence.places[:2], EvidencePlace("p3", "3", SCREW))
    assert costs(with_fields(evidence, places=named))[0] == 1


def test_what_went_at_a_break_went_unrecorded() -> None:
    """One event: somebody took it out during the break. Neither the look before nor the record knows."""
    step = StepSaid("S1", "L1", None, exactly(1), "manual", "M", ("p1",))
    evidence = Evidence(
        "joint",
        (EvidencePlace("p1", "1", SCREW), EvidencePlace("p2", "2", SCREW)),
        (LINE,),
        (ListRead("list A", "A"),),
        (step,),
        (seen("ada", "p1", "in", 1), seen("ada", "p2", "out", 1), seen("bram", "p1", "out", 5)),
        counts=(TrayCount("cleo", SCREW, 1, 2),),
        breaks=(Break(3),),
    )
    claims = build_claims(evidence)
    assert Engine(claims).explains(held=False, causes=frozenset({"changed since"}))
    assert not Engine(build_claims(with_fields(evidence, breaks=()))).explains(
        held=False, causes=frozenset({"taken out, not recorded:p1"})
    )

"""Certificates that rest on a search, and those whose conflicts share causes.

All numbers here were worked out on paper from docs/tally.md, "Certificate"; none comes from the solver.
"""

import pytest
from hand_certificates import (
    ONE_PLACE,
    ONE_PLACE_CERTIFICATE,
    ONE_PLACE_PROOF,
    SETTINGS,
    TWO_PLACES,
    TWO_PLACES_CERTIFICATE,
    stated,
    without,
)
from msgspec.structs import replace

from lastbolt.tally.checker import TOO_LARGE, reasons_not_verified
from lastbolt.words.claims import Cause, Certificate, Claim, ClaimSet, HolderProof, Settings, Unknown

# ---- certificates that rest on a search -------------------------------------------------------------------


def test_searches_itself_when_a_holder_has_no_proof() -> None:
    searched = replace(TWO_PLACES_CERTIFICATE, proofs=TWO_PLACES_CERTIFICATE.proofs[:1], exhaustive_up_to=2)
    assert reasons_not_verified(TWO_PLACES, SETTINGS, searched) == []
    weaker = without(without(TWO_PLACES, "B2"), "list")
    assert reasons_not_verified(weaker, SETTINGS, searched) == ["A2, tray would explain that something holds"]


def test_search_takes_causes_at_no_cost_as_having_happened() -> None:
    """Only a glance speaks against `in`: it may always be wrong, so nothing is needed for `in` to hold."""
    glanced = replace(ONE_PLACE, claims=ONE_PLACE.claims[3:])
    searched = Certificate(free_causes=(), free_state=(), proofs=(), exhaustive_up_to=1)
    reasons = reasons_not_verified(glanced, SETTINGS, searched)
    assert len(reasons) == 1
    assert "glance" in reasons[0]


def test_says_so_when_its_own_search_would_take_too_long() -> None:
    """Forty halves that must add up to a whole: bounds never see why `in` cannot be 1."""
    halves = [(f"u{number}", 2) for number in range(40)]
    large = ClaimSet(
        unknowns=(*(Unknown(name, 1) for name, _ in halves), Unknown("in", 1)),
        causes=(Cause("A", "odd"), Cause("B", "odd")),
        claims=(
            Claim("A", "odd", (*halves, ("in", 1)), "=", 40, ("A",)),
            Claim("B", "odd", (*halves, ("in", 3)), "=", 40, ("B",)),
        ),
        holders=("in",),
    )
    twenty = tuple((name, 1) for name, _ in halves[:20])
    searched = Certificate(free_causes=(), free_state=twenty, proofs=(), exhaustive_up_to=1)
    assert reasons_not_verified(large, SETTINGS, searched) == [TOO_LARGE]


# ---- conflicts that share causes --------------------------------------------------------------------------
# Two people; each two of three conflicts share one of them, and still no single mistake meets all three.

CROSSED = ClaimSet(
    unknowns=(Unknown("in", 1), Unknown("out", 1)),
    causes=tuple(Cause(name, name) for name in ("A", "B", "C")),
    claims=(
        stated("room", "in out", "<=", 1),
        stated("AB", "out", "=", 1, "A", "B"),
        stated("BC", "out", "=", 1, "B", "C"),
        stated("CA", "out", "=", 1, "C", "A"),
    ),
    holders=("in",),
)
CROSSED_PROOF = HolderProof(
    holders=("in",),
    conflicts=(("A", "B"), ("B", "C"), ("C", "A")),
    multipliers=tuple(
        (("claim:room", 1, 1), (f"claim:{pair}", -1, 1), ("held", -1, 1)) for pair in ("AB", "BC", "CA")
    ),
)
CROSSED_CERTIFICATE = Certificate(
    free_causes=(),
    free_state=(("out", 1),),
    proofs=(),
    exhaustive_up_to=1,
    crossing=(CROSSED_PROOF,),
)


def test_accepts_crossing_conflicts_that_no_single_mistake_meets() -> None:
    assert reasons_not_verified(CROSSED, SETTINGS, CROSSED_CERTIFICATE) == []


def test_refuses_crossing_conflicts_passed_off_as_disjoint() -> None:
    passed_off = replace(CROSSED_CERTIFICATE, proofs=(CROSSED_PROOF,), crossing=())
    assert "proof 1: cause 'B' is counted twice" in reasons_not_verified(CROSSED, SETTINGS, passed_off)


@pytest.mark.parametrize("dropped", range(3))
def test_refuses_crossing_conflicts_when_one_is_missing(dropped: int) -> None:
    keep = [number for number in range(3) if number != dropped]
    fewer = replace(
        CROSSED_PROOF,
        conflicts=tuple(CROSSED_PROOF.conflicts[number] for number in keep),
        multipliers=tuple(CROSSED_PROOF.multipliers[number] for number in keep),
    )
    reasons = reasons_not_verified(CROSSED, SETTINGS, replace(CROSSED_CERTIFICATE, crossing=(fewer,)))
    assert len(reasons) == 1
    assert "would meet every conflict" in reasons[0]


def test_refuses_crossing_conflicts_when_three_mistakes_are_wanted() -> None:
    assert any(
        "would meet every conflict" in reason
        for reason in reasons_not_verified(CROSSED, Settings(least_margin=3), CROSSED_CERTIFICATE)
    )


def test_refuses_a_holder_in_a_proof_and_in_a_crossing_one() -> None:
    twice = replace(ONE_PLACE_CERTIFICATE, crossing=(ONE_PLACE_PROOF,))
    assert reasons_not_verified(ONE_PLACE, SETTINGS, twice) == ["'in' stands in two proofs"]


def test_refuses_crossing_conflicts_that_do_not_add_up() -> None:
    forged = replace(
        CROSSED_PROOF, multipliers=(CROSSED_PROOF.multipliers[1], *CROSSED_PROOF.multipliers[1:])
    )
    reasons = reasons_not_verified(CROSSED, SETTINGS, replace(CROSSED_CERTIFICATE, crossing=(forged,)))
    assert len(reasons) == 1
    assert "may be broken by another cause" in reasons[0]


def test_refuses_a_cause_at_no_cost_in_a_crossing_conflict() -> None:
    free_of_charge = replace(CROSSED, causes=(*CROSSED.causes[:2], Cause("C", "C", cost=0)))
    reasons = reasons_not_verified(free_of_charge, SETTINGS, CROSSED_CERTIFICATE)
    assert any("'C' costs 0" in reason for reason in reasons)

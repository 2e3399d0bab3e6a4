"""The laws of the model's section 3, on claims drawn by chance, answered by visiting everything.

They are laws of the definition. `test_engine.py` holds the engine to the same answers.
"""

import pytest
from happened import happened, with_one_more_claim, with_one_more_place
from random_claims import any_claims

from brute.visit import verdict_of, visit
from lastbolt.words.claims import Settings

SEEDS = range(200)
ENDLESS = 10**9


def _endless_if_none(cost: int | None) -> int:
    return ENDLESS if cost is None else cost


def test_what_really_happened_is_itself_an_explanation() -> None:
    """Whatever holds: G <= k; whatever does not: F <= k; so a false `free` takes k >= m + F."""
    settings = Settings()
    sides = {True: 0, False: 0}
    for seed in SEEDS:
        case = happened(seed)
        truth = visit(case.claim_set)
        side = truth.held if case.held else truth.free
        assert side.cost is not None, seed
        assert side.cost <= case.mistakes, seed
        if case.held and verdict_of(truth.free.cost, truth.held.cost, settings) == "free":
            assert truth.free.cost is not None
            assert case.mistakes >= settings.least_margin + truth.free.cost, seed
        sides[case.held] += 1
    assert min(sides.values()) > 50


@pytest.mark.parametrize("own_cause", [True, False])
def test_one_more_claim_never_lowers_and_with_its_own_cause_raises_by_one_at_most(own_cause: bool) -> None:
    raised = 0
    for seed in SEEDS:
        claim_set = any_claims(seed)
        before, after = visit(claim_set), visit(with_one_more_claim(claim_set, seed, own_cause=own_cause))
        for old, new in ((before.free, after.free), (before.held, after.held)):
            low, high = _endless_if_none(old.cost), _endless_if_none(new.cost)
            assert low <= high, seed
            assert high <= low + 1 or not own_cause, seed
            raised += high > low
    assert raised > 20


def test_one_more_place_never_raises_and_may_lower_either_side() -> None:
    lowered = {"free": 0, "held": 0, "both": 0}
    for seed in SEEDS:
        claim_set = any_claims(seed)
        before, after = visit(claim_set), visit(with_one_more_place(claim_set, seed))
        free = _endless_if_none(before.free.cost) - _endless_if_none(after.free.cost)
        held = _endless_if_none(before.held.cost) - _endless_if_none(after.held.cost)
        assert free >= 0, seed
        assert held >= 0, seed
        lowered["free"] += free > 0
        lowered["held"] += held > 0
        lowered["both"] += free > 0 and held > 0
    assert all(lowered.values()), lowered

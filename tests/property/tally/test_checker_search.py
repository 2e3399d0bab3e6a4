"""The checker's own search against visiting everything, and both ways of visiting against each other."""

from random_claims import any_claims, joint_claims

from brute.visit import cheapest_by_causes, find_state, holds, is_true, visit
from lastbolt.tally.checker import TOO_LARGE, reasons_not_verified
from lastbolt.words.claims import Certificate, ClaimSet, Settings

SETTINGS = Settings(least_margin=2, most_mistakes=2)


def _searched_certificate(claim_set: ClaimSet) -> Certificate | None:
    """A certificate that rests on search alone, with the cheapest witness for free; None if there is none."""
    cheapest = cheapest_by_causes(claim_set, held=False, up_to=SETTINGS.most_mistakes)
    if cheapest is None:
        return None
    free_cost, paid = cheapest
    causes = paid | {cause.id for cause in claim_set.causes if cause.cost == 0}
    state = find_state(claim_set, causes, held=False)
    assert state is not None
    return Certificate(
        free_causes=tuple(causes),
        free_state=tuple(state.items()),
        proofs=(),
        exhaustive_up_to=SETTINGS.least_margin + free_cost - 1,
    )


def test_two_ways_of_visiting_agree() -> None:
    for seed in range(150):
        claim_set = any_claims(seed)
        truth = visit(claim_set)
        for side, held in ((truth.free, False), (truth.held, True)):
            found = cheapest_by_causes(claim_set, held=held, up_to=len(claim_set.causes))
            assert (None if found is None else found[0]) == side.cost, seed


def test_a_state_found_is_a_state_of_its_side() -> None:
    for seed in range(100):
        claim_set = any_claims(seed)
        for held in (False, True):
            state = find_state(claim_set, frozenset(), held=held)
            if state is not None:
                assert holds(claim_set, state) == held
                assert all(is_true(claim, state) for claim in claim_set.claims)


def test_search_verifies_just_what_visiting_confirms() -> None:
    verified = refused = 0
    for seed in range(300):
        claim_set = any_claims(seed)
        certificate = _searched_certificate(claim_set)
        if certificate is None:
            continue
        truth = visit(claim_set)
        assert truth.free.cost is not None
        cheap = truth.held.cost is not None and truth.held.cost < SETTINGS.least_margin + truth.free.cost
        assert bool(reasons_not_verified(claim_set, SETTINGS, certificate)) == cheap, seed
        verified, refused = verified + (not cheap), refused + cheap
    assert verified > 30
    assert refused > 30


def test_search_manages_joints_of_a_few_places() -> None:
    verified = 0
    for seed in range(0, 80, 2):
        claim_set = joint_claims(seed)
        certificate = _searched_certificate(claim_set)
        if certificate is None or certificate.exhaustive_up_to is None:
            continue
        cheap = cheapest_by_causes(claim_set, held=True, up_to=certificate.exhaustive_up_to)
        reasons = reasons_not_verified(claim_set, SETTINGS, certificate)
        assert reasons != [TOO_LARGE], seed
        assert bool(reasons) == (cheap is not None), seed
        verified += not reasons
    assert verified > 5

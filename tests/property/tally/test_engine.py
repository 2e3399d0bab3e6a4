"""The shipped engine against visiting everything: F, G, verdict, every smallest explanation, certificates."""

import pytest
from happened import happened, with_one_more_claim, with_one_more_place
from random_claims import any_claims, joint_claims

from brute.visit import cheapest_by_causes, find_state, verdict_of, visit
from lastbolt.tally.checker import reasons_not_verified
from lastbolt.tally.solve import solve
from lastbolt.words.claims import Account, ClaimSet, Explanation, Group, Settings

LISTS_WHOLE = Settings(groups=10_000, seconds=60)
EVERYDAY = range(150)
LONG = range(150, 10_000)
ENDLESS = 10**9


def _agrees(seed: int) -> str:
    """Hold the engine to everything that visiting finds; returns the verdict."""
    claim_set = any_claims(seed)
    truth = visit(claim_set)
    account = solve(claim_set, LISTS_WHOLE)
    expected = (truth.free.cost, truth.held.cost, verdict_of(truth.free.cost, truth.held.cost, LISTS_WHOLE))
    assert (account.free_cost, account.held_cost, account.verdict) == expected, seed
    if not account.list_cut:
        _lists_agree(claim_set, account.free, truth.free.minimal, held=False)
        _lists_agree(claim_set, account.held, truth.held.minimal, held=True)
    _is_certified(claim_set, account, LISTS_WHOLE)
    return account.verdict


def _lists_agree(
    claim_set: ClaimSet, groups: tuple[Group, ...], minimal: frozenset[frozenset[str]], *, held: bool
) -> None:
    """Groups name real explanations, in order, and together count and cover all of them, none twice."""
    firsts = [frozenset(group.first.causes) for group in groups]
    assert set(firsts) <= minimal
    assert len(set(firsts)) == len(firsts)
    assert sum(group.alike for group in groups) == len(minimal)
    for one in minimal:
        assert any(_could_stand_for(group, one) for group in groups), one
    costs = [group.first.cost for group in groups]
    assert costs == sorted(costs)
    for group in groups:
        _is_explanation(claim_set, group.first, held=held)


def _could_stand_for(group: Group, causes: frozenset[str]) -> bool:
    """Whether each cause of the group's first can be matched with one of these, none twice."""
    if len(causes) != len(group.first.causes):
        return False
    alike = group.causes_alike or tuple((cause,) for cause in group.first.causes)

    def match(left: frozenset[str], places: tuple[tuple[str, ...], ...]) -> bool:
        if not places:
            return not left
        return any(match(left - {cause}, places[1:]) for cause in places[0] if cause in left)

    return match(causes, alike)


def _is_explanation(claim_set: ClaimSet, explanation: Explanation, *, held: bool) -> None:
    costs = {cause.id: cause.cost for cause in claim_set.causes}
    assert explanation.cost == sum(costs[cause] for cause in explanation.causes)
    state = {u.id: 0 for u in claim_set.unknowns} | dict(explanation.state)
    fixed = claim_set.__class__(
        unknowns=tuple(type(u)(u.id, state[u.id], state[u.id]) for u in claim_set.unknowns),
        causes=claim_set.causes,
        claims=claim_set.claims,
        holders=claim_set.holders,
    )
    assert all(u.lower <= state[u.id] <= u.upper for u in claim_set.unknowns)
    assert find_state(fixed, frozenset(explanation.causes), held=held) is not None


def _is_certified(claim_set: ClaimSet, account: Account, settings: Settings) -> None:
    if account.verdict == "free":
        assert account.certificate is not None
        assert reasons_not_verified(claim_set, settings, account.certificate) == []
    else:
        assert account.certificate is None


def test_agrees_with_visiting() -> None:
    verdicts = [_agrees(seed) for seed in EVERYDAY]
    assert {verdict: verdicts.count(verdict) > 10 for verdict in verdicts} == {
        "free": True,
        "held": True,
        "not shown": True,
    }


@pytest.mark.long
def test_agrees_with_visiting_on_ten_thousand() -> None:
    for seed in LONG:
        _agrees(seed)


def _joint_agrees(seed: int) -> None:
    """Joints have too many causes to list all explanations by visiting: F and G up to 3, and certificates."""
    claim_set = joint_claims(seed)
    account = solve(claim_set, Settings(seconds=60))
    for held, cost in ((False, account.free_cost), (True, account.held_cost)):
        found = cheapest_by_causes(claim_set, held=held, up_to=3)
        if found is None:
            assert cost is None or cost > 3, seed
        else:
            assert cost == found[0], seed
    assert account.verdict == verdict_of(account.free_cost, account.held_cost, Settings()), seed
    _is_certified(claim_set, account, Settings())


def test_joints_agree_with_visiting() -> None:
    for seed in range(60):
        _joint_agrees(seed)


@pytest.mark.long
def test_many_joints_agree_with_visiting() -> None:
    for seed in range(60, 1500):
        _joint_agrees(seed)


def test_engine_keeps_the_law() -> None:
    """If something holds and k causes really happened, then G <= k; if nothing holds, F <= k."""
    for seed in range(80):
        case = happened(seed)
        account = solve(case.claim_set)
        cost = account.held_cost if case.held else account.free_cost
        assert cost is not None, seed
        assert cost <= case.mistakes, seed


def test_engine_moves_only_as_claims_and_places_allow() -> None:
    for seed in range(50):
        claim_set = any_claims(seed)
        before = _costs(claim_set)
        for old, new in zip(
            before, _costs(with_one_more_claim(claim_set, seed, own_cause=True)), strict=True
        ):
            assert old <= new <= old + 1, seed
        for old, new in zip(before, _costs(with_one_more_place(claim_set, seed)), strict=True):
            assert new <= old, seed


def _costs(claim_set: ClaimSet) -> list[int]:
    account = solve(claim_set)
    return [ENDLESS if cost is None else cost for cost in (account.free_cost, account.held_cost)]

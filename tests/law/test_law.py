"""The law: what really happened is itself an explanation. So G <= k when something holds and F <= k when
nothing does, where k counts the mistakes that the simulated shop made; and a false `free` takes k >= m + F.

Everyday 3,000 scenes, in the long profile 30,000. `pytest -s tests/law` prints how the scenes spread.
"""

from collections import Counter

import pytest

from brute.visit import cheapest_by_causes
from lastbolt.tally.build import build_claims
from lastbolt.tally.checker import reasons_not_verified
from lastbolt.tally.solve import solve
from lastbolt.words.claims import ClaimSet
from law.judge import SETTINGS, Costs, broken_law, costs_of, judged, told
from shop import ROOT_KINDS, law_cases

CHUNK = 250
EVERYDAY, LONG = range(12), range(1_000, 1_120)
WHOLE_EACH, WHOLE_EACH_LONG = 10, 4
"""Of so many scenes the engine finds F and G of one; else only where the mistakes made do not explain."""


def judge(seed: int, whole_each: int) -> None:
    """Judge one chunk of scenes and print how they spread."""
    seen, sizes, faults = Counter[str](), Counter[int](), []
    for number, scene in enumerate(law_cases(CHUNK, seed)):
        found = judged(scene, whole=number % whole_each == 0)
        seen["held"] += scene.truth.held
        seen["explained by the truth's own causes"] += found.by_truth
        seen["F and G not proved"] += found.costs is not None and not found.costs.proved
        seen.update({root.kind for root in scene.roots})
        sizes[len(scene.roots)] += 1
        if found.fault:
            faults.append(f"seed {seed} case {number}: {found.fault}")
    print(f"\n{CHUNK} scenes; mistakes {dict(sorted(sizes.items()))}; {dict(seen.most_common())}")
    assert faults == []
    assert seen["held"] == CHUNK / 2
    assert seen["explained by the truth's own causes"] >= 0.98 * CHUNK, "most of it would rest on the engine"
    assert seen["F and G not proved"] <= 0.01 * CHUNK, "what is not proved judges nothing"
    assert set(range(6)) <= set(sizes)
    assert min(seen[kind] for kind in ROOT_KINDS) >= 0.05 * CHUNK


@pytest.mark.parametrize("seed", EVERYDAY)
def test_the_least_cost_is_no_more_than_the_mistakes_made(seed: int) -> None:
    judge(seed, WHOLE_EACH)


@pytest.mark.long
@pytest.mark.parametrize("seed", LONG)
def test_the_least_cost_is_no_more_than_the_mistakes_made_long(seed: int) -> None:
    judge(seed, WHOLE_EACH_LONG)


@pytest.mark.parametrize("seed", range(50, 54))
def test_the_whole_answer_keeps_the_law_and_agrees_with_the_costs(seed: int) -> None:
    """`solve` itself: verdict, F and G, and the certificate of each `free` accepted by the second program."""
    for scene in law_cases(24, seed):
        claims = build_claims(scene.evidence)
        account = solve(claims, SETTINGS)
        costs = costs_of(claims)
        assert account.proved, scene.seed
        assert (account.free_cost, account.held_cost) == (costs.free, costs.held), scene.seed
        assert (account.verdict == "free") == costs.told_free(), scene.seed
        assert broken_law(scene, costs) == "", scene.seed
        if account.certificate is not None:
            assert reasons_not_verified(claims, SETTINGS, account.certificate) == []


# ---- the engine against visiting everything ----------------------------------------------------------


def brute_costs(claims: ClaimSet, up_to: int) -> tuple[int | None, int | None]:
    """F and G by trying every set of causes, smallest first, and every state; `None`: more than `up_to`."""
    free = cheapest_by_causes(claims, held=False, up_to=up_to)
    held = cheapest_by_causes(claims, held=True, up_to=up_to)
    return free[0] if free else None, held[0] if held else None


def within(costs: Costs, up_to: int) -> tuple[int | None, int | None]:
    """The same, of the engine's costs."""
    return tuple(c if c is not None and c <= up_to else None for c in (costs.free, costs.held))  # type: ignore[return-value]


def agrees_with_brute_force(scenes: int, seed: int, most_unknowns: int) -> int:
    """How many of these small scenes were small enough to visit; each must agree."""
    up_to, visited = 3, 0
    for scene in law_cases(scenes, seed, small=True):
        claims = build_claims(scene.evidence)
        if len(claims.unknowns) > most_unknowns:
            continue
        assert within(costs_of(claims), up_to) == brute_costs(claims, up_to), told(scene)
        visited += 1
    return visited


def test_brute_force_agrees_case_by_case() -> None:
    assert agrees_with_brute_force(120, seed=2, most_unknowns=26) >= 30


@pytest.mark.long
@pytest.mark.parametrize("seed", range(3, 11))
def test_brute_force_agrees_case_by_case_long(seed: int) -> None:
    assert agrees_with_brute_force(120, seed, most_unknowns=34) >= 50

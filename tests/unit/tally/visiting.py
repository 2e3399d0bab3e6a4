"""Explanations by visiting every state and every set of causes: slow, short, nothing of the engine in it."""

from itertools import chain, combinations, product

from lastbolt.words.claims import Claim, ClaimSet


def true_in(claim: Claim, state: dict[str, int]) -> bool:
    """Whether the claim's relation holds in the state."""
    total = sum(a * state[u] for u, a in claim.terms)
    return {"=": total == claim.bound, "<=": total <= claim.bound, ">=": total >= claim.bound}[claim.sense]


def explains(claims: ClaimSet, held: bool, chosen: frozenset[str]) -> bool:
    """Whether some state fits the side with only claims of the chosen causes broken."""
    return any(needs <= 0 for needs in _unexcused(claims, held, chosen))


def _unexcused(claims: ClaimSet, held: bool, chosen: frozenset[str]):
    for state in states(claims, held):
        yield sum(1 for c in claims.claims if not set(c.causes) & chosen and not true_in(c, state))


def states(claims: ClaimSet, held: bool):
    """Every state of one side."""
    names = [u.id for u in claims.unknowns]
    for values in product(*(range(u.lower, u.upper + 1) for u in claims.unknowns)):
        state = dict(zip(names, values, strict=True))
        h = sum(state[u] for u in set(claims.holders))
        if (h >= 1) if held else (h == 0):
            yield state


def minimal_explanations(claims: ClaimSet, held: bool) -> list[frozenset[str]]:
    """All subset-minimal sets of causes that explain the side."""
    causes = [c.id for c in claims.causes]
    broken = {
        frozenset(c.causes for c in claims.claims if not true_in(c, state)) for state in states(claims, held)
    }
    broken = {b for b in broken if all(b)}
    subsets = chain.from_iterable(combinations(causes, n) for n in range(len(causes) + 1))
    found: list[frozenset[str]] = []
    for subset in map(frozenset, subsets):
        if any(f <= subset for f in found):
            continue
        if any(all(subset & set(causes) for causes in need) for need in broken):
            found.append(subset)
    return found

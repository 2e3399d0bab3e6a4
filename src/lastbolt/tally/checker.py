"""A second, small program that checks a `free` verdict from the claims alone.

It believes nothing the solver says and shares no code with it. Whole numbers and fractions only. What a
certificate contains, and why it is enough, stands in docs/tally.md, "Certificate".
"""

from collections import Counter
from collections.abc import Iterable
from math import lcm

from lastbolt.tally.checker_search import TooLarge, cheap_way_to_hold, cheap_way_to_meet_all
from lastbolt.words.claims import Certificate, ClaimSet, HolderProof, Settings

TOO_LARGE = "not checked: too large for the checker's own search"

Row = tuple[tuple[tuple[str, int], ...], str, int]
"""Terms, sense, bound: as in a claim."""
Multipliers = tuple[tuple[str, int, int], ...]


def reasons_not_verified(claim_set: ClaimSet, settings: Settings, certificate: Certificate) -> list[str]:
    """Every reason why the certificate does not show `free`; an empty list means: verified."""
    costs = {cause.id: cause.cost for cause in claim_set.causes}
    if reasons := _faults_of(claim_set) or _witness(claim_set, certificate, costs):
        return reasons
    free_cost = sum(costs[cause] for cause in certificate.free_causes)
    if free_cost > settings.most_mistakes:
        reasons.append(f"{free_cost} mistakes are needed for free: more than {settings.most_mistakes}")
    needed = settings.least_margin + free_cost
    proofs = certificate.proofs + certificate.crossing
    rows = _Rows(claim_set)
    for number, proof in enumerate(proofs, start=1):
        faults = _proof(claim_set, rows, proof, costs)
        faults += (_crossing if number > len(certificate.proofs) else _disjoint)(proof, costs, needed)
        reasons += [f"proof {number}: {fault}" for fault in faults]
    named = Counter(holder for proof in proofs for holder in proof.holders)
    all_holders = Counter(claim_set.holders)
    reasons += [f"'{holder}' stands in two proofs" for holder in named if named[holder] > all_holders[holder]]
    left = tuple((all_holders - named).elements())
    if left:
        reasons += _searched(claim_set, certificate, left, needed - 1)
    elif all(() in proof.conflicts for proof in proofs):
        reasons.append("free would rest on claims without a cause alone")
    return reasons


def _faults_of(claim_set: ClaimSet) -> list[str]:
    """What makes the claim set itself unusable: a name twice, a name nobody explains, a cost below 0."""
    unknowns, causes, claims = (
        [one.id for one in these] for these in (claim_set.unknowns, claim_set.causes, claim_set.claims)
    )
    faults = [f"'{name}' stands twice" for ids in (unknowns, causes, claims) for name in _twice(ids)]
    faults += [f"cause '{cause.id}' costs less than 0" for cause in claim_set.causes if cause.cost < 0]
    used = {*claim_set.holders, *(unknown for claim in claim_set.claims for unknown, _ in claim.terms)}
    blamed = {cause for claim in claim_set.claims for cause in claim.causes}
    return faults + [f"no unknown or cause '{name}'" for name in (used - {*unknowns}) | (blamed - {*causes})]


def _twice(names: Iterable[str]) -> list[str]:
    return [name for name, times in Counter(names).items() if times > 1]


def _witness(claim_set: ClaimSet, certificate: Certificate, costs: dict[str, int]) -> list[str]:
    """Why the free state does not fit when only the free causes happened."""
    state = dict.fromkeys((unknown.id for unknown in claim_set.unknowns), 0)
    reasons = [f"free names no known cause '{name}'" for name in certificate.free_causes if name not in costs]
    given = [name for name, _ in certificate.free_state]
    reasons += [f"free state names no known unknown '{name}'" for name in given if name not in state]
    reasons += [f"'{name}' stands twice in free" for name in _twice(given) + _twice(certificate.free_causes)]
    state |= dict(certificate.free_state)
    for unknown in claim_set.unknowns:
        value = state[unknown.id]
        if type(value) is not int or not unknown.lower <= value <= unknown.upper:
            reasons.append(f"free state: '{unknown.id}' = {value!r} is not within its bounds")
    if reasons:
        return reasons
    if sum(state[holder] for holder in claim_set.holders) != 0:
        reasons.append("free state: something holds")
    for claim in claim_set.claims:
        left = sum(coefficient * state[name] for name, coefficient in claim.terms)
        true = {"=": left == claim.bound, "<=": left <= claim.bound, ">=": left >= claim.bound}[claim.sense]
        if not true and not set(claim.causes) & set(certificate.free_causes):
            reasons.append(f"free state: claim '{claim.id}' is broken and nothing excuses it")
    return reasons


def _searched(claim_set: ClaimSet, certificate: Certificate, left: tuple[str, ...], limit: int) -> list[str]:
    """Why a search does not show that the holders no proof names cost more than `limit`."""
    if certificate.exhaustive_up_to is None or certificate.exhaustive_up_to < limit:
        return [f"no proof for '{name}', and no search of {limit} mistakes" for name in left]
    try:
        found = cheap_way_to_hold(claim_set, left, limit)
    except TooLarge:
        return [TOO_LARGE]
    return [] if found is None else [f"{', '.join(found) or 'nothing'} would explain that something holds"]


def _proof(claim_set: ClaimSet, rows: "_Rows", proof: HolderProof, costs: dict[str, int]) -> list[str]:
    """Why some conflict of this proof is none."""
    strangers = [name for name in proof.holders if name not in claim_set.holders]
    strangers += [name for conflict in proof.conflicts for name in conflict if name not in costs]
    if strangers or not proof.holders:
        return [f"no holder or cause '{name}'" for name in strangers] or ["names no holder"]
    if len(proof.multipliers) != len(proof.conflicts):
        return ["not one list of multipliers for each conflict"]
    held: Row = (tuple((holder, 1) for holder in proof.holders), ">=", 1)
    reasons = []
    for conflict, multipliers in zip(proof.conflicts, proof.multipliers, strict=True):
        reasons += [f"cause '{name}' costs 0: nothing may rest on it" for name in conflict if costs[name] < 1]
        if reason := _adds_up(rows, held, set(conflict), multipliers):
            reasons.append(f"conflict {', '.join(conflict) or 'without causes'}: {reason}")
    return reasons


def _disjoint(proof: HolderProof, costs: dict[str, int], needed: int) -> list[str]:
    """Why conflicts that share no cause do not add up to `needed` mistakes."""
    reasons = [f"cause '{name}' is counted twice" for name in _twice(c for s in proof.conflicts for c in s)]
    shown = sum(min(costs.get(cause, 0) for cause in conflict) for conflict in proof.conflicts if conflict)
    if shown < needed and () not in proof.conflicts:
        reasons.append(f"shows {shown} independent mistakes; {needed} are needed")
    return reasons


def _crossing(proof: HolderProof, costs: dict[str, int], needed: int) -> list[str]:
    """Why conflicts that may share causes do not take `needed` mistakes to meet."""
    met = cheap_way_to_meet_all(proof.conflicts, costs, needed - 1)
    return [] if met is None else [f"{', '.join(met) or 'nothing'} would meet every conflict"]


def _adds_up(rows: "_Rows", held: Row, innocent: set[str], multipliers: Multipliers) -> str:
    """Why these multiples of rows do not add up to 0 <= something negative; empty when they do."""
    if twice := _twice(name for name, _, _ in multipliers):
        return f"row '{twice[0]}' is used twice"
    for name, numerator, denominator in multipliers:
        if type(numerator) is not int or type(denominator) is not int or denominator < 1:
            return f"row '{name}' has no fraction as its multiplier"
    # Times the least common denominator all is whole numbers, and signs and zeros stay what they are.
    scale = lcm(*(denominator for _, _, denominator in multipliers))
    left: dict[str, int] = {}
    right = 0
    for name, numerator, denominator in multipliers:
        row = held if name == "held" else rows.standing(name, innocent)
        if row is None:
            return f"row '{name}' does not exist or may be broken by another cause"
        terms, sense, bound = row
        if (sense == "<=" and numerator < 0) or (sense == ">=" and numerator > 0):
            return f"row '{name}' has a multiplier of the wrong sign"
        factor = numerator * (scale // denominator)
        right += factor * bound
        for unknown, coefficient in terms:
            left[unknown] = left.get(unknown, 0) + factor * coefficient
    if remaining := [unknown for unknown, total in left.items() if total != 0]:
        return f"'{remaining[0]}' does not cancel"
    return "" if right < 0 else "the rows add up without a contradiction"


class _Rows:
    """The claim set's rows by name."""

    def __init__(self, claim_set: ClaimSet) -> None:
        self._unknowns = {unknown.id: unknown for unknown in claim_set.unknowns}
        self._claims = {claim.id: claim for claim in claim_set.claims}

    def standing(self, name: str, innocent: set[str]) -> Row | None:
        """The row of that name if it stands while these causes are innocent."""
        sort, _, about = name.partition(":")
        if sort == "claim" and about in self._claims:
            claim = self._claims[about]
            return (claim.terms, claim.sense, claim.bound) if innocent.issuperset(claim.causes) else None
        if sort == "upper" and about in self._unknowns:
            return ((about, 1),), "<=", self._unknowns[about].upper
        if sort == "lower" and about in self._unknowns:
            return ((about, 1),), ">=", self._unknowns[about].lower
        return None

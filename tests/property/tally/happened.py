"""What really happened, by chance: a true state, causes that happened, claims wrong only through these."""

import random
from dataclasses import dataclass

from msgspec.structs import replace
from random_claims import any_claims

from brute.visit import cost_of, holds, is_true
from lastbolt.words.claims import Cause, Claim, ClaimSet, Unknown


@dataclass(frozen=True)
class Happened:
    """A claim set and the truth behind it."""

    claim_set: ClaimSet
    held: bool
    mistakes: int
    """Sum of the costs of the causes that happened."""


def happened(seed: int) -> Happened:
    """Draw claims, then a truth and its causes; a claim that is false without a cause is put right."""
    rng = random.Random(f"happened {seed}")
    drawn = any_claims(seed)
    state = {u.id: rng.randint(u.lower, u.upper) for u in drawn.unknowns}
    if rng.random() < 0.5:
        state |= dict.fromkeys(drawn.holders, 0)
    causes = frozenset(cause.id for cause in drawn.causes if rng.random() < rng.choice((0.1, 0.4)))
    claims = tuple(
        claim if causes & set(claim.causes) else _put_right(claim, state) for claim in drawn.claims
    )
    claim_set = replace(drawn, claims=claims)
    return Happened(claim_set, holds(claim_set, state), cost_of(claim_set, causes))


def _put_right(claim: Claim, state: dict[str, int]) -> Claim:
    if is_true(claim, state):
        return claim
    return replace(claim, bound=sum(coefficient * state[name] for name, coefficient in claim.terms))


def with_one_more_claim(claim_set: ClaimSet, seed: int, *, own_cause: bool) -> ClaimSet:
    """The same with a claim about known unknowns; its own cause costs 1, else known causes serve."""
    rng = random.Random(f"one more {seed}")
    chosen = rng.sample(claim_set.unknowns, rng.randint(1, len(claim_set.unknowns)))
    terms = tuple((unknown.id, rng.choice((1, 1, -1, 2))) for unknown in chosen)
    known = tuple(cause.id for cause in rng.sample(claim_set.causes, min(2, len(claim_set.causes))))
    blamed = (*known[:1], "its own") if own_cause else known
    claim = Claim("one more", "any", terms, rng.choice(("=", "<=", ">=")), rng.randint(-1, 3), blamed)
    causes = (*claim_set.causes, Cause("its own", "its own")) if own_cause else claim_set.causes
    return replace(claim_set, claims=(*claim_set.claims, claim), causes=causes)


def with_one_more_place(claim_set: ClaimSet, seed: int) -> ClaimSet:
    """The same with a further unknown, which may be 0 and which known claims may turn out to speak of."""
    rng = random.Random(f"place {seed}")
    claims = tuple(
        replace(claim, terms=(*claim.terms, ("new", rng.choice((1, 1, -1))))) if rng.random() < 0.6 else claim
        for claim in claim_set.claims
    )
    holders = (*claim_set.holders, "new") if rng.random() < 0.5 else claim_set.holders
    return replace(
        claim_set, unknowns=(*claim_set.unknowns, Unknown("new", 1)), claims=claims, holders=holders
    )

"""One thing at a time taken out of what the builder emits, and the scenes that must notice.

A mutant is: all claims of a kind dropped; one cause kind dropped from the claims of a kind; weak witnesses
made to cost 1. A scene notices if F, G or the list of smallest explanations (the kinds of their causes, and
how many of each) is no longer that of the claim table, which tests/brute writes a second time and never from
the builder. F and G alone are not enough: "ticked, not done" costs as much as "did not look", which excuses
all that it does and more, so without it only the list changes.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from msgspec.structs import replace

from brute.as_evidence import evidence_of
from brute.claim_table import Reading, Scene, claims_of
from lastbolt.tally.build import build_claims
from lastbolt.tally.solve import solve
from lastbolt.words.claims import ClaimSet, Group, Settings

Mutation = Callable[[ClaimSet], ClaimSet]
Listed = Counter[tuple[str, ...]]
LISTS_WHOLE = Settings(groups=300)
SAME_CAUSE = {"glance": "misjudged", "heads only": "miscount", "tray": "tray mixed"}
"""Kinds of cause that the builder names otherwise than the table."""


@dataclass(frozen=True)
class Outcome:
    """What is compared: F, G and the explanations of free and of held."""

    free_cost: int | None
    held_cost: int | None
    free: Listed
    held: Listed


def outcome(claim_set: ClaimSet) -> Outcome | None:
    """F, G and the lists; none when a limit cut a list."""
    account = solve(claim_set, LISTS_WHOLE)
    if account.list_cut:
        return None
    kinds = {cause.id: SAME_CAUSE.get(cause.kind, cause.kind) for cause in claim_set.causes}
    named = Counter(cause for claim in claim_set.claims for cause in claim.causes)
    # A lineage of one member is the same mistake as its misprint; the builder does not write it twice.
    lone = {c.id for c in claim_set.causes if c.kind == "lineage" and named[c.id] == 1}

    def listed(groups: tuple[Group, ...]) -> Listed:
        found: Listed = Counter()
        for group in groups:
            if lone.isdisjoint(group.first.causes):
                found[tuple(sorted(kinds[cause] for cause in group.first.causes))] += group.alike
        return found

    return Outcome(account.free_cost, account.held_cost, listed(account.free), listed(account.held))


class Told:
    """One scene as the builder claims it, and what the table says of it."""

    def __init__(self, name: str, scene: Scene) -> None:
        self.name = name
        self.scene = scene

    @cached_property
    def built(self) -> ClaimSet:
        """The claims that are mutated."""
        return build_claims(evidence_of(self.scene))

    @cached_property
    def expected(self) -> Outcome | None:
        """What the table says."""
        return outcome(claims_of(self.scene, Reading(builder_roots=True)))

    @cached_property
    def decisive(self) -> bool:
        """Whether builder and table agree as long as nothing is taken out."""
        return self.expected is not None and outcome(self.built) == self.expected

    def notices(self, mutate: Mutation) -> bool:
        """Whether the mutant's answer is not the table's."""
        changed = mutate(self.built)
        return changed != self.built and self.decisive and outcome(changed) != self.expected


def mutations(told: Iterable[Told]) -> Iterator[tuple[str, Mutation]]:
    """Every single thing that can be taken out of these claims, by name."""
    pairs: set[tuple[str, str]] = set()
    for one in told:
        kinds = {cause.id: cause.kind for cause in one.built.causes}
        for claim in one.built.claims:
            pairs |= {(claim.kind, "")} | {(claim.kind, kinds[cause]) for cause in claim.causes}
    for claim_kind, cause_kind in sorted(pairs):
        if cause_kind:
            yield f"'{claim_kind}' without '{cause_kind}'", _without_cause(claim_kind, cause_kind)
        else:
            yield f"no claims '{claim_kind}'", _without_claims(claim_kind)
    yield "weak witnesses cost 1", _nothing_is_weak


def killer(told: Iterable[Told], mutate: Mutation) -> Told | None:
    """The first scene that notices the mutant."""
    return next((one for one in told if one.notices(mutate)), None)


def _without_claims(kind: str) -> Mutation:
    return lambda c: replace(c, claims=tuple(claim for claim in c.claims if claim.kind != kind))


def _without_cause(claim_kind: str, cause_kind: str) -> Mutation:
    def change(claim_set: ClaimSet) -> ClaimSet:
        gone = {cause.id for cause in claim_set.causes if cause.kind == cause_kind}
        claims = tuple(
            replace(claim, causes=tuple(cause for cause in claim.causes if cause not in gone))
            if claim.kind == claim_kind
            else claim
            for claim in claim_set.claims
        )
        return replace(claim_set, claims=claims)

    return change


def _nothing_is_weak(claim_set: ClaimSet) -> ClaimSet:
    return replace(claim_set, causes=tuple(replace(cause, cost=1) for cause in claim_set.causes))

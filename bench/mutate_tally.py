"""Takes one thing at a time out of what the builder emits and asks whether the decisive tests notice.

    python bench/mutate_tally.py

A mutant is: all claims of a kind dropped; one cause kind dropped from the claims of a kind; all causes at no
cost made to cost 1. Decisive are the rows of the worked example and a fixed set of told joints, whose F and G
come from the claim table written a second time in tests/brute (never from the builder). A mutant lives if
every F and G stays as it should be. Exit status 1 if one lives.

Not every survivor is a gap: "ticked, not done" costs as much as "did not look", which excuses all that it
does and more, so without it no F or G can move, only the list of explanations.
"""

import sys
from collections.abc import Callable, Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "tests/property"), str(ROOT / "tests/property/tally")]

from msgspec.structs import replace  # noqa: E402
from random_claims import any_scene, told_scene  # noqa: E402
from section7 import ROWS  # noqa: E402

from brute.as_evidence import evidence_of  # noqa: E402
from brute.claim_table import Count, Line, Look, Reading, Row, Scene, Step, claims_of  # noqa: E402
from lastbolt.tally.build import build_claims  # noqa: E402
from lastbolt.tally.solve import solve  # noqa: E402
from lastbolt.words.claims import ClaimSet  # noqa: E402

Costs = tuple[int | None, int | None]
Mutation = Callable[[ClaimSet], ClaimSet]
TOLD = 60
TICKED_COUNTED_THEN_LEFT = Scene(
    places=("p1",),
    lines=(Line("l1", "M8x55"),),
    rows=(Row("list", "l1", 1, lineage="list"),),
    read_to_end=("list",),
    steps=(Step("s1", "l1", ("p1",), 1, "done", "C"),),
    looks=(Look("A", "p1", "out"),),
    rounds=("A", "D"),
    counts=(Count("B", "M8x55", 1),),
    breaks=True,
)
"""The bench was left after all was ticked and counted: one unrecorded act explains a bolt still in."""


def costs(claim_set: ClaimSet) -> Costs:
    """F and G."""
    account = solve(claim_set)
    return account.free_cost, account.held_cost


def scenes() -> list[Scene]:
    """The worked example and told joints."""
    return (
        [row.scene for row in ROWS]
        + [told_scene(n) for n in range(TOLD)]
        + [any_scene(n) for n in range(TOLD)]
    )


def mutations(claim_sets: list[ClaimSet]) -> Iterator[tuple[str, Mutation]]:
    """Every single thing that can be taken out of these claim sets, by name."""
    pairs = set()
    for claim_set in claim_sets:
        kinds = {cause.id: cause.kind for cause in claim_set.causes}
        for claim in claim_set.claims:
            pairs |= {(claim.kind, None)} | {(claim.kind, kinds[cause]) for cause in claim.causes}
    for claim_kind, cause_kind in sorted(pairs, key=str):
        if cause_kind is None:
            yield f"no claims '{claim_kind}'", _without_claims(claim_kind)
        else:
            yield f"'{claim_kind}' without '{cause_kind}'", _without_cause(claim_kind, cause_kind)
    yield "weak witnesses cost 1", _nothing_is_weak


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


def survivors(report: Callable[[str], None] = print) -> list[str]:
    """Mutants that no decisive scene notices."""
    told = scenes()
    built = [build_claims(evidence_of(scene)) for scene in told]
    expected = [costs(claims_of(scene, Reading(builder_roots=True))) for scene in told]
    wrong = [number for number, claim_set in enumerate(built) if costs(claim_set) != expected[number]]
    if wrong:
        report(f"not decisive, builder and table differ unmutated: scenes {wrong}")
    sound = [number for number in range(len(told)) if number not in wrong]
    alive = []
    for name, mutate in mutations(built):
        changed = ((number, mutate(built[number])) for number in sound)
        killer = next((n for n, c in changed if c != built[n] and costs(c) != expected[n]), None)
        report(f"{'LIVES' if killer is None else 'killed by scene ' + str(killer):22} {name}")
        if killer is None:
            alive.append(name)
    return alive


if __name__ == "__main__":
    sys.exit(1 if survivors() else 0)

"""The checker accepts three certificates added up by hand and refuses every forgery of them.

All numbers here were worked out on paper from docs/tally.md, "Certificate"; none comes from the solver.
"""

from collections.abc import Callable

import pytest
from hand_certificates import (
    NO_PLACE,
    NO_PLACE_CERTIFICATE,
    ONE_PLACE,
    ONE_PLACE_CERTIFICATE,
    SETTINGS,
    SOUND,
    TWO_PLACES,
    TWO_PLACES_CERTIFICATE,
    stated,
    without,
)
from msgspec.structs import replace

from lastbolt.tally.checker import reasons_not_verified
from lastbolt.words.claims import Cause, Certificate, HolderProof, Settings, Unknown


@pytest.mark.parametrize("name", SOUND)
def test_accepts_what_was_added_up_by_hand(name: str) -> None:
    claim_set, certificate = SOUND[name]
    assert reasons_not_verified(claim_set, SETTINGS, certificate) == []


# ---- forgeries --------------------------------------------------------------------------------------------

Forgery = Callable[[Certificate], Certificate]


def _first(change: Callable[[HolderProof], HolderProof]) -> Forgery:
    return lambda certificate: replace(
        certificate, proofs=(change(certificate.proofs[0]), *certificate.proofs[1:])
    )


def _row(index: int, *rows: tuple[str, int, int]) -> Forgery:
    """Replace the multipliers of one conflict of the first proof."""

    def change(proof: HolderProof) -> HolderProof:
        multipliers = list(proof.multipliers)
        multipliers[index] = rows
        return replace(proof, multipliers=tuple(multipliers))

    return _first(change)


def _dropped(proof: HolderProof) -> HolderProof:
    return replace(proof, conflicts=proof.conflicts[:-1], multipliers=proof.multipliers[:-1])


def _repeated(proof: HolderProof) -> HolderProof:
    """The first conflict once more in the place of the last: the count stays, the sets overlap."""
    return replace(
        proof,
        conflicts=(*proof.conflicts[:-1], proof.conflicts[0]),
        multipliers=(*proof.multipliers[:-1], proof.multipliers[0]),
    )


ROOM, TRAY, HELD = ("claim:room", 1, 1), ("claim:tray", -1, 1), ("held", -1, 1)
LOOK = ("claim:look", -1, 1)

FORGERIES: dict[str, tuple[str, Forgery, str]] = {
    "a conflict dropped": ("one place", _first(_dropped), "1 independent mistakes; 2 are needed"),
    "one of three dropped": ("two places", _first(_dropped), "2 independent mistakes; 3 are needed"),
    "all dropped": (
        "one place",
        _first(lambda p: replace(p, conflicts=(), multipliers=())),
        "0 independent mistakes",
    ),
    "conflicts overlap": ("one place", _first(_repeated), "'miscount' is counted twice"),
    "conflicts overlap in part": (
        "no place",
        _first(lambda p: replace(p, conflicts=(("missed", "person"), ("left out", "person")))),
        "'person' is counted twice",
    ),
    "a cause named twice in one conflict": (
        "one place",
        _first(lambda p: replace(p, conflicts=(("miscount", "miscount"), ("misjudged",)))),
        "'miscount' is counted twice",
    ),
    "multiplier too small": ("one place", _row(0, ROOM, TRAY, ("held", -1, 2)), "'in' does not cancel"),
    "multiplier of 0": ("one place", _row(0, ("claim:room", 0, 1), TRAY, HELD), "does not cancel"),
    "all multipliers 0": ("one place", _row(0, ("held", 0, 1)), "without a contradiction"),
    "no multipliers": ("one place", _row(0), "without a contradiction"),
    "adds up to 0 <= 0": (
        "one place",
        _row(0, ("claim:tray", 1, 1), ("claim:tray ", -1, 1)),
        "row 'claim:tray ' does not exist",
    ),
    "true but no contradiction": (
        "one place",
        _row(0, ("upper:in", 1, 1), ("lower:in", -1, 1)),
        "without a contradiction",
    ),
    "<= row turned round": (
        "one place",
        _row(0, ("claim:room", -1, 1), ("claim:tray", 1, 1), ("held", -1, 1)),
        "wrong sign",
    ),
    ">= row turned round": (
        "two places",
        _row(1, ("claim:room1", 1, 1), ("claim:B1", 1, 1), ("held", -1, 1)),
        "wrong sign",
    ),
    "held turned round": ("one place", _row(0, ROOM, TRAY, ("held", 1, 1)), "wrong sign"),
    "upper turned round": (
        "one place",
        _row(0, ("upper:in", -1, 1), ("held", -1, 1)),
        "wrong sign",
    ),
    "lower turned round": ("one place", _row(0, ("lower:in", 1, 1), ("held", -1, 1)), "wrong sign"),
    "negative denominator": ("one place", _row(0, ("claim:room", -1, -1), TRAY, HELD), "no fraction"),
    "denominator 0": ("one place", _row(0, ("claim:room", 1, 0), TRAY, HELD), "no fraction"),
    "multiplier not whole": (
        "one place",
        _row(0, ("claim:room", 1.5, 1), TRAY, HELD),  # type: ignore[arg-type]
        "no fraction",
    ),
    "row used twice": (
        "one place",
        _row(0, ("claim:room", 1, 2), ("claim:room", 1, 2), TRAY, HELD),
        "used twice",
    ),
    "claim of another cause used": ("one place", _row(0, ROOM, LOOK, HELD), "may be broken by another cause"),
    "claim used though one of its two causes is not in the conflict": (
        "no place",
        _first(lambda p: replace(p, conflicts=(("missed",), ("left out",)))),
        "may be broken by another cause",
    ),
    "unknown claim": ("one place", _row(0, ROOM, ("claim:nobody", -1, 1), HELD), "does not exist"),
    "unknown bound": ("one place", _row(0, ROOM, TRAY, ("upper:nobody", 0, 1), HELD), "does not exist"),
    "unknown kind of row": ("one place", _row(0, ROOM, TRAY, ("because:in", -1, 1)), "does not exist"),
    "multipliers missing": (
        "one place",
        _first(lambda p: replace(p, multipliers=p.multipliers[:1])),
        "not one list of multipliers",
    ),
    "zero-cost cause in a conflict": (
        "one place",
        _first(
            lambda p: replace(
                p,
                conflicts=(*p.conflicts[:1], ("glance",)),
                multipliers=(*p.multipliers[:1], (("claim:glanced", 1, 1), HELD)),
            )
        ),
        "'glance' costs 0",
    ),
    "unknown cause in a conflict": (
        "one place",
        _first(lambda p: replace(p, conflicts=(("miscount",), ("misjudged", "nobody")))),
        "no holder or cause 'nobody'",
    ),
    "unknown holder": ("one place", _first(lambda p: replace(p, holders=("nobody",))), "'nobody'"),
    "a proof for something that is no holder": (
        "one place",
        _first(lambda p: replace(p, holders=("out",))),
        "no holder or cause 'out'",
    ),
    "a holder slipped into a proof": (
        "two places",
        lambda c: replace(c, proofs=(replace(c.proofs[0], holders=("in1", "in2")),)),
        "does not cancel",
    ),
    "a proof without holders": (
        "one place",
        lambda c: replace(c, proofs=(*c.proofs, replace(c.proofs[0], holders=()))),
        "names no holder",
    ),
    "holder in two proofs": (
        "one place",
        lambda c: replace(c, proofs=(c.proofs[0], c.proofs[0])),
        "'in' stands in two proofs",
    ),
    "holder twice in one proof": (
        "one place",
        _first(
            lambda p: replace(
                p,
                holders=("in", "in"),
                multipliers=tuple((*((n, a * 2, b) for n, a, b in m[:-1]), m[-1]) for m in p.multipliers),
            )
        ),
        "'in' stands in two proofs",
    ),
    "missing holder": (
        "two places",
        lambda c: replace(c, proofs=c.proofs[:1]),
        "no proof for 'in2', and no search of 2 mistakes",
    ),
    "no proofs": ("one place", lambda c: replace(c, proofs=()), "no proof for 'in'"),
    "missing holder, too short a search": (
        "two places",
        lambda c: replace(c, proofs=c.proofs[:1], exhaustive_up_to=1),
        "no search of 2 mistakes",
    ),
    "witness: something holds": (
        "one place",
        lambda c: replace(c, free_state=(("in", 1),)),
        "something holds",
    ),
    "witness: a claim broken": ("one place", lambda c: replace(c, free_state=()), "claim 'tray' is broken"),
    "witness: cause left out": (
        "two places",
        lambda c: replace(c, free_causes=()),
        "claim 'list' is broken and nothing excuses it",
    ),
    "witness: wrong cause": (
        "two places",
        lambda c: replace(c, free_causes=("tray",)),
        "claim 'list' is broken",
    ),
    "witness: above its bound": (
        "no place",
        lambda c: replace(c, free_state=(("spare", 3),)),
        "not within its bounds",
    ),
    "witness: below its bound": (
        "no place",
        lambda c: replace(c, free_state=(("x", 1), ("y", -1))),
        "not within its bounds",
    ),
    "witness: half a piece": (
        "one place",
        lambda c: replace(c, free_state=(("out", 0.5),)),  # type: ignore[arg-type]
        "not within its bounds",
    ),
    "witness: unknown unknown": (
        "one place",
        lambda c: replace(c, free_state=(*c.free_state, ("nobody", 1))),
        "no known unknown 'nobody'",
    ),
    "witness: unknown cause": (
        "one place",
        lambda c: replace(c, free_causes=("nobody",)),
        "no known cause 'nobody'",
    ),
    "witness: unknown given twice": (
        "one place",
        lambda c: replace(c, free_state=(("out", 0), ("out", 1))),
        "'out' stands twice",
    ),
    "witness: cause given twice": (
        "two places",
        lambda c: replace(c, free_causes=("misprint", "misprint")),
        "'misprint' stands twice",
    ),
    "a dearer free than its conflicts can bear": (
        "one place",
        lambda c: replace(c, free_causes=("misjudged",)),
        "2 independent mistakes; 3 are needed",
    ),
}


@pytest.mark.parametrize("forgery", FORGERIES)
def test_refuses_forgeries(forgery: str) -> None:
    name, forge, reason = FORGERIES[forgery]
    claim_set, certificate = SOUND[name]
    forged = forge(certificate)
    assert forged != certificate
    reasons = reasons_not_verified(claim_set, SETTINGS, forged)
    assert any(reason in said for said in reasons), reasons


@pytest.mark.parametrize("name", SOUND)
def test_refuses_a_certificate_when_a_claim_it_uses_is_withdrawn(name: str) -> None:
    claim_set, certificate = SOUND[name]
    rows = {row for proof in certificate.proofs for added in proof.multipliers for row, _, _ in added}
    used = [row.removeprefix("claim:") for row in rows if row.startswith("claim:")]
    assert len(used) >= 3
    for claim in used:
        assert reasons_not_verified(without(claim_set, claim), SETTINGS, certificate), claim


@pytest.mark.parametrize("name", SOUND)
def test_refuses_a_certificate_when_a_used_claim_has_one_more_cause(name: str) -> None:
    """A second way to be wrong, common to all claims: then one mistake may break every conflict."""
    claim_set, certificate = SOUND[name]
    shared = replace(
        claim_set,
        causes=(*claim_set.causes, Cause("engine", "engine")),
        claims=tuple(replace(c, causes=(*c.causes, "engine")) if c.causes else c for c in claim_set.claims),
    )
    assert reasons_not_verified(shared, SETTINGS, certificate)


def test_settings_decide_what_is_enough() -> None:
    assert reasons_not_verified(ONE_PLACE, Settings(least_margin=3), ONE_PLACE_CERTIFICATE) == [
        "proof 1: shows 2 independent mistakes; 3 are needed"
    ]
    assert reasons_not_verified(TWO_PLACES, Settings(most_mistakes=0), TWO_PLACES_CERTIFICATE) == [
        "1 mistakes are needed for free: more than 0"
    ]


def test_nothing_is_verified_on_claims_that_cannot_be_wrong_alone() -> None:
    certain = replace(NO_PLACE, holders=("z",))
    certificate = replace(NO_PLACE_CERTIFICATE, proofs=NO_PLACE_CERTIFICATE.proofs[1:])
    assert reasons_not_verified(certain, SETTINGS, certificate) == [
        "free would rest on claims without a cause alone"
    ]


def test_nothing_is_verified_when_no_holder_is_named() -> None:
    nobody = replace(ONE_PLACE, holders=())
    assert reasons_not_verified(nobody, SETTINGS, replace(ONE_PLACE_CERTIFICATE, proofs=()))


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"unknowns": (*ONE_PLACE.unknowns, Unknown("in", 0))}, "'in' stands twice"),
        ({"causes": (*ONE_PLACE.causes, Cause("miscount", "again"))}, "'miscount' stands twice"),
        ({"claims": (*ONE_PLACE.claims, stated("room", "in", "=", 0))}, "'room' stands twice"),
        (
            {"causes": (*ONE_PLACE.causes, Cause("bribe", "bribe", cost=-1))},
            "cause 'bribe' costs less than 0",
        ),
        ({"claims": (*ONE_PLACE.claims, stated("x", "ghost", "=", 0))}, "no unknown or cause 'ghost'"),
        ({"claims": (*ONE_PLACE.claims, stated("x", "in", "=", 0, "ghost"))}, "no unknown or cause 'ghost'"),
        ({"holders": ("in", "ghost")}, "no unknown or cause 'ghost'"),
    ],
)
def test_refuses_a_claim_set_that_is_not_in_order(change: dict[str, tuple[object, ...]], fault: str) -> None:
    assert reasons_not_verified(replace(ONE_PLACE, **change), SETTINGS, ONE_PLACE_CERTIFICATE) == [fault]

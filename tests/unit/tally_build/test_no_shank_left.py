"""What shows that no shank is left in a hole: a rod to its bottom, a light, both ends of a dowel."""

import pytest
from msgspec.structs import replace

from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind
from lastbolt.tally.build import build_claims
from lastbolt.tally.checker import reasons_not_verified
from lastbolt.tally.checks import propose_checks
from lastbolt.tally.solve import solve
from lastbolt.words.answer import Answer
from lastbolt.words.claims import Settings
from lastbolt.words.evidence import Break, Evidence, EvidencePlace, Look, RoundMade
from lastbolt.words.joint import Saw
from lastbolt.words.quantity import Kind

PLACE = EvidencePlace("7", "7", Kind("screw", "M6", 45))
BARE = Evidence("joint", (PLACE,), people=(("A", "Ann"), ("B", "Ben"), ("C", "Cy")))
BOTTOM: Saw = "rod to the bottom"
ENDS: Saw = "solid dowel, both ends"


def looks(*said: tuple[str, Saw]) -> Evidence:
    found = tuple(Look(by, "7", saw, True, number) for number, (by, saw) in enumerate(said, start=1))
    return replace(BARE, looks=found)


def held_here(evidence: Evidence) -> int | None:
    """The fewest mistakes with which something is in at place 7; what may be at `*` is left aside."""
    claims = build_claims(evidence)
    here = tuple(name for name in claims.holders if name.startswith("in[7,"))
    return solve(replace(claims, holders=here)).held_cost


def test_two_looks_are_fooled_by_one_broken_shank_and_a_rod_or_both_ends_are_not() -> None:
    assert held_here(looks(("A", "open hole"), ("B", "open hole"))) == 1
    for saw in (BOTTOM, ENDS, "light through"):
        assert held_here(looks(("A", "open hole"), ("B", saw))) == 2


def test_two_rods_share_the_depth_that_was_taken_for_the_bottom() -> None:
    assert held_here(looks(("A", BOTTOM), ("B", BOTTOM))) == 1
    assert held_here(looks(("A", "light through"), ("B", "light through"))) == 2
    assert held_here(looks(("A", ENDS), ("B", ENDS))) == 2


def test_a_rod_is_read_apart_from_the_look_of_the_same_person_but_is_that_persons_word() -> None:
    said = looks(("A", "open hole"), ("B", BOTTOM), ("B", "open hole"))
    claims = build_claims(said)
    kinds = {cause.id: cause.kind for cause in claims.causes}
    rod = next(claim for claim in claims.claims if BOTTOM in claim.words)
    assert {kinds[cause] for cause in rod.causes} == {"rod misread", "depth", "did not look"}
    assert held_here(looks(("A", "open hole"), ("A", BOTTOM))) == 1


def test_a_change_during_a_break_explains_both() -> None:
    said = replace(looks(("A", BOTTOM), ("B", ENDS)), breaks=(Break(9),))
    assert held_here(said) == 1


def test_a_dowel_seen_at_both_ends_leaves_room_for_nothing() -> None:
    claims = build_claims(looks(("A", ENDS)))
    (claim,) = (claim for claim in claims.claims if claim.kind == "look")
    assert (claim.sense, claim.bound) == ("=", 0)
    assert {name.partition("[")[0] for name, _ in claim.terms} == {"in", "out"}


@pytest.mark.parametrize(
    ("place", "saw", "check"),
    [
        (replace(PLACE, blind=True), "open hole", "depth 7"),
        (PLACE, "open hole", "rod 7"),
        (replace(PLACE, blind=True), "solid dowel", "dowel 7"),
    ],
)
def test_what_is_asked_for_is_what_can_be_done_there(place: EvidencePlace, saw: Saw, check: str) -> None:
    rounds = (RoundMade("A", 3), RoundMade("B", 4))
    evidence = replace(looks(("A", saw), ("B", saw)), places=(place,), rounds=rounds)
    asked = {proposal.check.id for proposal in propose_checks(evidence, solve(build_claims(evidence)))}
    assert check in asked
    assert len(asked & {"rod 7", "depth 7", "dowel 7"}) == 1


TYPED = """\
by Lea
2 x M6x45
by Ann
1-2 out, 3 dowel
went round
by Ben
1-2 out, 3 dowel
went round
tray 2 x M6x45 heads only
holder dowels: free
no other holders
"""


def told(lines: str) -> Answer:
    gathered = read_typed(lines, typed_kind)
    assert not gathered.beside.unused
    return tally_joint(gathered.evidence, gathered.beside)


def test_a_joint_with_blind_holes_and_a_dowel_that_looks_do_not_clear_is_cleared_so() -> None:
    """Heads were counted only and the list's end not typed: a shank may be left anywhere, whoever looks."""
    answer = told(TYPED)
    assert (answer.verdict, answer.margin) == ("not shown", 1)
    assert told(f"{TYPED}by Cy\n1-2 open hole both sides, 3 solid dowel both sides").margin == 1
    clear = told(f"{TYPED}by Cy\n1-2 rod to the bottom, 3 dowel both ends")
    assert (clear.clear_to_part, clear.margin) == (True, 2)
    assert told(f"{TYPED}by Cy\n1-2 rod to bottom\n3 solid dowel, both ends").clear_to_part
    assert not told(f"{TYPED}by Cy\n1-2 rod to the bottom").clear_to_part
    assert not told(f"{TYPED}by Cy\n3 dowel both ends").clear_to_part
    marks = {state.label: state.mark for state in clear.places}
    assert marks == {"1": "out", "2": "out", "3": "solid dowel"}


def test_the_second_program_adds_such_a_certificate_up() -> None:
    gathered = read_typed(f"{TYPED}by Cy\n1-2 rod to the bottom, 3 dowel both ends", typed_kind)
    claims = build_claims(gathered.evidence)
    certificate = solve(claims).certificate
    assert certificate is not None
    assert reasons_not_verified(claims, Settings(), certificate) == []
    # Without the rods the same certificate is refused.
    less = replace(claims, claims=tuple(c for c in claims.claims if BOTTOM not in c.words))
    assert reasons_not_verified(less, Settings(), certificate)

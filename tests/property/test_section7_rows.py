"""The worked example of the model, row by row: the numbers come from its table, never from a program.

The table was checked before `broken at p` joined the causes. Read with it, and with a tray that may hold
pieces of other work on the same machine, row 5 loses a point; each half of that alone keeps the whole table.
So all rows are tested under both halves, and row 5 under the whole.
"""

import pytest
from section7 import CASE_5, ROWS, Expected, case_12

from brute.as_evidence import evidence_of
from brute.claim_table import Reading, claims_of
from brute.visit import cheapest_by_causes, find_state, verdict_of
from lastbolt.tally.build import build_claims
from lastbolt.tally.checker import reasons_not_verified
from lastbolt.tally.solve import solve
from lastbolt.words.claims import ClaimSet, Settings

READINGS = {
    "tray of this joint only": Reading(tray_holds_other_work=False),
    "no broken places": Reading(broken_places=False),
    "no line for what is not listed": Reading(tray_holds_other_work=False, not_listed=False),
}
EVERY_ROW = pytest.mark.parametrize("row", ROWS, ids=[f"{row.number} {row.words}" for row in ROWS])
EVERY_READING = pytest.mark.parametrize("reading", READINGS.values(), ids=READINGS)


def visited(claim_set: ClaimSet) -> tuple[int | None, int | None, str]:
    """F, G and the verdict, trying sets of causes in order of cost."""
    costs = [cheapest_by_causes(claim_set, held=held, up_to=3) for held in (False, True)]
    free, held = (None if found is None else found[0] for found in costs)
    return free, held, verdict_of(free, held, Settings())


@EVERY_READING
@EVERY_ROW
def test_visiting_gives_the_table(row: Expected, reading: Reading) -> None:
    assert visited(claims_of(row.scene, reading)) == (row.free_cost, row.held_cost, row.verdict)


def test_row_5_loses_a_point_when_a_bolt_may_be_broken_and_the_tray_may_hold_other_work() -> None:
    """Two mistakes then explain a shank still in at a place: it broke there (so both looks see "out"), and
    this engine has one more such bolt elsewhere (list, table and tie excused), whose piece fills the tray."""
    claim_set = claims_of(CASE_5, Reading())
    assert find_state(claim_set, frozenset({"broken:p1", "engine"}), held=True) is not None
    assert visited(claim_set) == (1, 2, "not shown")


@pytest.mark.parametrize("person", ["A", "B", "C", "D"])
def test_row_12_does_not_turn_on_who_ticked_the_step(person: str) -> None:
    reading = READINGS["tray of this joint only"]
    assert visited(claims_of(case_12(person), reading)) == (0, 2, "free")


def solved(claim_set: ClaimSet) -> tuple[int | None, int | None, str]:
    """F, G and the verdict of the shipped engine; its certificate must add up."""
    account = solve(claim_set)
    if account.verdict == "free":
        assert account.certificate is not None
        assert reasons_not_verified(claim_set, Settings(), account.certificate) == []
    return account.free_cost, account.held_cost, account.verdict


@EVERY_READING
@EVERY_ROW
def test_the_engine_gives_the_table(row: Expected, reading: Reading) -> None:
    assert solved(claims_of(row.scene, reading)) == (row.free_cost, row.held_cost, row.verdict)


@EVERY_ROW
def test_builder_and_engine_give_the_table(row: Expected) -> None:
    """The shipped builder keeps every cause of section 4 at once, so row 5 reads as shown above."""
    with_every_cause = {5: (1, 2, "not shown")}
    expected = with_every_cause.get(row.number, (row.free_cost, row.held_cost, row.verdict))
    assert solved(build_claims(evidence_of(row.scene))) == expected


@pytest.mark.parametrize("person", ["A", "B", "C", "D"])
def test_builder_row_12_does_not_turn_on_who_ticked_the_step(person: str) -> None:
    assert solved(build_claims(evidence_of(case_12(person)))) == (0, 2, "free")

"""Published diagnosis examples, as claims: by visiting everything, and by the shipped engine.

Expected values and their sources: data/diagnosis_examples.csv, beside each row (some lists are from memory,
as said there).
"""

import csv
import re
from itertools import product
from pathlib import Path

import pytest
from circuits import boolean_polybox, full_adder, polybox

from brute.visit import find_state, subsets
from lastbolt.tally.solve import solve
from lastbolt.words.claims import ClaimSet, Group, Settings

DATA = Path(__file__).parent / "data" / "diagnosis_examples.csv"
ROWS = {row["id"]: row for row in csv.DictReader(DATA.read_text().splitlines())}
CIRCUITS = {"POLYBOX": polybox, "BOOL-POLYBOX": boolean_polybox, "FULL-ADDER": full_adder}
PUBLISHED_CONFLICTS = [name for name, row in ROWS.items() if row["minimal_conflicts"]]


def _sets(text: str) -> set[frozenset[str]]:
    """`{A2,M2}; {M1}` as sets."""
    return {frozenset(inside.split(",")) for inside in re.findall(r"\{(.*?)\}", text)}


def _gates(claim_set: ClaimSet) -> list[str]:
    return [cause.id for cause in claim_set.causes]


def _smallest(found: list[frozenset[str]]) -> set[frozenset[str]]:
    return {one for one in found if not any(other < one for other in found)}


def diagnoses(claim_set: ClaimSet, *, held: bool = False) -> set[frozenset[str]]:
    """Every smallest set of gates such that, when just these may be wrong, some state fits."""
    sets = subsets(_gates(claim_set))
    return _smallest([gates for gates in sets if find_state(claim_set, gates, held=held) is not None])


def conflicts(claim_set: ClaimSet) -> set[frozenset[str]]:
    """Every smallest set of gates that cannot all be right."""
    gates = frozenset(_gates(claim_set))
    sets = subsets(_gates(claim_set))
    return _smallest([right for right in sets if find_state(claim_set, gates - right, held=False) is None])


def test_every_published_row_is_encoded() -> None:
    assert set(ROWS) == set(CIRCUITS)


@pytest.mark.parametrize("name", CIRCUITS)
def test_visiting_everything_finds_the_published_diagnoses(name: str) -> None:
    assert diagnoses(CIRCUITS[name]()) == _sets(ROWS[name]["minimal_diagnoses"])


@pytest.mark.parametrize("name", PUBLISHED_CONFLICTS)
def test_visiting_everything_finds_the_published_conflicts(name: str) -> None:
    assert conflicts(CIRCUITS[name]()) == _sets(ROWS[name]["minimal_conflicts"])


@pytest.mark.parametrize("inputs", list(product((0, 1), repeat=3)))
def test_the_adder_that_adds_needs_no_diagnosis(inputs: tuple[int, int, int]) -> None:
    """Against ordinary addition, for all eight inputs: right answers need no gate to be wrong, others do."""
    for total, carry in product((0, 1), repeat=2):
        right = sum(inputs) == total + 2 * carry
        found = diagnoses(full_adder(*inputs, total=total, carry=carry))
        assert (found == {frozenset()}) == right


@pytest.mark.parametrize("name", CIRCUITS)
def test_the_engine_lists_the_published_diagnoses(name: str) -> None:
    """On both sides: what is called the holder here is bound by nothing."""
    account = solve(CIRCUITS[name](), Settings(groups=1000))
    assert not account.list_cut
    for groups in (account.free, account.held):
        assert {gates for group in groups for gates in _all_of(group)} == _sets(
            ROWS[name]["minimal_diagnoses"]
        )
        assert sum(group.alike for group in groups) == len(_sets(ROWS[name]["minimal_diagnoses"]))
    assert account.free_cost == account.held_cost == 1


def _all_of(group: Group) -> set[frozenset[str]]:
    """The group's explanations, written out; where causes are alike, every choice of different ones."""
    alike = group.causes_alike or tuple((cause,) for cause in group.first.causes)
    chosen = [frozenset(choice) for choice in product(*alike)]
    return {gates for gates in chosen if len(gates) == len(group.first.causes)}

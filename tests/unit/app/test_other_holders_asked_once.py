"""What else holds a joint is asked once and truly: not its own screws, not a tool, not a dowel twice."""

from pathlib import Path

import pytest

from lastbolt.app.counts_added import sums
from lastbolt.cli.main import main
from lastbolt.cli.papers import Papers, gathered_for, plan_for
from lastbolt.edge import documents
from lastbolt.words.answer import HolderState
from lastbolt.words.joint import WALK_SCHEMA, Tie, Walk
from lastbolt.words.machine import Machine

MANUAL = """# Gearbox

## 4.1 Parting the housing

1. Remove the {count} housing screws.
2. Drive the {dowels} dowels out upwards.
3. Push the halves apart with the two jacking screws, evenly.
4. Lift the upper half off.
"""
PARTS = """Fig,Item,Part no.,Description,Qty
2,1,G-1,UPPER HALF,1
2,3,G-3,SCREW M8X50,6
2,4,G-4,SCREW M8X80,2
2,6,G-6,DOWEL PIN 8X24,2
"""


def holders(tmp_path: Path, count: str, dowels: str = "two") -> tuple[HolderState, ...]:
    (tmp_path / "manual.md").write_text(MANUAL.format(count=count, dowels=dowels), encoding="utf-8")
    (tmp_path / "parts.csv").write_text(PARTS, encoding="utf-8")
    files = [str(tmp_path / name) for name in ("manual.md", "parts.csv", "m.model.json")]
    main(["read", *files[:2], "--out", files[2]])
    machine = documents.load(Path(files[2]), Machine)
    rows = [row.id for row in machine.rows if row.item in ("3", "4")]
    walk = Walk(WALK_SCHEMA, "joint", "", ties=tuple(Tie(row, wholly=True, by="Ann") for row in rows))
    papers = Papers(machine, has_model=True, walks=(walk,))
    return gathered_for(papers, plan_for(papers, "4.1")).beside.holders


def named(states: tuple[HolderState, ...], part: str) -> list[str]:
    return [state.name for state in states if part in state.name.casefold()]


def test_its_own_screws_are_asked_only_where_the_rows_do_not_come_to_that_many(tmp_path: Path) -> None:
    assert not named(holders(tmp_path, "eight"), "housing screws")
    assert named(holders(tmp_path, "ten"), "housing screws")


def test_screws_that_push_the_halves_apart_hold_nothing(tmp_path: Path) -> None:
    assert not named(holders(tmp_path, "eight"), "jacking")


def test_dowels_of_a_row_and_of_the_step_are_one_if_they_are_as_many(tmp_path: Path) -> None:
    assert len(named(holders(tmp_path, "eight"), "dowel")) == 1
    assert len(named(holders(tmp_path, "eight", "three"), "dowel")) == 2


def test_a_dowel_is_asked_whether_it_is_free(tmp_path: Path) -> None:
    (dowel,) = (state for state in holders(tmp_path, "eight") if state.sort == "dowel")
    assert dowel.answer == "free"


@pytest.mark.parametrize(
    ("counts", "totals"),
    [([{7, 6}, {2}, {2}], {11, 10}), ([{4}], {4}), ([{4}, set()], set()), ([], set())],
)
def test_every_total_of_what_is_printed(counts: list[set[int]], totals: set[int]) -> None:
    assert sums(counts) == totals

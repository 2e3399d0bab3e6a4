"""The twelve rows of the model's worked example (section 7) as scenes, with what the table says of each.

Three places, one bolt size, A's guided round says "out" at all three; no other place. Readings taken where
the table leaves them open stand beside the row.
"""

from dataclasses import dataclass, replace

from brute.claim_table import Count, Line, Look, Row, Scene, Step


@dataclass(frozen=True)
class Expected:
    """One row of the table."""

    number: int
    words: str
    scene: Scene
    free_cost: int
    held_cost: int
    verdict: str


SHORT = Line("case bolt", "M8x55")
LONG = Line("other bolt", "M8x70")
PLACES = ("p1", "p2", "p3")


def _out_at_all(person: str) -> tuple[Look, ...]:
    return tuple(Look(person, place, "out") for place in PLACES)


# The one list ties its line to this joint (else case 3 could put the fourth bolt elsewhere at no cost) and
# was read to its end (else a bolt in no row could sit at a place A missed: G = 1 in case 2).
_LIST_3 = Row("list", SHORT.id, 3, lineage="list's own")
_LIST_4 = replace(_LIST_3, prints=4)

CASE_1 = Scene(
    places=PLACES,
    lines=(SHORT,),
    rows=(_LIST_3,),
    read_to_end=("list",),
    looks=_out_at_all("A"),
    rounds=("A",),
    counts=(Count("A", SHORT.kind, 3),),
)
CASE_2 = replace(CASE_1, counts=(Count("B", SHORT.kind, 3),))
CASE_3 = replace(CASE_2, rows=(_LIST_4,))
CASE_4 = replace(CASE_3, looks=_out_at_all("A") + _out_at_all("B"), rounds=("A", "B"))
CASE_5 = replace(CASE_4, rows=(_LIST_4, Row("table", SHORT.id, 3, lineage="table's own")))
CASE_6 = replace(CASE_3, rows=(_LIST_4, Row("second list", SHORT.id, 4, lineage="second list's own")))
CASE_7 = replace(
    CASE_3, rows=(replace(_LIST_4, lineage="one maker"), Row("second list", SHORT.id, 4, lineage="one maker"))
)
CASE_8 = replace(CASE_2, steps=(Step("bolt 3", SHORT.id, ("p3",), 1, "not recorded"),))

# Case 9: the other figure prints one M8x70 and does not say of which joint. No step of this job names it.
CASE_9 = replace(
    CASE_2,
    places=(*PLACES, "p9"),
    lines=(SHORT, LONG),
    rows=(_LIST_3, Row("other figure", LONG.id, 1, tied=False, lineage="other figure's own")),
)
# Case 10: the source ties it here by a step that takes it out at place 9 and is not recorded. Without such a
# step "it is out, in the tray nobody counted for this size" would cost nothing: F = 0, not the table's 1.
_TIED = (_LIST_3, Row("other figure", LONG.id, 1, tied=True, lineage="other figure's own"))
_STEP_9 = Step("take out the M8x70", LONG.id, ("p9",), 1, "not recorded")
CASE_10 = replace(CASE_9, rows=_TIED, steps=(_STEP_9,))
CASE_11 = replace(CASE_10, looks=(*CASE_10.looks, Look("B", "p9", "open hole")))


def case_12(ticked_by: str) -> Scene:
    """Case 11 with the step recorded and its bolt counted by C."""
    return replace(
        CASE_11,
        steps=(replace(_STEP_9, mark="done", by=ticked_by),),
        counts=(*CASE_11.counts, Count("C", LONG.kind, 1)),
    )


# Who ticked the step is not said: C, who counts it, is taken; a test shows that A and B give the same.
CASE_12 = case_12("C")

ROWS = (
    Expected(1, "list 3; A counts tray, 3", CASE_1, 0, 1, "not shown"),
    Expected(2, "B counts the tray instead", CASE_2, 0, 2, "free"),
    Expected(3, "as 2, list says 4", CASE_3, 1, 1, "not shown"),
    Expected(4, "as 3, B walks too", CASE_4, 1, 2, "not shown"),
    Expected(5, "as 4, independent table: 3", CASE_5, 1, 3, "free"),
    Expected(6, "as 3, second list: 4", CASE_6, 1, 1, "not shown"),
    Expected(7, "as 6, but copied", CASE_7, 1, 1, "not shown"),
    Expected(8, "as 2, step for bolt 3 unrecorded", CASE_8, 1, 2, "not shown"),
    Expected(9, "as 2, place 9 unseen, other figure's M8x70 may belong", CASE_9, 0, 0, "not shown"),
    Expected(10, "as 9, source ties it here", CASE_10, 1, 0, "held"),
    Expected(11, "as 10, B sees open hole", CASE_11, 1, 1, "not shown"),
    Expected(12, "as 11, step recorded, C counts it", CASE_12, 0, 2, "free"),
)

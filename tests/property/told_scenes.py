"""The scenes that decide the mutation run: the worked example, and the smallest told joints beside it.

Each says in its words which event it is about; what follows from it is not written here.
"""

from dataclasses import replace

from mutants import Told
from section7 import ROWS

from brute.claim_table import Count, Line, Look, Row, Scene, Step

SHORT = Line("l1", "M8x55")
OTHER = Line("l2", "M8x70")
ONE_OUT = Scene(
    places=("p1",),
    lines=(SHORT,),
    rows=(Row("list", "l1", 1, lineage="maker"),),
    read_to_end=("list",),
    looks=(Look("A", "p1", "out"),),
    rounds=("A",),
)
"""One place, one bolt, A went round and saw it out; nobody counted."""
TWO_OUT = replace(
    ONE_OUT,
    places=("p1", "p2"),
    rows=(Row("list", "l1", 2, lineage="maker"),),
    looks=(Look("A", "p1", "out"), Look("A", "p2", "out")),
)
UNTICKED = tuple(Step(f"s{n}", "l1", (f"p{n}",), 1, "not recorded") for n in (1, 2))

BESIDE = {
    "left after all was ticked and counted": replace(
        ONE_OUT,
        steps=(Step("s1", "l1", ("p1",), 1, "done", "C"),),
        rounds=("A", "D"),
        counts=(Count("B", "M8x55", 1),),
        breaks=True,
    ),
    "left after two went round, the list prints one more": replace(
        ONE_OUT, rows=(Row("list", "l1", 2, lineage="maker"),), rounds=("A", "B"), breaks=True
    ),
    "left after being glanced at": replace(
        ONE_OUT, looks=(Look("A", "p1", "out", weak=True), Look("B", "p1", "in")), breaks=True
    ),
    "glanced at, and heads counted": replace(
        ONE_OUT, looks=(Look("A", "p1", "out", weak=True),), counts=(Count("B", "M8x55", 1, weak=True),)
    ),
    "heads counted, one too few": replace(TWO_OUT, counts=(Count("B", "M8x55", 1, weak=True),)),
    "seen in, and counted": replace(
        TWO_OUT, looks=(Look("A", "p1", "in"), Look("A", "p2", "out")), counts=(Count("B", "M8x55", 1),)
    ),
    "seen in, its step not ticked": replace(
        ONE_OUT,
        looks=(Look("A", "p1", "in"),),
        counts=(Count("B", "M8x55", 0),),
        steps=(Step("s1", "l1", ("p1",), 1, "not recorded"),),
    ),
    "seen in, its step not ticked, then a break": replace(
        ONE_OUT,
        looks=(Look("A", "p1", "in"),),
        counts=(Count("B", "M8x55", 0),),
        steps=(Step("s1", "l1", ("p1",), 1, "not recorded"),),
        breaks=True,
    ),
    "seen in by two, no step ticked": replace(
        TWO_OUT,
        looks=(Look("A", "p1", "in"), Look("B", "p2", "in")),
        counts=(Count("C", "M8x55", 0),),
        steps=UNTICKED,
    ),
    "a hole that two see empty, none in the tray": replace(
        ONE_OUT,
        looks=(Look("A", "p1", "out"), Look("B", "p1", "out")),
        counts=(Count("C", "M8x55", 0),),
        places_named=True,
    ),
    "out, and no step ticked": replace(TWO_OUT, steps=UNTICKED, counts=(Count("B", "M8x55", 2),)),
    "list and step handed down from one another": replace(
        ONE_OUT,
        rows=(Row("list", "l1", 2, lineage="maker"),),
        steps=(Step("s1", "l1", ("p1",), 0, "started", lineage="maker"),),
    ),
    "the engine's own file says one, tied here, none seen": replace(
        ONE_OUT, looks=(Look("A", "p1", "nothing"),), engine_file=(("l1", 1),)
    ),
    "the engine's own file out of date on two lines": replace(
        TWO_OUT,
        lines=(SHORT, OTHER),
        rows=(Row("list", "l1", 1, lineage="maker"), Row("list", "l2", 1, lineage="maker")),
        engine_file=(("l1", 2), ("l2", 2)),
    ),
}

TOLD = (
    *(Told(f"row {row.number}", row.scene) for row in ROWS),
    *(Told(name, scene) for name, scene in BESIDE.items()),
)

"""Lines beside a parts list that name fasteners: nothing is made of them, and that is told."""

from pathlib import Path

import pytest

from failure.made_pdf import typeset_pdf
from lastbolt.cli.read import read_files

LIST = """= Figure 4 Gearcase
#table(columns: (1.5cm, 2.5cm, 6cm, 1.5cm), stroke: 0.5pt, [*Item*], [*Part no.*], [*Description*], [*Qty*],
[1], [K-1], [Cover], [1],
[2], [K-2], [Screw M6 x 45], [7], [3], [K-3], [Gasket], [1], [4], [K-4], [Label], [1])
"""


@pytest.mark.parametrize(
    ("line", "count"),
    [
        ("Not shown: 2 bolts M8 x 70, enter from the far side.", 1),
        ("#pagebreak()\n= Supplement 1\nTo figure 4 add: item 4, bolt M8 x 70, 2 off.", 1),
        ("Not shown: 2 bolts M8 x 70.\n\nThe cover is shown without its nuts (7 off).", 1),
        ("Not shown: 2 bolts, enter from the far side.", 1),
        ("The parts of the gearcase, seen from the rear.", 0),
        ("Fig. 4-2\n\n1. Liner. 2. Ring. 3. Bolt. 4. Nut. 5. Stud.", 0),
    ],
)
def test_lines_that_name_fasteners_are_told(tmp_path: Path, line: str, count: int) -> None:
    typeset_pdf(tmp_path / "list.pdf", f"{LIST}\n{line}\n")
    machine = read_files([tmp_path / "list.pdf"]).machine
    told = [problem for problem in machine.problems if problem.code == "LB-R24"]
    assert len(told) == count
    assert ("unexplained" in {page.state for page in machine.pages}) == bool(count)


HEADED = """*To remove the cover.* Not shown: 2 bolts M8 x 70.

*To remove the gasket.* The gasket is glued.

*To fit the label.* See the drawing of the gearcase.
"""


def test_lines_behind_headings_that_are_run_in_are_told(tmp_path: Path) -> None:
    """Such lines are cut in two when they are read: they are found again by page and place."""
    typeset_pdf(tmp_path / "list.pdf", f"{LIST}\n{HEADED}")
    machine = read_files([tmp_path / "list.pdf"]).machine
    assert "To remove the cover" in [section.title for section in machine.sections]
    (told,) = [problem for problem in machine.problems if problem.code == "LB-R24"]
    assert "2 bolts M8" in told.what

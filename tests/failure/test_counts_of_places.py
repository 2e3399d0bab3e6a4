"""Counts in a parts list that are no count of all pieces: per side, per place, or other on some machines.

Such headings and names are common practice of lists, no source. The lists are invented.
"""

from pathlib import Path

import pytest

from lastbolt.cli.main import main
from lastbolt.edge.documents import load
from lastbolt.words.machine import Machine, PartsRow


def rows(folder: Path, text: str) -> list[PartsRow]:
    (folder / "list.csv").write_text(text, encoding="utf-8")
    main(["read", str(folder / "list.csv"), "--out", str(folder / "m.json")])
    return [row for row in load(folder / "m.json", Machine).rows if row.kind is not None]


@pytest.mark.parametrize(
    "text",
    [
        "Item,Part no,Description,Qty per side\n1,A1,Screw M8 x 45,4\n2,A2,Cover,1\n",
        "Item,Part no,Description,Qty each half\n1,A1,Screw M8 x 45,4\n2,A2,Cover,1\n",
        "Item,Part no,Description,Qty left,Qty right\n1,A1,Screw M8 x 45,4,4\n2,A2,Cover,1,1\n",
        "Item,Part no,Description,Qty left,Qty right\n1,A1,Screw M8 x 45,4,2\n2,A2,Cover,1,1\n",
        "Item,Part no,Description,Qty\n1,A1,Screw M8 x 45 (9 with brake),8\n2,A2,Cover,1\n",
        'Item,Part no,Description,Qty\n1,A1,"Screw M8 x 45, nine on type L",8\n2,A2,Cover,1\n',
    ],
)
def test_a_count_of_some_is_no_count_of_all(tmp_path: Path, text: str) -> None:
    (screw,) = rows(tmp_path, text)
    assert screw.quantity.low is None
    assert screw.doubt


@pytest.mark.parametrize(
    "text",
    [
        "Item,Part no,Description,Qty\n1,A1,Screw M8 x 45,8\n2,A2,Cover,1\n",
        "Item,Part no,Description,Qty per machine\n1,A1,Screw M8 x 45,8\n2,A2,Cover,1\n",
        "Item,Part no,Description,Qty\n1,A1,Screw M8 x 45 (8 for the cover),8\n2,A2,Cover,1\n",
        "Item,Part no,Description,Qty\n1,A1,Screw M8 x 45 (for cover),8\n2,A2,Cover,1\n",
    ],
)
def test_a_count_of_all_stays_one(tmp_path: Path, text: str) -> None:
    (screw,) = rows(tmp_path, text)
    assert (screw.quantity.low, screw.doubt) == (8, "")


def test_columns_of_engines_stay_columns_of_engines(tmp_path: Path) -> None:
    head = "Item,Part no,Description,Qty H,Qty K\n"
    both = rows(tmp_path, f"{head}1,A1,Screw M8 x 45,8,9\n2,A2,Cover,1,1\n")
    assert [(row.applies.variants, row.quantity.low) for row in both] == [(("h",), 8), (("k",), 9)]

"""Torques and parts that stand in lines with leaders: they are tables, and their page is no contents page."""

import pytest
import typst

from lastbolt.app.read_sources import Paged, SourceFile, read_sources
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.steps import read_step
from lastbolt.words.machine import Machine

PAPER = """
#set page(width: 110mm, height: 180mm, margin: 12mm)
#set text(size: 9pt, font: "New Computer Modern", hyphenate: false)
#let line(..words) = block(above: 1.6mm)[#words.at(0) #box(width: 1fr, repeat[.]) #words.at(1)]
#text(14pt)[*1 Data*]

#text(12pt)[*1.1 Tightening torques*]

#line([Cover nuts], [24 N·m])
#line([Nuts and bolts, 3/8 in. diameter], [35 lb. ft.])
#line([Plug of the drain], [18-21 lb. ft. (24-28 N·m)])
#line([The four long bolts of the cylinder head and their washers], [63 N·m])
#text(12pt)[*1.2 Removal of the cover*]

+ Undo the eight 7/16 in. nuts.
+ Undo the ten 25 mm screws.
+ Lift the cover.
+ Take out the ring.
+ Take out the shaft.
+ Take out the gear.
#pagebreak()
#text(14pt)[*2 List of parts*]
#rect(width: 60mm, height: 24mm)[#circle(radius: 6mm) #line([a], [b])]
*Fig. 1. Pump*
#line([1 #h(3mm) Pump assembly (1)], [561-8301])
#line([2 #h(3mm) – Cover (2)], [713-3266])
#line([3 #h(3mm) – – Bolt, M12 x 40 (6)], [243-1682])
#block(above: 1.6mm)[4 #h(3mm) – Washer of soft copper (1) 304-1090]
#block(above: 1.6mm)[5 #h(3mm) – A long name that fills its line (as needed)
  #box(width: 1fr, repeat[.]) \\ #h(5mm) 706-9321]
"""


@pytest.fixture(scope="module")
def machine(tmp_path_factory: pytest.TempPathFactory) -> Machine:
    folder = tmp_path_factory.mktemp("leaders")
    written, target = folder / "paper.typ", folder / "paper.pdf"
    written.write_text(PAPER, encoding="utf-8")
    typst.compile(str(written), output=str(target))
    pages = read_pages(target, PdfSettings(source="paper"))
    return read_sources([Paged(SourceFile(target.name), pages)]).machine


def test_torques_with_leaders_are_rows_of_a_table(machine: Machine) -> None:
    """35 lbf·ft is 47.45 N·m (NIST SP 811)."""
    assert [row.what for row in machine.torques] == [
        "Cover nuts",
        "Nuts and bolts, 3/8 in. diameter",
        "Plug of the drain",
        "The four long bolts of the cylinder head and their washers",
    ]
    assert machine.torques[1].value.torque_Nm == pytest.approx((47.45, 47.45), abs=0.05)


def test_parts_with_counts_in_brackets_are_rows(machine: Machine) -> None:
    """Also without a leader, and over two lines."""
    rows = [(row.item, row.name.strip(" –"), row.quantity.low, row.part_number) for row in machine.rows]
    assert rows == [
        ("1", "Pump assembly", 1, "561-8301"),
        ("2", "Cover", 2, "713-3266"),
        ("3", "Bolt, M12 x 40", 6, "243-1682"),
        ("4", "Washer of soft copper", 1, "304-1090"),
        ("5", "A long name that fills its line", None, "706-9321"),
    ]


def test_pages_of_such_lists_are_read_and_no_contents(machine: Machine) -> None:
    """A page of leaders once counted as contents, and its parts were lost without a word."""
    assert [page.state for page in machine.pages] == ["read", "read"]


@pytest.mark.parametrize(
    ("words", "count"),
    [
        ("Undo the eight 7/16 in. nuts.", 8),
        ("Undo the ten 25 mm screws.", 10),
        ("Undo the 25 mm screws.", None),
        ("Undo four 1 1/2 in. bolts.", 4),
    ],
)
def test_a_size_before_a_fastener_is_no_count(words: str, count: int | None) -> None:
    (mention,) = read_step(words, lexicon(), callouts_in_brackets=False).mentions
    assert mention.quantity.low == count
    assert not mention.name.startswith("mm")

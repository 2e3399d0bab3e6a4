"""Layouts of pages that were once read wrongly or lost without a word, each as a small paper set by typst."""

from pathlib import Path

import pytest
import typst

from lastbolt.app.read_sources import Paged, SourceFile, read_sources
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.words.machine import Machine, Procedure

PAGE = """
#set page(width: 148mm, height: 210mm, margin: 14mm)
#set text(size: 9pt, font: "New Computer Modern")
"""
TABLE = (
    PAGE
    + """
= 2 Pump
== 2A1 Removal
#table(columns: (2cm, 8cm), [Tools], [hook spanner], [State], [Cover removed (2A2)])
#table(columns: (1cm, 5cm, 1cm, 1.6cm, 1.8cm, 1cm), stroke: none, table.hline(),
  [_Line_], [_Work_], [_Qty_], [_Size_], [_Torque, N·m_], [_See_], table.hline(),
  [10], [Remove the bolts.], [5], [M6 x 45], [], [],
  [20], [Take off the lid and lay it aside, with the sealing face up.], [], [], [], [2A2],
  [], [WARNING: The spring is under tension.], [], [], [], [],
  [30], [Tighten the nuts.], [4], [M8], [24], [], table.hline())
Then: Fit the cover (2A2).
== 2A2 Removal of the cover
#table(columns: (1cm, 5cm, 1cm, 1.6cm, 1.8cm, 1cm), stroke: none, table.hline(),
  [_Line_], [_Work_], [_Qty_], [_Size_], [_Torque, N·m_], [_See_], table.hline(),
  [10], [Remove the screws.], [3], [M5 x 12], [], [],
  [20], [Lift the cover off.], [], [], [], [], table.hline())
"""
)
TASKS = (
    PAGE
    + """
#set text(font: "DejaVu Sans Mono", size: 8pt)
TABLE OF CONTENTS

GENERAL \\ #for n in range(1, 5) [TASK 32-10-0#n \\ PUMP #n - REMOVAL \\ ]
#for n in range(1, 5) [
  #pagebreak()
  #v(20mm + 3mm * n)
  TASK 32-10-0#n \\ PUMP #n - REMOVAL

  #pad(left: 5mm)[A.   Remove the four bolts, M6 x 30. \\
  B.   Do the work described in Tasks 32-10-01 thru 32-10-03. \\
  C.   Take off the pump (Ref. 32-20-11).]
]
"""
)
LEGEND = (
    PAGE
    + """
= 2.2 Magnet
== Removal
#rect(width: 60mm, height: 30mm)[#circle(radius: 8mm)]
#h(2mm) Fig. 2-2 Removal \\
1)#h(4mm)Drain the oil into a clean tray. \\
2)#h(4mm)Remove the three M10 x 20 bolts. \\
3)#h(4mm)Withdraw the spring with the socket. \\
"""
)
MARGIN = (
    PAGE
    + """
#let side(title, body) = block[*#text(size: 11pt)[#title]* \\ #pad(left: 45mm, body)]
#side[PUMP - REMOVAL][
  - Remove the two bolts M6 x 30.
  - Take off the pump.
]
#side[PUMP - INSPECTION][
  - Check the shaft for cracks and wear.
  - Renew the seal of the shaft.
]
#side[PUMP - INSTALLATION][
  - Fit the pump on its dowels.
  - Fit the two bolts M6 x 30.
]
"""
)

WEAR = (
    PAGE
    + """
= 1 Data
#text(size: 11pt, weight: "bold")[TIGHTENING TORQUES]
#table(columns: (5cm, 3cm, 3cm), stroke: none, inset: 2pt, table.hline(),
  [*For*], [*Torque, lb-ft*], [*Torque, N·m*], table.hline(),
  [Thread M8], [18], [24], [Thread M10], [35], [47], [Cover nuts], [7], [9])
#v(-2mm)
#text(size: 11pt, weight: "bold")[WEAR LIMITS]
#table(columns: (5cm, 3cm, 3cm), stroke: none, inset: 2pt, table.hline(),
  [*Part and size*], [*Standard, mm*], [*Limit, mm*], table.hline(),
  [Brake disc, runout], [28.87-28.90], [28.77], [Cam, diameter], [41.64-41.67], [41.54])
"""
)
PICTURES = (
    PAGE
    + """
#let part(title, number, body) = block[
  *#text(size: 11pt)[#title]*
  #grid(columns: (40mm, 1fr), column-gutter: 5mm,
    [#rect(width: 35mm, height: 14mm)[#circle(radius: 4mm)] Fig. #number], body)
]
#part([PUMP - REMOVAL], 1)[
  - Remove the two bolts M6 x 30 and keep them in their order.
  - Take off the pump.
  - Take out the gasket.
]
#part([PUMP - DISASSEMBLY], 2)[
  - Take out the circlip of the shaft.
  - Press out the shaft with its bearing.
  - Take off the seal.
]
#part([PUMP - INSPECTION], 3)[
  - Check the shaft for cracks and wear.
  - Measure the bore.
  - Renew the seal.
]
"""
)


def _read(source: str, folder: Path) -> Machine:
    written, target = folder / "paper.typ", folder / "paper.pdf"
    written.write_text(source, encoding="utf-8")
    typst.compile(str(written), output=str(target))
    pages = read_pages(target, PdfSettings(source="paper"))
    return read_sources([Paged(SourceFile(target.name), pages)]).machine


@pytest.fixture(scope="module")
def table(tmp_path_factory: pytest.TempPathFactory) -> list[Procedure]:
    return list(_read(TABLE, tmp_path_factory.mktemp("table")).procedures)


def test_rows_of_a_step_table_are_steps(table: list[Procedure]) -> None:
    """The number in the first column is the mark, the column of work the words."""
    assert [(p.number, [s.mark for s in p.steps]) for p in table] == [
        ("2A1", ["10", "20", "30"]), ("2A2", ["10", "20"])
    ]  # fmt: skip
    assert table[0].steps[1].words == "Take off the lid and lay it aside, with the sealing face up."


def test_the_further_columns_are_facts_of_the_step(table: list[Procedure]) -> None:
    """Count, size, torque and section, as if they stood in the sentence; shown beside the step."""
    bolts, lid, nuts = table[0].steps
    (mention,) = bolts.mentions
    assert (mention.quantity.low, mention.kind and mention.kind.thread) == (5, "M6")
    assert bolts.beside == "(5 x M6 x 45)"
    assert [r.to for r in lid.references] == [("paper/procedure/2A2",)]
    assert [t.torque_Nm for t in nuts.torques] == [(24.0, 24.0)]


def test_a_caution_in_the_column_of_work_stays_with_its_row(table: list[Procedure]) -> None:
    assert [c.words for c in table[0].steps[1].cautions] == ["The spring is under tension."]


def test_a_caution_with_a_number_is_a_caution(tmp_path: Path) -> None:
    """It once ended the program: the row began neither with its signal word nor like a step."""
    numbered = TABLE.replace("[], [WARNING: The spring", "[25], [WARNING: The spring").replace(
        "[20], [Lift the cover off.]", "[20], [Note], [], [], [], [], [30], [Lift the cover off.]"
    )
    first, second = _read(numbered, tmp_path).procedures
    assert [s.mark for s in first.steps] == ["10", "20", "30"]
    assert [c.words for s in first.steps for c in s.cautions] == ["The spring is under tension."]
    assert [s.mark for s in second.steps] == ["10", "30"]


def test_blocks_about_a_step_table_are_its_set_up_and_follow_on(table: list[Procedure]) -> None:
    first = table[0]
    assert [r.to for r in first.before] == [("paper/procedure/2A2",)]
    assert [r.to for r in first.after] == [("paper/procedure/2A2",)]
    assert first.tools == ("hook spanner",)


@pytest.fixture(scope="module")
def tasks(tmp_path_factory: pytest.TempPathFactory) -> Machine:
    return _read(TASKS, tmp_path_factory.mktemp("tasks"))


def test_a_number_alone_takes_its_title_from_the_next_line(tasks: Machine) -> None:
    """A list of contents without page numbers makes no sections of its own."""
    assert [(p.number, p.title) for p in tasks.procedures] == [
        (f"32-10-0{n}", f"PUMP {n} - REMOVAL") for n in range(1, 5)
    ]
    assert next(page.state for page in tasks.pages) == "front matter"


def test_a_run_of_padded_numbers_has_its_middle(tasks: Machine) -> None:
    step = tasks.procedures[3].steps[1]
    assert step.references[0].to == tuple(f"paper/procedure/32-10-0{n}" for n in range(1, 4))


def test_a_strong_cue_to_a_number_that_no_section_has_dangles(tasks: Machine) -> None:
    assert [r.status for r in tasks.procedures[0].steps[2].references] == ["dangling"]


def test_numbered_steps_under_a_figure_are_no_legend(tmp_path: Path) -> None:
    """They were once lost in the figure without a word."""
    (removal,) = _read(LEGEND, tmp_path).procedures
    assert [s.mark for s in removal.steps] == ["1", "2", "3"]


def test_headings_out_in_the_margin_keep_their_steps(tmp_path: Path) -> None:
    """No heading stands level with text, so the page is one flow and not two columns."""
    found = _read(MARGIN, tmp_path).procedures
    assert [(p.title, len(p.steps)) for p in found] == [
        ("PUMP - REMOVAL", 2), ("PUMP - INSPECTION", 2), ("PUMP - INSTALLATION", 2)
    ]  # fmt: skip


def test_wear_limits_below_a_torque_table_are_no_torques(tmp_path: Path) -> None:
    """A heading in larger print ends the table; 18 lbf·ft is 24.4 N·m (NIST SP 811)."""
    found = [(row.what, row.value.torque_Nm) for row in _read(WEAR, tmp_path).torques]
    assert [what for what, _ in found] == ["Thread M8", "Thread M10", "Cover nuts"]
    assert found[0][1] == pytest.approx((24.4, 24.4), abs=0.1)


def test_pictures_in_a_column_stay_with_the_heading_above_them(tmp_path: Path) -> None:
    """Each heading is followed by its picture and its steps, not by the next heading."""
    found = _read(PICTURES, tmp_path).procedures
    assert [(p.title, len(p.steps)) for p in found] == [
        ("PUMP - REMOVAL", 3), ("PUMP - DISASSEMBLY", 3), ("PUMP - INSPECTION", 3)
    ]  # fmt: skip


BOLD_CAUTION = (
    PAGE
    + """
#text(size: 11pt, weight: "bold")[2.1 PUMP REMOVAL]

(a) #h(3mm) Remove the nuts.

#align(center)[*WARNING* \\ *The pump weighs 30 kg. Use a lifting device, and keep both hands* \\
  *away from its lower edge.*]

(b) #h(3mm) Lift the pump off the studs.

#text(size: 11pt, weight: "bold")[2.2 PUMP INSPECTION]

(a) #h(3mm) Inspect the shaft for cracks and for wear, and renew it where it is worn.
"""
)


def test_the_bold_body_of_a_warning_is_no_heading(tmp_path: Path) -> None:
    """It once began a section of its own, and the steps behind it were lost."""
    removal, _ = _read(BOLD_CAUTION, tmp_path).procedures
    assert [s.words for s in removal.steps] == ["Remove the nuts.", "Lift the pump off the studs."]
    said = "The pump weighs 30 kg. Use a lifting device, and keep both hands away from its lower edge."
    assert [c.words for s in removal.steps for c in s.cautions] == [said]

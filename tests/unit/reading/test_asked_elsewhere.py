"""What stands away from the steps it is for: rows of small tables, sentences at a chapter's end."""

from pathlib import Path

import pytest
import typst

from lastbolt.app.make_plan import make_plan
from lastbolt.app.read_sources import Paged, SourceFile, read_sources
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.words.machine import Machine, Procedure
from paged import book, numbered

PAPER = """
#set page(width: 148mm, height: 210mm, margin: 14mm)
#set text(size: 9pt, font: "New Computer Modern")
= 4 Gearcase
== 4.1 Separating the gearcase
{table}

1. Remove the screws M6 x 45.
2. Lift the cover off.
== 4.3 Removing the pump bracket
1. Remove the bracket.
== 4.4 Removing the chain guard
1. Remove the guard.
"""


def read(table: str, folder: Path) -> Machine:
    (folder / "paper.typ").write_text(PAPER.format(table=table), encoding="utf-8")
    typst.compile(str(folder / "paper.typ"), output=str(folder / "paper.pdf"))
    pages = read_pages(folder / "paper.pdf", PdfSettings(source="paper"))
    return read_sources([Paged(SourceFile("paper.pdf"), pages)]).machine


def led(procedure: Procedure) -> list[tuple[str, str]]:
    return [(one.status, one.to[0].rpartition("/")[2]) for one in procedure.before]


def test_a_small_table_of_references_without_headings_is_open(tmp_path):
    machine = read("#table(columns: 2, [Bracket], [4.3], [Guard], [4.4])", tmp_path)
    assert led(numbered(machine, "4.1")) == [("doubtful", "4.3"), ("doubtful", "4.4")]
    assert not make_plan(machine, "4.1").complete


def test_numbers_beside_other_words_are_no_references(tmp_path):
    machine = read("#table(columns: 2, [Diameter of the shaft], [4.3], [End float], [4.4])", tmp_path)
    assert led(numbered(machine, "4.1")) == []


@pytest.mark.parametrize("title", ["## 5.3 General", "## 5.3 Order of the work"])
def test_what_a_chapter_asks_at_its_end_is_asked_of_its_sections(title):
    asks = (title, "Before any work in this chapter carry out 4.2.")
    machine = book("1. Lift off the lever.", more=("## 5.2 Removing the frame", "1. Remove it.", *asks))
    assert led(numbered(machine, "5.1")) == led(numbered(machine, "5.2")) == [("resolved", "4.2")]
    assert led(numbered(machine, "4.1")) == []


def test_any_work_in_a_section_of_its_own_asks_nothing_of_others():
    machine = book("Before any work carry out 4.2.", "1. Lift off the lever.",
                   more=("## 5.2 Removing the frame", "1. Remove it."))  # fmt: skip
    assert led(numbered(machine, "5.1")) == [("resolved", "4.2")]
    assert led(numbered(machine, "5.2")) == []

"""Columns of headings and notes beside the text, tables of orders, titles with their pages, long headings."""

from lastbolt.reading.beside import read_beside
from lastbolt.reading.columns import Item, may_mark
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.pieces import pieces_of
from lastbolt.reading.schema import learn_schema
from lastbolt.reading.step_table import step_table_of
from lastbolt.reading.table_words import Heading
from lastbolt.reading.tables import Cell, Row, Table
from lastbolt.reading.targets import Target
from lastbolt.reading.titled import titled_in
from lastbolt.words.page import Word

ENGLISH = lexicon()


def item(left: float, top: float, text: str, *, bold: bool = False) -> Item:
    words = tuple(Word(part, left, top, left + 0.05, top + 0.012, 9.0, bold) for part in text.split())
    return Item(left, top, left + 0.01 * len(text), top + 0.012, 0, words, -1)


def said(items: list[Item]) -> list[str]:
    return [" ".join(word.text for word in one.words) for one in items]


STEPS = [
    item(0.35, 0.1 + 0.014 * n, f"{n + 1}. Remove the part number {n} and lay it aside") for n in range(9)
]


def test_headings_in_the_margin_stand_before_the_lines_they_are_level_with():
    heads = [item(0.05, 0.1, "Lid", bold=True), item(0.05, 0.1 + 0.014 * 5, "Fan", bold=True)]
    parts = read_beside(heads, STEPS, may_mark)
    assert parts is not None
    assert [said(part)[0] for part in parts] == ["Lid", said(STEPS)[0], "Fan", said(STEPS)[5]]


def test_a_note_in_the_margin_is_read_behind_the_step_it_is_level_with():
    notes = [item(0.05, 0.1, "see 4.2"), item(0.05, 0.1 + 0.014 * 5, "see 4.3")]
    parts = read_beside(notes, STEPS, may_mark)
    assert parts is not None
    assert [len(part) for part in parts] == [1, 1, 5, 1, 3]
    assert read_beside(STEPS, [one._replace(left=0.7, right=1.0) for one in STEPS], may_mark) is None


def table(*titles: str) -> Table:
    rows = [
        Row(tuple(Cell(text, 0.1, False) for text in cells), (0.1, 0.1 * n, 0.9, 0.1 * n + 0.05))
        for n, cells in enumerate(
            (("10", "Remove the four bolts.", "Refer to 3.1"), ("20", "Drain the oil.", ""),
             ("30", "Take off the pump wheel.", "")), 1,
        )
    ]  # fmt: skip
    return Table(1, (0.1, 0.1, 0.9, 0.9), True, titles, (None, None, None), tuple(rows))


def test_a_column_of_orders_makes_a_table_of_steps_whatever_its_heading():
    found = step_table_of(table("Seq", "Doings", "Ref. para"), ENGLISH)
    assert found is not None
    assert found.headings == (Heading("item", ""), Heading("work", ""), None)
    assert step_table_of(table("No.", "Remedy", "Fault"), ENGLISH) is None


def target(title: str, deed: str, *, parent: str = "") -> Target:
    return Target(
        title, "", title, tuple(title.lower().split()), deed, frozenset(("fan",)), None, parent, "book", "9",  # type: ignore[arg-type]
        frozenset(("9",)),
    )  # fmt: skip


def test_of_the_sections_on_a_page_the_one_whose_title_stands_in_the_words():
    hits = [
        target("Fan – removal", "remove"),
        target("Fan – installation", "install"),
        target("Fan", "other"),
    ]
    assert titled_in(hits, 'see "Fan - removal" (page 9', ()) == hits[:1]
    assert titled_in(hits, "remove the fan (page 9", ()) == []


def line(text: str, top: float, *, size: float = 9.0) -> Line:
    return Line(text, 0.1, top, 0.1 + 0.008 * len(text), top + 0.012, size, True, len(text), 2)


def headings(*lines: Line) -> list[tuple[str, str]]:
    plain = [line(f"{n}. Remove the bolt and lay it aside with care.", 0.5 + 0.02 * n) for n in range(1, 9)]
    body = [*lines, *(one._replace(bold=False, lead=0) for one in plain)]
    pieces = pieces_of(iter([(1, body)]), learn_schema(body, ENGLISH), ENGLISH)
    return [(piece.number, piece.text) for piece in pieces if piece.kind == "heading"]


def test_a_heading_over_two_lines_is_one_and_two_headings_are_two():
    long = "HAND RELEASE DISASSEMBLY OFF THE DRIVE"
    assert headings(line(long, 0.1), line("AND ON THE BENCH", 0.115)) == [("", f"{long} AND ON THE BENCH")]
    assert headings(line("PUMP COVER", 0.1), line("REMOVAL", 0.115)) == [("", "PUMP COVER"), ("", "REMOVAL")]


def test_a_task_with_its_number_before_its_title_is_numbered():
    assert headings(line("TASK 301 PUMP COVER", 0.1))[0] == ("301", "PUMP COVER")

"""Set-up blocks in cells, words at the end of sections, lists without marks, steps over a page break."""

from lastbolt.reading.cells import cell_by_cell, frames_of_cells
from lastbolt.reading.columns import Item
from lastbolt.reading.drafts import Book
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.pieces import pieces_of
from lastbolt.reading.schema import learn_schema
from lastbolt.reading.section_ends import section_ends
from lastbolt.words.page import Drawn

ENGLISH = lexicon()


def line(text: str, top: float, *, left: float = 0.1, bold: bool = False) -> Line:
    lead = len(text) if bold else 0
    return Line(text, left, top, left + 0.008 * len(text), top + 0.012, 9.0, bold, lead, len(text.split()))


def item(left: float, top: float, right: float) -> Item:
    return Item(left, top, right, top + 0.012, 0, (), -1)


def rule(left: float, top: float, right: float, bottom: float) -> Drawn:
    return Drawn("rule", left, top, right, bottom)


FRAME = (
    rule(0.1, 0.20, 0.9, 0.201), rule(0.1, 0.30, 0.9, 0.301), rule(0.5, 0.20, 0.501, 0.301),
    rule(0.1, 0.20, 0.101, 0.301),
)  # fmt: skip


def test_a_frame_in_two_halves_is_read_half_by_half():
    frames = frames_of_cells(FRAME)
    assert [round(at, 2) for at in frames[0].dividers] == [0.5]
    above, below = item(0.1, 0.1, 0.8), item(0.1, 0.4, 0.4)
    left = [item(0.11, 0.21, 0.3), item(0.11, 0.24, 0.3)]
    right = [item(0.51, 0.21, 0.8), item(0.51, 0.24, 0.8)]
    mixed = [above, left[0], right[0], left[1], right[1], below]
    assert cell_by_cell(mixed, frames) == [[above], left, right, [below]]


def test_a_heading_in_one_row_of_cells_stays_one_line():
    row = [item(0.11, 0.24, 0.2), item(0.51, 0.24, 0.6)]
    assert cell_by_cell(row, frames_of_cells(FRAME)) == [row]


def pages() -> list[tuple[int, list[Line]]]:
    return [
        (n, [line(f"2.{n} Cover {'abcdef'[n]}", 0.1, bold=True), line("(a) Remove the bolts.", 0.15),
             line("(b) Lift it off.", 0.2), line("END OF TASK", 0.25)])
        for n in range(1, 6)
    ]  # fmt: skip


def test_a_line_before_every_heading_says_that_a_section_is_over():
    body = pages()
    schema = learn_schema((one for _, lines in body for one in lines), ENGLISH)
    assert section_ends(body, schema, ENGLISH) == {"END OF TASK"}
    warned = [(n, [*lines[:-1], line("WARNING", 0.25)]) for n, lines in body]
    assert section_ends(warned, schema, ENGLISH) == frozenset()
    book = Book(ENGLISH)
    for piece in pieces_of(iter(body), schema, ENGLISH, ends=frozenset(("END OF TASK",))):
        book.add(piece)
    assert [item.text for item in book.sections[0].items] == ["Remove the bolts.", "Lift it off."]
    assert book.sections[0].again[0].text == "END OF TASK"


def test_steps_go_on_under_a_heading_that_is_continued():
    first = [line("2.1 Cover, removal", 0.1, bold=True), line("(a) Remove the bolts.", 0.15)]
    first += [line(f"({mark}) Remove the ring.", 0.2 + 0.05 * i) for i, mark in enumerate("bcde")]
    second = [line("2.1 Cover, removal - continued", 0.1, bold=True), line("(f) Lift it off.", 0.15)]
    body = [(1, first), (2, second)]
    schema = learn_schema((one for _, lines in body for one in lines), ENGLISH)
    marks = [one.mark.value for one in pieces_of(iter(body), schema, ENGLISH) if one.mark]
    assert marks == list("abcdef")


def test_orders_indented_below_a_colon_are_steps_of_a_list_without_marks():
    lines = [
        line("2.1 Cover, removal", 0.1, bold=True), line("1. Free the cover:", 0.15),
        line("Loosen the bolts.", 0.163, left=0.14), line("Turn the ring to the left.", 0.176, left=0.14),
        line("2. Lift it off.", 0.2),
    ]  # fmt: skip
    schema = learn_schema(lines, ENGLISH)
    book = Book(ENGLISH)
    for piece in pieces_of(iter([(1, lines)]), schema, ENGLISH):
        book.add(piece)
    assert [one.path for one in book.sections[0].items] == ["1", "1.1", "1.2", "2"]

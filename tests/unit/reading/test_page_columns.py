"""Pages of columns that are not level with each other, marks without signs, headings in a row of cells."""

from lastbolt.reading.columns import Item, may_mark
from lastbolt.reading.drafts import Book
from lastbolt.reading.hanging import hanging_marks
from lastbolt.reading.heading_cells import heads_apart
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.lines import Line, lines_of
from lastbolt.reading.page_gutter import page_gutter
from lastbolt.reading.piece import At, Piece
from lastbolt.reading.pointers import pointers_in
from lastbolt.words.page import PageLayout, Word


def words(left: float, top: float, text: str) -> list[Word]:
    """The words of one line, each letter 0.006 of the page wide, spaces 0.004; two spaces are a wide gap."""
    made = []
    for part in text.split(" "):
        right = left + 0.006 * len(part)
        if part:
            made.append(Word(part, left, top, right, top + 0.010, 8.0, False))
        left = right + (0.004 if part else 0.015)
    return made


def steps(left: float, top: float, *texts: str) -> list[Word]:
    return [word for i, text in enumerate(texts) for word in words(left, top + 0.017 * i, text)]


LEFT = (
    "A  Remove the five bolts", "B  Pull the hub off", "C  Slide the ring off", "D  Lift the wheel off",
    "E  Drain the oil from it", "F  Wash it", "G  Put the wheel aside", "H  Turn the shaft round",
)  # fmt: skip
MIDDLE = (
    "A  Clean the faces", "B  Oil the hub", "C  Set it on the dowels", "D  Screw the bolts in",
    "E  Tighten the bolts well", "F  Turn the hub round", "G  Fit the new ring", "H  Fill the oil in",
)  # fmt: skip


def test_three_columns_whose_lines_are_not_level_are_read_one_after_the_other():
    page = PageLayout(
        1, 842.0, 595.0,
        (*steps(0.05, 0.1, *LEFT), *steps(0.36, 0.106, *MIDDLE), *steps(0.67, 0.112, *LEFT)), (),
    )  # fmt: skip
    found = [line.text.replace("\t", "  ") for line in lines_of(page)]
    assert found == [*LEFT, *MIDDLE, *LEFT]


def test_a_table_without_rules_is_no_page_of_columns():
    rows = [(f"Name of part {i}", f"2{i}.18 to 2{i}.32 all over it") for i in range(10)]
    left = [words(0.1, 0.1 + 0.02 * i, name) for i, (name, _) in enumerate(rows)]
    right = [words(0.5, 0.1 + 0.02 * i, value) for i, (_, value) in enumerate(rows)]
    items = [Item(w[0].left, w[0].top, w[-1].right, w[0].bottom, 0, tuple(w), -1) for w in (*left, *right)]
    assert page_gutter(items, 8 / 595, may_mark) is None
    text = [Item(0.1, 0.1 + 0.02 * i, 0.4, 0.11 + 0.02 * i, 0, tuple(words(0.1, 0.1, one)), -1)
            for i, one in enumerate(LEFT)]  # fmt: skip
    beside = [item._replace(left=0.5, right=0.8) for item in text]
    found = page_gutter([*text, *beside], 8 / 595, may_mark)
    assert found is not None
    assert (found.left, found.right) == (0.4, 0.5)


def test_a_plain_letter_far_from_its_words_is_a_mark_where_it_stands_above_others():
    page = PageLayout(1, 842.0, 595.0, tuple(steps(0.1, 0.1, *LEFT)), ())
    assert [line.text[:2] for line in lines_of(page)] == [f"{letter}\t" for letter in "ABCDEFGH"]
    rows = [steps(0.1, 0.1 + 0.1 * i, one) for i, one in enumerate(LEFT)]
    assert len(hanging_marks(rows, 842.0, 0.9, 6.0)) == len(LEFT)
    assert not hanging_marks(rows[:2], 842.0, 0.9, 6.0)


def line(text: str, lead: int) -> Line:
    return Line(text, 0.05, 0.1, 0.33, 0.11, 8.0, False, lead, len(text.split()))


def test_what_stands_beside_a_bold_heading_in_its_row_is_no_part_of_it():
    head, beside = heads_apart([line("2110\tLid, remove\t0.4 h", 17)])
    assert (head.text, head.bold, beside.text, beside.bold) == ("2110\tLid, remove", True, "0.4 h", False)
    same = line("Remove: take the lid off", 7)
    assert heads_apart([same]) == [same]


def heading(number: str, title: str, rank: int) -> Piece:
    piece = Piece("heading", At(1, line(title, 0)), title)
    piece.number, piece.rank = number, rank
    return piece


def test_plain_numbers_nest_by_their_first_figures_and_their_type():
    book = Book(lexicon())
    for number, rank in (("2", 0), ("21", 1), ("2110", 2), ("2120", 2), ("22", 1), ("3", 0)):
        book.add(heading(number, f"Title {number}", rank))
    above = {one.number: one.parent.number if one.parent else "" for one in book.sections}
    assert above == {"2": "", "21": "2", "2110": "21", "2120": "21", "22": "2", "3": ""}


def test_a_number_too_high_for_a_step_is_that_of_a_section():
    english = lexicon()
    for text, numbers in (
        ("Remove the drum (Op. 2110 or 3110).", ("2110", "3110")),
        ("Perform Ops. 2110, 3110 and 6210 before next step.", ("2110", "3110", "6210")),
        ("Do operations 2110 thru 2130.", ("2110", "2130")),
    ):
        found = [one for one in pointers_in(english.scan(text), english) if one.form == "section"]
        assert [one.targets for one in found] == [numbers]

"""Quantities and callout lists."""

import pytest

from lastbolt.reading.cell_counts import doubt_of_name, read_quantity
from lastbolt.reading.counts import count_before, counts_in, parentheses_in, read_callouts
from lastbolt.reading.fasteners import fastener_nouns
from lastbolt.reading.lexicon import lexicon


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("4", ("exactly", 4, 4, "")),
        ("4x", ("exactly", 4, 4, "")),
        ("(4)", ("exactly", 4, 4, "")),
        ("Qty 4", ("exactly", 4, 4, "")),
        ("4 off", ("exactly", 4, 4, "")),
        ("two", ("exactly", 2, 2, "")),
        ("2-3", ("range", 2, 3, "")),
        ("min. 2", ("at least", 2, None, "")),
        ("4 each side", ("exactly", 4, 4, "side")),
        ("2 per cylinder", ("exactly", 2, 2, "each")),
        ("AR", ("as required", None, None, "")),
        ("a/r", ("as required", None, None, "")),
        ("as req'd", ("as required", None, None, "")),
        ("REF", ("unsaid", None, None, "")),
        ("-", ("unsaid", None, None, "")),
        ("", ("unsaid", None, None, "")),
        ("1|0", ("unsaid", None, None, "")),
    ],
)
def test_quantity_of_a_cell(cell, expected):
    quantity = read_quantity(cell)
    assert (quantity.kind, quantity.low, quantity.high, quantity.per) == expected


@pytest.mark.parametrize(
    ("text", "kind", "low", "per"),
    [
        ("Remove the four screws", "exactly", 4, ""),
        ("Remove the four hex socket head screws", "exactly", 4, ""),
        ("Undo both nuts", "exactly", 2, ""),
        ("the remaining two bolts", "remaining", 2, ""),
        ("the other two screws", "remaining", 2, ""),
        ("the remaining screws", "remaining", None, ""),
        ("at least 3 bolts", "at least", 3, ""),
        ("22 screws", "exactly", 22, ""),
        ("After the first ten hours, check the case screws", None, None, ""),
        ("Remove the cover screws", None, None, ""),
    ],
)
def test_count_before_a_noun(text, kind, low, per):
    scan = lexicon().scan(text)
    count = count_before(scan, fastener_nouns(scan)[-1].first)
    found = None if count is None else (count.quantity.kind, count.quantity.low, count.quantity.per)
    assert found == (None if kind is None else (kind, low, per))


@pytest.mark.parametrize(
    ("text", "low", "per", "callout"),
    [
        ("4 x M6x45", 4, "", None),
        ("fit Qty 4", 4, "", None),
        ("ea. 2", 2, "", None),
        ("two each side", 2, "side", None),
        ("3-14x", 14, "", "3"),
    ],
)
def test_count_with_a_mark_of_its_own(text, low, per, callout):
    (count,) = counts_in(lexicon().scan(text))
    assert (count.quantity.low, count.quantity.per, count.callout) == (low, per, callout)


def test_a_count_with_a_callout_before_it_is_doubtful():
    (count,) = counts_in(lexicon().scan("screws 3-14x"))
    assert count.doubt


@pytest.mark.parametrize("text", ["a gap of 2 x 30 mm", "turn it 2 turns", "at 5 bar"])
def test_measures_are_no_counts(text):
    assert counts_in(lexicon().scan(text)) == []


def test_callouts_are_written_out():
    listed = read_callouts("6, 10, 11, 16-18, 20, 21")
    assert listed == ("6", "10", "11", "16", "17", "18", "20", "21")
    assert read_callouts("3 and 4") == ("3", "4")
    assert read_callouts("18-16") == ()
    assert read_callouts("see 4.2") == ()


def test_brackets_with_numbers_only():
    (found,) = parentheses_in("screws (6, 10, 11) and nut (M8)")
    assert found.numbers == ("6", "10", "11")


@pytest.mark.parametrize("cell", ["-2", "O2", "2/4", "PACK OF 10", "2 sets", "4 (2)", "SET 4", "2 l", "l0"])
def test_a_cell_that_is_no_plain_count_counts_nothing(cell):
    """Figures in a cell are not yet a number of pieces (common practice, no source)."""
    quantity = read_quantity(cell)
    assert (quantity.kind, quantity.low, quantity.words) == ("unsaid", None, cell)


@pytest.mark.parametrize(
    ("cell", "count"), [("2 REQ'D", 2), ("10 pcs.", 10), ("x4", 4), ("4 (opposite)", 4), ("No. off: 4", 4)]
)
def test_words_of_counting_beside_a_count(cell, count):
    assert read_quantity(cell).low == count


@pytest.mark.parametrize(
    ("name", "cell", "doubted"),
    [
        ("SCREW, M6 X 45 (2 REQ'D)", "1", True),
        ("SCREW, M6 X 45 (2 REQ'D)", "2", False),
        ("SCREW M10 X 50 PACK OF 10", "1", True),
        ("SCREW M10 X 50, 10-pack", "2", True),
        ("SCREW M8 X 70, SET OF 4", "4", True),
        ("SCREW M8 X 70", "4", False),
        ("BOLT M10 X 1.25 X 40", "4", False),
    ],
)
def test_a_name_that_states_another_count(name, cell, doubted):
    """The column and the name cannot both be right, or they count different things (common practice)."""
    assert bool(doubt_of_name(name, read_quantity(cell))) is doubted

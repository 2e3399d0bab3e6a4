"""Counts of several words or parts: read whole, or told as a doubt; never as one of their parts."""

import pytest

from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.mentions import facts_in

ENGLISH = lexicon("english")


def counted(words: str) -> tuple[list[tuple[str, int | None, int | None, str]], str]:
    """The quantities of the fasteners that a sentence names, and its doubts."""
    facts = facts_in(ENGLISH.scan(words), ENGLISH, callouts_in_brackets=False)
    found = [m.quantity for m in facts.mentions if m.kind is not None]
    return [(q.kind, q.low, q.high, q.per) for q in found], facts.doubt


@pytest.mark.parametrize(
    ("words", "count"),
    [
        ("Remove the twenty-one screws M8 x 45.", 21),
        ("Remove the thirty two screws M8 x 45.", 32),
        ("Remove the forty screws M8 x 45.", 40),
        ("Remove the dozen screws M8 x 45.", 12),
        ("Remove half a dozen screws M8 x 45.", 6),
        ("Remove the screws M8 x 45 (nine).", 9),
    ],
)
def test_numbers_in_words(words: str, count: int) -> None:
    assert counted(words) == ([("exactly", count, count, "")], "")


def test_so_many_on_each_side_is_no_total() -> None:
    assert counted("Remove the eight screws M8 x 45 on each side.")[0] == [("exactly", 8, 8, "side")]


@pytest.mark.parametrize(
    "words",
    [
        "Remove the 8 + 1 screws M8 x 45.",
        "Remove the screws (8 + 1 x M8 x 45).",
        "Remove the screws M8 x 45 (eight on the left and two on the right).",
    ],
)
def test_a_sum_is_a_doubt(words: str) -> None:
    found, doubt = counted(words)
    assert found == [("unsaid", None, None, "")]
    assert doubt


def test_one_or_another_is_a_range_and_a_doubt() -> None:
    found, doubt = counted("Remove the eight or nine screws M8 x 45.")
    assert found == [("range", 8, 9, "")]
    assert doubt

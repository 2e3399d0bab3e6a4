"""Phrases are found as by their pattern alone, whatever is looked at first."""

import pytest

from lastbolt.reading.numbers import has_figure
from lastbolt.reading.phrases import Phrases

SOME = Phrases(("end float", "at most", "s.", "≤", "well-worn"))


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Check the End Float of the shaft", "End Float"),
        ("the float at its end", None),
        ("bend floats", None),
        ("as told, s. 4.2", "s."),
        ("gears. 4.2", None),
        ("a gap ≤ 0.2", "≤"),
        ("a well-worn gear", "well-worn"),
        ("a well worn gear", None),
    ],
)
def test_whole_phrases_are_found_whatever_their_capitals(text: str, found: str | None) -> None:
    match = SOME.search(text)
    assert (match[0] if match else None) == found
    assert [m[0] for m in SOME.finditer(text)] == ([found] if found else [])


def test_a_phrase_begins_where_it_is_asked_for() -> None:
    assert SOME.match("or at most 3", 3) is not None
    assert SOME.match("or at most 3", 0) is None


def test_what_follows_a_phrase_may_be_told() -> None:
    cue = Phrases(("told in",), r"\s(?=[a-z])")
    assert cue.search("as told in chain guard") is not None
    assert cue.search("as told in 4.2") is None


def test_every_sign_that_counts_as_a_figure_is_one() -> None:
    basic = [chr(code) for code in range(0x10000)]
    assert [c for c in basic if has_figure(c)] == [c for c in basic if c.isdigit()]
    assert has_figure("x\U0001d7d8")

"""Phrases in texts: whole words only, plurals too, the first phrase of the list that is there."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.planning.names import any_of

LETTERS = st.text("absen -,2", max_size=12)


@pytest.mark.parametrize(
    ("text", "phrases", "found"),
    [
        ("Remove the two screws", ["screw"], "screw"),
        ("Take the BOSSES off", ["boss"], "boss"),
        ("unscrewing", ["screw"], ""),
        ("it may fall out of the bore", ["drops out", "fall out"], "fall out"),
        ("lay the O-rings in", ["o-ring"], "o-ring"),
        ("use 2 x M8", ["2 x"], "2 x"),
        ("springs under load", ["under", "spring"], "under"),
        ("shaft-nut", ["nut"], "nut"),
        ("", ["nut"], ""),
        ("nut", [], ""),
    ],
)
def test_phrases(text: str, phrases: list[str], found: str) -> None:
    assert any_of(text, phrases) == found


@given(LETTERS, st.lists(LETTERS.map(str.strip).filter(bool), max_size=4))
def test_what_is_passed_over_quickly_is_what_a_plain_search_passes_over(
    text: str, phrases: list[str]
) -> None:
    plain = (one for one in phrases if re.search(rf"(?<![a-z]){re.escape(one)}(?:s|es)?(?![a-z])", text))
    assert any_of(text, phrases) == next(plain, "")

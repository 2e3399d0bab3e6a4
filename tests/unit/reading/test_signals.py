"""The signal words of ANSI Z535.6 open a caution; ordinary words do not."""

import pytest

from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.pieces import pieces_of
from lastbolt.reading.problems import HEADINGS
from lastbolt.reading.schema import Schema, Style


def _first_piece(text: str, lead: int = 0):
    schema = Schema(Style(20, False, False), {}, frozenset(), ".", True)
    line = Line(text, 0.1, 0.3, 0.9, 0.312, 10.0, False, lead, len(text.split()))
    return next(pieces_of(iter([(1, [line])]), schema, lexicon()))


# ANSI Z535.6 signal words; the standard's "notice" is kept as a note (no injury).
@pytest.mark.parametrize(
    ("word", "name"),
    [("DANGER", "danger"), ("WARNING", "warning"), ("CAUTION", "caution"), ("NOTICE", "note")],
)
@pytest.mark.parametrize("form", ["{w}", "{w}: hot oil", "! {w}", "⚠\t{w}"])
def test_signal_word_opens_a_caution(word, name, form):
    piece = _first_piece(form.format(w=word))
    assert (piece.kind, piece.name) == ("caution", name)


@pytest.mark.parametrize(
    "text", ["Caution is needed here.", "Warning lamps are red.", "Notes of the shop", "Dangerous"]
)
def test_ordinary_words_do_not(text):
    assert _first_piece(text).kind != "caution"


def test_every_code_has_its_heading_in_the_docs():
    from pathlib import Path

    written = (Path(__file__).parents[3] / "docs" / "errors.md").read_text(encoding="utf-8")
    assert [code for code in HEADINGS if f"### {code}" not in written] == []

"""The language file uses only the deeds and signal words that a model may hold."""

import pytest

from lastbolt.reading.lexicon import lexicon
from lastbolt.words.machine import DEEDS, SIGNALS


@pytest.mark.parametrize(("table", "known"), [("deeds", DEEDS), ("signals", SIGNALS)])
def test_every_key_is_a_word_of_the_model(table: str, known: dict[str, str]) -> None:
    keys = set(lexicon().data[table])
    assert keys
    assert keys <= set(known)

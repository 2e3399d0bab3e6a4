"""The language files use only the deeds and signal words that a model may hold, and hold no idle lists."""

import re
import tomllib
from importlib import resources

import pytest

from lastbolt.reading.lexicon import lexicon
from lastbolt.words.machine import DEEDS, SIGNALS


@pytest.mark.parametrize(("table", "known"), [("deeds", DEEDS), ("signals", SIGNALS)])
def test_every_key_is_a_word_of_the_model(table: str, known: dict[str, str]) -> None:
    keys = set(lexicon().data[table])
    assert keys
    assert keys <= set(known)


ASKED = {"sizes", "titles", "torque", "front_words", "left_over", "particles", "ordering"}
"""Tables of the language file of which each list is asked for by its name."""


@pytest.mark.parametrize("name", ["english", "torque_words"])
def test_every_list_is_read_by_somebody(name: str) -> None:
    folder = resources.files("lastbolt.reading")
    code = "".join(f.read_text(encoding="utf-8") for f in folder.iterdir() if f.name.endswith(".py"))
    tables = tomllib.loads((folder / f"{name}.toml").read_text(encoding="utf-8"))
    asked = tables.keys() & ASKED if name == "english" else tables.keys()
    keys = {(table, key) for table in asked if isinstance(tables[table], dict) for key in tables[table]}
    assert keys
    assert {(table, key) for table, key in keys if not re.search(rf"[\"']{key}[\"']", code)} == set()

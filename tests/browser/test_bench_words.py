"""The page's own words in both languages: the same ones, with the same gaps, and none that a screen lacks."""

import json
import re
from importlib.resources import files

PAGE = files("lastbolt.edge.bench_web").joinpath("page")
WORDS = {
    language: json.loads(PAGE.joinpath(f"words_{language}.json").read_text("utf-8"))
    for language in ("en", "es")
}
SCRIPTS = "\n".join(one.read_text("utf-8") for one in PAGE.iterdir() if one.name.endswith(".js"))
MADE = re.compile(r"(did|saw|state|role|is)_")
"""Words whose names are put together from what an event or a place says."""


def test_both_languages_have_the_same_words_with_the_same_gaps() -> None:
    gaps = {
        language: {name: sorted(re.findall(r"\{\w+\}", text)) for name, text in words.items()}
        for language, words in WORDS.items()
    }
    assert gaps["en"] == gaps["es"]


def test_every_word_that_a_screen_asks_for_is_there_and_none_is_idle() -> None:
    asked = set(re.findall(r'\bt\("([^"]+)"', SCRIPTS)) | set(re.findall(r'\bcount\("([^"]+)"', SCRIPTS))
    assert asked - set(WORDS["en"]) == set()
    idle = {
        name for name in WORDS["en"]
        if not MADE.match(name) and f'"{name.removesuffix("_one")}"' not in SCRIPTS
    }  # fmt: skip
    assert idle == set()

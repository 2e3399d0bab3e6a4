"""Words by which sources name what else holds a joint together, from this package's own word file."""

import re
import tomllib
from functools import cache, lru_cache
from importlib import resources
from typing import Any

from lastbolt.words.joint import HolderSort

Asked = tuple[HolderSort, str]
"""A sort of holder, and what to look for."""


@lru_cache(maxsize=1)
def _data() -> dict[str, Any]:
    return tomllib.loads((resources.files("lastbolt.app") / "holder_words.toml").read_text("utf-8"))


@cache
def listed(name: str) -> tuple[str, ...]:
    """One of the plain lists of the word file: `not_holders`, `ties`, `still_in`, ..."""
    return tuple(_data()["lists"][name])


@cache
def _any_of(name: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(re.escape(phrase) for phrase in listed(name))})\b")


def says(name: str, words: str) -> bool:
    """Whether free words have a phrase of a list; capitals, spaces and the apostrophe of a phone aside."""
    return _any_of(name).search(" ".join(words.casefold().replace("\u2019", "'").split())) is not None


@lru_cache(maxsize=1)
def _named() -> tuple[tuple[str, Asked], ...]:
    return tuple((word, (e["sort"], e["ask"])) for e in _data()["named"] for word in e["words"])


@lru_cache(maxsize=1)
def _told() -> tuple[tuple[str, Asked], ...]:
    return tuple((word, (e["sort"], e["ask"])) for e in _data()["told"] for word in e["words"])


def holder_sort(name: str) -> Asked | None:
    """The sort of holder that a part's name suggests, and what to look for; None for none."""
    low = name.lower()
    if any(word in low for word in listed("not_holders")):
        return None
    return next((asked for word, asked in _named() if word in low), None)


def told_of(sentence: str) -> tuple[str, Asked] | None:
    """The phrase by which a sentence says that a part holds the joint, with the sort and what to look for."""
    low = sentence.lower()
    return next((entry for entry in _told() if entry[0] in low), None)


def is_dowel_name(name: str) -> bool:
    """Whether the name is a dowel's, whatever its kind was read as."""
    return "dowel" in name.lower()

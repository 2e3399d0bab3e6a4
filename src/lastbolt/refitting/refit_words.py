"""The words of the language by which the way back is watched, as data."""

import re
import tomllib
from collections.abc import Iterable
from functools import lru_cache
from importlib import resources
from typing import Any


@lru_cache(maxsize=1)
def refit_words() -> dict[str, Any]:
    """Everything in `refit.toml`."""
    return tomllib.loads((resources.files("lastbolt.refitting") / "refit.toml").read_text("utf-8"))


def says(text: str, phrases: Iterable[str]) -> bool:
    """Whether one of the phrases stands in the text as whole words.

    >>> says("Warm the cover to 80 °C.", ["warm the"]), says("Swarm theory", ["warm the"])
    (True, False)
    """
    known = _pattern(tuple(phrases))
    return bool(known and known.search(text.lower()))


@lru_cache(maxsize=100)
def _pattern(phrases: tuple[str, ...]) -> re.Pattern[str] | None:
    if not phrases:
        return None
    return re.compile(rf"(?<![a-z])(?:{'|'.join(map(re.escape, phrases))})(?:s|es|ed)?(?![a-z])")

"""The words by which manuals call a table by its number; references that were resolved need no such words."""

import re
import tomllib
from functools import lru_cache
from importlib import resources
from typing import Any


@lru_cache(maxsize=1)
def words() -> dict[str, Any]:
    """The words of the language, as data."""
    return tomllib.loads((resources.files("lastbolt.comparing") / "spoken.toml").read_text("utf-8"))


def captions(text: str) -> frozenset[str]:
    """The numbers of the tables that a text names, in one form.

    >>> sorted(captions("as in Table 4 – 1 and table A2"))
    ['4-1', 'a2']
    """
    return frozenset(
        re.sub(r"\s", "", number).replace("–", "-").casefold() for number in _pattern().findall(text)
    )


@lru_cache(maxsize=1)
def _pattern() -> re.Pattern[str]:
    named = "|".join(map(re.escape, words()["table"]["named"]))
    return re.compile(rf"\b(?:{named})\s+([A-Z]?\d+(?:\s?[-–.]\s?\d+)*[a-z]?)\b", re.IGNORECASE)

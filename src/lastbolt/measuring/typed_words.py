"""The words of typed readings, as data (`typed.toml`)."""

import re
import tomllib
from functools import lru_cache
from importlib import resources


@lru_cache(maxsize=1)
def typed_words() -> dict[str, list[str]]:
    """What each statement begins with, or holds."""
    return tomllib.loads((resources.files("lastbolt.measuring") / "typed.toml").read_text("utf-8"))


@lru_cache(maxsize=128)
def words_pattern(kind: str) -> str:
    """All words of one kind as a pattern, the longest first; blanks as wide as they come."""
    words = sorted(typed_words()[kind], key=len, reverse=True)
    return "|".join(r"\s+".join(re.escape(part) for part in word.split()) for word in words)

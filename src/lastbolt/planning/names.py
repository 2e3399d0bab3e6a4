"""Part names as sources write them: "the gearcase cover" and "Covers, gearcase" are one part."""

import re
import tomllib
from collections.abc import Iterable
from functools import lru_cache
from importlib import resources
from typing import Any

_WORD = re.compile(r"[a-z][a-z\-']+")


@lru_cache(maxsize=1)
def words() -> dict[str, Any]:
    """The words of the language, as data."""
    return tomllib.loads((resources.files("lastbolt.planning") / "between.toml").read_text("utf-8"))


@lru_cache(maxsize=20_000)
def stems(name: str) -> tuple[str, ...]:
    """The words of a name that matter, singular, the head noun last.

    >>> stems("the gearcase covers (3)")
    ('gearcase', 'cover')
    >>> stems("Cover, gearcase")
    ('gearcase', 'cover')
    """
    head, _, rest = name.lower().partition(",")
    ordered = f"{rest} {head}" if rest and not any(sign.isdigit() for sign in rest) else head
    drop = _dropped()
    return tuple(_singular(word) for word in _WORD.findall(ordered) if word not in drop)


@lru_cache(maxsize=1)
def _dropped() -> frozenset[str]:
    return frozenset(words()["names"]["drop"])


def same_part(a: str, b: str) -> bool:
    """Whether two names can be the same part: one head noun, and no word of one contradicts the other."""
    one, two = stems(a), stems(b)
    if not one or not two or one[-1] != two[-1]:
        return False
    return set(one) <= set(two) or set(two) <= set(one)


def any_of(text: str, phrases: Iterable[str]) -> str:
    """The first of the phrases that stands in the text as whole words, or nothing."""
    low = text.lower()
    every, each = _compiled(tuple(phrases))
    if not every.search(low):
        return ""
    return next(phrase for phrase, alone in each if alone.search(low))


@lru_cache(maxsize=100)
def _compiled(phrases: tuple[str, ...]) -> tuple[re.Pattern[str], tuple[tuple[str, re.Pattern[str]], ...]]:
    """One pattern for all of them, since most texts hold none; then one for each, in the order given."""
    whole = {phrase: rf"(?<![a-z]){re.escape(phrase)}(?:s|es)?(?![a-z])" for phrase in phrases}
    every = "|".join(whole.values()) or r"(?!)"
    return re.compile(every), tuple((phrase, re.compile(one)) for phrase, one in whole.items())


def _singular(word: str) -> str:
    if word in words()["names"]["plural_keeps"] or len(word) < 4 or word.endswith("ss"):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "xes", "sses")):
        return word[:-2]
    return word[:-1] if word.endswith("s") else word

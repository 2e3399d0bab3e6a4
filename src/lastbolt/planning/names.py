"""Part names as sources write them: "the gearcase cover" and "Covers, gearcase" are one part."""

import re
import tomllib
from collections.abc import Iterable
from functools import lru_cache
from importlib import resources
from typing import Any

from msgspec import Struct

_WORD = re.compile(r"[a-z][a-z\-']+")
_RUN = re.compile(r"[a-z]+")
_HYPHEN = re.compile(r"(?<=[a-z]{2})-(?=[a-z]{2})")


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
    >>> stems("Plug, drain, M18 x 1.5")
    ('drain', 'plug')
    """
    head, *rest = _HYPHEN.sub(" ", name.lower()).split(",")
    worded = [piece for piece in rest if not any(sign.isdigit() for sign in piece)]
    drop = _dropped()
    return tuple(_singular(word) for word in _WORD.findall(" ".join([*worded, head])) if word not in drop)


@lru_cache(maxsize=1)
def _dropped() -> frozenset[str]:
    return frozenset(words()["names"]["drop"])


def same_part(a: str, b: str) -> bool:
    """Whether two names can be the same part: one head noun, and no word of one contradicts the other."""
    one, two = stems(a), stems(b)
    if not one or not two or one[-1] != two[-1]:
        return False
    return set(one) <= set(two) or set(two) <= set(one)


def same_name(a: str, b: str) -> bool:
    """Whether two names are one name, word order and little words aside."""
    one = stems(a)
    return bool(one) and set(one) == set(stems(b))


def any_of(text: str, phrases: Iterable[str]) -> str:
    """The first of the phrases that stands in the text as whole words, or nothing."""
    low = text.lower()
    known = _compiled(tuple(phrases))
    if known.heads is not None and known.heads.isdisjoint(_runs(low)):
        return ""
    return next((phrase for phrase, alone in known.each if alone.search(low)), "")


def ends_in(name: str, phrases: Iterable[str]) -> bool:
    """Whether a name's last words are one of the phrases: "lower drain plug" ends in "plug".

    >>> ends_in("Screws of the drain plug", ["plug"]), ends_in("plug seal", ["plug"])
    (True, False)
    """
    key = stems(name)
    ends, longest = _ends(tuple(phrases))
    return any(key[-count:] in ends for count in range(1, min(longest, len(key)) + 1))


@lru_cache(maxsize=100)
def _ends(phrases: tuple[str, ...]) -> tuple[frozenset[tuple[str, ...]], int]:
    ends = frozenset(key for phrase in phrases if (key := stems(phrase)))
    return ends, max((len(end) for end in ends), default=0)


class _Phrases(Struct, frozen=True):
    """Patterns of phrases, in the order given. `heads`: what each begins with, as it can stand in a text;
    a text that holds none of these holds no phrase. None: one begins with no letter."""

    each: tuple[tuple[str, re.Pattern[str]], ...]
    heads: frozenset[str] | None


@lru_cache(maxsize=100)
def _compiled(phrases: tuple[str, ...]) -> _Phrases:
    each = tuple(
        (phrase, re.compile(rf"(?<![a-z]){re.escape(phrase)}(?:s|es)?(?![a-z])")) for phrase in phrases
    )
    heads: set[str] = set()
    for phrase in phrases:
        first = _RUN.match(phrase)
        if first is None:
            return _Phrases(each, None)
        heads.update((first[0], f"{first[0]}s", f"{first[0]}es"))
    return _Phrases(each, frozenset(heads))


@lru_cache(maxsize=20_000)
def _runs(low: str) -> frozenset[str]:
    return frozenset(_RUN.findall(low))


def _singular(word: str) -> str:
    if word in words()["names"]["plural_keeps"] or len(word) < 4 or word.endswith("ss"):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "xes", "sses")):
        return word[:-2]
    return word[:-1] if word.endswith("s") else word

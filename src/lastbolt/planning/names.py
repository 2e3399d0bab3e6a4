"""Part names as sources write them: "the gearcase cover" and "Covers, gearcase" are one part."""

import re
import tomllib
from collections.abc import Iterable
from functools import lru_cache
from importlib import resources
from typing import Any

from msgspec import Struct

from lastbolt.words.sentences import clauses as _clauses
from lastbolt.words.sentences import split

_WORD = re.compile(r"[a-z][a-z\-']+")
_RUN = re.compile(r"[a-z]+")
SHORT = 40
"""Texts no longer than this are names, which come again and again."""
_HYPHEN = re.compile(r"(?<=[a-z]{2})-(?=[a-z]{2})")


@lru_cache(maxsize=1)
def words() -> dict[str, Any]:
    """The words of the language, as data."""
    text = (resources.files("lastbolt.planning") / "between.toml").read_text("utf-8")
    found: dict[str, Any] = _kept(tomllib.loads(text))
    return found


class _Kept(tuple[str, ...]):
    """A list of the language's words, known by what it is and not word by word: its pattern is made once."""

    __slots__ = ()

    def __hash__(self) -> int:
        return id(self)

    def __eq__(self, other: object) -> bool:
        return self is other


def _kept(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _kept(inner) for name, inner in value.items()}
    return _Kept(value) if isinstance(value, list) else value


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


def sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text; "Fig. 2" ends none."""
    return split(text, words()["sentences"]["abbreviations"])


def clauses(text: str) -> tuple[str, ...]:
    """What stands between points, colons and semicolons; "Fig. 2" ends none."""
    return _clauses(text, words()["sentences"]["abbreviations"])


def any_of(text: str, phrases: Iterable[str]) -> str:
    """The first of the phrases that stands in the text as whole words, or nothing."""
    if not isinstance(phrases, _Kept):
        return _first_in(text, _compiled(tuple(phrases)))
    return _first_again(text, phrases) if len(text) <= SHORT else _first_in(text, _compiled(phrases))


@lru_cache(maxsize=20_000)
def _first_again(name: str, phrases: "_Kept") -> str:
    """The same, remembered: a manual says "screws" a thousand times."""
    return _first_in(name, _compiled(phrases))


def _first_in(text: str, known: "_Phrases") -> str:
    low = text.lower()
    if known.heads is not None and known.heads.isdisjoint(_runs(low)):
        return ""
    return next((phrase for phrase, alone in known.each if alone.search(low)), "")


def ends_in(name: str, phrases: Iterable[str]) -> bool:
    """Whether a name's last words are one of the phrases: "lower drain plug" ends in "plug".

    >>> ends_in("Screws of the drain plug", ["plug"]), ends_in("plug seal", ["plug"])
    (True, False)
    """
    return _ends_in(name, phrases if isinstance(phrases, _Kept) else tuple(phrases))


@lru_cache(maxsize=20_000)
def _ends_in(name: str, phrases: tuple[str, ...]) -> bool:
    key = stems(name)
    ends, longest = _ends(phrases)
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

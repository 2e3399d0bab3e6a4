"""The usual sizes of engines and gearboxes: how each is taken, with what, what it decides."""

import re
import tomllib
from functools import lru_cache
from importlib import resources
from typing import Any, Literal

from msgspec import Struct

from lastbolt.words.readings import Beyond

By = Literal["worst", "spread", "mean"]
_JOIN = re.compile(r"\b(run|out|back|end|side)[- ](out|of[- ]round|lash|float|play)\b")
_WORD = re.compile(r"[a-z]+|\d+(?:\.\d+)?")
_ENDS = (("halves", "half"), ("ies", "y"), ("sses", "ss"), ("shes", "sh"), ("ches", "ch"), ("ves", "ve"))


class Dimension(Struct, frozen=True):
    """One kind of size. `by`: which of its readings decides; `warm`: it matters whether the part is warm."""

    name: str
    names: tuple[str, ...]
    how: str
    tools: tuple[str, ...]
    readings: int
    by: By
    decides: str
    warm: bool = False
    both: bool = False
    """Too little is as bad as too much."""
    beyond: Beyond = "part"
    source: str = ""


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    return tomllib.loads((resources.files("lastbolt.measuring") / "dimensions.toml").read_text("utf-8"))


@lru_cache(maxsize=1)
def dimensions() -> tuple[Dimension, ...]:
    """All of them, in the order in which words are looked for."""
    return tuple(_made(row) for row in _table()["dimension"])


def _made(row: dict[str, Any]) -> Dimension:
    lists = {"names": tuple(row["names"]), "tools": tuple(row["tools"])}
    return Dimension(**{**row, **lists, "source": row.get("source", _table()["source"])})


@lru_cache(maxsize=4096)
def words_of(text: str) -> tuple[str, ...]:
    """The words that tell sizes apart, each in the singular; "run-out", "run out" and "runout" are one.

    >>> words_of("Run-out of the output shafts, at the coupling seat")
    ('runout', 'output', 'shaft', 'coupling', 'seat')
    """
    low = _JOIN.sub(lambda found: found[0].replace(" ", "").replace("-", ""), text.casefold())
    skip, short = _table()["skip"], _table()["short"]
    words = (_single(word) for word in _WORD.findall(low) if word not in skip)
    return tuple(short.get(word, word) for word in words)


def _single(word: str) -> str:
    for many, one in _ENDS:
        if word.endswith(many):
            return word.removesuffix(many) + one
    return (
        word[:-1] if word.endswith("s") and not word.endswith(("ss", "us", "is")) and len(word) > 3 else word
    )


def is_which(word: str) -> bool:
    """Whether a word only says which one of several alike."""
    return word in _table()["which"] or any(sign.isdigit() for sign in word)


def which_key(of: str) -> tuple[str, ...]:
    """What tells one of several alike, however it is called.

    >>> which_key("cylinder 2") == which_key("no. 2") == which_key("2")
    True
    """
    return tuple(word for word in words_of(of) if word not in _table()["counted"])


@lru_cache(maxsize=1)
def size_words() -> tuple[str, ...]:
    """What names only a size and never a part, the longest first."""
    return tuple(sorted(_table()["size_words"], key=len, reverse=True))


@lru_cache(maxsize=4096)
def dimension_of(what: str, measure: str = "") -> Dimension:
    """The kind of size that words name: the longest name in them; without one, that of `measure`.

    >>> dimension_of("Valve stem, clearance in guide").name, dimension_of("Valve clearance, cold").name
    ('play', 'valve lash')
    """
    for words in (words_of(what), words_of(measure)):
        found: tuple[int, int, Dimension] | None = None
        for place, one in enumerate(dimensions()):
            long = max((_inside(words_of(name), words) for name in one.names), default=0)
            if long and (found is None or long > found[0]):
                found = (long, place, one)
        if found:
            return found[2]
    return _made(_table()["fallback"])


def _inside(name: tuple[str, ...], words: tuple[str, ...]) -> int:
    """How many words of a name stand in the text, in a row; 0 unless all do."""
    size = len(name)
    return size if size and any(words[at : at + size] == name for at in range(len(words) - size + 1)) else 0

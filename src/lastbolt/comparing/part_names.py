"""Whether two lines mean one part: by number, by size, by name; and what only may be one."""

import re
from collections.abc import Iterable
from functools import lru_cache

from lastbolt.comparing.spoken import words
from lastbolt.words.quantity import Kind

_TOKEN = re.compile(
    r"\d+(?:[.,/]\d+)*(?:\s?(?:mm|cm|m|in|kg|g|v|w|°)(?![a-z]))?|[a-z]+\d[\w.]*|[a-z]+|\d[\w.]*"
)
_HYPHEN = re.compile(r"(?<=[a-z])[-'](?=[a-z])")


@lru_cache(maxsize=20_000)
def tokens(name: str) -> frozenset[str]:
    """The words and numbers of a name, singular, in no order.

    >>> sorted(tokens("200 mm Zip-Ties (the)"))
    ['200mm', 'tie', 'zip']
    """
    low = _HYPHEN.sub(" ", name.casefold())
    found = (token.replace(" ", "") for token in _TOKEN.findall(low))
    return frozenset(_singular(token) for token in found if token not in words()["names"]["drop"])


def worded(name: str) -> frozenset[str]:
    """The same without numbers and sizes."""
    return frozenset(token for token in tokens(name) if not any(sign.isdigit() for sign in token))


def bare_number(number: str) -> str:
    """A part number without spaces, points and hyphens; "" where it holds no figure."""
    bare = "".join(sign for sign in number if sign.isalnum()).upper()
    return bare if any(sign.isdigit() for sign in bare) else ""


def is_sized(kind: Kind | None) -> bool:
    """Whether a fastener is told by sort and size: by these it is looked up, whatever it is called."""
    if kind is None or kind.what is None or kind.thread is None:
        return False
    return kind.length_mm is not None or kind.what == "nut"


def same_size(one: Kind | None, other: Kind | None) -> bool:
    """Whether both are sized and say the same; a head that one of them leaves out says nothing."""
    if one is None or other is None or not (is_sized(one) and is_sized(other)):
        return False
    heads = {head for head in (one.head, other.head) if head is not None}
    return _size(one) == _size(other) and len(heads) < 2


def _size(kind: Kind) -> tuple[str | None, str, float | None]:
    family = "screw" if kind.what in ("bolt", "screw") else kind.what
    thread = (kind.thread or "").partition("x")[0] if (kind.thread or "").startswith("M") else kind.thread
    return family, thread or "", kind.length_mm


def without_sides(of: Iterable[str]) -> frozenset[str]:
    """The words of a name less the side it is for."""
    return frozenset(of) - frozenset(words()["names"]["sides"])


def _singular(word: str) -> str:
    keeps = word in words()["names"]["plural_keeps"] or len(word) < 4 or word.endswith("ss")
    if keeps or any(sign.isdigit() for sign in word):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "xes", "sses")):
        return word[:-2]
    return word[:-1] if word.endswith("s") else word

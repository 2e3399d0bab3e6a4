"""Words as they are searched: runs of letters and of figures, capitals and small letters alike.

So "M6x45" is found where "M6 × 45" is printed, and the part number "Q-222/106" by "q222 106".
"""

import re
import unicodedata
from collections.abc import Iterator

_ATOM = re.compile(r"[^\W\d_]+|\d+")
_TIMES = str.maketrans({"×": "x", "·": " ", "⋅": " ", "•": " ", "\u00ad": None})
MOST_LETTERS = 64


def atoms(word: str) -> tuple[str, ...]:
    """The atoms of a word.

    >>> atoms("M6×45"), atoms("Q222-106,")
    (('m', '6', 'x', '45'), ('q', '222', '106'))
    """
    plain = unicodedata.normalize("NFKC", word.translate(_TIMES)).casefold()
    return tuple(atom[:MOST_LETTERS] for atom in _ATOM.findall(plain))


def terms(query: str) -> tuple[tuple[str, ...], ...]:
    """What is asked for: each word's atoms together, and words in double quotes together.

    >>> terms('case "lock washer" M6x45')
    (('case',), ('lock', 'washer'), ('m', '6', 'x', '45'))
    """
    return tuple(dict.fromkeys(found for piece in _pieces(query) if (found := atoms(piece))))


def _pieces(query: str) -> Iterator[str]:
    for number, piece in enumerate(query.split('"')):
        if number % 2:
            yield piece
        else:
            yield from _sizes_joined(piece.split())


def _sizes_joined(words: list[str]) -> Iterator[str]:
    """ "M6 x 45" typed with spaces is one size, not three words."""
    at = 0
    while at < len(words):
        if at + 2 < len(words) and words[at + 1].lower() in ("x", "×") and words[at + 2][:1].isdigit():
            yield " ".join(words[at : at + 3])
            at += 3
        else:
            yield words[at]
            at += 1

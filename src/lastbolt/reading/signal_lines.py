"""Lines that open a caution."""

import re

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.piece import At, Piece

_ICON = re.compile(r"(?:[iIℹ!][\s\t]+|[!⚠△▲◬☢⚡\s\t]+)?")
_DASHED = re.compile(r"[.:]?\s?[-–—]{1,2}\s|\.\s?[-–—]")
"""Behind a signal word: "Note.- The two long bolts"."""


def signal_of(at: At, language: Lexicon) -> Piece | None:
    """A caution: the signal word stands first, in capitals or bold, or before a colon."""
    line = at.line
    start = _ICON.match(line.text)
    offset = start.end() if start else 0
    if not line.text[offset : offset + 1].isalpha():
        return None
    word = re.match(r"[^\W\d_]+", line.text[offset:])
    if word is None:
        return None
    low = word.group().lower()
    name = next((key for key, words in language.data["signals"].items() if low in words), None)
    if name is None:
        return None
    rest = line.text[offset + word.end() :]
    loud = (
        word.group().isupper()
        or line.lead >= offset + word.end()
        or rest[:1] in (":", "!")
        or _DASHED.match(rest) is not None
        or not rest.strip()
    )
    if not loud or (rest[:1].isalnum() or rest[:2].strip() in ("of", "the")):
        return None
    piece = Piece("caution", at, rest.strip(" \t").lstrip(":!–-. ").lstrip())
    piece.name = name
    return piece

"""Numbers of headings in a shape that no rule has ("A1", "4/2", "Art. 12"), learned from the book: several
headings of one rank begin with the same word and the same shape of number."""

import re
from collections import Counter
from collections.abc import Sequence

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.piece import Piece

_LABEL = re.compile(
    r"(?:(?P<word>[^\W\d_]{2,12}\.?)\s|(?P<sign>[§¶№#])\s?)?"
    r"(?P<number>(?:[IVX]{1,5}[./:·–-])?[A-Z]{0,3}\d{1,4}[A-Z]?(?:(?:\s?[./:·–-]\s?)?[A-Z]?\d{1,4}[A-Z]?){0,4}"
    r"[a-z]?)[.):]?"
    r"(?:[\s\t]+[–—-]?\s?|\s?[–—:]\s?)(?P<title>[^\W\d_\"“(].*)"
)
_BEHIND = re.compile(
    r"(?P<title>[^\W\d_].*?)[\s\t]+(?P<word>)(?P<sign>)(?P<number>\d{1,3}(?:[./:·–-]\d{1,3}){1,3})"
)
"""The number behind the title, at the edge of the page."""
_DIGITS = re.compile(r"\d+")
_LETTERS = re.compile(r"[A-Z]+")
_FEWEST = 3
_SHARE = 0.5
"""So many of the headings of one rank bear such a number."""


def number_headings(pieces: Sequence[Piece], language: Lexicon) -> tuple[str, ...]:
    """Put the learned numbers of headings apart from their titles; what comes back are the words before them
    that point in this book ("art.", "card")."""
    headings = [piece for piece in pieces if piece.kind == "heading"]
    ranks = Counter(piece.rank for piece in headings)
    groups: dict[tuple[int, str, str], list[tuple[Piece, re.Match[str]]]] = {}
    for piece in headings:
        match = (
            None
            if piece.number or piece.name
            else _LABEL.fullmatch(piece.text) or _BEHIND.fullmatch(piece.text)
        )
        if match is None or _is_quantity(match, language):
            continue
        word = (match["word"] or match["sign"] or "").lower()
        shape = _LETTERS.sub("A", _DIGITS.sub("1", match["number"]))
        groups.setdefault((piece.rank, word, shape), []).append((piece, match))
    words: list[str] = []
    for (rank, word, _), found in groups.items():
        several = len({match["number"] for _, match in found}) >= _FEWEST
        if not several or len(found) < _SHARE * ranks[rank]:
            continue
        for piece, match in found:
            piece.number = re.sub(r"\s", "", match["number"]).replace("–", "-")
            piece.name, piece.text = word, match["title"]
        known = any(language.among(word, "pointing", key) for key in ("section", "step"))
        words += [word] if word and not known else []
    return tuple(dict.fromkeys(words))


def _is_quantity(match: re.Match[str], language: Lexicon) -> bool:
    """Whether the number is how much or how many of what follows: "12 bolts", "M8 screws"."""
    word = (match["word"] or "").lower()
    first = match["title"].split()[0].lower().strip(".,;:")
    plain = not match["word"] and not match["sign"] and match["number"].isdigit()
    return plain or language.among(first, "left_over", "units") or language.among(word, "pointing", "figure")

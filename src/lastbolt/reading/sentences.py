"""Text into sentences, without breaking at "Fig. 2", "No. 3" or "e.g."."""

import re

from lastbolt.reading.lexicon import Lexicon

_BREAK = re.compile(r"(?<=[.!?:;])[\"”)]?\s+(?=[\"“(]?[A-Z0-9²³¹⁰-⁽])")
_LAST_WORD = re.compile(r"([^\W\d_]+)\.[\"”)]?$")
_HARD = (".", "!", "?")
_INSIDE = tuple(".([/&")
"""Before the last letter of a short form such as "e.g."; of a unit such as "N·m" it is another sign."""


def sentences(text: str, language: Lexicon) -> list[str]:
    """The sentences of a text; a colon or a semicolon does not end one."""
    if ". " not in text and "! " not in text and "? " not in text:
        return [text] if text else []
    parts: list[str] = []
    start = 0
    for match in _BREAK.finditer(text):
        piece = text[start : match.start()]
        trimmed = piece.rstrip('"”)')
        if not trimmed.endswith(_HARD) or _abbreviates(piece, language):
            continue
        parts.append(text[start : match.end()].strip())
        start = match.end()
    parts.append(text[start:].strip())
    return [part for part in parts if part]


def _abbreviates(piece: str, language: Lexicon) -> bool:
    match = _LAST_WORD.search(piece, piece.rfind(" ") + 1)
    if match is None:
        return False
    word = match[1].lower()
    return word in language.abbreviations or (
        len(word) == 1 and word.isalpha() and piece[:-2].rstrip('"”)')[-1:] in _INSIDE
    )

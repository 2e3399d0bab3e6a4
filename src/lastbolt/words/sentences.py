"""Text into sentences and clauses. Which words end in a point without ending one, the caller says."""

import re
from collections.abc import Container

_BREAK = re.compile(r"(?<=[.!?])[\"”)]?\s+(?=[\"“(]?[A-Z0-9])")
_CLAUSE_BREAK = re.compile(r"(?<=[.;:!?])[\"”)]?\s+")
_LAST = re.compile(r"([^\W\d_]+)\.[\"”)]?$")


def split(text: str, abbreviations: Container[str]) -> tuple[str, ...]:
    """The sentences of a text, none empty.

    >>> split("Isolate it (see Fig. 2). Then wait.", ("fig",))
    ('Isolate it (see Fig. 2).', 'Then wait.')
    """
    return _parted(text, _BREAK, abbreviations)


def clauses(text: str, abbreviations: Container[str]) -> tuple[str, ...]:
    """The same, and a colon or a semicolon ends one too, whatever letter follows.

    >>> clauses("Nut (see fig. 2) off; then wait.", ("fig",))
    ('Nut (see fig. 2) off;', 'then wait.')
    """
    return _parted(text, _CLAUSE_BREAK, abbreviations)


def _parted(text: str, at: re.Pattern[str], abbreviations: Container[str]) -> tuple[str, ...]:
    found: list[str] = []
    start = 0
    for match in at.finditer(text):
        piece = text[start : match.end()].strip()
        last = _LAST.search(piece)
        if last is None or last[1].lower() not in abbreviations:
            found.append(piece)
            start = match.end()
    found.append(text[start:].strip())
    return tuple(one for one in found if one)

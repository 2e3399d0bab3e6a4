"""Text into sentences; which words end in a point without ending one, the caller's language file says."""

import re
from collections.abc import Container

_BREAK = re.compile(r"(?<=[.!?])[\"”)]?\s+(?=[\"“(]?[A-Z0-9])")
_LAST = re.compile(r"([^\W\d_]+)\.[\"”)]?$")


def split(text: str, abbreviations: Container[str]) -> tuple[str, ...]:
    """The sentences of a text, none empty.

    >>> split("Isolate it (see Fig. 2). Then wait.", ("fig",))
    ('Isolate it (see Fig. 2).', 'Then wait.')
    """
    found: list[str] = []
    start = 0
    for match in _BREAK.finditer(text):
        piece = text[start : match.end()].strip()
        last = _LAST.search(piece)
        if last is None or last[1].lower() not in abbreviations:
            found.append(piece)
            start = match.end()
    found.append(text[start:].strip())
    return tuple(one for one in found if one)

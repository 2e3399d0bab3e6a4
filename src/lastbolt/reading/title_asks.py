"""What the title of a section asks for in brackets: "Parting the gearbox (flywheel removed, 3.2)"."""

import re

from lastbolt.reading.entries import read_entry
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.requirements import states
from lastbolt.reading.steps import RawReference

_BRACKET = re.compile(r"\s?\(([^()]{4,80})\)")
_SECTION = re.compile(r"(?<![\w.,-])\d{1,3}[.\-–]\d{1,3}(?![\w.,-]\d)")


def asked_by(title: str, language: Lexicon) -> list[RawReference]:
    """The references and states in the brackets of a title."""
    found: list[RawReference] = []
    for inner in _asking(title, language):
        found += read_entry(inner, language)[0]
    return found


def without_asks(title: str, language: Lexicon) -> str:
    """The title without such brackets: what they name is no part of the work."""
    asks = _asking(title, language)
    return _BRACKET.sub(lambda match: "" if match[1] in asks else match[0], title)


def _asking(title: str, language: Lexicon) -> list[str]:
    found = []
    for match in _BRACKET.finditer(title):
        inner = match[1]
        scan = language.scan(inner)
        if scan.has("conditions") and not states(scan, language):
            continue  # "(from serial no. 1-200)"
        points = any(raw.pointer.form != "demand" for raw in read_entry(inner, language)[0])
        if (points and _SECTION.search(inner)) or states(scan, language):
            found.append(inner)
    return found

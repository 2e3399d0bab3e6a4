"""Labels of blocks that no list of words has: "Off first: pump removed (4.2)", told by what stands behind them."""

import re

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.numbers import numbers_in
from lastbolt.reading.pointers import pointers_in
from lastbolt.reading.requirements import bids_work, states

_LABEL = re.compile(r"[^\W\d_][^\W\d_'’/-]*(?: [^\W\d_'’/-]+){0,4}(?= ?:\s)")
_ENTRY = re.compile(r"[;,]\s")
_BRACKET = re.compile(r"\s?\([^)]*\)")
_POINTING = ("section", "page", "title", "book")


def guessed_label(text: str, lead: int, language: Lexicon) -> tuple[str, int] | None:
    """What a block with an unknown label asks for, and where its label ends: states are asked for before the
    work, orders to put parts on that point elsewhere follow it."""
    match = _LABEL.match(text)
    if match is None or abs(lead - match.end()) > 2 or language.opens(match.group().lower(), "signals"):
        return None
    rest = text[match.end() :].strip(" :\t")
    first = _ENTRY.split(rest)[0]
    if states(language.scan(_BRACKET.sub("", first).strip(" .")), language):
        return "before", match.end()
    scan = language.scan(rest)
    if not bids_work(scan, language) or not any(hit.key == "install" for hit in scan.of("deeds")):
        return None
    pointing = any(one.form in _POINTING for one in pointers_in(scan, language)) or numbers_in(rest)
    return ("after", match.end()) if pointing else None

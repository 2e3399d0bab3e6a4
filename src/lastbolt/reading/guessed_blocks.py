"""Labels of blocks that no list has ("Off first: pump removed (4.2)"), known by what stands behind them."""

import re

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.numbers import numbers_in
from lastbolt.reading.pointers import pointers_in
from lastbolt.reading.requirements import bids_work, states
from lastbolt.reading.titles import read_title

_LABEL = re.compile(r"[^\W\d_][^\W\d_'’/-]*(?: [^\W\d_'’/-]+){0,4}(?= ?:\s)")
_ALONE = re.compile(r"[^\W\d_][^\W\d_'’/-]*(?: [^\W\d_'’/-]+){0,3} ?:?")
"""The same on a line of its own."""
_ENTRY = re.compile(r"[;,]\s")
_BRACKET = re.compile(r"\s?\([^)]*\)")
_POINTING = ("section", "page", "title", "book")


def guessed_label(text: str, lead: int, below: str, language: Lexicon) -> tuple[str, int] | None:
    """What a block with an unknown label asks for, and where its label ends: states are asked for before the
    work, orders to put parts on that point elsewhere follow it.

    Args:
        text: the line
        lead: how many characters at its start are set apart
        below: the line below it, where a label may stand alone
        language: the words of the language
    """
    alone = _ALONE.fullmatch(text)
    match = alone or _LABEL.match(text)
    if match is None or abs(lead - match.end()) > 2 or language.opens(match.group().lower(), "signals"):
        return None
    if alone and read_title(text, language).deed != "other":
        return None
    rest = (below if alone else text[match.end() :]).strip(" :\t•·▪-–—■●►▸")
    if any(tells_state(entry, language) for entry in _ENTRY.split(rest)):
        return "before", match.end()
    scan = language.scan(rest)
    if alone and not text.endswith(":"):
        return None
    if not bids_work(scan, language) or not any(hit.key == "install" for hit in scan.of("deeds")):
        return None
    pointing = any(one.form in _POINTING for one in pointers_in(scan, language)) or numbers_in(rest)
    return ("after", match.end()) if pointing else None


def words_below(line: Line, below: Line | None) -> str:
    """The words right below a line, where they are set in another way."""
    if below is None or below.bold or below.top - line.bottom > 1.5 * (line.bottom - line.top):
        return ""
    return below.text


def tells_state(entry: str, language: Lexicon) -> bool:
    """Whether an entry tells a state, what it points at aside: "Cover removed as described in 3.1"."""
    pointers = [one for one in pointers_in(language.scan(entry), language) if one.form in _POINTING]
    entry = entry.rstrip(" .;,")
    said = entry[: pointers[0].start] if pointers else entry
    return states(language.scan(_BRACKET.sub("", said).strip(" .,;:([")), language)

"""Pieces in typed words: a row of the list ("7 x M6x45"), and what lies in the tray ("tray 7 x M6x45")."""

import re
from collections.abc import Callable

from msgspec import Struct

from lastbolt.app.typed_lines import BETWEEN
from lastbolt.app.typed_words import FAR_ON_LIST, IN_THE_TRAY
from lastbolt.words.quantity import Kind

ReadKind = Callable[[str], Kind | None]

TRAY = re.compile(r"^(?:in\s+(?:the\s+)?tray|tray|counted)\b\s*:?\s*(.+)$", re.I)
COUNT = re.compile(r"^(\d+)\s*(?:x|×|pcs|pieces)?\s+", re.I)
"""How many, before what they are."""
HEADS = re.compile(r",?\s*\bheads(?: only)?$", re.I)
MOST_DIGITS = 3
"""Of a number of pieces; a longer one is a slip."""
FAR = re.compile(
    rf"[\s,(]+(?:{'|'.join(sorted(map(re.escape, FAR_ON_LIST), key=len, reverse=True))})\)?$", re.I
)
LEFT_IN = re.compile(r"\bleft$", re.I)
"""Before "inside" or "behind" it says that one was left there."""
AT_THE_END = re.compile(rf",?\s+(?:{'|'.join(map(re.escape, IN_THE_TRAY))})$", re.I)


class Pieces(Struct, frozen=True):
    """So many pieces of one kind; `whole`: looked at from tip to head, and not their heads only."""

    count: int
    kind: Kind
    whole: bool = True


def counted_pieces(words: str, read_kind: ReadKind) -> tuple[Pieces, ...] | None:
    """The pieces that a line counts in the tray; none if any part of it is not understood.

    None when the line does not speak of the tray. Several sizes stand behind one another, each once.
    """
    words = words.rstrip(" .")
    spoken = TRAY.match(words)
    at_end = None if spoken else AT_THE_END.search(words)
    if spoken is None and at_end is None:
        return None
    told = spoken[1] if spoken else words[: at_end.start()] if at_end else ""
    told, heads = HEADS.subn("", told)
    whole = _pieces(told, read_kind)
    if whole is not None:
        return (_marked(whole, heads),)
    parts = [_pieces(part, read_kind) for part in BETWEEN.split(told)]
    found = tuple(_marked(part, heads) for part in parts if part is not None)
    once = len({part.kind for part in found}) == len(found)
    return found if len(found) == len(parts) > 1 and once else ()


def listed_pieces(words: str, read_kind: ReadKind) -> Pieces | None:
    """The row of the list that the line is; None if it is none or not wholly understood."""
    words = words.rstrip(" .")
    bare = without_side(words)
    if bare != words and LEFT_IN.search(bare):
        return None
    found = _pieces(words, read_kind) or _pieces(bare, read_kind)
    return found if found is not None and found.count else None


def without_side(words: str) -> str:
    """The words without where the fastener enters, at their end."""
    return FAR.sub("", words)


def _pieces(words: str, read_kind: ReadKind) -> Pieces | None:
    words = words.strip()
    match = COUNT.match(words)
    kind = read_kind(words[match.end() :]) if match else None
    if match is None or kind is None or len(match[1]) > MOST_DIGITS:
        return None
    return Pieces(int(match[1]), kind)


def _marked(pieces: Pieces, heads: int) -> Pieces:
    return Pieces(pieces.count, pieces.kind, whole=not heads)

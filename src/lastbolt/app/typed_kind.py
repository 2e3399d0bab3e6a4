"""The size that somebody typed, by the same rules that read a parts list."""

import re

from lastbolt.app.typed_words import SIZES_MEANT
from lastbolt.reading.fasteners import kind_of, read_kind, sizes_in
from lastbolt.words.quantity import Kind

SMALL_M = re.compile(r"\bm(?=\s?\d)")
WORD = re.compile(r"[^\s,()]+")
MEANT = re.compile(rf"\b(?:{'|'.join(sorted(SIZES_MEANT, key=len, reverse=True))})\b", re.I)
KNOWN = frozenset((
    "bolt", "screw", "stud", "nut", "pin", "clip", "dowel", "bolts", "screws", "studs", "nuts", "pins",
    "clips", "dowels", "case", "cover", "flange", "flanged", "hex", "hexagon", "socket", "cap", "head",
    "headed", "countersunk", "pan", "cheese", "fillister", "allen", "torx", "fitting", "fitted",
    "shoulder", "collar", "long", "short", "far", "near", "side", "left", "right", "upper", "lower",
    "top", "bottom", "front", "rear", "with", "washer", "washers", "plain", "spring", "mm", "steel",
    "brass", "8.8", "10.9", "12.9", "class", "grade",
))  # fmt: skip
"""Words that leave a count what it is. With any other word the whole line is not understood."""


def typed_kind(text: str) -> Kind | None:
    """The kind of fastener in typed words; a bare size ("M6x45") is a screw's.

    None when there is no size, more than one, one that may be misread, or a word that may change what the
    count means.
    """
    text = MEANT.sub(lambda found: SIZES_MEANT[found[0].lower()], SMALL_M.sub("M", text))
    sizes = sizes_in(text)
    if (
        len(sizes) != 1
        or sizes[0].doubt
        or not _all_known(f"{text[: sizes[0].start]} {text[sizes[0].end :]}")
    ):
        return None
    kind = read_kind(text)
    return kind if kind is not None and kind.what is not None else kind_of("screw", sizes[0])


def _all_known(rest: str) -> bool:
    return not _unknown(rest)


def _unknown(rest: str) -> list[str]:
    return [word for word in WORD.findall(rest) if word.lower().strip(".:;") not in KNOWN]


def words_not_known(text: str) -> tuple[str, ...]:
    """The words of a line with one size that are neither the size nor say what kind of fastener it is."""
    sizes = sizes_in(SMALL_M.sub("M", text))
    if len(sizes) != 1:
        return ()
    return tuple(_unknown(f"{text[: sizes[0].start]} {text[sizes[0].end :]}"))


def how_many_sizes(text: str) -> int:
    """How many sizes stand in a text."""
    return len(sizes_in(SMALL_M.sub("M", text)))

"""Rows of a parts list whose words name more than the one part that the row counts."""

import re
from functools import lru_cache

from lastbolt.reading.fastener_signs import fastener_nouns_beside
from lastbolt.reading.fasteners import read_kind
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.numbers import any_of
from lastbolt.reading.sizes import Size, sizes_in
from lastbolt.words.quantity import Kind


def doubt_of_several(name: str, kind: Kind | None, language: Lexicon) -> str:
    """Why a fastener's row may stand for more than it counts: its name has two sizes, or another fastener.

    "SCREW M6x45 / BOLT M8x70", "SCREW M6x45 OR M6x50", "SCREW M6x45 WITH NUT M6".
    """
    if kind is None:
        return ""
    sizes = {_key(size) for size in sizes_in(name) if not size.plain}
    if len(sizes) > 1:
        return "its name has more than one size"
    beside = fastener_nouns_beside(language.scan(name))
    return f'its name also names "{beside[0]}"' if beside else ""


def doubt_of_remarks(remarks: str, kind: Kind | None, language: Lexicon) -> str:
    """Why a row's remarks may add a fastener that no row counts: "and 2 off BOLT M8x70"."""
    more = _more(language).search(remarks) if kind is not None else None
    if more is not None:
        return f'its remarks say "{more.group().strip()}": more may be meant than the row counts'
    scan = language.scan(remarks)
    others = fastener_nouns_beside(scan)
    if not others:
        return ""
    for noun in scan.of("fasteners"):
        said = read_kind(remarks[noun.start :], language)
        if said is not None and said.thread and (kind is None or said.matches(kind) == "no"):
            return f'its remarks also name "{said.words()}"'
    return ""


@lru_cache(maxsize=4)
def _more(language: Lexicon) -> re.Pattern[str]:
    """Words of remarks that count pieces: "and 1 longer", "plus 1 x M8", "9 on machines with oil cooler"."""
    more, elsewhere = (any_of(language.words("row_notes", key)) for key in ("more", "elsewhere"))
    numbers = any_of((*language.numbers, "another"))
    amount = rf"(?:(?:\d{{1,2}}|{numbers})(?![\w.,/]\w|\s?(?:mm|cm|Nm|N·m|%|°)))"
    return re.compile(
        rf"(?:^|(?<=[\s;,(]))(?:{more})\s?{amount}(?:\s\w+){{0,3}}"
        rf"|(?:^|(?<=[;,(]\s)|(?<=[;,(])){amount}\s(?:{elsewhere})(?!\w)(?:\s\w+){{0,3}}",
        re.IGNORECASE,
    )


def _key(size: Size) -> tuple[str, float | None]:
    return re.sub(r"\s", "", size.thread or ""), size.length_mm

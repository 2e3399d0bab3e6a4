"""How many a cell of a parts list states, and a count in a part's own name that may say otherwise."""

import re
from collections.abc import Sequence
from functools import lru_cache

from lastbolt.reading.counts import per_in
from lastbolt.reading.lexicon import Lexicon, lexicon
from lastbolt.reading.numbers import any_of
from lastbolt.words.quantity import UNSAID, Quantity

_WHOLE = re.compile(r"\d{1,4}")
_MARKED = re.compile(r"[x×]\s?(\d{1,4})|(\d{1,4})\s?[x×]|\(\s?(\d{1,4})\s?\)")
_RANGE = re.compile(r"(\d{1,3})\s?(?:[-–]|\.\.\.?|…|to|thru)\s?(\d{1,3})")
_BRACKETS = re.compile(r"\s?\([^()\d]*\)")


def read_quantity(cell: str, language: Lexicon | None = None) -> Quantity:
    """The quantity that a cell of a parts list states; `unsaid` with its words when it states none for sure.

    "PACK OF 10", "2/4", "-2" and "O2" hold figures and state no count of pieces that could be relied on.
    """
    words = " ".join(cell.split())
    if not words:
        return UNSAID
    lex = language or lexicon()
    if _WHOLE.fullmatch(words) and not lex.among(words, "quantities", "nothing"):
        return Quantity("exactly", int(words), int(words), words=words)
    scan = lex.scan(words)
    per, low = per_in(scan), words.lower()
    if any(hit.key == "as_required" for hit in scan.of("quantities")):
        return Quantity("as required", per=per, words=words)
    if low in lex.words("quantities", "nothing"):
        return Quantity("unsaid", words=words)
    if scan.has("quantities", "at_least") and (number := _WHOLE.search(low)):
        return Quantity("at least", int(number.group()), None, per, words)
    span = _RANGE.fullmatch(low)
    if span is not None and int(span[1]) <= int(span[2]):
        return Quantity("range", int(span[1]), int(span[2]), per, words)
    count = _count_in(_BRACKETS.sub("", low) or low, lex)
    numbers = scan.of("numbers")
    if count is None and len(numbers) == 1 and not re.search(r"\d", low):
        count = lex.numbers[numbers[0].key]
    if count is None:
        return Quantity("unsaid", per=per, words=words)
    return Quantity("exactly", count, count, per, words)


def doubt_of_places(counts: Sequence[tuple[str, str]], language: Lexicon | None = None) -> str:
    """Why the counts of several columns, or of one, are no count of the row: they are per side or per place.

    `counts`: the words of each heading beside that for the quantity, and the cell.
    """
    lex = language or lexicon()
    places = [
        name for name, cell in counts if cell and lex.among(name.lower(), "quantities", "place_columns")
    ]
    if not places:
        return ""
    said = ", ".join(f'{cell} under "{name}"' for name, cell in counts if cell)
    return f"its counts are for one place each, and no count of all is printed: {said}"


def doubt_of_name(name: str, quantity: Quantity, language: Lexicon | None = None) -> str:
    """Why the count beside a part's name cannot be relied on: the name itself states another, or a pack."""
    low = " ".join(name.lower().split())
    if not re.search(r"\d", low):
        return ""
    lex = language or lexicon()
    labelled, pack = _in_names(lex)
    packed = pack.search(low)
    if packed is not None and int(packed[1] or packed[2]) > 1:
        return f'the name says "{_as_printed(name, packed)}": the count may be of packs or of pieces'
    for match in labelled.finditer(low):
        count = int(match[1] or match[2])
        if quantity.kind == "exactly" and not quantity.per and quantity.low != count:
            said = _as_printed(name, match)
            return f'the name says "{said}", the quantity says {quantity.words or quantity.low}'
    for match in _on_some(lex).finditer(low):
        number = match[1]
        if (int(number) if number.isdecimal() else lex.numbers[number]) != quantity.low:
            said = _as_printed(name, match).strip(" ,;(")
            return f'the name says "{said}", the quantity says {quantity.words or quantity.low}'
    return ""


def _count_in(low: str, lex: Lexicon) -> int | None:
    """The one count of a cell with nothing beside it but words of counting."""
    marked = _MARKED.fullmatch(low)
    if marked is not None:
        return int(next(filter(None, marked.groups())))
    match = _with_words(lex).fullmatch(low)
    return int(match[1] or match[2]) if match is not None else None


@lru_cache(maxsize=4)
def _with_words(lex: Lexicon) -> re.Pattern[str]:
    keys = ("labels", "behind_count", "per_side", "per_each", "per_assembly", "per_figure")
    beside = any_of(word for key in keys for word in lex.words("quantities", key))
    labels = any_of((*lex.words("quantities", "labels"), *lex.words("quantities", "behind_count")))
    return re.compile(rf"(\d{{1,4}})\s?[x×]?(?:\s?(?:{beside})\.?)*|(?:{labels})\.?\s?[.:=]?\s?(\d{{1,4}})")


@lru_cache(maxsize=4)
def _in_names(lex: Lexicon) -> tuple[re.Pattern[str], re.Pattern[str]]:
    """Patterns for a count and for a pack in a name, both over lower-case words."""
    behind = any_of(lex.words("quantities", "behind_count"))
    before = any_of(lex.words("quantities", "before_count"))
    packs = any_of(lex.words("quantities", "packs"))
    per_pack = any_of(lex.words("quantities", "per_pack"))
    number = r"(?<![\w.,/x×*-])(\d{1,3})"
    return (
        re.compile(rf"{number}\s?(?:{behind})(?!\w)|(?<!\w)(?:{before})\s?[.:=]?\s?(\d{{1,3}})(?![\w.,/])"),
        re.compile(rf"(?<!\w)(?:{packs})\s(?:of\s)?(\d{{1,3}})(?![\w.,/])|{number}\s?(?:{per_pack})(?!\w)"),
    )


@lru_cache(maxsize=4)
def _on_some(lex: Lexicon) -> re.Pattern[str]:
    """A count in a name that holds on some machines: "(7 with brake)", ", nine on type L"."""
    some = any_of(lex.words("row_notes", "on_some"))
    numbers = any_of(word for word in lex.numbers if word.isalpha())
    return re.compile(rf"[(,;]\s?(\d{{1,2}}|{numbers})\s(?:{some})\s\w[^),;]*")


def _as_printed(name: str, match: "re.Match[str]") -> str:
    return " ".join(name.split())[match.start() : match.end()]

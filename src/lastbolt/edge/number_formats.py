"""What a number format of a workbook shows in place of a number, where it adds words of its own.

The codes are those of the published workbook format (ECMA-376 part 1, 18.8.31, from memory): sections
parted by ";", digits by 0, # and ?, words in quotation marks or behind a backslash.
"""

import re
from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation

HIDDEN = "(not shown)"
"""In place of a number that a format shows nothing of."""
_PART = re.compile(r'"([^"]*)"|\\(.)|_.|\*.|\[[^\]]*\]|(General|@|[0#?][0#?.,]*)|(.)')
_DATE = re.compile(r"[ymdhs]", re.IGNORECASE)
_SAYS = re.compile(r"[^\W_]|\+")


def shown_as(value: str, code: str) -> str:
    """What people see of a number; nothing where the format adds no words to it.

    >>> shown_as("8", '0" +1"'), shown_as("8", '"M"0'), shown_as("8", "#,##0.00"), shown_as("8", ";;;")
    ('8 +1', 'M8', '', '(not shown)')
    """
    try:
        number = Decimal(value)
    except InvalidOperation:
        return ""
    section = _section(code, number)
    if not section.strip():
        return HIDDEN if ";" in code else ""
    pieces = list(_pieces(section))
    own = "".join(text for kind, text in pieces if kind == "words")
    if any(kind == "date" for kind, _ in pieces) or not _SAYS.search(own):
        return ""
    return " ".join(
        "".join(text if kind == "words" else _digits(number, text) for kind, text in pieces).split()
    )


def _section(code: str, number: Decimal) -> str:
    """The section that is used: for numbers above nothing, below it, and for nothing."""
    sections = _sections(code)
    if number < 0 and len(sections) > 1:
        return sections[1]
    if number == 0 and len(sections) > 2:
        return sections[2]
    return sections[0]


def _sections(code: str) -> list[str]:
    found, quoted, start = [], False, 0
    for at, char in enumerate(code):
        if char == '"':
            quoted = not quoted
        elif char == ";" and not quoted:
            found.append(code[start:at])
            start = at + 1
    return [*found, code[start:]]


def _pieces(section: str) -> Iterator[tuple[str, str]]:
    """The words and the digits of a section in their order."""
    digits = False
    for match in _PART.finditer(section):
        quoted, escaped, number, other = match.groups()
        if number is not None and not digits:
            digits = True
            yield "digits", number
        elif other is not None and _DATE.match(other):
            yield "date", other
        elif number is None:
            yield "words", quoted or escaped or other or ("" if match[0][0] == "[" else " ")


def _digits(number: Decimal, code: str) -> str:
    if code in ("General", "@"):
        return f"{number.normalize():f}"
    whole, _, behind = code.partition(".")
    places = len(re.findall("[0#?]", behind))
    rounded = abs(number).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    return f"{rounded:0{whole.count('0') + (places + 1 if places else 0)}f}"

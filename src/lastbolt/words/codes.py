"""Part numbers as they stand in running text: "sealing ring H40-118"."""

import re
from collections.abc import Collection

_CODE = re.compile(r"(?<![\w.-])(?=[\w-]*\d)(?:[A-Z][A-Z\d]*|\d{3,})(?:-[A-Z\d]+)+(?![\w-]|[.,]\d)")
_SIZE = re.compile(r"(?:M\d{1,2}|SAE|API|ISO|DIN|IP)-")


def number_behind(text: str, known: Collection[str] = ()) -> str:
    """The one part number in a text: one of those known, else what is written as one.

    >>> number_behind("sealing ring H40-118"), number_behind("engine oil SAE 15W-40"), number_behind("O-ring")
    ('H40-118', '', '')
    """
    found = [one for one in re.split(r"[\s,;()]+", text) if one in known]
    found = found or [one for one in _CODE.findall(text) if not _SIZE.match(one) or one in known]
    return found[0] if len(set(found)) == 1 else ""

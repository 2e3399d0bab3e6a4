"""How many a source's own words ask for: "with a new sealing ring" is one."""

import re

from lastbolt.ordering.prices import order_words


def said_count(words: str, part: str) -> int | None:
    """The number that stands before the part; nothing where none does.

    >>> said_count("Fit the plug with a new sealing ring.", "sealing ring")
    1
    >>> said_count("Fit two new gaskets.", "gasket"), said_count("Fit new gaskets.", "gasket")
    (2, None)
    """
    known = order_words()["counts"]
    name = re.escape(" ".join(one for one in part.lower().split() if not any(sign.isdigit() for sign in one)))
    if not name:
        return None
    before = "|".join(map(re.escape, known["words"]))
    between = "|".join(map(re.escape, known["between"]))
    found = re.search(rf"\b({before})\s+(?:(?:{between})\s+)*{name}(?P<plural>e?s)?\b", words.lower())
    if found is None:
        return None
    count: int = known["numbers"][known["words"].index(found[1])]
    return None if found["plural"] and count == 1 else count

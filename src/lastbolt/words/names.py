"""Names of machines: whether two of them mean one."""

import re

_WORD = re.compile(r"[^\W_]+")


def one_machine(name: str, other: str) -> bool:
    """Whether the words of one name are all among the other's: "Q222" and "Q222 pump engine". Blank: True."""
    mine, theirs = (frozenset(_WORD.findall(words.casefold())) for words in (name, other))
    return mine <= theirs or theirs <= mine

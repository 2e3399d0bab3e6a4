"""Faults that the program is known to have with such inputs: told once each by a test that is expected to
fail.

When one is mended, its test says so (it passes where it should fail): then it is to be taken out of this
list.
"""

import re
from typing import NamedTuple


class Known(NamedTuple):
    """A fault, how it shows, and an input that shows it."""

    kind: str
    shows: str
    example: int
    words: str


KNOWN: tuple[Known, ...] = (
    Known("xml_not_ours", "nothing is said", 4, "a module with nothing in it is read without a doubt"),
)


def is_known(fault: str) -> bool:
    """Whether the fault is one of the list."""
    return any(fault.startswith(f"{one.kind} ") and re.search(one.shows, fault) for one in KNOWN)

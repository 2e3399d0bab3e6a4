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


UNREADABLE = "BadZipFile|OSError: |LB-D14|fill whole buffer|deflate"
KNOWN: tuple[Known, ...] = (
    Known("book_beyond", "it crashed", 0, "a cell far beyond any row aborts the program"),
    Known("book_pieces", UNREADABLE, 0, "a workbook's damaged directory ends in LB-D14 (BadZipFile)"),
    Known("book_directory", UNREADABLE, 40, "a workbook's damaged directory ends in LB-D14 (BadZipFile)"),
    Known("book_bits", UNREADABLE, 11, "a damaged member of a workbook ends in LB-D14 (OSError)"),
    Known("book_no_workbook", UNREADABLE, 49, "an .ods that is no archive ends in LB-D14 (OSError)"),
    Known("xml_not_ours", "nothing is said", 4, "a module with nothing in it is read without a doubt"),
    Known("typed_odd", "ValueError: Exceeds|LB-D14", 9, "a typed number of 5,000 digits ends in LB-D14"),
)


def is_known(fault: str) -> bool:
    """Whether the fault is one of the list."""
    return any(fault.startswith(f"{one.kind} ") and re.search(one.shows, fault) for one in KNOWN)

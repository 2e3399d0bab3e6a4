"""The numbers that a pointer means: runs are filled with what the book has between their ends."""

import re
from typing import Protocol

from lastbolt.reading.pointer import Pointer


class Numbers(Protocol):
    """What a book has, asked by number and by page."""

    def knows_number(self, number: str) -> bool:
        """Whether any section has this number."""

    def knows_page(self, page: str) -> bool:
        """Whether any section stands on the page so printed."""

    def between(self, first: str, last: str) -> tuple[str, ...]:
        """The numbers of a run."""


def each_of(pointer: Pointer, directory: Numbers) -> tuple[str, ...]:
    """The numbers that a pointer means: of a run its ends and what the book has between them."""
    if pointer.form == "page":
        one = "-".join(pointer.targets)  # "page 4 - 2" is a page where pages are so numbered
        if pointer.span and len(pointer.targets) == 2 and directory.knows_page(one):
            return (one,)
        return pointer.targets[:1] if pointer.span else pointer.targets
    if pointer.span and len(pointer.targets) == 2:
        return directory.between(*pointer.targets)
    found: list[str] = []
    for number in pointer.targets:
        first, run, last = number.partition("..")
        dash = re.fullmatch(r"(\d{1,3})-(\d{1,3})", number)
        if dash is not None and not directory.knows_number(number) and _keyed_run(dash, directory):
            first, run, last = dash[1], "-", dash[2]
        found += directory.between(first, last) if run else (number,)
    return tuple(dict.fromkeys(found))


def _keyed_run(dash: "re.Match[str]", directory: Numbers) -> bool:
    """Whether "3-7" is a run of chapters."""
    return int(dash[1]) < int(dash[2]) and all(directory.knows_number(end) for end in dash.groups())

"""What reading can find wrong or leave open: every code, with the heading it has in docs/errors.md."""

from typing import Literal

from lastbolt.words.citation import Citation
from lastbolt.words.problem import Problem
from lastbolt.words.where import where

HEADINGS: dict[str, str] = {
    "LB-R01": "A reference leads nowhere",
    "LB-R02": "A reference can mean several places",
    "LB-R03": "A reference was taken with doubt",
    "LB-R04": "A section refers to itself",
    "LB-R05": "A reference leads to another book",
    "LB-R06": "A condition is said in words only",
    "LB-R07": "The units of a torque do not agree",
    "LB-R08": "Step numbers skip or repeat",
    "LB-R09": "A figure that is cited was not found",
    "LB-R10": "Words of a page were not understood",
    "LB-R11": "A page is a picture without words",
    "LB-R12": "Two forms of the same parts list disagree",
    "LB-R13": "A source holds nothing to read",
    "LB-R14": "A count was read with doubt",
    "LB-R15": "The same reference stands twice",
    "LB-R16": "A torque was not understood, or read with doubt",
    "LB-R17": "Words that point somewhere were not read",
    "LB-R18": "A section tells what to do and no step was made of it",
    "LB-R21": "Words on a page stand sideways",
    "LB-R22": "Something was added to a page",
    "LB-R23": "A strip of picture may hold letters",
    "LB-R24": "Words that speak of fasteners became nothing",
    "LB-X07": "An XML file is neither an S1000D module nor a DITA topic",
    "LB-X08": "A module stands twice in a publication",
    "LB-X09": "A warning that a step calls for is not there",
    "LB-X10": "Shared content could not be put in its place",
    "LB-X11": "Of a module only the words were kept, or it has no steps",
}
"""Code -> the heading of its entry in docs/errors.md."""

Grade = Literal["stop", "doubt", "note"]


class Reporter:
    """Makes problems for one source: knows its title, so that each says where it is."""

    def __init__(self, title: str) -> None:
        self.title = title
        self.found: list[Problem] = []

    def add(self, code: str, what: str, do: str, cited: tuple[Citation, ...], grade: Grade = "doubt") -> None:
        """Record one problem; the place is worded from the first citation."""
        assert code in HEADINGS
        place = where(cited[0], self.title) if cited else self.title
        self.found.append(Problem(code, what, place, do, grade, cited[:1]))


def quoted(words: str, most: int = 90) -> str:
    """Words in quotation marks, cut to a readable length."""
    trimmed = " ".join(words.split())
    return f'"{trimmed}"' if len(trimmed) <= most else f'"{trimmed[: most - 1].rstrip()}…"'

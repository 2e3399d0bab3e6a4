"""The marks of steps ("1.", "(2)", "a.", a bullet): what stands at the head of a line, if it is one."""

import re
import unicodedata
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.numbers import any_of

_MARKS = {
    "num": r"(\d{1,3})[.)](?:[\s\t]+|(?=[A-Z]))",
    "(num)": r"\((\d{1,3})\)[\s\t]+",
    "bare": r"(\d{1,3})\t",
    "alpha": r"([a-z])[.)][\s\t]+",
    "(alpha)": r"\(([a-z])\)[\s\t]+",
    "Alpha": r"([A-Z])[.)][\s\t]+",
    "circled": r"([①-⑳⓵-⓾❶-❿➀-➓])[.):]?[\s\t]*(?=[^\W\d_])",
    "bullet": r"([•·▪‣►▶▸→➔⇒–—■●○◦*◆□✓☐-])[\s\t]+",
}
_KINDS = tuple(_MARKS)
_MARK = re.compile("|".join(_MARKS.values()))
_INDENT = 0.012
_DEEPEST = 0.15
"""A run of marks further right than the one above by less than this is under it."""
_RUNS = 3
"""So many runs of numbers are kept in mind."""


_DECIMALS = re.compile(r"\d+[.,]\d+(?!\w)")
_DECIMALS_END = re.compile(r"(?<![\w.,])\d+[.,]\d+$")


class Mark(NamedTuple):
    """A step's mark: what sort it is and what it says."""

    kind: str
    value: str


def mark_of(text: str, language: Lexicon) -> tuple[Mark, str] | None:
    """The step mark at the start of a line, and the rest."""
    named = _named_step(language).match(text)
    if named is not None:
        return Mark("word", named[1]), text[named.end() :]
    match = _MARK.match(text)
    if match is None or match.lastindex is None or match.end() == len(text):
        return None
    kind, value = _KINDS[match.lastindex - 1], match[match.lastindex]
    if kind == "circled":
        value = str(int(unicodedata.numeric(value)))
    return Mark(kind, value), text[match.end() :]


@lru_cache(maxsize=4)
def _named_step(language: Lexicon) -> re.Pattern[str]:
    """A step told by a word: "Step 4:"."""
    words = any_of(language.words("titles", "step_word"))
    return re.compile(rf"(?:{words})\s+(\d{{1,3}}[A-Za-z]?)\s?[.:)–-]?[\s\t]+", re.IGNORECASE)


def lone_mark(text: str, language: Lexicon) -> Mark | None:
    """The step that a line names and nothing more: "Step 4", "STEP 4:"."""
    named = _named_step(language).fullmatch(f"{text.strip()} ")
    return None if named is None else Mark("word", named[1])


def goes_on_as_range(text: str, mark: Mark, rest: str) -> bool:
    """Whether the dash at the head of a line stands inside of a range: "24.25" over "- 24.27 mm"."""
    dash = mark.kind == "bullet" and mark.value in "-–—"
    return dash and _DECIMALS_END.search(text) is not None and _DECIMALS.match(rest) is not None


def mark_value(value: str) -> int:
    """What a mark counts: 3 of "3" and of "c"; 0 of a sign."""
    digits = value.rpartition(".")[2] if "." in value else value
    if digits.isdigit():
        return int(digits)
    return ord(value.lower()) - 96 if len(value) == 1 and value.isalpha() else 0


class Marks:
    """Which marks have been seen in this section, and where: to tell a mark from a wrapped line."""

    def __init__(self, runs: tuple[int, ...] = ()) -> None:
        self.last: dict[str, tuple[int, float]] = {}
        self.runs = runs
        """The last numbers of the runs of steps above: where paragraphs are counted through a chapter, the
        next section goes on from one of them."""
        self.outer: dict[str, list[tuple[int, float]]] = {}
        """Runs of the same sort that are interrupted by a deeper one."""
        self.bullets: float | None = None
        self.hang = False
        """Whether the lines of a step have been seen to hang to the right of its mark."""

    def _leave(self, kind: str, value: int, left: float) -> None:
        """Go back to the run of marks that was open before a deeper one of the same sort: "(a) (1) (a)"."""
        inner, outer = self.last.get(kind), self.outer.get(kind, [])
        if inner is None or (value == inner[0] + 1 and abs(left - inner[1]) < _INDENT):
            return
        for at in range(len(outer) - 1, -1, -1):
            aligned = abs(left - outer[at][1]) < _INDENT
            if value == outer[at][0] + 1 and (aligned or value != inner[0] + 1):
                self.last[kind] = outer[at]
                del outer[at:]
                return

    def accepts(self, mark: Mark, left: float, rest: str, *, open_text: bool) -> bool:
        """Whether the mark opens a step here."""
        if mark.kind in ("bullet", "word"):
            return True
        value = mark_value(mark.value)
        self._leave(mark.kind, value, left)
        known = self.last.get(mark.kind)
        if known is None:
            on = mark.kind == "num" and value - 1 in self.runs
            good = value == 1 or (not open_text and (value <= 3 or on))
        else:
            aligned = abs(left - known[1]) < 0.012
            good = value in (1, known[0] + 1) or (aligned and not open_text) or (aligned and value > known[0])
        if good and mark.kind == "(num)" and open_text and (known is None or value != known[0] + 1):
            good = False
        if good and mark.kind == "bare" and not rest[:1].isalpha():
            good = rest[:1] in "(“\"'"
        if good:
            if known is not None and value == 1 and _INDENT < left - known[1] < _DEEPEST:
                self.outer.setdefault(mark.kind, []).append(known)
            self.last[mark.kind] = (value, left)
            if mark.kind == "num":
                others = (end for end in self.runs if end not in (value, value - 1))
                self.runs = (value, *others)[:_RUNS]
        return good

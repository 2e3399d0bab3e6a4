"""What the headings of a table mean, from the words of one language."""

import re
import tomllib
from functools import lru_cache
from importlib import resources
from typing import Any, NamedTuple

from lastbolt.reading.units import torque_unit

_THREAD = re.compile(r"M\d{1,2}(?:[.,]\d)?(?:\s?[x×]\s?\d(?:[.,]\d{1,2})?)?|\d{1,2}/\d{1,2}[-–]\d{2}")
_MOST_WORDS = 5
_MAY_BEGIN = re.compile(
    r"^M\d|^\d{1,2}/|\b(?:[kd]?a?n\W?m|[cm]?kgf?|kgf?\W?c?m|kp\W?c?m|lbf?|lbs|ozf?|ft|in|m|cm)\b",
    re.IGNORECASE,
)
"""A word that a thread or a unit of torque may begin or end with."""
_NUMBERED = re.compile(r"^\s*(?:\(\s?(?:\d{1,2}|[a-z])\s?\)|\d{1,2}\))\s*(?=\D)")
"""Columns may be numbered: "(1) ITEM NO."."""
_BROKEN = re.compile(r"(?<=[^\W\d_])-\s(?=[^\W\d_])")
_CLEAN = re.compile(r"[\s._\-:*()\[\],]+")


class Heading(NamedTuple):
    """A heading's role ("quantity") and what stands behind the known words ("electric" in "Qty electric")."""

    role: str
    rest: str


MOST_KEPT = 4_000
"""Headings whose meaning is kept, for most are met again."""


class TableWords:
    """The heading words of one language, ready to be asked."""

    def __init__(self, data: dict[str, Any]) -> None:
        self._roles = {clean(phrase): role for role, phrases in data["columns"].items() for phrase in phrases}
        self._firsts = frozenset(phrase.partition(" ")[0] for phrase in self._roles)
        self._lasts = frozenset(phrase.rpartition(" ")[2] for phrase in self._roles)
        self._seen: dict[str, Heading | None] = {}
        self.may_head = lru_cache(maxsize=MOST_KEPT)(self._may_head)
        """Whether a word may stand in a heading that means something."""
        self.figure_lead = frozenset(data["figure"]["lead"])
        self.parts_needs = tuple(data["doubtful"]["parts_needs"])
        self.weak = frozenset(data["doubtful"]["weak"])
        self.needless = frozenset(data["doubtful"]["needless"])
        self.joining = frozenset(data["doubtful"]["joining"])
        self.counted = tuple(data["variant"]["counted"])
        self.variant_lead = tuple(data["variant"]["lead"])
        self.meanings: dict[str, str] = data["meanings"]
        self.bolt_table = {key: frozenset(words) for key, words in data["bolt_table"].items()}

    def heading(self, text: str) -> Heading | None:
        """What the heading means, or None; the longest known words at its start (or, else, its end) count."""
        if text not in self._seen:
            if len(self._seen) > MOST_KEPT:
                self._seen.clear()
            self._seen[text] = self._heading(text)
        return self._seen[text]

    def _may_head(self, word: str) -> bool:
        if word.endswith("-") or _MAY_BEGIN.search(word):
            return True
        return any(part in self._firsts or part in self._lasts for part in clean(word).split())

    def _heading(self, text: str) -> Heading | None:
        text = _NUMBERED.sub("", text)
        found = self._of_words(text)
        if found is None and _BROKEN.search(text):
            found = self._of_words(_BROKEN.sub("", text)) or self._of_words(_BROKEN.sub("-", text))
        return found or _of_torque(text)

    def _of_words(self, text: str) -> Heading | None:
        if _THREAD.fullmatch(text.strip()):
            return Heading("thread", text.strip())
        words = [word for part in text.split() for word in clean(part).split()]
        if not words or (words[0] not in self._firsts and words[-1] not in self._lasts):
            return None
        whole = self._roles.get(" ".join(words))
        if whole:
            return Heading(whole, "")
        for length in range(min(len(words) - 1, 4), 0, -1):
            role = self._roles.get(" ".join(words[:length]))
            if role and (length > 1 or role in ("quantity", "torque", "size", "limit")):
                return Heading(role, " ".join(words[length:]))
        for length in range(min(len(words) - 1, 4), 0, -1):
            role = self._roles.get(" ".join(words[-length:]))
            if role in ("quantity", "torque"):
                return Heading(role, " ".join(words[:-length]))
        return None

    def known(self, role: str) -> tuple[str, ...]:
        """The heading words of a role."""
        return tuple(phrase for phrase, of in self._roles.items() if of == role)


@lru_cache(maxsize=MOST_KEPT)
def clean(text: str) -> str:
    """Lower case, with dots, hyphens, underscores and brackets as single spaces."""
    return _CLEAN.sub(" ", text.lower().replace("’", "'")).strip()


def _of_torque(text: str) -> Heading | None:
    """A heading that is a unit of torque, or ends with one: "N·m", "Steel (Nm)", "ft lb"."""
    words = text.replace("(", " ").replace(")", " ").replace("[", " ").replace("]", " ").split()
    if not words or len(words) > _MOST_WORDS or any(c.isdigit() for c in text):
        return None
    ends = [length for length in (3, 2, 1) if length <= len(words) and torque_unit(" ".join(words[-length:]))]
    if not ends or any(torque_unit(word.strip(",;:/")) for word in words[: -ends[0]]):
        return None
    return Heading("torque", " ".join(words))


@lru_cache(maxsize=1)
def table_words() -> TableWords:
    """The words of the language file beside this module."""
    text = resources.files(__package__).joinpath("table_words.toml").read_text(encoding="utf-8")
    return TableWords(tomllib.loads(text))

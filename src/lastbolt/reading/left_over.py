"""The net under the rules for references: numbers of the book's own sections that none of them took."""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.numbers import any_of, has_figure, may_point, numbers_in
from lastbolt.reading.piece import Piece
from lastbolt.reading.targets import Target, bare_number
from lastbolt.reading.titles import title_key

_SHORT = re.compile(r"(?<=\s)\d{1,3}(?:,\d{1,2})?[A-Za-z]?(?!\w|[.,\-–/:·]\d|\s?[%°×])")
_REACH = 24
_FIGURES = re.compile(r"\d[\d.,\-–]*")


@lru_cache(maxsize=4)
def _cue(language: Lexicon) -> re.Pattern[str]:
    """Words such as "see", right before a number of one or two digits, or one with a comma."""
    return re.compile(rf"(?<!\w)(?:{any_of(language.words('left_over', 'cues'))})\.?\s$", re.IGNORECASE)


class Net:
    """Asked of one source: which of its sections a text names by number."""

    def __init__(self, targets: Iterable[Target], source: str, language: Lexicon) -> None:
        self.language = language
        self.cue = _cue(language)
        every = [target for target in targets if target.source == source]
        telling = {target.id for target in every if target.procedure is not None}
        parent = {target.id: target.parent for target in every}
        for one in tuple(telling):
            above = parent.get(one)
            while above is not None and above not in telling:
                telling.add(above)
                above = parent.get(above)
        self.by_number: dict[str, list[Target]] = {}
        for target in every:
            if target.number and target.id in telling:
                self.by_number.setdefault(bare_number(target.number), []).append(target)

    def caught(self, text: str, own: Target, taken: frozenset[str]) -> list[Target]:
        """The sections with work in them whose numbers stand in the text; not its own, not the taken."""
        if not has_figure(text):
            return []
        found: dict[str, Target] = {}
        for number in self._numbers(text):
            hits = self.by_number.get(bare_number(number)) or self.by_number.get(
                bare_number(number.rstrip("abcdefghijklmnopqrstuvwxyz")), []
            )
            for target in hits:
                if target.number != own.number and bare_number(target.number) not in taken:
                    found.setdefault(target.id, target)
        return list(found.values())

    def rows(self, piece: Piece, own: Target, taken: frozenset[str]) -> Iterator[str]:
        """The rows of a table where a section's number stands beside words of its title: "Bracket | 4.3"."""
        for at in piece.lines:
            text = at.line.text.replace("\t", " ")
            found = self.caught(text, own, taken)
            if not found or len(_FIGURES.findall(text)) > 1:  # a table of values
                continue
            words = set(title_key(text, self.language))
            if any(words & set(target.key) for target in found):
                yield text

    def _numbers(self, text: str) -> Iterator[str]:
        for number in numbers_in(text):
            known = [one for one in (number.first, number.last) if one and self._known(one)]
            if known and may_point(text, number.start, number.end, self.language):
                yield from known
        for match in _SHORT.finditer(text):
            said, start = match.group().replace(",", "."), match.start()
            if self._known(said) and self.cue.search(text[max(0, start - _REACH) : start]):
                yield said

    def _known(self, number: str) -> bool:
        return bare_number(number) in self.by_number or bare_number(number[:-1]) in self.by_number

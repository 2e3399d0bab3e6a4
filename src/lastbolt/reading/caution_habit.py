"""Whether a book sets its cautions before the step that they are for, or behind it: learned from it."""

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Literal, NamedTuple

from lastbolt.reading.drafts import Item, SectionDraft
from lastbolt.reading.piece import INDENT

_FEWEST = 3
_TIMES = 5
_STEP = 0.004
"""Lines that begin within this much of each other begin at one edge."""
_OF_A_FRAME = 0.03
"""Words stand this far inside of their frame."""
_CENTRED = 0.01
_SHARE = 0.6


class CautionHabit(NamedTuple):
    """How a book sets its cautions. `stand`: before the step they are for ("first"), behind it, or as their
    indent tells (""); `margins`: where its text begins that is no step's."""

    stand: Literal["first", "behind", ""] = ""
    margins: frozenset[int] = frozenset()

    def inside(self, item: Item, step: Item) -> bool:
        """Whether a caution is indented under a step."""
        framed = item.pieces[0].boxed or item.pieces[0].last.boxed
        inset = _OF_A_FRAME if framed else INDENT
        reach = _OF_A_FRAME if framed else _STEP
        at_margin = any(-_STEP <= item.left - edge * _STEP <= reach for edge in self.margins)
        return item.left > step.left + inset and not at_margin


ANYWHERE = CautionHabit()
"""Nothing is known of the book."""


def learn_cautions(sections: Sequence[SectionDraft]) -> CautionHabit:
    """Whether cautions open sections and hardly ever end them, or end them and hardly ever open any."""
    first = last = 0
    for section in sections:
        kinds = [item.kind for item in section.items if item.kind in ("step", "caution")]
        if "step" in kinds and "caution" in kinds:
            first += kinds[0] == "caution"
            last += kinds[-1] == "caution"
    margins = _margins(sections)
    if (first >= _FEWEST and first >= _TIMES * last) or _centred(sections):
        return CautionHabit("first", margins)
    return CautionHabit("behind" if last >= _FEWEST and last >= _TIMES * first else "", margins)


def _margins(sections: Iterable[SectionDraft]) -> frozenset[int]:
    """Where blocks and paragraphs before the first steps begin, several of them."""
    lefts: Counter[int] = Counter()
    for section in sections:
        if not any(item.kind == "step" for item in section.items):
            continue
        for item in section.items:
            if item.kind not in ("label", "text"):
                break
            lefts[round(item.left / _STEP)] += 1
    return frozenset(left for left, count in lefts.items() if count >= _FEWEST)


def _centred(sections: Iterable[SectionDraft]) -> bool:
    """Whether most cautions of several lines have these lines in the middle of their column."""
    told = [
        [at.line for at in item.pieces[0].lines]
        for section in sections for item in section.items
        if item.kind == "caution" and len(item.pieces[0].lines) > 1
    ]  # fmt: skip
    middles = 0
    for lines in told:
        centres = [line.left + line.right for line in lines]
        ragged = max(line.left for line in lines) - min(line.left for line in lines) > INDENT
        middles += ragged and max(centres) - min(centres) < 2 * _CENTRED
    return middles >= _FEWEST and middles >= _SHARE * len(told)

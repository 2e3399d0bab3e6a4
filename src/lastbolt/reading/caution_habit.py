"""Whether a book sets its cautions before the step that they are for, or behind it: learned from it."""

from collections.abc import Iterable

from lastbolt.reading.drafts import SectionDraft

_FEWEST = 3
_TIMES = 5


def cautions_come_first(sections: Iterable[SectionDraft]) -> bool:
    """Whether cautions open sections and hardly ever end them."""
    first = last = 0
    for section in sections:
        kinds = [item.kind for item in section.items if item.kind in ("step", "caution")]
        if "step" in kinds and "caution" in kinds:
            first += kinds[0] == "caution"
            last += kinds[-1] == "caution"
    return first >= _FEWEST and first >= _TIMES * last

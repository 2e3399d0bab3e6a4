"""Whether a book sets its cautions before the step that they are for, or behind it: learned from it."""

from collections.abc import Iterable
from typing import Literal

from lastbolt.reading.drafts import SectionDraft

_FEWEST = 3
_TIMES = 5


def where_cautions_stand(sections: Iterable[SectionDraft]) -> Literal["first", "behind", ""]:
    """Whether cautions open sections and hardly ever end them, or end them and hardly ever open any."""
    first = last = 0
    for section in sections:
        kinds = [item.kind for item in section.items if item.kind in ("step", "caution")]
        if "step" in kinds and "caution" in kinds:
            first += kinds[0] == "caution"
            last += kinds[-1] == "caution"
    if first >= _FEWEST and first >= _TIMES * last:
        return "first"
    return "behind" if last >= _FEWEST and last >= _TIMES * first else ""

"""Which drawings of a page make up one figure: those between which no text lies."""

from collections.abc import Callable, Sequence

from lastbolt.reading.drawings import Region
from lastbolt.reading.tables import inside
from lastbolt.words.citation import Box
from lastbolt.words.page import PageLayout

_TEXT_BETWEEN = 2
"""So many words between two drawings are text, no labels: they are two figures."""
_NEAR_DRAWING = 0.12
"""Small pieces this near a drawing, in parts of the page, belong to it."""


def without_text_between(
    page: PageLayout, caption: Box, owned: list[Region], distance: Callable[[Box, Box], float | None]
) -> list[Region]:
    """Of the drawings nearest to a caption those between which no text of the page lies."""
    first, *others = sorted(owned, key=lambda region: distance(caption, region.box) or 0.0)
    kept, box = [first], first.box
    for region in sorted(others, key=lambda region: apart(region.box, box)):
        wider = union(box, region.box)
        between = [
            word
            for word in page.words
            if len(word.text) > 3
            and inside(word, wider)
            and not any(inside(word, one) for one in (box, region.box, caption))
        ]
        if len(between) < _TEXT_BETWEEN:
            kept.append(region)
            box = wider
    return kept


def with_small(
    page: PageLayout, mine: list[Region], small: Sequence[Region], captions: Sequence[Box]
) -> list[Region]:
    """The figure's drawings with the small pieces near them, as long as no text lies between."""
    box = mine[0].box
    for region in mine[1:]:
        box = union(box, region.box)
    kept = list(mine)
    for piece in sorted(small, key=lambda region: apart(region.box, box)):
        if apart(piece.box, box) > _NEAR_DRAWING:
            continue
        wider = union(box, piece.box)
        text = [w for w in page.words if inside(w, wider) and not inside(w, box) and len(w.text) > 3]
        if not text and not any(apart(caption, wider) == 0.0 for caption in captions):
            kept.append(piece)
            box = wider
    return kept


def apart(a: Box, b: Box) -> float:
    """How far two boxes stand apart."""
    return max(a[0] - b[2], b[0] - a[2], 0.0) + max(a[1] - b[3], b[1] - a[3], 0.0)


def union(a: Box, b: Box) -> Box:
    """The box around both."""
    return min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3])

"""Dowels that typed lines speak of: a seized one holds the halves, so they are asked for like any holder."""

import re
from collections.abc import Iterable, Mapping

from lastbolt.app.holder_words import holder_sort
from lastbolt.words.answer import HolderState
from lastbolt.words.evidence import EvidencePlace, Line, Look
from lastbolt.words.joint import A_DOWEL

DOWELS = "dowels"
_OF_DOWELS = re.compile(
    r"(?:(?:the|all|solid|hollow) )*dowels?(?: (?:pins?|sleeves?))?(?:,? ?(?:at |in |\d).*)?"
)


def dowels_asked(
    lines: Iterable[Line],
    looks: Iterable[Look],
    places: Iterable[EvidencePlace],
    named: Mapping[str, HolderState],
) -> tuple[HolderState, ...]:
    """The one holder "dowels", open, where dowels are listed or seen and nobody typed a holder of them."""
    names = [" ".join(holder.name.casefold().split()) for holder in named.values()]
    names = [name for name in names if _OF_DOWELS.fullmatch(name)]
    seen = {look.place for look in looks if look.saw in A_DOWEL}
    labels = [place.label for place in places if place.id in seen]
    listed = [line for line in lines if line.kind.what == "dowel"]
    count = sum(line.printed[0].quantity.low or 0 for line in listed if line.printed)
    if (not labels and not listed) or _speak_of_all(names, labels, count):
        return ()
    at = f"seen at {', '.join(labels)}; " if labels else ""
    on_list = f"{count} on the list; " if count else ""
    ask = (holder_sort("dowel") or ("dowel", ""))[1]
    words = f"{on_list}{at}is each free in one half? {ask}"
    return (HolderState(DOWELS, "dowel", DOWELS, False, words, places=tuple(labels), answer="free"),)


def _speak_of_all(names: Iterable[str], labels: Iterable[str], count: int) -> bool:
    """Whether typed holders speak of every dowel: "dowels" of all, "dowel at 10" of that one only."""
    said: set[str] = set()
    unplaced = 0
    for name in names:
        at = re.findall(r"\d\w*", name)
        if not at and ("dowels" in name or name.startswith(("all ", "the all "))):
            return True
        said.update(at)
        unplaced += not at
    left = {label.casefold() for label in labels} - said
    missing = max(len(left), count - len(said))
    return bool(said or unplaced) and missing <= unplaced

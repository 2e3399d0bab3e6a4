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
    if any(_OF_DOWELS.fullmatch(" ".join(holder.name.casefold().split())) for holder in named.values()):
        return ()
    seen = {look.place for look in looks if look.saw in A_DOWEL}
    labels = [place.label for place in places if place.id in seen]
    listed = [line for line in lines if line.kind.what == "dowel"]
    if not labels and not listed:
        return ()
    at = f"seen at {', '.join(labels)}; " if labels else ""
    count = sum(line.printed[0].quantity.low or 0 for line in listed if line.printed)
    on_list = f"{count} on the list; " if count else ""
    ask = (holder_sort("dowel") or ("dowel", ""))[1]
    words = f"{on_list}{at}is each free in one half? {ask}"
    return (HolderState(DOWELS, "dowel", DOWELS, False, words, places=tuple(labels), answer="free"),)

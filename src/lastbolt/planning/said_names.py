"""How a thing that came off is called, so that nobody has to ask which screws: "4 screws M8 x 20"."""

from collections.abc import Iterable

from lastbolt.planning.names import ends_in, same_name, stems, words
from lastbolt.words.machine import Mention


def with_count_and_size(part: str, mentions: Iterable[Mention]) -> str:
    """The part with how many and which size the sources print, as far as they do."""
    mention = next((one for one in mentions if one.name == part or same_name(one.name, part)), None)
    if mention is None:
        return part
    exact = mention.quantity.low if mention.quantity.kind == "exactly" else None
    count = f"{exact} " if exact and exact > 1 else ""
    kind = mention.kind
    size = f" {kind.thread}" if kind and kind.thread and kind.thread not in part.replace(" ", "") else ""
    length = f" x {kind.length_mm:g}" if size and kind and kind.length_mm else ""
    return f"{count}{part}{size}{length}"


def one_word_fastener(part: str) -> bool:
    """Whether a name says only what sort of fastener it is: "screws"."""
    small = (*words()["refit"]["fasteners"], *words()["way_back"]["with_its_part"])
    return len(stems(part)) == 1 and ends_in(part, small)

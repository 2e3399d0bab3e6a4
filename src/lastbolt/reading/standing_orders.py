"""A section that orders itself first: "Carry out this section before every task in chapter 3"."""

from collections.abc import Iterator
from functools import lru_cache

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.pointers import Pointer, pointers_in
from lastbolt.reading.sentences import sentences


@lru_cache(maxsize=4)
def _itself(language: Lexicon) -> tuple[str, ...]:
    """What a section calls itself."""
    return language.words("order", "itself")


def standing_orders(text: str, language: Lexicon) -> Iterator[tuple[str, Pointer]]:
    """The sentences that say so, each with where the work stands that comes after."""
    low = text.lower()
    if not any(name in low for name in _itself(language)):
        return
    for sentence in sentences(text, language):
        scan = language.scan(sentence)
        itself = scan.of("order", "itself")
        if not itself or scan.has("order", "never"):
            continue
        before = [hit for hit in scan.of("order", "before") if hit.start > itself[0].start]
        if not before:
            continue
        for pointer in pointers_in(scan, language):
            if pointer.form == "section" and pointer.start >= before[0].end:
                yield sentence, pointer

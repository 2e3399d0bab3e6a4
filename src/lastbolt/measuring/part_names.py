"""Which part a worn size is of, as far as the source's words tell."""

import re

from lastbolt.measuring.dimensions import dimension_of, size_words, words_of
from lastbolt.words.readings import Size

_IN = re.compile(r"\s+(?:in|into|to|and)\s+(?:the\s+|its\s+)?", re.I)
_BEHIND = re.compile(r"\s+(?:at|over|below|above|from|on|under)\s+.*$", re.I)
_BEFORE = re.compile(r"^(?:of|between|in|the|a|an|its|all|each|seat|both)\s+", re.I)


def part_names(size: Size) -> tuple[str, ...]:
    """The part, or the two of which one is worn; the likelier one first.

    >>> part_names(Size(1, "x", "Run-out of the output shaft, at the coupling seat", "mm"))
    ('output shaft',)
    >>> part_names(Size(1, "x", "Bore of the cover bearing in the cover", "mm"))
    ('cover',)
    >>> part_names(Size(1, "x", "Play of the key in the output shaft", "mm"))
    ('key', 'output shaft')
    >>> part_names(Size(1, "x", "Valve stem, clearance in guide", "mm"))
    ('Valve stem', 'guide')
    """
    kind = dimension_of(size.what)
    found: list[str] = []
    for segment in size.what.split(","):
        known = [name for name in map(_bare, _IN.split(segment)) if name]
        if known and kind.name == "bore":
            # The bore named after what goes into it is not in that part: only "in the ..." says in which.
            return (known[-1],) if len(known) > 1 else (size.what,)
        found += known if not found or (kind.both and " in " in f" {segment.strip()} ") else []
    return tuple(dict.fromkeys(found))[:2] or (size.what,)


def names_no_part(what: str) -> bool:
    """Whether words name a kind of size alone.

    >>> names_no_part("thickness"), names_no_part("free length"), names_no_part("thickness of the disc")
    (True, True, False)
    """
    return not any(_bare(part) for segment in what.split(",") for part in _IN.split(segment))


def _bare(part: str) -> str:
    """The words without those of a kind of size, and without where on the part it is."""
    text = _BEHIND.sub("", part.strip())
    for name in size_words():
        wide = r"[\s-]*".join(map(re.escape, name.replace("runout", "run out").split()))
        text = re.sub(rf"\b{wide}\b", " ", text, flags=re.I)
    text = " ".join(text.split())
    while (cut := _BEFORE.sub("", text)) != text:
        text = cut
    return text if words_of(text) else ""

"""The legend that a figure's caption goes on with: "Gearcase: 1 housing, 2 cover"."""

import re
from collections.abc import Sequence

from lastbolt.reading.legends import legend_entries
from lastbolt.reading.lexicon import lexicon
from lastbolt.words.page import Word


def parted_legend(said: str) -> tuple[str, tuple[tuple[str, str], ...]]:
    """A caption's title, and the legend it goes on with."""
    entries = legend_entries(said, lexicon()) if any(c.isdigit() for c in said) else []
    if not entries:
        return said, ()
    begin = re.search(rf"(?:^|\s)\(?{re.escape(entries[0][0])}[.)=:]{{0,2}}\s", said)
    return said[: begin.start() if begin else 0].rstrip(" .:,;—–-"), tuple(entries)


def opens_legend(words: Sequence[Word]) -> bool:
    """Whether a caption so far ends with a colon, or goes on with a legend."""
    said = " ".join(word.text for word in words[2:])
    return said.endswith(":") or bool(parted_legend(said)[1])

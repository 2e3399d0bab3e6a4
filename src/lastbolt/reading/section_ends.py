"""Words that a book sets at the end of its sections, "END OF TASK": one line, often before a heading."""

from collections import Counter
from collections.abc import Sequence

from lastbolt.reading.blocks import block_label
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.marks import mark_of
from lastbolt.reading.schema import Schema, could_head, stands_out, style_of
from lastbolt.reading.swallowed import instructs

_FEWEST = 4
"""So often a line stands before a heading or at the end of a page, or it is none of these."""
_MOST_WORDS = 6
_SHARE = 0.8


def section_ends(
    pages: Sequence[tuple[int, Sequence[Line]]], schema: Schema, language: Lexicon
) -> frozenset[str]:
    """The lines that only say that a section is over."""
    count: Counter[str] = Counter()
    closing: Counter[str] = Counter()
    opening: Counter[str] = Counter()
    for _, lines in pages:
        for at, line in enumerate(lines):
            text = line.text
            if line.region or line.words > _MOST_WORDS or text.endswith((".", ":", ",")):
                continue
            count[text] += 1
            after = lines[at + 1] if at + 1 < len(lines) else None
            closing[text] += after is None or _is_heading(after, schema, language)
            opening[text] += at > 0 and _is_heading(lines[at - 1], schema, language)
    return frozenset(
        text
        for text, often in count.items()
        if often >= _FEWEST
        and closing[text] >= _SHARE * often
        and opening[text] <= (1 - _SHARE) * often
        and sum(map(str.isalpha, text)) > 2
        and mark_of(text, language) is None
        and not instructs(text, language)
        and block_label(text, 0, language) is None
        and not language.scan(text).has("signals")
    )


def _is_heading(line: Line, schema: Schema, language: Lexicon) -> bool:
    style = style_of(line)
    return style in schema.ranks and stands_out(style, schema.body) and could_head(line, language)

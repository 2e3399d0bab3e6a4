"""Lines as people say them: "Mira: 4 out", "1 out by Mira", "out 1-6", "no, 3 is still in"."""

import re
from collections.abc import Collection
from typing import NamedTuple

from lastbolt.app.typed_lines import speaker_of
from lastbolt.app.typed_names import name_in, nearly_said, new_name_in
from lastbolt.app.typed_words import INTERJECTIONS, SAW_WORDS, TAKEN_OUT, person_key

_NAMED = re.compile(r"^([^\W\d_][\w.'\u2019-]*(?: [^\W\d_][\w.'\u2019-]*)?)\s*:\s+(\S.*)$")
_BY_AT_END = re.compile(r"^(.*\d.*?),?\s+by\s+([^\W\d_][\w .'\u2019-]*)$", re.I)
_INTERJECTED = re.compile(rf"^(?:{'|'.join(INTERJECTIONS)})\s*[,.:;!-]\s*(\S.*)$", re.I)
_SEEN = sorted({*SAW_WORDS, *TAKEN_OUT} - {"in"}, key=len, reverse=True)
"""What may stand before its places; "in 3" may mean three trays as well."""
_SAW_FIRST = re.compile(
    rf"^({'|'.join(map(re.escape, _SEEN))})\s*:?\s+"
    r"((?:places?\s+)?\d[\d\s,&–-]*(?:(?:and|to)\s[\d\s,&–-]*)*)$",
    re.I,
)


class Spoken(NamedTuple):
    """Who says the line, "" if whoever spoke before; and the line as it is typed."""

    by: str
    line: str


def as_typed(words: str, people: Collection[str] = ()) -> Spoken:
    """The line without who says it and without what people put before it; places before what was seen.

    `people`: keys of those who spoke before. A word before a colon is a name only if it is one of theirs:
    "top: 1-3 out" would make a witness of a side. A new name behind "by" is written as names are, or "by
    hand" would be somebody.
    """
    if found := _INTERJECTED.match(words):
        words = found[1]
    by = ""
    if (found := _NAMED.match(words)) and person_key(found[1]) in people:
        by, words = name_in(found[1]), found[2]
    elif (found := _BY_AT_END.match(words)) and speaker_of(words) is None:
        known = person_key(found[2]) in people
        by = name_in(found[2]) if known else new_name_in(found[2])
        if not by or nearly_said(by, people):
            return Spoken("", words)
        words = found[1]
    if found := _SAW_FIRST.match(words.rstrip(" .")):
        words = f"{re.sub('^places? +', '', found[2].strip(), flags=re.I)} {found[1]}"
    return Spoken(by, words)

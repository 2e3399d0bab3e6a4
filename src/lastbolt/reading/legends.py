"""Legends that run on in one paragraph: "1. Piston. 2. Gudgeon pin. 3. Upper ring."."""

import re
from itertools import pairwise

from lastbolt.reading.lexicon import Lexicon

_ENTRY = re.compile(
    r"(?:^|(?<=[.,;:)])\s|(?<=\S)\s(?=\(?\d{1,3}[.)=:]\s))\(?(\d{1,3}[a-z]?)[.)=:]{0,2}\s(?=[^\W\d_])"
)
_MARKED = re.compile(r"(?:^|(?<=[.,;:)])\s)\(?\d{1,3}[a-z]?[.)=:]{1,2}\s(?=[^\W\d_])")
_WANTS = re.compile(r"(?:^|\s)\(?\d{1,3}[.)=:]?$")
"""A number at the end of a line, whose name stands on the next."""
_LONGEST = 6
"""A name in a legend has at most so many words."""


def legend_entries(text: str, language: Lexicon) -> list[tuple[str, str]]:
    """The numbers and names of a legend in one run of words; none where the words are something else."""
    found = list(_ENTRY.finditer(text))
    if len(found) < 2:
        return []
    if not _ascend(found):
        return []
    ends = [match.start() for match in found[1:]] + [len(text)]
    names = [text[match.end() : end].strip(" .,;") for match, end in zip(found, ends, strict=True)]
    if not all(_is_name(name, language) for name in names):
        return []
    return [(match[1], name) for match, name in zip(found, names, strict=True)]


def opens_legend(text: str, language: Lexicon) -> bool:
    """Whether a line begins a legend that runs on: its first number at its start."""
    match = _ENTRY.match(text)
    return match is not None and match.start() == 0 and bool(legend_entries(text, language))


def legend_goes_on(above: str, text: str, language: Lexicon) -> bool:
    """Whether a line is more of a legend: further names, or the name that the line above wants."""
    if legend_entries(text, language) and _ENTRY.match(text) is None:
        return True
    wants = _WANTS.search(above.rstrip()) or above.rstrip()[-1:] not in ".:!?"
    match = _ENTRY.match(text)
    last = _ENTRY.findall(above)
    if match is not None and last:
        return match[1].isdecimal() and last[-1].isdecimal() and int(match[1]) == int(last[-1]) + 1
    return bool(wants) and match is None and _is_name(text.split(".", maxsplit=1)[0], language)


def _is_name(name: str, language: Lexicon) -> bool:
    words = name.lower().split()
    if not 0 < len(words) <= _LONGEST or name.rstrip().endswith((":", "!")):
        return False
    articles = any(language.among(word.strip(",.;"), "stop", "in_sentences") for word in words)
    return not (articles and any(hit.first == 0 for hit in language.scan(name).of("deeds")))


def without_numbers(text: str) -> str:
    """A line of a legend that runs on without its numbers: "4. Bolt. 5. Screw. 6." is "Bolt. Screw."."""
    return _WANTS.sub("", _MARKED.sub(" ", text)).strip()


def _ascend(found: list["re.Match[str]"]) -> bool:
    numbers = [int("".join(filter(str.isdigit, match[1]))) for match in found]
    return all(one <= other <= one + 3 for one, other in pairwise(numbers))

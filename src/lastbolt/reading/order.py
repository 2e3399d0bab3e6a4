"""Whether a sentence says that what it points at must be done first: clauses of necessity and of order."""

import re

from lastbolt.reading.lexicon import Hit, Lexicon, Scan

_PART = re.compile(r"[,;:()\[\]]\s?|[.](?=\s)|\s[–—-]\s")
_LIST_FOLLOWS = re.compile(r":|\s[–—-]\s")
_NEAR = 6
"""Words that may stand between "after" and the number it is said of."""


def required_first(scan: Scan, start: int, end: int, language: Lexicon) -> bool:
    """Whether the place named between `start` and `end` is work that must be behind one."""
    if not scan.has("order"):
        return False
    clause = _clause_of(scan.text, start, end)
    within = [hit for hit in scan.of("order") if clause[0] <= hit.start and hit.end <= clause[1]]
    before = _last(scan, start, "before")
    if before is not None and _heads_list(scan, before, start):
        return True  # "Required before this work: 4.2"
    if before is not None and _of_here(scan, before, language):
        return not _never(scan, before)  # "Before this, do 4.2"
    if before is not None and _leads_to(scan, before, start, language):
        return _never(scan, before)
    if _last(scan, start, "onward") is not None and scan.of("order", "returning"):
        return True  # "Proceed with 4.2, then come back here"
    if before is not None and before.first <= 1 and _of_work(scan, before, language):
        return True  # "Before any work drain the oil (2.1)"
    if any(_leads(scan, hit, start) for hit in within if hit.key == "after"):
        return True
    if any(hit.key == "necessary" for hit in within) and scan.text[start - 1 : start] not in ("(", "["):
        return True
    return _done(scan, end, language)


def comes_later(scan: Scan, start: int, end: int, language: Lexicon) -> bool:
    """Whether the place is work that follows: "do this before 4.3", "go on with 4.5", "4.5 is done later"."""
    if not scan.has("order"):
        return False
    before = _last(scan, start, "before")
    if before is not None and (_heads_list(scan, before, start) or _of_here(scan, before, language)):
        return False
    if before is not None and _leads_to(scan, before, start, language):
        return not _never(scan, before)
    onward = _last(scan, start, "onward")
    if onward is not None and scan.of("order", "returning"):
        return False
    if onward is not None and _leads_to(scan, onward, start, language):
        return True
    first, last = _clause_of(scan.text, start, end)
    return any(
        end <= hit.start and hit.end <= last and first <= hit.start for hit in scan.of("order", "later")
    )


def _never(scan: Scan, before: Hit) -> bool:
    """Whether "before" is said of what must not be done: "do not start before 4.3 is done", "before 4.3
    nothing may be loosened"."""
    never = any(hit.end <= before.start for hit in scan.of("order", "never"))
    return never or bool(scan.of("order", "nothing"))


def _heads_list(scan: Scan, before: Hit, start: int) -> bool:
    """Whether a colon or a dash stands between "before" and the place: a list of what comes first."""
    return _LIST_FOLLOWS.search(scan.text, before.end, start) is not None


def _of_here(scan: Scan, before: Hit, language: Lexicon) -> bool:
    """Whether it is said of the work at hand: "before this", "before this job", and no section's number."""
    low = [token.low for token in scan.tokens[before.last : before.last + 3]]
    if not low or not language.among(low[0], "order", "here"):
        return False
    if not any(language.among(low[1:2][0], t, "section") for t in ("pointing", "left_over") if low[1:]):
        return True
    return len(low) > 2 and not low[2][:1].isdigit()


def _clause_of(text: str, start: int, end: int) -> tuple[int, int]:
    """The part of the sentence, between commas or brackets, that holds a place in it."""
    first = max((match.end() for match in _PART.finditer(text, 0, start)), default=0)
    behind = _PART.search(text, end)
    return first, behind.start() if behind is not None else len(text)


def _last(scan: Scan, start: int, key: str) -> Hit | None:
    hits = [hit for hit in scan.of("order", key) if hit.end <= start]
    return hits[-1] if hits else None


def _leads_to(scan: Scan, hit: Hit, start: int, language: Lexicon) -> bool:
    """Whether nothing but "carrying out", "section", "the" stands between a word and a place."""
    between = [token.low for token in scan.tokens[hit.last :] if token.start < start]
    return all(
        language.among(low, "order", "doing")
        or language.among(low, "stop", "articles")
        or language.among(low, "pointing", "section")
        or language.among(low, "left_over", "section")
        for low in between
    )


def _of_work(scan: Scan, hit: Hit, language: Lexicon) -> bool:
    """Whether it is before work, not before the winter."""
    near = scan.tokens[hit.last : hit.last + 4]
    deeds = [deed for deed in scan.of("deeds") if deed.form == "doing" and deed.first == hit.last]
    return bool(deeds) or any(language.among(token.low, "order", "work") for token in near)


def _leads(scan: Scan, hit: Hit, start: int) -> bool:
    """Whether a word such as "after" stands a few words before the place, in its own clause."""
    return hit.end <= start and scan.token_at(start) - hit.last <= _NEAR


def _done(scan: Scan, end: int, language: Lexicon) -> bool:
    """Whether "done", "has been carried out" ... stands right behind the place."""
    index = scan.token_at(end)
    while index < len(scan.tokens) and language.among(scan.tokens[index].low, "order", "have"):
        index += 1
    if index >= len(scan.tokens):
        return False
    gap = scan.text[end : scan.tokens[index].start]
    return not _PART.search(gap) and any(hit.first == index for hit in scan.of("order", "done"))

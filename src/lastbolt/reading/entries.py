"""One entry of a set-up block or a follow-on list into raw references, each with the engines it is for."""

import re
from collections.abc import Sequence
from functools import lru_cache

from lastbolt.reading.conditions import Condition, combined, conditions_in
from lastbolt.reading.lexicon import Lexicon, Scan
from lastbolt.reading.numbers import any_of
from lastbolt.reading.pointers import Pointer, lone_numbers, pointers_in
from lastbolt.reading.steps import RawReference, scoped
from lastbolt.words.machine import DEEDS, EVERY, Deed

_BRACKETS = re.compile(r"\([^)]*\)")


def read_entry(text: str, language: Lexicon) -> tuple[list[RawReference], list[str]]:
    """The raw references of one entry, alternatives joined, and the figures it cites.

    What points nowhere becomes a demand in its own words. An entry that names several kinds of engine, or
    states besides the one it points for, is read clause by clause.
    """
    scan = language.scan(text)
    found = conditions_in(scan, language) if scan.has("conditions") else []
    deeds = tuple(dict.fromkeys(DEEDS[h.key] for h in scan.of("deeds") if h.form in ("done", "base")))
    if len({c.applies for c in found if c.applies != EVERY}) > 1:
        clauses = _by_engine(text, [c for c in found if c.applies != EVERY], language)
        read = [_read_clause(clause, language, deeds, None) for clause in clauses]
    else:
        read = [_read_clause(clause, language, deeds, found) for clause in _statements(text, language)]
    return [r for references, _ in read for r in references], [n for _, figures in read for n in figures]


def _read_clause(
    text: str, language: Lexicon, whole: tuple[Deed, ...], bound: Sequence[Condition] | None
) -> tuple[list[RawReference], list[str]]:
    """The references of a clause; `whole`: the deeds of its entry; `bound`: its entry's conditions, if they
    bind it too."""
    scan = language.scan(text)
    found = conditions_in(scan, language) if bound is None else bound
    condition, applies = combined(found)
    if any(c.steps for c in found):
        condition = scoped(found, condition)
    done = tuple(dict.fromkeys(DEEDS[h.key] for h in scan.of("deeds") if h.form in ("done", "base")))
    pointers = [p for p in pointers_in(scan, language) if p.form != "demand"]
    pointers = [p for p in pointers if not (p.form == "steps" and p.cue == "none")]
    figures = [n for p in pointers if p.form == "figure" for n in p.targets]
    pointers = [p for p in pointers if p.form != "figure"]
    if not pointers and not figures:
        pointers = lone_numbers(scan, language) or [Pointer(0, len(text), "demand", (text,), "perform")]
    merged: list[Pointer] = []
    for pointer in pointers:
        between = text[merged[-1].end : pointer.start] if merged else ""
        same = merged and merged[-1].form == pointer.form
        if same and any(
            language.among(t.low, "pointing", "alternatives") for t in language.scan(between).tokens
        ):
            last = merged[-1]
            targets = (*last.targets, *pointer.targets)
            merged[-1] = last._replace(end=pointer.end, targets=targets, any_of=True)
        else:
            merged.append(pointer)
    deeds = done or whole
    return [RawReference(p, text, deeds, condition, applies, entry=True) for p in merged], figures


def _by_engine(text: str, engines: Sequence[Condition], language: Lexicon) -> list[str]:
    """The clauses of "the starter (3.3) on variant E or the bracket (3.4) on variant H": one a kind."""
    trailing = any(c.isalnum() for c in text[: engines[0].start])
    cuts = [c.end for c in engines[:-1]] if trailing else [c.start for c in engines[1:]]
    clauses = []
    for start, end in zip([0, *cuts], [*cuts, len(text)], strict=True):
        clause = text[start:end].lstrip(" ,;.)").rstrip(" ,;.(")
        first, _, rest = clause.partition(" ")
        clauses.append(rest if language.among(first.lower(), "ands") else clause)
    return [clause for clause in clauses if clause]


@lru_cache(maxsize=4)
def _cut(language: Lexicon) -> re.Pattern[str]:
    """Where one state of an entry may end and the next begin."""
    both = any_of(language.words("left_over", "both"))
    return re.compile(rf",\s(?:(?:{both})\s)?|(?<=\))\s(?:{both})\s")


def _statements(text: str, language: Lexicon) -> list[str]:
    """The text with each further state ("..., battery disconnected") that it asks for as a clause apart."""
    inside = [match.span() for match in _BRACKETS.finditer(text)]
    cuts = [
        match.span()
        for match in _cut(language).finditer(text)
        if not any(start < match.start() < end for start, end in inside)
    ]
    if not cuts:
        return [text]
    edges = [0, *(edge for cut in cuts for edge in cut), len(text)]
    spans = list(zip(edges[::2], edges[1::2], strict=True))
    scans = [language.scan(text[start:end]) for start, end in spans]
    clauses: list[str] = []
    begun: int | None = None
    for index, (start, end) in enumerate(spans):
        begun = start if begun is None else begun
        apart = index + 1 == len(spans) or _has_subject(scans[index + 1], language)
        if _states(scans[index], language) and apart and begun == start:
            clauses.append(text[start:end])
            begun = None
        elif index + 1 < len(spans) and apart and _states(scans[index + 1], language):
            clauses.append(text[begun:end])
            begun = None
    if begun is not None:
        clauses.append(text[begun:])
    return clauses


def _states(scan: Scan, language: Lexicon) -> bool:
    """Whether a clause says that something is in a state, and points nowhere: "battery disconnected"."""
    if any(c.isdigit() for c in scan.text) or scan.has("pointing", "strong_cues", "perform"):
        return False
    ends = {hit.last for hit in scan.of("deeds") if hit.form == "done"}
    ends |= {hit.last for hit in scan.of("demands", "done", "strict")}
    return len(scan.tokens) in ends and _has_subject(scan, language)


def _has_subject(scan: Scan, language: Lexicon) -> bool:
    """Whether a clause begins with what it speaks of, not with the state or with "then"."""
    if not scan.tokens or language.among(scan.tokens[0].low, "ordering"):
        return False
    states = [hit for hit in scan.of("deeds") if hit.form == "done"]
    return not any(hit.first == 0 for hit in (*states, *scan.of("demands", "done", "strict")))

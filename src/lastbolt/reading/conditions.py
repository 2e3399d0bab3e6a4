"""When an instruction binds: "only if ...", models and variants, serial numbers."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.lexicon import Hit, Lexicon, Scan
from lastbolt.reading.numbers import any_of
from lastbolt.words.machine import EVERY, Applies

_SERIAL = r"(\d[\d\s., ]*\d|\d)"
_CLOSE = re.compile(r"[,:;.)]|\s[–—-]\s|$")


class Condition(NamedTuple):
    """The words of a condition, where they stand, and the engines they single out."""

    words: str
    start: int
    end: int
    applies: Applies
    steps: tuple[str, str] | None = None
    """ "for steps 6 to 9 only": the steps it covers."""


def conditions_in(scan: Scan, language: Lexicon) -> list[Condition]:
    """The conditions of one sentence."""
    found = [*_serials(scan, language), *_variants(scan, language), *_bindings(scan, language)]
    scope = _step_scope(scan, language)
    if scope is not None:
        found = [c._replace(steps=scope) for c in found] or [Condition(scan.text, 0, 0, EVERY, scope)]
    kept: list[Condition] = []
    for condition in sorted(found, key=lambda c: (c.start, -c.end)):
        if not kept or condition.start >= kept[-1].end or condition.end == 0:
            kept.append(condition)
    return kept


def combined(conditions: Sequence[Condition]) -> tuple[str, Applies]:
    """All conditions of a step as one: the words, and the engines they single out."""
    words = "; ".join(condition.words for condition in conditions)
    variants = tuple(dict.fromkeys(v for c in conditions for v in c.applies.variants))
    starts = [c.applies.from_serial for c in conditions if c.applies.from_serial is not None]
    ends = [c.applies.to_serial for c in conditions if c.applies.to_serial is not None]
    said = "; ".join(c.applies.words for c in conditions if c.applies.words)
    if not variants and not starts and not ends:
        return words, EVERY
    return words, Applies(variants, max(starts) if starts else None, min(ends) if ends else None, said)


def _clause(scan: Scan, start: int, after: int) -> int:
    """The end of the clause that begins at `start`."""
    match = _CLOSE.search(scan.text, after)
    return match.start() if match else len(scan.text)


def _opens(scan: Scan, hit: Hit) -> bool:
    """Whether a hit stands at the head of the sentence, of a bracket or of a clause."""
    before = scan.text[: hit.start].rstrip()
    return not before or before[-1] in ",;:(–—-"


def _bindings(scan: Scan, language: Lexicon) -> list[Condition]:
    """ "only if ...", "if ...", "when ...", "unless ...": heading a clause, or anywhere with "only"."""
    found: list[Condition] = []
    for hit in scan.of("conditions"):
        words = scan.text[hit.start : hit.end].lower()
        if not language.among(words, "conditions", "binding"):
            continue
        near = [token.low for token in scan.tokens[max(0, hit.first - 1) : hit.first + 1]]
        only = any(language.among(low, "conditions", "only") for low in near)
        if not only and not _opens(scan, hit) and not language.among(words, "conditions", "anywhere"):
            continue
        end = _clause(scan, hit.start, hit.end)
        found.append(Condition(scan.text[hit.start : end].strip(), hit.start, end, EVERY))
    return found


def _variants(scan: Scan, language: Lexicon) -> list[Condition]:
    """ "models with electric start": which machines."""
    found: list[Condition] = []
    for hit in scan.of("conditions"):
        words = scan.text[hit.start : hit.end].lower()
        if not language.among(words, "conditions", "variant_lead"):
            continue
        only = language.among(words.split()[0], "conditions", "only")
        led = _led(scan, hit, language)
        if not only and not led and not _opens(scan, hit):
            continue
        end = _clause(scan, hit.start, hit.end)
        rest = scan.text[hit.end : end].strip()
        name = _variant_name(words, rest, language)
        if name is None:
            continue
        if len(name) <= 4 and (at := scan.text.find(name, hit.end)) >= 0:
            end = min(end, at + len(name))
        start = scan.tokens[hit.first - 1].start if led else hit.start
        said = scan.text[start:end].strip()
        found.append(Condition(said, start, end, Applies(variants=(name,), words=said)))
    return found


def _led(scan: Scan, hit: Hit, language: Lexicon) -> bool:
    """Whether "on" or "for" leads up to a word for a kind of machine: "... on variant E"."""
    if hit.first == 0 or language.among(scan.text[hit.start : hit.end].lower(), "conditions", "bare_lead"):
        return False
    return language.among(scan.tokens[hit.first - 1].low, "conditions", "bare_lead")


def _variant_name(lead: str, rest: str, language: Lexicon) -> str | None:
    """The variant that "models with X", "model X", "on models without X" names."""
    nested = re.match(r"(?:all\s|the\s)?(.*)", rest)
    rest = nested[1] if nested else rest
    low = rest.lower()
    for inner in sorted(language.words("conditions", "variant_lead"), key=len, reverse=True):
        if inner not in language.words("conditions", "bare_lead") and low.startswith(inner + " "):
            return _variant_name(inner, rest[len(inner) + 1 :], language)
    if lead in language.words("conditions", "bare_lead") or not rest or len(rest) > 60:
        return None
    if any(serial in low for serial in language.words("conditions", "serial") if len(serial) > 3):
        return None
    code = rest.split()[0].strip(" .,:")
    name = rest
    for only in language.words("conditions", "only"):
        name = name.removesuffix(f" {only}")
    name = code if len(code) <= 4 and (code.isupper() or code.isdigit()) else name.strip(" .,:")
    return f"without {name}" if lead.endswith("without") else name


class _Patterns(NamedTuple):
    serials: re.Pattern[str]
    steps: re.Pattern[str]


@lru_cache(maxsize=4)
def _patterns(language: Lexicon) -> _Patterns:
    """One serial number or step, or the first and the last of several."""
    through = language.words("pointing", "through")
    both = any_of((*through, *language.words("left_over", "both")))
    return _Patterns(
        re.compile(rf"\.?\s?:?\s?{_SERIAL}(?:\s?(?:{any_of(through)})\s?{_SERIAL})?"),
        re.compile(rf"\s?(\d{{1,3}})(?:\s?(?:{both})\s?(\d{{1,3}}))?"),
    )


def _serials(scan: Scan, language: Lexicon) -> list[Condition]:
    """ "from serial no. 40 211", "up to serial number 1500", "serial nos. 100 to 199"."""
    text = scan.text
    found: list[Condition] = []
    for hit in scan.of("conditions", "serial"):
        match = _patterns(language).serials.match(text, hit.end)
        if match is None:
            continue
        first = int(re.sub(r"\D", "", match[1]))
        last = int(re.sub(r"\D", "", match[2])) if match[2] else None
        before = [
            h
            for h in scan.of("conditions", "from", "up_to")
            if h.last <= hit.first and hit.first - h.last <= 2
        ]
        after = [h for h in scan.of("conditions", "later", "earlier") if 0 <= h.start - match.end() <= 4]
        start = before[-1].start if before else hit.start
        end = after[0].end if after else match.end()
        words = text[start:end]
        if last is not None:
            applies = Applies(from_serial=first, to_serial=last, words=words)
        elif (before and before[-1].key == "up_to") or (after and after[0].key == "earlier"):
            applies = Applies(to_serial=first, words=words)
        elif before or after:
            applies = Applies(from_serial=first, words=words)
        else:
            applies = Applies(from_serial=first, to_serial=first, words=words)
        found.append(Condition(words, start, end, applies))
    return found


def _step_scope(scan: Scan, language: Lexicon) -> tuple[str, str] | None:
    """ "for steps 6 to 9 only": a condition that covers other steps."""
    for hit in scan.of("conditions", "step_scope"):
        if hit.last - hit.first < 2:
            continue
        match = _patterns(language).steps.match(scan.text, hit.end)
        if match is not None:
            return match[1], match[2] or match[1]
    return None

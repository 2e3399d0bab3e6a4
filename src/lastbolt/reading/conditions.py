"""When an instruction binds: "only if ...", models and variants, serial numbers."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.reading.engine_words import Word, engine_words
from lastbolt.reading.engines import Engines, engines_at
from lastbolt.reading.lexicon import Hit, Lexicon, Scan
from lastbolt.reading.numbers import any_of
from lastbolt.words.applies import in_both, limited_to, runs
from lastbolt.words.machine import EVERY, Applies, Serials

_LEADS = frozenset(
    ("lower", "upper", "between", "negation", "ends", "begins", "fitted", "only", "lead", "filler", "at")
)
_ADDS_NOTHING = frozenset(("only", "lead", "filler", "at", "fitted"))
_REACH = 40
"""How far before a word for a kind of machine "not for" may begin."""
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
    found = [*_serials(scan), *_variants(scan, language), *_bindings(scan, language)]
    found += [] if found else _opening(scan, language)
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
    applied = [c.applies for c in conditions]
    variants = tuple(dict.fromkeys(v for one in applied for v in one.variants))
    others = tuple(dict.fromkeys(v for one in applied for v in one.except_variants))
    numbers: tuple[Serials, ...] = ()
    for one in applied:
        numbers = in_both(numbers, runs(one))
    said = "; ".join(one.words for one in applied if one.words)
    if not variants and not others and not numbers:
        return words, EVERY
    return words, replace(limited_to(numbers, said, variants), except_variants=others)


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


@lru_cache(maxsize=4)
def _heads(language: Lexicon) -> re.Pattern[str]:
    """A clause at the head of a sentence that says for what the order behind it is."""
    kinds, kind, lead, behind, only, inverted = (
        any_of(language.words("conditions", key))
        for key in ("kinds", "kind", "kind_lead", "kind_with", "only", "inverted")
    )
    some = r"[^,:;.]{0,60}"
    return re.compile(
        rf"(?:(?:{lead})\s(?:{some}\s)?(?:{kinds})(?:\s(?:{behind})\s{some}|\s(?:{only}))?"
        rf"|(?:{lead})\s(?:the|a)\s{some}\s(?:{kind})(?:\s(?:{behind})\s{some}|\s(?:{only}))?"
        rf"|(?:{some}\s)?(?:{kinds})(?:\s(?:{behind})\s{some})?(?:\s(?:{only}))?(?=:)"
        rf"|(?:{inverted})\s{some})(?=[,:]\s)",
        re.IGNORECASE,
    )


def _opening(scan: Scan, language: Lexicon) -> list[Condition]:
    """ "On marine engines, detach ...", "Sets with a winter kit only: ...", "Should it be seized, ..."."""
    match = _heads(language).match(scan.text) if "," in scan.text or ":" in scan.text else None
    if match is None:
        return []
    behind = next((token.start for token in scan.tokens if token.start >= match.end()), -1)
    orders = any(hit.start == behind and hit.form == "base" for hit in scan.of("deeds"))
    counted = any(hit.end <= match.end() for hit in (*scan.of("numbers"), *scan.of("quantities", "all")))
    if counted:  # "On both pumps, ..."
        return []
    return [Condition(match.group().strip(), 0, match.end(), EVERY)] if orders else []


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
        turned = _turned(scan.text[:start])
        start = start if turned is None else turned
        said = scan.text[start:end].strip()
        applies = Applies(variants=(name,), words=said)
        if turned is not None:
            applies = Applies(except_variants=(name,), words=said)
        found.append(Condition(said, start, end, applies))
    return found


def _turned(before: str) -> int | None:
    """Where "not" or "except" stands right before a word for a kind of machine: "not for model H"."""
    words = engine_words().words(before[-_REACH:])
    last = len(words) - 1
    while last > 0 and words[last].sorts & {"lead", "filler"}:
        last -= 1
    if last < 0 or "negation" not in words[last].sorts:
        return None
    return max(0, len(before) - _REACH) + words[last].start


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


@lru_cache(maxsize=4)
def _steps(language: Lexicon) -> re.Pattern[str]:
    """One step, or the first and the last of several."""
    both = any_of((*language.words("pointing", "through"), *language.words("left_over", "both")))
    return re.compile(rf"\s?(\d{{1,3}})(?:\s?(?:{both})\s?(\d{{1,3}}))?")


def _serials(scan: Scan) -> list[Condition]:
    """ "from serial no. 40 211", "up to serial number 1500", "serial nos. 100 to 199 and 300"."""
    if not engine_words().may_begin_serials(token.low for token in scan.tokens):
        return []
    words = engine_words().words(scan.text)
    found: list[Condition] = []
    after = 0
    for at, word in enumerate(words):
        if "serial" not in word.sorts or at < after:
            continue
        first = at
        while first > after and words[first - 1].sorts & _LEADS:
            first -= 1
        engines = next((e for n in range(first, at + 1) if (e := _numbers_at(words, n, at))), None)
        if engines is not None:
            after = engines.after
            start = next(w.start for w in words[engines.first :] if not w.sorts <= _ADDS_NOTHING)
            said = scan.text[start : words[after - 1].end]
            found.append(Condition(said, start, words[after - 1].end, limited_to(engines.serials, said)))
        elif at + 1 < len(words) and words[at + 1].number is not None:
            end = _clause(scan, words[first].start, words[at + 1].end)
            said = scan.text[words[first].start : end].strip()
            found.append(Condition(said, words[first].start, end, EVERY))
    return found


def _numbers_at(words: Sequence[Word], first: int, at: int) -> Engines | None:
    """The condition from `first` on, if it is one of serial numbers and takes in the word `at`."""
    engines = engines_at(words, first)
    return engines if engines is not None and engines.serials and engines.after > at else None


def _step_scope(scan: Scan, language: Lexicon) -> tuple[str, str] | None:
    """ "for steps 6 to 9 only": a condition that covers other steps."""
    for hit in scan.of("conditions", "step_scope"):
        if hit.last - hit.first < 2:
            continue
        match = _steps(language).match(scan.text, hit.end)
        if match is not None:
            return match[1], match[2] or match[1]
    return None

"""Consumables and tools with their numbers, as a step, a set-up block or a table names them."""

import re
from collections.abc import Iterable
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.limit_words import LimitWords, limit_words
from lastbolt.reading.measured_values import values_in
from lastbolt.reading.phrases import Phrases
from lastbolt.words.citation import Citation
from lastbolt.words.measured import Span
from lastbolt.words.measured_units import converted
from lastbolt.words.supplies import CONSUMABLES, Consumable, ConsumableKind, Tool

_SENTENCE = re.compile(r"(?<=[.;!?])\s+")
_TOKEN = re.compile(r"[\s(,]{0,2}(?P<word>[^\W\d_][\w'’-]*)")
_GRADE_NUMBER = r"\s?[\w/.-]*\d[\w/-]*"
_NUMBER = (
    r"(?:[A-Z]{1,4}[-\s.]?\d[\w./-]*|\d{1,4}(?:[./-]\d{1,5}[A-Za-z]?){1,3}|\d{3,}[A-Za-z]?"
    r"|[A-Z0-9]{2,}-[A-Z0-9-]*\d[A-Z0-9-]*)"
)
_CODE = re.compile(r"(?<![\w-])[A-Z]{1,4}[-\s.]?\d[\w./-]*(?![\w-])")
_SIZED = re.compile(r"M\s?\d[\d.,x×]*|\d[\d.,]*\s?[x×].*")
_AMOUNT_KINDS = ("ml", "g", "kg", "lb", "pt", "qt", "gal")
_LEAST_NAME = 3
US_OR_UK = "the measure is of two countries: it is not said which"


class _Patterns(NamedTuple):
    names: Phrases
    kinds: dict[str, ConsumableKind]
    grade: re.Pattern[str]
    number_first: re.Pattern[str]
    number_last: re.Pattern[str]


@lru_cache(maxsize=4)
def _patterns(words: LimitWords) -> _Patterns:
    lists = {kind: words.words("consumables", kind) for kind in CONSUMABLES}
    kinds = {name.lower(): CONSUMABLES[kind] for kind, names in lists.items() for name in names}
    labels = words.any_of("tool", "labels")
    return _Patterns(
        Phrases(name for names in lists.values() for name in names),
        kinds,
        re.compile(
            rf"[\s,(]{{1,3}}(?:{words.any_of('consumable', 'grades')})(?!\w)(?:{_GRADE_NUMBER})?",
            re.IGNORECASE,
        ),
        re.compile(rf"(?:(?i:{labels})\s)?(?P<number>{_NUMBER})[\s:,–-]+(?P<name>[^\W\d_].*)"),
        re.compile(rf"(?P<name>.*?[^\W\d_].*?)[\s,:(]+(?:(?i:{labels})\s?)?(?P<number>{_NUMBER})\)?"),
    )


def consumables_in(
    text: str, base: str, cited: tuple[Citation, ...], language: Lexicon
) -> tuple[Consumable, ...]:
    """The consumables that the sentences of a step say to use; "drain the oil" is none."""
    words = limit_words()
    patterns = _patterns(words)
    if not patterns.names.search(text):
        return ()
    found: dict[str, Consumable] = {}
    for sentence in _SENTENCE.split(text):
        using = words.pattern("consumable", "using").search(sentence)
        against = words.pattern("consumable", "against")
        for match in patterns.names.finditer(sentence):
            if using is None or using.start() == match.start() or using.start() > match.end() + 40:
                continue
            if against.search(sentence[max(0, match.start() - 30) : match.start()]):
                continue
            if _is_part(sentence, match.end(), language, words):
                continue
            one = _consumable(f"{base}/c{len(found) + 1}", sentence, match, cited, words)
            known = found.get(one.name.lower())
            if known is None or (known.amount is None and one.amount is not None):
                found[one.name.lower()] = one
    return tuple(found.values())


def consumable_entry(
    entry: str, identity: str, cited: tuple[Citation, ...], used_for: str = ""
) -> Consumable | None:
    """An entry of a list of materials as a consumable; None for parts ("gasket, new")."""
    words = limit_words()
    match = _patterns(words).names.search(entry)
    if match is None:
        return None
    one = _consumable(identity, entry, match, cited, words)
    behind = _TOKEN.match(entry, match.end())
    if behind is not None and entry[match.end() : behind.start("word")] == " " and one.amount is None:
        graded = _patterns(words).grade.match(entry, match.end())
        if graded is None and not words.among(behind["word"], "measures", "of"):
            return None  # "oil pump"
    name = re.split(r"[,;(]", _without_amount(entry, words))[0].strip(" .:–-") or one.name
    return replace(one, name=name, used_for=used_for, words=entry)


def _without_amount(entry: str, words: LimitWords) -> str:
    """An entry without the amount at its head: "3 l of engine oil"."""
    first = next(iter(values_in(entry, "", words)), None)
    if first is None or entry[: first.start].strip() or not first.span.unit:
        return entry
    rest = entry[first.end :].strip()
    of = words.pattern("measures", "of").match(rest)
    return rest[of.end() :].strip() if of is not None else rest


def _is_part(sentence: str, end: int, language: Lexicon, words: LimitWords) -> bool:
    """Whether a further noun makes it the name of a part: "oil pump", "grease nipple"."""
    graded = _patterns(words).grade.match(sentence, end)
    behind = _TOKEN.match(sentence, graded.end() if graded is not None else end)
    if behind is None or sentence[end : end + 1] not in (" ", "-"):
        return False
    if graded is not None or "(" in sentence[end : behind.start("word")]:
        return False
    low = behind["word"].lower()
    return not (language.among(low, "stop") or low.endswith("ly"))


def _consumable(
    identity: str, text: str, match: "re.Match[str]", cited: tuple[Citation, ...], words: LimitWords
) -> Consumable:
    patterns = _patterns(words)
    graded = patterns.grade.match(text, match.end())
    name = text[match.start() : graded.end() if graded is not None else match.end()].strip(" ,(")
    amount, doubt = _amount(text, words)
    how = words.pattern("consumable", "how").search(text)
    kind = patterns.kinds[" ".join(match[0].lower().split())]
    said = how[0] if how is not None and amount is None else ""
    return Consumable(identity, name, kind, amount, said, "", text, cited, doubt)


def _amount(text: str, words: LimitWords) -> tuple[Span | None, str]:
    """The volume or mass that a text names, as printed, and what is doubtful of it."""
    if not any(c.isdigit() for c in text):
        return None, ""
    for value in values_in(text, "", words):
        into = converted(0.0, value.span.unit)[1]
        if into in _AMOUNT_KINDS and value.understood:
            return value.span, US_OR_UK if value.span.unit in words.unsure else ""
    return None, ""


def tool_of(said: str, identity: str, cited: tuple[Citation, ...], used_for: str = "") -> Tool | None:
    """A tool with the number that stands before or behind its name; None where it has none."""
    text = " ".join(said.split()).strip(" .;")
    patterns = _patterns(limit_words())
    match = patterns.number_last.fullmatch(text) or patterns.number_first.fullmatch(text)
    if match is None or _SIZED.fullmatch(match["number"]):
        return None
    name = match["name"].strip(" ,;:(–-")
    if sum(c.isalpha() for c in name) < _LEAST_NAME:
        return None
    return Tool(identity, name, match["number"], used_for, text, cited)


def tools_of(said: Iterable[str], base: str, cited: tuple[Citation, ...]) -> tuple[Tool, ...]:
    """Those of several tools that have a number; a list of numbers is so many tools without a name."""
    found: list[Tool] = []
    for one in said:
        for part in _each_tool(one):
            identity = f"{base}/t{len(found) + 1}"
            if _CODE.fullmatch(part):
                found.append(Tool(identity, "", part, "", one, cited))
            elif (tool := tool_of(part, identity, cited)) is not None:
                found.append(replace(tool, words=one))
    return tuple(found)


def _each_tool(said: str) -> list[str]:
    """The tools of one entry: "Q-04, Q-07" and "puller T-14 mandrel T-30" are two each."""
    parts = [part.strip(" .()") for part in said.split(",")]
    if all(_CODE.fullmatch(part) for part in parts):
        return parts
    codes = list(_CODE.finditer(said))
    if len(codes) < 2 or said[codes[-1].end() :].strip(" .)"):
        return [said]
    edges = [0, *(code.end() for code in codes)]
    return [said[a:b].strip(" ,;") for a, b in pairwise(edges)]

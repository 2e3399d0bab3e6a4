"""What a title says: the deed and the parts it is done to; and whether two titles mean the same."""

import re
from typing import NamedTuple

from lastbolt.reading.conditions import combined, conditions_in
from lastbolt.reading.lexicon import Hit, Lexicon
from lastbolt.words.machine import DEEDS, EVERY, Applies, Deed

_APART = re.compile(r"[,;:/&()–—]|\s-\s")
_COMPOUND = re.compile(r"[-‑][^\W\d_]")


class TitleFacts(NamedTuple):
    """The deed of a title and its parts."""

    deed: Deed
    parts: tuple[str, ...]
    applies: Applies = EVERY
    """The engines that the title singles out: "Starter motor (variant E)"."""


def read_title(title: str, language: Lexicon) -> TitleFacts:
    """The deed and the parts that a procedure's title names; deed "other" when it names none."""
    scan = language.scan(title)
    hits = [hit for hit in scan.of("deeds") if _is_deed(hit, title, language, len(scan.tokens))]
    named = next((hit.key for hit in hits if hit.key != "other"), hits[0].key if hits else "other")
    covered = {i for hit in hits for i in range(hit.first, hit.last)}
    bound = [c for c in conditions_in(scan, language) if c.applies != EVERY] if scan.has("conditions") else []
    parts: list[str] = []
    current: list[int] = []
    for index, token in enumerate(scan.tokens):
        gap = title[scan.tokens[index - 1].end : token.start] if index else ""
        joiner = language.among(token.low, "titles", "joiners") or language.among(
            token.low, "stop", "articles"
        )
        said = any(c.start <= token.start < c.end for c in bound)
        if current and (_APART.search(gap) or joiner or said or index in covered):
            parts.append(title[scan.tokens[current[0]].start : scan.tokens[current[-1]].end])
            current = []
        if index in covered or joiner or said:
            continue
        current.append(index)
    if current:
        parts.append(title[scan.tokens[current[0]].start : scan.tokens[current[-1]].end])
    lowered = tuple(part.lower() if part.isupper() else part for part in parts)
    return TitleFacts(DEEDS[named], lowered, combined(bound)[1] if bound else EVERY)


def _is_deed(hit: Hit, title: str, language: Lexicon, count: int) -> bool:
    word = title[hit.start : hit.end].lower()
    if _COMPOUND.match(title, hit.end):
        return False  # "Starting-handle bracket": one word with what follows
    before = title[: hit.start].strip().lower()
    if hit.form == "base" and count > 1 and language.among(before, "titles", "infinitive"):
        return True  # "To remove the lid"
    if hit.form in ("doing", "done"):
        return hit.form == "doing" and (
            hit.first == 0 or (hit.key != "other" and _after_joiner(hit, title, language))
        )
    if language.among(word, "deed_titles"):
        return _stands_alone(hit, title, language)
    edge = hit.first == 0 or title[: hit.start].rstrip()[-1:] in (":", "-", "–", "—", ",")
    if language.among(word, "deed_titles", "edge"):
        return edge and _stands_alone(hit, title, language)
    if edge and hit.first > 0 and hit.last == count:
        noun = language.among(word, "deed_nouns")
        return not noun or language.among(word, "deed_titles", "behind")  # "Cylinder head, install"
    return hit.first == 0 and count > 1


def _after_joiner(hit: Hit, title: str, language: Lexicon) -> bool:
    """Whether "and", a comma or a dash stands before the word."""
    before = title[: hit.start].rstrip()
    words = before.split()
    joined = bool(words) and language.among(words[-1].lower(), "titles", "joiners")
    return before[-1:] in ",:;–—-/&" or joined


def _stands_alone(hit: Hit, title: str, language: Lexicon) -> bool:
    """Whether a noun of a deed is not the first word of a part's name ("inspection cover")."""
    rest = title[hit.end :].lstrip()
    if not rest or not rest[0].isalpha():
        return True
    word = rest.split()[0].lower()
    return language.among(word, "titles", "joiners") or language.among(word, "stop")


def names_work(title: str, language: Lexicon) -> bool:
    """Whether words are the title of work on a part: "To remove the lid"; no order: "Remove the lid"."""
    facts = read_title(title, language)
    listed = language.among(title.strip(" .:").lower(), "titles", "torque_table")
    if facts.deed == "other" or not facts.parts or listed:
        return False
    scan = language.scan(title)
    ordered = any(hit.first == 0 and hit.form == "base" for hit in scan.of("deeds"))
    articles = any(language.among(token.low, "stop", "in_sentences") for token in scan.tokens)
    return title.isupper() or not (ordered and articles)


def only_a_deed(text: str, language: Lexicon) -> bool:
    """Whether words such as "Removal." or "Disassembly and cleaning" name a deed and nothing else."""
    trimmed = text.strip(" .:")
    if not trimmed or len(trimmed) > 40 or (" " in trimmed and len(trimmed.split()) > 4):
        return False
    facts = read_title(trimmed, language)
    return facts.deed != "other" and not facts.parts and trimmed[0].isupper()


def opening_deed(text: str, language: Lexicon) -> tuple[str, str] | None:
    """ "Removal. Remove the brake ...": the deed that stands alone at the head, and the rest."""
    head, stop, rest = text.partition(".")
    if not stop or not rest.strip():
        return None
    return (head.strip(), rest.strip()) if only_a_deed(head, language) else None


def title_key(title: str, language: Lexicon) -> tuple[str, ...]:
    """The words that matter in a title, deeds in one word each: to compare titles."""
    scan = language.scan(title)
    deeds = {
        hit.first: hit
        for hit in scan.of("deeds")
        if _is_deed(hit, title, language, len(scan.tokens)) and hit.key != "other"
    }
    words: list[str] = []
    index = 0
    while index < len(scan.tokens):
        hit = deeds.get(index)
        if hit is not None:
            words.append(f"={hit.key}")
            index = hit.last
            continue
        low = scan.tokens[index].low
        if not (language.among(low, "titles", "joiners") or language.among(low, "stop", "articles")):
            words.append(_singular(low))
        index += 1
    return tuple(words)


def _singular(word: str) -> str:
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word

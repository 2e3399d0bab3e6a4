"""The deeds of a sentence: verbs where a verb can stand, with their particles."""

import re
from typing import NamedTuple

from lastbolt.reading.fasteners import fastener_nouns
from lastbolt.reading.lexicon import Hit, Lexicon, Scan
from lastbolt.words.machine import DEEDS, Deed

_CLAUSE = re.compile(r"[.;:!?]\s|[.;:!?]$|\s[–—]\s|,\s(?:then|and then)\s")
_COMMA = re.compile(r"[,:]\s")
_MARK = re.compile(r"[.:;!?,)–—]")
_STOP = re.compile(r"[.:;!?]")
_PARTICLE_REACH = 12
"""Among so many words behind a verb its particle may stand."""
_JOINING = (("ordering",), ("pointing", "and"), ("ands",))
"""Lists of words that may stand between two verbs."""


class Verb(NamedTuple):
    """A deed in a sentence: where it stands, and whether it can govern parts behind it."""

    deed: Deed
    first: int
    last: int
    start: int
    end: int
    inner: int = -1
    """The word that carries the deed with the particle behind it: "fall" in "let the bearing fall out"."""


def verbs_in(scan: Scan, language: Lexicon) -> list[Verb]:
    """The deeds that stand where a verb stands: at the head of a clause, or behind "and", "then", a comma."""
    found: list[Verb] = []
    nouns = [(hit.first, hit.last) for hit in fastener_nouns(scan)]
    for hit in scan.of("deeds"):
        if (
            hit.form != "base"
            or language.among(scan.text[hit.start : hit.end].lower(), "deed_titles")
            or (found and hit.first < found[-1].last)
        ):
            continue
        if any(first <= hit.first < last for first, last in nouns) and hit.first > 0:
            continue
        if not _verb_place(scan, hit, language):
            continue
        deed = DEEDS[hit.key]
        deed, inner = _with_particle(scan, hit, deed, language)
        found.append(Verb(deed, hit.first, hit.last, hit.start, hit.end, inner))
    return found


def leads(scan: Scan, verb: Verb, language: Lexicon) -> bool:
    """Whether the first deed makes the sentence an instruction: it opens it, or a clause of it."""
    before = scan.text[: verb.start].rstrip()
    if not before or before[-1] in ",:;)":
        return True
    lead = scan.tokens[: verb.first]
    adverb = language.data["endings"]["adverb"]
    return len(lead) <= 2 and all(
        t.low.endswith(adverb) or language.among(t.low, "deeds", "other") or language.among(t.low, "ordering")
        for t in lead
    )


def orders(scan: Scan, language: Lexicon) -> bool:
    """Whether a sentence tells to do something by a verb that the language file lacks: "Scratch a line ...".

    Its first word, no preposition or the like, stands right before an article or a number, a particle between
    them or not ("Hook out the ring"); or the first word of a clause behind a comma does.
    """
    starts = [0] + [scan.token_at(match.end()) for match in _COMMA.finditer(scan.text)]
    return any(_opens_order(scan, index, language) for index in starts if index < len(scan.tokens) - 1)


def told_passively(scan: Scan, language: Lexicon) -> bool:
    """Whether a sentence tells what is done: "The nuts are removed", "the lid should then be fitted".

    What is put on or held ("is fitted with a seal") tells how a thing is, unless a word bids it.
    """
    if scan.has("demands", "words"):
        return False
    return any(_is_passive(scan, hit, language) for hit in scan.of("deeds") if hit.form == "done")


def _is_passive(scan: Scan, hit: Hit, language: Lexicon) -> bool:
    tokens = scan.tokens
    clause = max(scan.text.rfind(mark, 0, hit.start) for mark in ",;:") + 1
    lead = [token.low for token in tokens if clause <= token.start < hit.start]
    if not lead or language.among(lead[0], "passive", "subordinate"):
        return False
    near = lead[-4:]
    if not any(language.among(word, "passive", "be") for word in near):
        return False
    bidden = any(language.among(word, "passive", "bidding") for word in near)
    return bidden or language.among(hit.key, "passive", "undoing")


def _opens_order(scan: Scan, index: int, language: Lexicon) -> bool:
    """Whether the word at an index, ordering words aside, looks like a verb with its object behind it."""
    tokens = scan.tokens
    while index < len(tokens) and language.among(tokens[index].low, "ordering"):
        index += 1
    behind = index + 1
    if behind < len(tokens) and language.among(tokens[behind].low, "particles"):
        behind += 1
    if behind >= len(tokens):
        return False
    first, following = tokens[index].low, tokens[behind].low
    known = any(language.among(first, "stop", key) for key in ("words", "articles"))
    apart = any(mark in scan.text[tokens[index].end : tokens[behind].start] for mark in ".,;:")
    if known or apart or not first.isalpha() or first.endswith(language.data["endings"]["adverb"]):
        return False
    return (
        language.among(following, "stop", "articles")
        or language.among(following, "pronouns", "back")
        or following in language.numbers
    )


def _verb_place(scan: Scan, hit: Hit, language: Lexicon) -> bool:
    if hit.first == 0:
        numbered = len(scan.tokens) > hit.last and scan.tokens[hit.last].low.isdigit()
        return not (numbered and language.among(scan.tokens[0].low, "deed_nouns"))
    previous = scan.tokens[hit.first - 1]
    between = scan.text[previous.end : hit.start]
    parted = _MARK.search(between) if between != " " else None
    joined = any(previous.low in language.all_of(*one) for one in _JOINING)
    if parted is None and not joined:
        return previous.low.endswith("ly") and hit.first == 1
    if _STOP.search(between) or hit.last - hit.first > 1:
        return True
    word = scan.text[hit.start : hit.end].lower()
    return not language.among(word, "deed_nouns") or _is_handled(scan, hit, language)


def _is_handled(scan: Scan, hit: Hit, language: Lexicon) -> bool:
    """Whether an article, a number or "it" stands right behind a word, so that it is a verb."""
    if hit.last >= len(scan.tokens) or scan.text[hit.end : scan.tokens[hit.last].start].strip():
        return False
    low = scan.tokens[hit.last].low
    return (
        language.among(low, "stop", "articles")
        or low in language.numbers
        or low.isdigit()
        or language.among(low, "pronouns")
    )


def _with_particle(scan: Scan, hit: Hit, deed: Deed, language: Lexicon) -> tuple[Deed, int]:
    """ "take the guard off": the particle at the end of the clause makes the deed; in "let the bearing fall
    out" it belongs to the second verb, which then makes it (its place comes back too)."""
    if hit.last - hit.first > 1:
        return deed, -1
    particles = language.all_of("particles")
    if particles.isdisjoint([token.low for token in scan.tokens[hit.last : hit.last + _PARTICLE_REACH]]):
        return deed, -1
    verb = scan.tokens[hit.first].low
    end = _CLAUSE.search(scan.text, hit.end)
    limit = end.start() if end else len(scan.text)
    lets = language.among(verb, "letting")
    ands = language.all_of("ands")
    for index in range(hit.last, min(hit.last + _PARTICLE_REACH, len(scan.tokens))):
        token = scan.tokens[index]
        if token.start > limit or token.low in ands:
            break
        if token.low in particles:
            inner = language.deed_of(f"{scan.tokens[index - 1].low} {token.low}") if lets else None
            if inner is not None and index - 1 > hit.first:
                return DEEDS[inner], index - 1
            found = language.deed_of(f"{verb} {token.low}")
            if found is not None:
                return DEEDS[found], -1
    return deed, -1

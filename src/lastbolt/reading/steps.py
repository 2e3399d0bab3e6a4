"""The words of one step (or paragraph) into facts: deeds, parts, torques, locks, tools, raw references."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.conditions import Condition, combined, conditions_in
from lastbolt.reading.lexicon import Lexicon, Scan
from lastbolt.reading.mentions import Facts, facts_in
from lastbolt.reading.page_notes import marks_in
from lastbolt.reading.pointers import Pointer, pointers_in
from lastbolt.reading.sentences import sentences
from lastbolt.reading.torques import Torque, torques_in
from lastbolt.words.machine import EVERY, Applies, Deed, Mention

_TOOL_NUMBER = re.compile(r"\s?(?:no\.?\s)?([A-Z]{0,3}[-\s]?\d[\d.\-/]*\d)")
_LEFT = re.compile(r"M\d[\d.,x×X\s]*\s?[-–]?\s?LH\b")
_WORK: tuple[Deed, ...] = ("remove", "install", "separate", "join", "drain", "fill", "loosen")


class RawReference(NamedTuple):
    """A pointer with what its sentence says about it."""

    pointer: Pointer
    words: str
    deeds: tuple[Deed, ...]
    condition: str = ""
    applies: Applies = EVERY
    repeats: bool = False
    entry: bool = False
    """Whether it is an entry of a set-up block, where brackets hold nothing but references."""


class Scope(NamedTuple):
    """A condition laid on other steps: "for steps 5 to 7 only, when the seal is damaged:"."""

    first: str
    last: str
    condition: str
    applies: Applies


class StepFacts(NamedTuple):
    """All that the words of one step say."""

    deeds: tuple[Deed, ...]
    mentions: tuple[Mention, ...]
    references: tuple[RawReference, ...]
    torques: tuple[Torque, ...]
    locks: tuple[str, ...]
    left_hand: bool
    renew: tuple[str, ...]
    tools: tuple[str, ...]
    condition: str
    applies: Applies
    figures: tuple[str, ...]
    imperative: bool
    doubt: str
    scope: "Scope | None" = None


class SentenceFacts(NamedTuple):
    """What one sentence says for itself, whatever stands around it."""

    scan: Scan
    facts: Facts
    conditions: tuple[Condition, ...]
    references: tuple[RawReference, ...]
    locks: tuple[str, ...]
    tools: tuple[str, ...]
    left_hand: bool


def read_sentence(sentence: str, language: Lexicon, *, callouts_in_brackets: bool) -> SentenceFacts:
    """The facts of one sentence."""
    scan = language.scan(sentence)
    facts = facts_in(scan, language, callouts_in_brackets=callouts_in_brackets)
    found = conditions_in(scan, language) if scan.has("conditions") else []
    return SentenceFacts(
        scan,
        facts,
        tuple(found),
        tuple(_references(scan, language, facts.deeds, found)),
        tuple(_locks(scan)),
        tuple(_tools(scan, language)) if scan.has("tools") else (),
        scan.has("left_hand", "words") or _suffixed(sentence) or _turned(scan, facts.deeds),
    )


def read_step(
    text: str,
    language: Lexicon,
    *,
    callouts_in_brackets: bool,
    known: dict[str, SentenceFacts] | None = None,
) -> StepFacts:
    """The facts of a step's words, sentence by sentence; `known` keeps what was read for a longer step."""
    deeds: list[Deed] = []
    mentions: list[Mention] = []
    references: list[RawReference] = []
    conditions: list[Condition] = []
    locks: list[str] = []
    renew: list[str] = []
    tools: list[str] = []
    figures: list[str] = []
    doubts: list[str] = []
    scope: Scope | None = None
    left_hand = imperative = False
    before: tuple[str, tuple[Deed, ...]] = ("", ())
    read = {} if known is None else known
    for number, sentence in enumerate(sentences(text, language)):
        said = read.get(sentence)
        if said is None:
            said = read[sentence] = read_sentence(
                sentence, language, callouts_in_brackets=callouts_in_brackets
            )
        facts, found = said.facts, said.conditions
        pointing = said.references if _tells(facts.deeds) else _of_both(said.references, *before)
        before = (sentence, facts.deeds)
        deeds += [deed for deed in facts.deeds if deed not in deeds]
        mentions += facts.mentions
        references += [r for r in pointing if r.pointer.form != "figure"]
        figures += [n for r in said.references if r.pointer.form == "figure" for n in r.pointer.targets]
        covered = next((c.steps for c in found if c.steps), None)
        if covered is not None and not facts.deeds:
            scope = Scope(*covered, *combined(found))
        elif number == 0:
            conditions += found
        elif any(c.applies != EVERY and c.applies not in [e.applies for e in conditions] for c in found):
            conditions = []  # each sentence has its own engines: the step as a whole is for all
        locks += said.locks
        left_hand = left_hand or said.left_hand
        renew += _renewed(said.scan, language, facts.mentions or tuple(mentions))
        tools += said.tools
        imperative = imperative or (facts.imperative and number == 0)
        doubts += [facts.doubt] if facts.doubt else []
    if len(deeds) > 1:
        deeds = [deed for deed in deeds if deed != "other"]
    condition, applies = combined(conditions)
    return StepFacts(
        tuple(deeds), tuple(mentions), tuple(references), tuple(torques_in(text, language)),
        tuple(dict.fromkeys(locks)), left_hand, tuple(dict.fromkeys(renew)), tuple(dict.fromkeys(tools)),
        condition, applies, tuple(dict.fromkeys(figures)), imperative, _doubts(doubts, text), scope,
    )  # fmt: skip


def _doubts(doubts: list[str], text: str) -> str:
    """All doubts of a step; with marks in its words the note may change what it says."""
    marks = [f'the mark "{mark}" stands in it: read its note' for mark in marks_in(text)]
    return "; ".join(dict.fromkeys((*doubts, *marks)))


def _tells(deeds: tuple[Deed, ...]) -> bool:
    """Whether a sentence tells something to do."""
    return deeds not in ((), ("other",))


def _of_both(
    references: tuple[RawReference, ...], words: str, deeds: tuple[Deed, ...]
) -> tuple[RawReference, ...]:
    """References of a sentence that tells nothing to do ("See page 14."): of the work told before it."""
    if not _tells(deeds):
        return references
    both = (r._replace(words=f"{words} {r.words}", deeds=deeds) for r in references)
    return tuple(b if r.pointer.cue == "see" else r for r, b in zip(references, both, strict=True))


def _references(
    scan: Scan, language: Lexicon, deeds: tuple[Deed, ...], found: list[Condition]
) -> list[RawReference]:
    """The pointers of a sentence with the conditions that bind them."""
    pointers = pointers_in(scan, language)
    if not pointers:
        return []
    condition, applies = combined(found)
    if any(c.steps for c in found):
        condition = scoped(found, condition)
    made = []
    for pointer in pointers:
        repeats = pointer.form == "steps" and scan.has("repeats")
        if pointer.form == "steps" and not repeats and pointer.cue not in ("see", "perform"):
            continue
        made.append(RawReference(pointer, scan.text, deeds, condition, applies, repeats))
    return made


def scoped(found: Sequence[Condition], condition: str) -> str:
    """A condition with the steps that it covers."""
    scope = next(c.steps for c in found if c.steps)
    if scope is None:
        return condition
    steps = f"steps {scope[0]} to {scope[1]} only" if scope[0] != scope[1] else f"step {scope[0]} only"
    return f"for {steps}; {condition}" if condition and len(condition) < 80 else f"for {steps}"


def _locks(scan: Scan) -> list[str]:
    """The locks that are named; a tab or an ear is one where the sentence bends it and names no other."""
    bent = scan.has("locks", "bending") and not scan.has("locks", "words")
    return [
        scan.text[hit.start : hit.end]
        for hit in scan.of("locks")
        if hit.key == "words" or (bent and hit.key == "bent")
    ]


def _suffixed(text: str) -> bool:
    """Whether "LH" stands behind a thread: "M8 x 1 LH"."""
    return "LH" in text and _LEFT.search(text) is not None


def _turned(scan: Scan, deeds: tuple[Deed, ...]) -> bool:
    """Whether undoing turns clockwise, or doing up anticlockwise."""
    undoing = "loosen" in deeds or "remove" in deeds
    doing_up = "tighten" in deeds or "install" in deeds
    right, left = scan.has("turning", "right"), scan.has("turning", "left")
    return (right and not left and undoing and not doing_up) or (
        left and not right and doing_up and not undoing
    )


def _renewed(scan: Scan, language: Lexicon, mentions: tuple[Mention, ...]) -> list[str]:
    """The parts that the sentence says must be new."""
    names: list[str] = []
    if scan.has("renew", "it") and mentions:
        return [mentions[-1].name]
    names += _thrown_away(scan, language, mentions)
    for hit in scan.of("fresh"):
        name = _phrase_behind(scan, hit.last, language)
        if name:
            names.append(name)
    for hit in scan.of("renew"):
        if hit.key == "before":
            name = _phrase_behind(scan, hit.last, language)
        else:
            name = _phrase_before(scan, hit.first, language) or _phrase_behind(scan, hit.last, language)
        if name and name not in names:
            names.append(name)
    return names


def _thrown_away(scan: Scan, language: Lexicon, mentions: tuple[Mention, ...]) -> list[str]:
    """ "throw the gasket away": what stands between the verb and its particle."""
    names = []
    tokens = [token.low for token in scan.tokens]
    for verb, particle in _separable(language):
        if verb in tokens and particle in tokens[tokens.index(verb) :]:
            behind = tokens.index(verb) + 1
            name = _phrase_behind(scan, behind, language)
            if language.among(tokens[behind], "pronouns") and mentions:
                name = mentions[-1].name
            names += [name] if name else []
    return names


@lru_cache(maxsize=4)
def _separable(language: Lexicon) -> tuple[tuple[str, str], ...]:
    """Verbs of throwing away and their particles."""
    pairs = (phrase.split() for phrase in language.words("renew", "separable"))
    return tuple((verb, particle) for verb, particle in pairs)


def _phrase_behind(scan: Scan, index: int, language: Lexicon) -> str:
    """The noun phrase that begins at a token."""
    tokens = scan.tokens
    while index < len(tokens) and (
        language.among(tokens[index].low, "stop", "articles")
        or tokens[index].low in language.numbers
        or language.among(tokens[index].low, "fresh")
    ):
        index += 1
    first = index
    while index < len(tokens) and index - first < 5:
        low = tokens[index].low
        gap = scan.text[tokens[index - 1].end : tokens[index].start] if index > first else ""
        if gap.strip(" -") or language.among(low, "stop") or not low[0].isalpha():
            break
        index += 1
    return scan.text[tokens[first].start : tokens[index - 1].end] if index > first else ""


def _phrase_before(scan: Scan, index: int, language: Lexicon) -> str:
    """The noun phrase that ends before a token."""
    tokens = scan.tokens
    last = index
    while index > 0 and last - index < 4:
        low = tokens[index - 1].low
        gap = scan.text[tokens[index - 1].end : tokens[index].start] if index < last else ""
        if (
            gap.strip(" -")
            or language.among(low, "stop")
            or language.among(low, "stop", "articles")
            or not low[0].isalpha()
        ):
            break
        index -= 1
    return scan.text[tokens[index].start : tokens[last - 1].end] if index < last else ""


def _tools(scan: Scan, language: Lexicon) -> list[str]:
    """Tools that are named, with the number of a special one."""
    found: list[str] = []
    last = 0
    for hit in scan.of("tools"):
        if hit.start < last:
            continue
        number = _TOOL_NUMBER.match(scan.text, hit.end)
        if hit.key == "numbered" and number is None:
            continue
        if hit.last - hit.first == 1 and hit.first == 0:
            continue
        last = end = number.end() if number is not None else hit.end
        found.append(scan.text[hit.start : end])
    return found


def is_work(deeds: tuple[Deed, ...]) -> bool:
    """Whether any deed changes what is on or off."""
    return any(deed in _WORK for deed in deeds)

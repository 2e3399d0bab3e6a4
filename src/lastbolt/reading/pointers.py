"""Words that point elsewhere, as they stand in a sentence: not yet looked up."""

import re
from functools import lru_cache

from lastbolt.reading.lexicon import Hit, Lexicon, Scan
from lastbolt.reading.named_books import may_name, places_named
from lastbolt.reading.numbers import LETTERED, RUN, has_figure
from lastbolt.reading.order import comes_later, required_first
from lastbolt.reading.pointer import Pointer
from lastbolt.reading.pointer_patterns import MULTI, NUMBER, ROMAN, Patterns, patterns
from lastbolt.reading.step_pointers import marked_steps
from lastbolt.reading.title_pointers import CLAUSE_END, Cue, Form, books_in, says_where, titles_in
from lastbolt.reading.weak_pointers import weak_pointers

__all__ = ("Pointer", "lone_numbers", "pointers_in")

_LETTERED = re.compile(LETTERED)
_LONG = re.compile(r"\d{3}")
"""No procedure has so many steps."""
_STEP_OF = re.compile(rf"(?<![\w.])({MULTI})[,\s]{{1,3}}$")
_LONE = re.compile(r"\s(?P<first>\d{2,4})(?=[).,;]|$)")
_EACH = re.compile(rf"{NUMBER}|[A-Z]{{1,2}}\d{{1,3}}[a-z]?(?!\w)")
_SECTIONS = re.compile(MULTI)
_SHAPE = re.compile(r"\d|[\"“‘]|[A-Z][A-Z'/&-]")
"""A number, a quotation, or a word in capitals."""
_FORMS: dict[str, Form] = {
    "section": "section",
    "appendix": "section",
    "page": "page",
    "figure": "figure",
    "table": "table",
    "step": "steps",
}
"""The words before a number, and what it then is the number of."""
_MOST_KEPT = 32_768
"""Sentences of which it is kept what they point at: the nets under the rules ask for each once more."""


def pointers_in(scan: Scan, language: Lexicon) -> list[Pointer]:
    """Every pointing phrase of a sentence, in order."""
    return list(_pointers_of(scan.text, language))


@lru_cache(maxsize=_MOST_KEPT)
def _pointers_of(sentence: str, language: Lexicon) -> tuple[Pointer, ...]:
    """The pointing phrases of a sentence; its words alone decide what they are."""
    scan = language.scan(sentence)
    return tuple(_all_pointers(scan, language)) if _may_point(scan, language) else ()


def _all_pointers(scan: Scan, language: Lexicon) -> list[Pointer]:
    text, by = scan.text, patterns(language)
    named = (*titles_in(scan, language), *books_in(scan, language), *places_named(scan, language))
    found = (
        _reverse(scan)
        + _keyed(scan, language)
        + _bare(scan, by)
        + _bracketed(text, by)
        + [
            Pointer(start, end, "steps", (), _cue_before(scan, start), from_step=first, to_step=last)
            for start, end, first, last in marked_steps(scan, language)
        ]
        + [Pointer(*one[:5], weak=one.weak) for one in named]
    )
    found.sort(key=lambda p: (p.start, -p.end))
    merged = _with_steps(_without_overlap(found), text, by)
    if has_figure(text):
        for weak in weak_pointers(scan, language, [(p.start, p.end) for p in merged]):
            cue: Cue = "perform" if weak.order else "see"
            start, end, numbers, _, any_of, span = weak
            merged.append(Pointer(start, end, "section", numbers, cue, any_of, span=span, weak=True))
        merged.sort(key=lambda p: p.start)
    merged = [_ordered(pointer, scan, language) for pointer in merged]
    if not any(
        p.form in ("section", "page", "reverse") or (p.form == "title" and not p.weak) for p in merged
    ):
        merged += _demands(scan, language)
    return merged


def _may_point(scan: Scan, language: Lexicon) -> bool:
    """Whether a word or a sign stands there without which nothing points."""
    return (
        _SHAPE.search(scan.text) is not None
        or scan.has("pointing", "strong_cues", "perform", "marked", "sheet", "whither", "other_book", *_FORMS)
        or scan.has("reverse", "words")
        or (scan.has("demands", "done", "strict") and scan.has("demands", "words", "weak"))
        or says_where(scan.text, language)
        or may_name(scan)
    )


def _ordered(pointer: Pointer, scan: Scan, language: Lexicon) -> Pointer:
    """The pointer as one to work that must be done, or that follows, where the sentence says so."""
    if pointer.form not in ("section", "page", "title"):
        return pointer
    if comes_later(scan, pointer.start, pointer.end, language):
        return pointer._replace(cue="later")
    if pointer.cue == "perform":
        return pointer
    bidden = any(
        hit.start <= pointer.start <= hit.end + 20
        and not re.search(r"[.;:,]\s", scan.text[hit.end : pointer.start])
        for hit in scan.of("order", "bidding")
    )
    if bidden or required_first(scan, pointer.start, pointer.end, language):
        return pointer._replace(cue="perform")
    return pointer


def _cue_before(scan: Scan, start: int, reach: int = 26) -> Cue:
    """The cue that leads up to a position within a few words, no clause end between."""
    text = scan.text
    best: Cue = "none"
    for hit in scan.of("pointing", "strong_cues", "perform"):
        gap = text[hit.end : start]
        if hit.end <= start and len(gap) <= reach and not re.search(r"[.;:]\s", gap):
            best = "perform" if hit.key == "perform" else "see"
    if best == "none" and "(" in text[max(0, start - 12) : start]:
        return "bracket"
    return best


def _numbers(match: "re.Match[str]", by: Patterns) -> tuple[tuple[str, ...], bool, bool]:
    """The numbers of a list, whether they are alternatives, whether they are a span.

    In a longer list a run is one entry, "4.1..4.3".
    """
    whole = match.group()
    numbers: list[str] = []
    end, span = 0, False
    for found in _EACH.finditer(whole):
        run = RUN.fullmatch(found.group())
        joined = numbers and by.runs.fullmatch(whole, end, found.start()) is not None
        said = found.group().replace("‑", "-").replace("–", "-")
        span = span or joined or run is not None
        if run is not None:
            numbers.append(f"{run[1]}..{run[2]}")
        elif joined and ".." not in numbers[-1]:
            numbers[-1] = f"{numbers[-1]}..{said}"
        elif said not in numbers:
            numbers.append(said)
        end = found.end()
    alone = span and len(numbers) == 1
    said_all = numbers[0].split("..") if alone else numbers
    return tuple(said_all), by.either.search(whole) is not None, alone


def _keyed(scan: Scan, language: Lexicon) -> list[Pointer]:
    """ "section 4.2", "para 3-9 or 3-10", "pages 12 and 13", "Fig. 7", "table 8-1", "steps 3 to 7"."""
    text, by = scan.text, patterns(language)
    found: list[Pointer] = []
    stops = scan.of("pointing", "strong_cues", "perform", *_FORMS)
    for hit in scan.of("pointing", *_FORMS):
        dotted = text[hit.end : hit.end + 1] == "." and text[hit.end : hit.end + 2].strip() == "."
        behind = hit.end + dotted
        other = next((h.start for h in stops if h.start > behind and _unlike(hit, h, text)), len(text))
        lettered = by.figures.match(text, behind, other) if hit.key == "figure" else None
        match = lettered or by.listed.match(text, behind, other)
        match = match or (ROMAN.match(text, behind) if hit.key == "page" else None)
        if match is None:
            found += _spelled(scan, hit, language)
            continue
        if not _is_number(text, hit, match, language):
            continue
        numbers, any_of, span = _numbers(match, by)
        numbers = numbers or (match["first"],)
        cue = _cue_before(scan, hit.start)
        form = _FORMS[hit.key]
        if form == "steps" and (_LETTERED.fullmatch(match["first"]) or _LONG.match(match["first"])):
            form = "section"  # "operation 2A1" is called a step and numbered as a section
        if form != "section":
            numbers = tuple(dict.fromkeys(end for number in numbers for end in number.split("..")))
        if form == "steps":
            found += _steps(text, hit, match, cue, by)
        else:
            found.append(Pointer(hit.start, match.end(), form, numbers, cue, any_of, span=span))
    return found


def _spelled(scan: Scan, hit: Hit, language: Lexicon) -> list[Pointer]:
    """ "section four": a number in words."""
    word = scan.tokens[hit.last] if hit.last < len(scan.tokens) else None
    if word is None or hit.key != "section" or word.low not in language.numbers:
        return []
    number = (str(language.numbers[word.low]),)
    return [Pointer(hit.start, word.end, "section", number, _cue_before(scan, hit.start), weak=True)]


def _is_number(text: str, hit: Hit, match: "re.Match[str]", language: Lexicon) -> bool:
    """Whether what stands behind a word such as "section" is its number, and no word of its own."""
    first = match["first"]
    lettered = language.among(text[hit.start : hit.end].lower(), "left_over", "lettered")
    if hit.key == "step" and not (lettered or first[:1].isdigit()):
        return False
    if not first.isalpha():
        return True
    if hit.key == "page" and ROMAN.fullmatch(f" {first}"):
        return True
    return (hit.key == "appendix" or first.isupper()) and not text[match.end("first") :][:1].isalpha()


def _unlike(hit: Hit, other: Hit, text: str) -> bool:
    """Whether another kind of thing is named: a table, or a chapter and not one more section."""
    return other.key != hit.key or not _same_word(text, hit.start, other.start)


def _same_word(text: str, one: int, other: int) -> bool:
    return text[one : one + 4].lower() == text[other : other + 4].lower()


def _steps(text: str, hit: Hit, match: "re.Match[str]", cue: Cue, by: Patterns) -> list[Pointer]:
    """ "steps 3 to 7", with the section before them or behind; "operations 4.1 to 4.3" may be sections."""
    numbers, any_of, span = _numbers(match, by)
    if _SECTIONS.match(match["first"]) and "." in match["first"]:
        ends = [end for number in numbers for end in number.split("..")]
        whole = Pointer(hit.start, match.end(), "section", numbers, cue, any_of, ends[0], ends[-1])
        return [whole._replace(span=span, weak=True)]
    numbers = tuple(dict.fromkeys(end for number in numbers for end in number.split("..")))
    found: list[Pointer] = []
    section = _STEP_OF.search(text, 0, hit.start)
    if section is not None:
        found.append(Pointer(section.start(), hit.start - 1, "section", (section[1],), cue))
    end = match.end()
    further = by.further.search(text, match.end("first"), match.end())
    if further is not None:  # "steps 1 to 6, then 5.2": no step has such a number
        end = further.start()
        later, any_later, _ = _numbers(further, by)
        found.append(Pointer(further.start("first"), further.end(), "section", later, cue, any_later))
        numbers = numbers[: len(numbers) - len(later)] or numbers[:1]
    first, last = numbers[0], numbers[-1]
    dash = re.fullmatch(r"(\d{1,3})-(\d{1,3})", first)
    if dash is not None and len(numbers) == 1:
        first, last = dash[1], dash[2]
    return [*found, Pointer(hit.start, end, "steps", (), cue, from_step=first, to_step=last)]


def _bare(scan: Scan, by: Patterns) -> list[Pointer]:
    """A section number right behind a cue: "see 4.2", "following 4.2", "preliminary steps of 4.2"."""
    found: list[Pointer] = []
    for hit in scan.of("pointing", "strong_cues", "perform"):
        end = hit.end + (scan.text[hit.end : hit.end + 1] == ".")
        match = by.sections.match(scan.text, end) or _LONE.match(scan.text, end) or _later(scan, hit, by)
        if match is None:
            continue
        numbers, any_of, span = _numbers(match, by)
        cue: Cue = "perform" if hit.key == "perform" else "see"
        found.append(Pointer(hit.start, match.end(), "section", numbers, cue, any_of, span=span))
    return found


def _later(scan: Scan, hit: Hit, by: Patterns) -> "re.Match[str] | None":
    """The number a few words behind a cue: "see the values in 7.1"."""
    end = CLAUSE_END.search(scan.text, hit.end)
    limit = end.start() if end else len(scan.text)
    for place in scan.of("pointing", "where"):
        if hit.end <= place.start < min(limit, hit.end + 60):
            match = by.sections.match(scan.text, place.end)
            if match is not None:
                return match
    return None


def _bracketed(text: str, by: Patterns) -> list[Pointer]:
    """A section number alone in brackets: "(3-9)", "(3-3) or (3-4)"; it may also be a span of callouts."""
    found: list[Pointer] = []
    for match in by.bracket.finditer(text):
        numbers, any_of, span = _numbers(match, by)
        if (
            found
            and by.either_bracket.fullmatch(text[found[-1].end : match.start()])
            and not re.search(r"[.;]\s", text[found[-1].end : match.start()])
        ):
            last = found[-1]
            found[-1] = last._replace(end=match.end(), targets=(*last.targets, *numbers), any_of=True)
            continue
        found.append(Pointer(match.start(), match.end(), "section", numbers, "bracket", any_of, span=span))
    return found


def _reverse(scan: Scan) -> list[Pointer]:
    """ "Installation is the reverse of removal", with its exceptions."""
    hits = scan.of("reverse", "words")
    if not hits:
        return []
    hit = hits[0]
    after = [h for h in scan.of("reverse", "exceptions") if h.start >= hit.end]
    exceptions = scan.text[after[0].start :].strip(" .") if after else ""
    end = after[0].start if after else len(scan.text)
    numbers = tuple(m.group() for m in re.finditer(rf"(?<![\w.]){MULTI}(?![\w°%])", scan.text[hit.end : end]))
    return [Pointer(hit.start, len(scan.text), "reverse", numbers, "perform", exceptions=exceptions)]


def _demands(scan: Scan, language: Lexicon) -> list[Pointer]:
    """A demand for a state that points nowhere: "the actuators must already be fitted"."""
    done = scan.of("demands", "done", "strict")
    if not done:
        return []
    strict = [hit for hit in done if hit.key == "strict"]
    for hit in scan.of("demands", "words", "weak"):
        later = [d for d in (strict if hit.key == "weak" else done) if d.start >= hit.end]
        if not later:
            continue
        words = scan.text[hit.start : later[0].end]
        alone = language.among(" ".join(words.lower().split()[:2]), "left_over", "bare_demands")
        if hit.key == "weak" and (later[0].start - hit.end > 60 or re.search(r"[.;:]\s", words)):
            continue
        if alone and not scan.has("demands", "beforehand"):
            continue
        start = 0 if hit.key == "words" else hit.start
        return [Pointer(start, later[0].end, "demand", (scan.text[start : later[0].end],), "perform")]
    return []


_RANK: dict[Form, int] = {
    "reverse": 0,
    "section": 1,
    "page": 1,
    "figure": 1,
    "table": 1,
    "steps": 2,
    "book": 3,
    "own": 4,
    "elsewhere": 4,
    "title": 5,
    "demand": 6,
}


def _without_overlap(found: list[Pointer]) -> list[Pointer]:
    """Of overlapping phrases the more exact one; a title that names a numbered section goes into it."""
    kept: list[Pointer] = []
    for pointer in sorted(found, key=lambda p: (_RANK[p.form], p.weak, p.start, -(p.end - p.start))):
        clash = next((k for k in kept if pointer.start < k.end and k.start < pointer.end), None)
        if clash is None:
            kept.append(pointer)
    kept.sort(key=lambda p: p.start)
    return kept


def _with_steps(found: list[Pointer], text: str, by: Patterns) -> list[Pointer]:
    """ "4.2 steps 3 to 7", "steps 3 to 7 of section 4.2": the steps narrow the section beside them."""
    merged: list[Pointer] = []
    for pointer in found:
        last = merged[-1] if merged else None
        gap = text[last.end : pointer.start] if last is not None else ""
        beside = last is not None and by.narrows.fullmatch(gap) is not None
        within = _within(last, pointer, text, by) if last is not None else None
        if within is not None:
            merged[-1] = within
        elif last is not None and beside and last.form in ("section", "title") and pointer.form == "steps":
            merged[-1] = last._replace(end=pointer.end, from_step=pointer.from_step, to_step=pointer.to_step)
        elif last is not None and beside and last.form == "steps" and pointer.form == "section":
            merged[-1] = pointer._replace(start=last.start, from_step=last.from_step, to_step=last.to_step)
        else:
            merged.append(pointer)
    return merged


def _within(chapter: Pointer, section: Pointer, text: str, by: Patterns) -> Pointer | None:
    """ "Chapter 4, section 3", "section 3 of chapter 4": one place."""
    both, gap = (chapter, section), text[chapter.end : section.start]
    if any(p.form != "section" for p in both) or not by.beside.fullmatch(gap):
        return None
    if _same_word(text, chapter.start, section.start):
        return None
    if by.within.search(gap):
        chapter, section = section, chapter
    above = chapter.targets[0]
    if len(chapter.targets) != 1 or not above.isalnum():
        return None
    inside = (end for number in section.targets for end in number.split(".."))
    if len(section.targets) > 1 and any(re.match(rf"{above}[.\-]", end) for end in inside):
        return None  # "chapter 4, sections 4.2 and 4.3" need no chapter
    numbers = tuple(
        "..".join(end if re.match(rf"{above}[.\-]", end) else f"{above}.{end}" for end in number.split(".."))
        for number in section.targets
    )
    one = both[0]._replace(end=both[1].end, targets=numbers, weak=False)
    return one._replace(any_of=section.any_of, span=section.span)


def lone_numbers(scan: Scan, language: Lexicon) -> list[Pointer]:
    """Section numbers that stand for themselves in an entry of a list: "install 3.3 or 3.4"."""
    deeds = {hit.last for hit in scan.of("deeds")}
    found: list[Pointer] = []
    by = patterns(language)
    for match in by.sections.finditer(scan.text):
        index = scan.token_at(match.start("first"))
        if scan.text[match.start("first") - 1 : match.start("first")].strip():
            continue
        if index == 0 or index in deeds or language.among(scan.tokens[index - 1].low, "ands"):
            numbers, any_of, span = _numbers(match, by)
            start = match.start("first")
            found.append(Pointer(start, match.end(), "section", numbers, "see", any_of, span=span))
    return found

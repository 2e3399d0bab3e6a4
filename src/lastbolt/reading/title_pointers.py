"""Titles and books that a sentence points at by name, and pointing words that name nothing."""

import re
from functools import lru_cache
from typing import Literal, NamedTuple

from lastbolt.reading.lexicon import Hit, Lexicon, Scan
from lastbolt.reading.numbers import any_of, has_figure, may_point
from lastbolt.reading.phrases import Phrases

Form = Literal[
    "section", "page", "figure", "table", "title", "steps", "book", "own", "elsewhere", "reverse", "demand"
]
Cue = Literal["perform", "later", "see", "bracket", "none"]
CLAUSE_END = re.compile(r"[.](?!\d)|[;:)\]]|\s[–—]\s|$")
_CAPITALS = re.compile(
    r"[\"“'‘]?(?P<title>[A-Z][A-Z0-9'/&-]+(?:[\s,:–-]+(?:[A-Z0-9][A-Z0-9'/&-]*))*)[\"”'’]?"
)
_LOUD = re.compile(r"(?<!\w)[A-Z][A-Z'/-]+(?:\s[A-Z][A-Z'/-]+)+(?!\w)")
_SHEET = re.compile(r"\.?\s(\d{1,3}[A-Za-z]?)(?![\w.,]\d|\s?/\s?\d|\w)")
_LONGEST_TITLE = 8
_QUOTED = re.compile(r"[\"“‘](?P<title>[^\"”’]{4,80})[\"”’]")


class Named(NamedTuple):
    """A title, a book or a place without a name, as printed."""

    start: int
    end: int
    form: Form
    targets: tuple[str, ...]
    cue: Cue
    weak: bool = False
    """It points only if the book has such a title."""


def titles_in(scan: Scan, language: Lexicon) -> list[Named]:
    """A title behind "see": in capitals, in quotes, or plain words up to the end of the clause."""
    text = scan.text
    found: list[Named] = []
    for hit in scan.of("pointing", "strong_cues"):
        if hit.first > 0 and language.among(scan.tokens[hit.first - 1].low, "pointing", "seeing"):
            continue
        rest = text[hit.end :]
        lead = _lead(language).match(rest)
        start = hit.end + (lead.end() if lead else 0)
        if text[start : start + 5].lower() == "that " or not text[start : start + 1].strip():
            continue
        if not text[hit.end : hit.end + 1].isspace():
            continue
        quoted = _QUOTED.match(text, start)
        capitals = _CAPITALS.match(text, start)
        own = next(
            (
                h
                for h in scan.of("pointing", "own", "figure", "elsewhere")
                if 0 <= h.first - hit.last <= 1 and not _in_a_name(scan, hit, h, language)
            ),
            None,
        )
        loud = quoted or (capitals if capitals is not None and " " in capitals["title"] else None)
        if own is not None and not (loud is not None and loud.start() <= own.start < own.end < loud.end()):
            here = own.key != "elsewhere" or _for_information(scan, own, language)
            found.append(Named(hit.start, own.end, "own" if here else "elsewhere", (), "see"))
        elif quoted is not None:
            found.append(Named(hit.start, quoted.end(), "title", (quoted["title"],), "see"))
        elif capitals is not None and len(capitals["title"]) > 3:
            found.append(Named(hit.start, capitals.end(), "title", (capitals["title"].strip(" ,:"),), "see"))
        else:
            end = CLAUSE_END.search(text, start)
            words = text[start : end.start() if end else len(text)].strip(" ,")
            if words and words[0].isalpha():
                found.append(Named(hit.start, start + len(words), "title", (words,), "see"))
    found += [Named(h.start, h.end, "elsewhere", (), "see") for h in scan.of("pointing", "whither")]
    found += [
        Named(match.start(), match.end(), "title", (match["title"].strip(" ,."),), "see", True)
        for match in _QUOTED.finditer(text)
    ]
    for match in _headed(language).finditer(text):
        found.append(Named(match.start(), match.end(), "title", (match["title"],), "see", True))
    found += _sheets(scan, language)
    found += _ordered(scan, language)
    found += _plain(scan, language)
    if _LOUD.search(text):
        found += _loud(text, language)
    for match in re.finditer(r"\((?P<title>[A-Z][A-Z'/-]+(?:\s[A-Z][A-Z'/-]+)+)\)", text):
        found.append(Named(match.start(), match.end(), "title", (match["title"],), "bracket"))
    return found


def _in_a_name(scan: Scan, cue: Hit, hit: Hit, language: Lexicon) -> bool:
    """Whether a word such as "plate" is the end of a part's name: "see foot plate - removal"."""
    if hit.key != "figure" or hit.first == cue.last:
        return False
    return not language.among(scan.tokens[cue.last].low, "stop", "articles")


def _ordered(scan: Scan, language: Lexicon) -> list[Named]:
    """Words behind "perform" that are a title of the book, if they are: "perform flywheel removal"."""
    found: list[Named] = []
    steps = [hit.start for hit in scan.of("pointing", "step", "marked")]
    for hit in scan.of("pointing", "perform"):
        behind = CLAUSE_END.search(scan.text, hit.end)
        end = min([behind.start() if behind else len(scan.text), *(s for s in steps if s > hit.end)])
        words = scan.text[hit.end : end].strip(" ,")
        first, *rest = words.lower().split() or [""]
        if _nameless_work(words, language):
            found.append(Named(hit.start, hit.end + len(words) + 1, "elsewhere", (), "perform"))
            continue
        if has_figure(words):
            continue
        if rest and len(rest) < _LONGEST_TITLE and not language.among(first, "order", "never"):
            found.append(Named(hit.start, hit.end + len(words) + 1, "title", (words,), "perform", True))
    return found


def _nameless_work(words: str, language: Lexicon) -> bool:
    """Whether words are work that stands somewhere unnamed: "the work described above"."""
    scan = language.scan(words)
    tokens = [token.low for token in scan.tokens]
    if not any(language.among(low, "order", "work") or low in ("steps", "operations") for low in tokens[:3]):
        return False
    own = scan.of("pointing", "elsewhere")
    return bool(own) and own[-1].last == len(tokens) and any(h.key == "told" for h in scan.of("nameless"))


def _sheets(scan: Scan, language: Lexicon) -> list[Named]:
    """ "sheet 4": a place that no number of the book tells; "sheet 1 of 2" is a part of a drawing."""
    found: list[Named] = []
    for hit in scan.of("pointing", "sheet"):
        number = _SHEET.match(scan.text, hit.end)
        drawn = any(h.first < hit.first for h in scan.of("pointing", "figure"))
        behind = scan.tokens[hit.last + 1].low if hit.last + 1 < len(scan.tokens) else ""
        drawn = drawn or language.among(behind, "pointing", "where")
        if number is not None and not drawn and may_point(scan.text, number.start(1), number.end(), language):
            found.append(Named(hit.start, number.end(), "elsewhere", (), "see"))
    return found


def _plain(scan: Scan, language: Lexicon) -> list[Named]:
    """Words behind "as told in" that are a title of the book, if they are: "... in chain guard, removal"."""
    found: list[Named] = []
    for cue in _spoken(language).finditer(scan.text):
        steps = (h.start for h in scan.of("pointing", "step", "marked") if h.start > cue.end())
        behind = CLAUSE_END.search(scan.text, cue.end())
        end = min([behind.start() if behind else len(scan.text), *steps])
        words = scan.text[cue.end() : end].strip(" ,")
        if 1 < len(words.split()) < _LONGEST_TITLE and not has_figure(words):
            weak = not language.among(cue.group().strip().lower(), "left_over", "sure_title_cues")
            found.append(Named(cue.start(), cue.end() + len(words), "title", (words,), "see", weak))
    return found


def says_where(text: str, language: Lexicon) -> bool:
    """Whether a text has words such as "told in"."""
    return _spoken(language).search(text) is not None


@lru_cache(maxsize=4)
def _spoken(language: Lexicon) -> Phrases:
    """Words that say where something is told, before a title in small letters."""
    keys = ("title_cues", "weak_cues", "sure_title_cues")
    cues = [cue for key in keys for cue in language.words("left_over", key)]
    return Phrases(cues, r"\.?\s(?=[a-z]{3})")


@lru_cache(maxsize=4)
def _lead(language: Lexicon) -> re.Pattern[str]:
    """What stands between "see" and a title: "also", "the", and "chapter" before a title in capitals."""
    also, the = (any_of(language.words("left_over", key)) for key in ("also", "the"))
    section = any_of((*language.words("pointing", "section"), *language.words("left_over", "section")))
    return re.compile(rf"\s*(?:(?:{also})\s)?(?:(?:{the})\s)?(?:(?:{section})\s(?=[\"“‘]|[A-Z]{{2}}))?")


@lru_cache(maxsize=4)
def _headed(language: Lexicon) -> re.Pattern[str]:
    """A title in capitals before the word for a section: "the FRONT SYSTEM section"."""
    section = any_of(language.words("titles", "chapter"))
    return re.compile(rf"(?<!\w)(?P<title>[A-Z][A-Z'/&-]+(?:\s[A-Z][A-Z'/&-]+){{0,5}})\s(?:{section})(?!\w)")


@lru_cache(maxsize=4)
def _told(language: Lexicon) -> tuple[re.Pattern[str], re.Pattern[str]]:
    """Words that say where something is told; and others that may."""
    return _before_end(language, "title_cues"), _before_end(language, "weak_cues")


def _before_end(language: Lexicon, key: str) -> re.Pattern[str]:
    """One list of these words, at the end of a text."""
    return re.compile(rf"(?<!\w)(?:{any_of(language.words('left_over', key))})\.?\s$", re.IGNORECASE)


def _loud(text: str, language: Lexicon) -> list[Named]:
    """Titles in capitals behind "told under", "compare" ..."""
    told, weak = _told(language)
    found: list[Named] = []
    for match in _LOUD.finditer(text):
        lead = text[max(0, match.start() - 32) : match.start()]
        sure = told.search(lead)
        cue = sure or weak.search(lead)
        if cue is not None:
            start = match.start() - len(cue.group())
            found.append(Named(start, match.end(), "title", (match.group(),), "see", sure is None))
    return found


def _for_information(scan: Scan, hit: Hit, language: Lexicon) -> bool:
    """Whether the clause around "above", "overleaf" ... speaks of a figure, a table or values to look up."""
    start = max(scan.text.rfind(mark, 0, hit.start) for mark in ".;:(")
    end = CLAUSE_END.search(scan.text, hit.end)
    limit = end.start() if end else len(scan.text)
    near = [token.low for token in scan.tokens if start < token.start < limit]
    return any(
        language.among(low, "pointing", key) for low in near for key in ("figure", "table", "for_information")
    )


@lru_cache(maxsize=4)
def _near(language: Lexicon) -> re.Pattern[str]:
    """Words that say where something is told, a few words before the end: "as in the maker's"."""
    cues = any_of((*language.words("left_over", "title_cues"), *language.words("left_over", "weak_cues")))
    return re.compile(rf"(?<!\w)(?:{cues})\.?\s(?P<gap>[^.;:\d]{{0,60}})$", re.IGNORECASE)


def _in_title(text: str, start: int, hit: Hit) -> bool:
    """Whether a word stands inside a title in capitals or quotes: "see ROPE GUIDE REMOVAL"."""
    if start > hit.start or not text[start : start + 1].isspace():
        return False
    title = _QUOTED.match(text, start + 1) or _CAPITALS.match(text, start + 1)
    return title is not None and title.start() <= hit.start and hit.end < title.end("title")


def books_in(scan: Scan, language: Lexicon) -> list[Named]:
    """ "see the operator's manual", "as in the maker's manual": another book, named behind a cue."""
    found: list[Named] = []
    here = [(h.first, h.last) for h in scan.of("pointing", "this_book", "parts_book")]
    for hit in scan.of("pointing", "other_book"):
        if any(first <= hit.first < last for first, last in here):
            continue
        for cue in scan.of("pointing", "strong_cues", "perform"):
            gap = scan.text[cue.end : hit.start]
            if _in_title(scan.text, cue.end, hit):
                break
            if cue.end <= hit.start and len(gap) < 60 and not re.search(r"[.;:]\s", gap):
                words = scan.text[cue.end : hit.end].strip()
                if not any(number.isdigit() for number in gap):
                    found.append(Named(cue.start, hit.end, "book", (words,), "see"))
                break
        else:
            told = _near(language).search(scan.text, 0, hit.start)
            book = scan.text[hit.start : hit.end].lower()
            if told is not None and not language.among(book, "left_over", "unclear_books"):
                words = scan.text[told.start("gap") : hit.end]
                found.append(Named(told.start(), hit.end, "book", (words,), "see"))
    return found

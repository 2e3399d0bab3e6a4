"""Words that point elsewhere, as they stand in a sentence: not yet looked up."""

import re
from typing import Literal, NamedTuple

from lastbolt.reading.lexicon import Hit, Lexicon, Scan
from lastbolt.reading.order import comes_later, required_first
from lastbolt.reading.weak_pointers import weak_pointers

Form = Literal[
    "section", "page", "figure", "table", "title", "steps", "book", "own", "elsewhere", "reverse", "demand"
]
Cue = Literal["perform", "later", "see", "bracket", "none"]

NUMBER = (
    r"(?:\d{1,3}(?:[.\-‑–]\d{1,3}){1,4}[A-Za-z]?|\d{1,4}[A-Za-z]?"
    r"|[A-Z]{1,2}\d?(?:[.\-–]\d{1,3}){1,3}|[IVX]{1,5}\b|[A-Z]\b)"
)
MULTI = r"(?:\d{1,3}(?:[.\-‑–]\d{1,3}){1,4}[A-Za-z]?|[A-Z](?:[.\-–]\d{1,3}){1,3})"
_LIST = re.compile(
    rf"\s?(?P<first>{NUMBER})(?P<rest>(?:\s?(?:,|;|and|or|&|to|thru|through|–|-|/|\)\s?(?:or|and)\s?\()\s?(?:[A-Za-z§¶]{{1,10}}\.?\s)?{NUMBER})*)(?![\w°%])"
)
_MULTI_LIST = re.compile(
    rf"\s?\(?\s?(?P<first>{MULTI})(?P<rest>(?:\s?(?:\)\s)?(?:,\sthen|then|,|;|and|or|&)\s?\(?\s?{MULTI})*)(?![\w°%×]|\s?(?:mm|N|lb|kg|l\b|x\s|°|bar|in\b))"
)
_STEP_OF = re.compile(rf"(?<![\w.])({MULTI})[,\s]{{1,3}}$")
_FURTHER = re.compile(
    rf"\s?(?:,|;|and|or|&)?\s?(?:(?:then|and|or)\s)?(?P<first>(?<=then\s){MULTI}|\d{{1,3}}(?:\.\d{{1,3}}){{1,4}}[A-Za-z]?)(?:\s?(?:,|;|and|or|&)\s?{MULTI})*"
)
_LONE = re.compile(r"\s(?P<first>\d{2,4})(?=[).,;]|$)")
_BRACKET = re.compile(rf"\(\s?(?P<list>{MULTI}(?:(?:\s?(?:,\sthen|then|,|;|and|or|&)\s?){MULTI})*)\s?\)")
_EACH = re.compile(NUMBER)
_CAPITALS = re.compile(
    r"[\"“'‘]?(?P<title>[A-Z][A-Z0-9'/&-]+(?:[\s,:–-]+(?:[A-Z0-9][A-Z0-9'/&-]*))*)[\"”'’]?"
)
_QUOTED = re.compile(r"[\"“‘](?P<title>[^\"”’]{4,80})[\"”’]")
_CLAUSE_END = re.compile(r"[.](?!\d)|[;:)\]]|\s[–—]\s|$")
_QUICK = re.compile(
    r"\d|[A-Z]{3}|see|refer|describ|reverse|order|must|with|manual|handbook|bulletin|before|follow|perform|require",
    re.IGNORECASE,
)


class Pointer(NamedTuple):
    """One pointing phrase. `targets` are numbers, pages or a title as printed."""

    start: int
    end: int
    form: Form
    targets: tuple[str, ...]
    cue: Cue
    any_of: bool = False
    from_step: str | None = None
    to_step: str | None = None
    exceptions: str = ""
    span: bool = False
    """The targets are the first and last of a run ("pages 4-6 to 4-8")."""
    weak: bool = False
    """Nothing but the number itself says that it points: it does if the book has such a section."""


def pointers_in(scan: Scan, language: Lexicon) -> list[Pointer]:
    """Every pointing phrase of a sentence, in order."""
    text = scan.text
    if not _QUICK.search(text):
        return []
    found = (
        _reverse(scan)
        + _keyed(scan)
        + _bare(scan)
        + _bracketed(text)
        + _titles(scan, language)
        + _books(scan)
    )
    found.sort(key=lambda p: (p.start, -p.end))
    merged = _with_steps(_without_overlap(found), text)
    if any(c.isdigit() for c in text):
        for weak in weak_pointers(scan, language, [(p.start, p.end) for p in merged]):
            cue: Cue = "perform" if weak.order else "see"
            start, end, numbers, _, any_of, span = weak
            merged.append(Pointer(start, end, "section", numbers, cue, any_of, span=span, weak=True))
        merged.sort(key=lambda p: p.start)
    merged = [_ordered(pointer, scan, language) for pointer in merged]
    if not any(pointer.form in ("section", "page", "title", "reverse") for pointer in merged):
        merged += _demands(scan)
    return merged


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


def _numbers(match: "re.Match[str]") -> tuple[tuple[str, ...], bool, bool]:
    """The numbers of a list, whether they are alternatives, whether they are a span."""
    whole = match.group()
    numbers = tuple(m.group().replace("‑", "-").replace("–", "-") for m in _EACH.finditer(whole) if m.group())
    joints = re.findall(r"\b(or|to|thru|through)\b", whole)
    return tuple(dict.fromkeys(numbers)), "or" in joints, bool({"to", "thru", "through"} & set(joints))


def _keyed(scan: Scan) -> list[Pointer]:
    """ "section 4.2", "para 3-9 or 3-10", "pages 12 and 13", "Fig. 7", "table 8-1", "steps 3 to 7"."""
    text = scan.text
    found: list[Pointer] = []
    forms: dict[str, Form] = {
        "section": "section",
        "appendix": "section",
        "page": "page",
        "figure": "figure",
        "table": "table",
        "step": "steps",
    }
    keyed = scan.of("pointing", *forms)
    stops = scan.of("pointing", "strong_cues", "perform", *forms)
    for hit in keyed:
        if text[hit.end : hit.end + 1] == "." and text[hit.end : hit.end + 2].strip() == ".":
            behind = hit.end + 1
        else:
            behind = hit.end
        other = next((h.start for h in stops if h.start > behind and h.key != hit.key), len(text))
        match = _LIST.match(text, behind, other)
        if match is None or (hit.key == "step" and not match["first"][:1].isdigit()):
            continue
        if match["first"].isalpha() and not (hit.key == "appendix" or match["first"].isupper()):
            continue
        if match["first"].isalpha() and text[match.end("first") : match.end("first") + 1].isalpha():
            continue
        numbers, any_of, span = _numbers(match)
        cue = _cue_before(scan, hit.start)
        form = forms[hit.key]
        if form == "steps":
            section = _STEP_OF.search(text, 0, hit.start)
            if section is not None:
                found.append(Pointer(section.start(), hit.start - 1, "section", (section[1],), cue))
            end = match.end()
            further = _FURTHER.search(text, match.end("first"), match.end())
            if further is not None:  # "steps 1 to 6, then 5.2": no step has such a number
                end = further.start()
                later, any_later, _ = _numbers(further)
                found.append(Pointer(further.start("first"), further.end(), "section", later, cue, any_later))
                numbers = numbers[: len(numbers) - len(later)] or numbers[:1]
            first, last = numbers[0], numbers[-1]
            dash = re.fullmatch(r"(\d{1,3})-(\d{1,3})", first)
            if dash is not None and len(numbers) == 1:
                first, last = dash[1], dash[2]
            found.append(Pointer(hit.start, end, "steps", (), cue, from_step=first, to_step=last))
        else:
            found.append(Pointer(hit.start, match.end(), form, numbers, cue, any_of, span=span))
    return found


def _bare(scan: Scan) -> list[Pointer]:
    """A section number right behind a cue: "see 4.2", "following 4.2", "preliminary steps of 4.2"."""
    found: list[Pointer] = []
    for hit in scan.of("pointing", "strong_cues", "perform"):
        match = _MULTI_LIST.match(scan.text, hit.end) or _LONE.match(scan.text, hit.end) or _later(scan, hit)
        if match is None:
            continue
        numbers, any_of, _ = _numbers(match)
        cue: Cue = "perform" if hit.key == "perform" else "see"
        found.append(Pointer(hit.start, match.end(), "section", numbers, cue, any_of))
    return found


def _later(scan: Scan, hit: Hit) -> "re.Match[str] | None":
    """The number a few words behind a cue: "see the values in 7.1"."""
    end = _CLAUSE_END.search(scan.text, hit.end)
    limit = end.start() if end else len(scan.text)
    for place in scan.of("pointing", "where"):
        if hit.end <= place.start < min(limit, hit.end + 60):
            match = _MULTI_LIST.match(scan.text, place.end)
            if match is not None:
                return match
    return None


def _bracketed(text: str) -> list[Pointer]:
    """A section number alone in brackets: "(3-9)", "(3-3) or (3-4)"; it may also be a span of callouts."""
    found: list[Pointer] = []
    for match in _BRACKET.finditer(text):
        numbers = tuple(m.group().replace("–", "-") for m in re.finditer(MULTI, match["list"]))
        any_of = " or " in match["list"]
        if (
            found
            and re.fullmatch(r"\s(?:or)\s.{0,40}?", text[found[-1].end : match.start()])
            and not re.search(r"[.;]\s", text[found[-1].end : match.start()])
        ):
            last = found[-1]
            found[-1] = last._replace(end=match.end(), targets=(*last.targets, *numbers), any_of=True)
            continue
        found.append(Pointer(match.start(), match.end(), "section", numbers, "bracket", any_of))
    return found


def _titles(scan: Scan, language: Lexicon) -> list[Pointer]:
    """A title behind "see": in capitals, in quotes, or plain words up to the end of the clause."""
    text = scan.text
    found: list[Pointer] = []
    for hit in scan.of("pointing", "strong_cues"):
        if hit.first > 0 and language.among(scan.tokens[hit.first - 1].low, "pointing", "seeing"):
            continue
        rest = text[hit.end :]
        lead = re.match(r"\s*(?:also\s|the\s)?", rest)
        start = hit.end + (lead.end() if lead else 0)
        if text[start : start + 5].lower() == "that " or not text[start : start + 1].strip():
            continue
        if not text[hit.end : hit.end + 1].isspace():
            continue
        quoted = _QUOTED.match(text, start)
        capitals = _CAPITALS.match(text, start)
        own = next(
            (h for h in scan.of("pointing", "own", "figure", "elsewhere") if 0 <= h.first - hit.last <= 1),
            None,
        )
        if own is not None:
            here = own.key != "elsewhere" or _for_information(scan, own, language)
            found.append(Pointer(hit.start, own.end, "own" if here else "elsewhere", (), "see"))
        elif quoted is not None:
            found.append(Pointer(hit.start, quoted.end(), "title", (quoted["title"],), "see"))
        elif capitals is not None and len(capitals["title"]) > 3:
            found.append(
                Pointer(hit.start, capitals.end(), "title", (capitals["title"].strip(" ,:"),), "see")
            )
        else:
            end = _CLAUSE_END.search(text, start)
            words = text[start : end.start() if end else len(text)].strip(" ,")
            if words and words[0].isalpha():
                found.append(Pointer(hit.start, start + len(words), "title", (words,), "see"))
    found += [Pointer(h.start, h.end, "elsewhere", (), "see") for h in scan.of("pointing", "whither")]
    for match in re.finditer(r"\((?P<title>[A-Z][A-Z'/-]+(?:\s[A-Z][A-Z'/-]+)+)\)", text):
        found.append(Pointer(match.start(), match.end(), "title", (match["title"],), "bracket"))
    return found


def _for_information(scan: Scan, hit: Hit, language: Lexicon) -> bool:
    """Whether the clause around "above", "overleaf" ... speaks of a figure, a table or values to look up."""
    start = max(scan.text.rfind(mark, 0, hit.start) for mark in ".;:(")
    end = _CLAUSE_END.search(scan.text, hit.end)
    limit = end.start() if end else len(scan.text)
    near = [token.low for token in scan.tokens if start < token.start < limit]
    return any(
        language.among(low, "pointing", key) for low in near for key in ("figure", "table", "for_information")
    )


def _books(scan: Scan) -> list[Pointer]:
    """ "see the operator's manual": another book, named behind a cue."""
    found: list[Pointer] = []
    here = [(h.first, h.last) for h in scan.of("pointing", "this_book", "parts_book")]
    for hit in scan.of("pointing", "other_book"):
        if any(first <= hit.first < last for first, last in here):
            continue
        for cue in scan.of("pointing", "strong_cues", "perform"):
            gap = scan.text[cue.end : hit.start]
            if cue.end <= hit.start and len(gap) < 60 and not re.search(r"[.;:]\s", gap):
                words = scan.text[cue.end : hit.end].strip()
                if not any(number.isdigit() for number in gap):
                    found.append(Pointer(cue.start, hit.end, "book", (words,), "see"))
                break
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


def _demands(scan: Scan) -> list[Pointer]:
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
        alone = words.lower().split()[:2]
        if hit.key == "weak" and (later[0].start - hit.end > 60 or re.search(r"[.;:]\s", words)):
            continue
        if alone in (["must", "be"], ["has", "to"], ["have", "to"]) and not scan.has("demands", "beforehand"):
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
    for pointer in sorted(found, key=lambda p: (_RANK[p.form], p.start, -(p.end - p.start))):
        clash = next((k for k in kept if pointer.start < k.end and k.start < pointer.end), None)
        if clash is None:
            kept.append(pointer)
    kept.sort(key=lambda p: p.start)
    return kept


def _with_steps(found: list[Pointer], text: str) -> list[Pointer]:
    """ "4.2 steps 3 to 7", "steps 3 to 7 of section 4.2": the steps narrow the section beside them."""
    merged: list[Pointer] = []
    for pointer in found:
        last = merged[-1] if merged else None
        gap = text[last.end : pointer.start] if last is not None else ""
        beside = (
            last is not None and re.fullmatch(r"[\s,(]*(?:of|in|from)?[\s,(]*(?:the\s)?", gap) is not None
        )
        if last is not None and beside and last.form == "section" and pointer.form == "steps":
            merged[-1] = last._replace(end=pointer.end, from_step=pointer.from_step, to_step=pointer.to_step)
        elif last is not None and beside and last.form == "steps" and pointer.form == "section":
            merged[-1] = pointer._replace(start=last.start, from_step=last.from_step, to_step=last.to_step)
        else:
            merged.append(pointer)
    return merged


def lone_numbers(scan: Scan, language: Lexicon) -> list[Pointer]:
    """Section numbers that stand for themselves in an entry of a list: "install 3.3 or 3.4"."""
    deeds = {hit.last for hit in scan.of("deeds")}
    found: list[Pointer] = []
    for match in _MULTI_LIST.finditer(scan.text):
        index = scan.token_at(match.start("first"))
        if scan.text[match.start("first") - 1 : match.start("first")].strip():
            continue
        if index == 0 or index in deeds or language.among(scan.tokens[index - 1].low, "ands"):
            numbers, any_of, _ = _numbers(match)
            found.append(Pointer(match.start("first"), match.end(), "section", numbers, "see", any_of))
    return found


def cue_hits(scan: Scan) -> list[Hit]:
    """Every "see", "refer to" ... of a sentence: what must end up in some reference."""
    return scan.of("pointing", "strong_cues")

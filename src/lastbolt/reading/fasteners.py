"""Fastener sizes and kinds as sources print them: "M6 x 45", "1/4-20 x 1-1/2", "pin 6 x 20"."""

import re
from typing import NamedTuple

from lastbolt.reading.lexicon import Hit, Lexicon, Scan, lexicon
from lastbolt.reading.units import UNIT
from lastbolt.words.quantity import Kind

COARSE_PITCH_MM: dict[str, float] = {
    "1": 0.25, "1.2": 0.25, "1.4": 0.3, "1.6": 0.35, "1.8": 0.35, "2": 0.4, "2.2": 0.45, "2.5": 0.45,
    "3": 0.5, "3.5": 0.6, "4": 0.7, "4.5": 0.75, "5": 0.8, "6": 1.0, "7": 1.0, "8": 1.25, "9": 1.25,
    "10": 1.5, "11": 1.5, "12": 1.75, "14": 2.0, "16": 2.0, "18": 2.5, "20": 2.5, "22": 2.5, "24": 3.0,
    "27": 3.0, "30": 3.5, "33": 3.5, "36": 4.0, "39": 4.0, "42": 4.5, "45": 4.5, "48": 5.0, "52": 5.0,
    "56": 5.5, "60": 5.5, "64": 6.0,
}  # fmt: skip
"""Nominal diameter -> coarse pitch. Source: ISO 261:1998, table 2 (ISO general purpose metric threads)."""

THREADS_PER_INCH: dict[str, frozenset[int]] = {
    size: frozenset(counts)
    for size, counts in {
        "#0": [80], "#1": [64, 72], "#2": [56, 64], "#3": [48, 56], "#4": [40, 48], "#5": [40, 44],
        "#6": [32, 40], "#8": [32, 36], "#10": [24, 32], "#12": [24, 28], "1/4": [20, 28],
        "5/16": [18, 24], "3/8": [16, 24], "7/16": [14, 20], "1/2": [13, 20], "9/16": [12, 18],
        "5/8": [11, 18], "3/4": [10, 16], "7/8": [9, 14], "1": [8, 12], "1-1/8": [7, 12],
        "1-1/4": [7, 12], "1-1/2": [6, 12],
    }.items()
}  # fmt: skip
"""Size -> threads per inch, coarse and fine. Source: ASME B1.1 (UNC and UNF), as in Shigley table 8-2."""

_NUMBER = r"\d{1,3}(?:[.,]\d{1,3})?"
_FRACTION = r"\d{1,2}[-\s]\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d{1,2}\.\d{1,3}|\.\d{1,3}|\d{1,2}"
_TIMES = r"\s?(?:[x×X*]|by)\s?"
_GRADES = r"3\.6|4\.6|4\.8|5\.6|5\.8|6\.8|8\.8|9\.8|10\.9|12\.9"
_NO_TORQUE = rf"(?!\s?(?i:{UNIT})(?!\w))"
_CLASS = (
    r"(?:\s?[-–,]?\s?(?:(?:class|grade|property class|quality)\s)?"
    rf"(?P<strength>(?:{_GRADES})(?!\d){_NO_TORQUE}|A[24][- ]?[78]0))?"
)
_METRIC = re.compile(
    rf"(?<![\w.])M\s?(?P<d>\d{{1,2}}(?:[.,]\d)?)(?![\d])(?:(?P<join1>{_TIMES}|\s?[-–]\s?)(?P<a>{_NUMBER})(?!\d|[.,]\d|/){_NO_TORQUE})?"
    rf"(?:(?P<join2>{_TIMES}|\s?[-–]\s?)(?P<b>{_NUMBER})(?!\d|[.,]\d|/){_NO_TORQUE})?(?P<unit>\s?mm\b)?"
)
_LONG = re.compile(
    rf"\s?,?\s?(?:\(\s?)?(?:(?:L|l|length|Length|LENGTH|lg|LG|long)\.?\s?[=:]?\s?(?P<after>{_NUMBER})\s?(?:mm)?|(?:{_TIMES})?(?P<before>{_NUMBER})\s?(?:mm\s)?\s?(?:long|LONG|lg|LG)\b)\.?(?:\s?\))?"
)
_STRENGTH = re.compile(_CLASS)
_UNIFIED = re.compile(
    rf"(?<![\w./])(?P<size>(?:No\.?\s?|#\s?)?\d{{1,2}}(?:-\d/\d{{1,2}}|/\d{{1,2}})?)\s?[-–]\s?(?P<tpi>\d{{1,2}})(?![\d.])"
    rf"(?P<series>\s?(?:UN[CF]?|UNEF)(?:-?[123][AB])?)?(?:{_TIMES}(?P<length>{_FRACTION})(?![\d/]){_NO_TORQUE}\s?(?P<inch>in\b\.?|inch(?:es)?|\"|”)?)?"
)
_INCH = re.compile(
    rf"(?<![\w./-])(?P<size>\d{{1,2}}/\d{{1,2}})\s?(?:in\b\.?|\"|”)?{_TIMES}(?P<length>{_FRACTION})(?![\d/]){_NO_TORQUE}\s?(?:in\b\.?|\"|”)?"
)
_PLAIN = re.compile(
    rf"(?<![\w.,/#-])(?:[ØøΦ⌀]\s?|dia\.?\s)?(?P<d>{_NUMBER})(?:\s?(?:mm|[a-z]{{1,2}}\d))?{_TIMES}(?P<a>{_NUMBER})(?!\d|[.,]\d|/){_NO_TORQUE}(?:{_TIMES}(?P<b>{_NUMBER})(?!\d){_NO_TORQUE})?(?P<unit>\s?mm\b)?"
)
_QUICK = re.compile(r"\d\s?(?:mm\s?)?[x×X*]|\bM\s?\d|\d/\d|[-–]\s?\d|\dby|\d by")


class Size(NamedTuple):
    """A size found in a text. `plain`: no thread letter; what it is depends on the noun beside it."""

    start: int
    end: int
    thread: str | None
    length_mm: float | None
    strength: str | None
    plain: bool


def sizes_in(text: str) -> list[Size]:
    """Every size that the text prints, in order, none overlapping."""
    if not _QUICK.search(text):
        return []
    found: list[Size] = []
    for match in _METRIC.finditer(text):
        found.append(_with_tail(text, _metric(match)))
    for match in _UNIFIED.finditer(text):
        size = _unified(match)
        if size is not None:
            found.append(size)
    for match in _INCH.finditer(text):
        length = _fraction(match["length"]) * 25.4
        found.append(Size(match.start(), match.end(), match["size"], round(length, 3), None, False))
    for match in _PLAIN.finditer(text):
        length = float((match["b"] or match["a"]).replace(",", "."))
        found.append(Size(match.start(), match.end(), _tidy(match["d"]), length, None, True))
    found.sort(key=lambda size: (size.start, size.plain, -size.end))
    kept: list[Size] = []
    for size in found:
        if not kept or size.start >= kept[-1].end:
            kept.append(size)
    return kept


def kind_of(what: str | None, size: Size | None, head: str | None = None) -> Kind:
    """The kind that a fastener noun and a size make together.

    A plain "6 x 45" is a metric thread with a bolt, screw, stud or nut, and a diameter with anything else.
    """
    if size is None:
        return Kind(what, head=head)
    thread, length = size.thread, size.length_mm
    if size.plain and what in ("bolt", "screw", "stud", "nut"):
        thread = f"M{thread}"
    if what in ("nut", "clip"):
        length = None
    return Kind(what, thread, length, head, size.strength)


def fastener_nouns(scan: Scan) -> list[Hit]:
    """The fastener words of a text that do mean a fastener ("bolt", not "bolt hole" or "crank pin")."""
    nouns = scan.of("fasteners")
    if not nouns:
        return []
    others = scan.of("not_fasteners")
    kept: list[Hit] = []
    for noun in nouns:
        if any(
            o.first < noun.last and noun.first < o.last and o.last - o.first > noun.last - noun.first
            for o in others
        ):
            continue
        if kept and noun.first < kept[-1].last:
            if noun.last <= kept[-1].last:
                continue
            kept[-1] = noun._replace(start=kept[-1].start, first=kept[-1].first)
            continue
        kept.append(noun)
    return kept


def head_in(scan: Scan, start: int, end: int) -> str | None:
    """The head form named between two characters: "hex", "socket", "countersunk" ..."""
    heads = [hit for hit in scan.of("heads") if start <= hit.start < end]
    if not heads:
        return None
    return max(heads, key=lambda hit: hit.last - hit.first).key


def read_kind(name: str, language: Lexicon | None = None) -> Kind | None:
    """The kind of fastener that a parts-list name describes, or None when it is no fastener."""
    lex = language or lexicon()
    scan = lex.scan(name)
    sizes = sizes_in(name)
    noun = _naming_noun(scan, name, lex, sized=bool(sizes))
    if noun is None:
        return None
    size = next((s for s in sizes if s.start > noun.start or s.end <= noun.start), None)
    if size is not None and noun.key in ("bolt", "screw", "stud") and size.plain:
        low = name.lower()
        if any(word in low for word in lex.words("sizes", "plain_diameter")):
            return Kind(noun.key, size.thread, size.length_mm, head_in(scan, 0, len(name)), size.strength)
    return kind_of(noun.key, size, head_in(scan, 0, len(name)))


def _naming_noun(scan: Scan, name: str, language: Lexicon, *, sized: bool) -> Hit | None:
    """The fastener word that names the part: it stands first, or last before "for", "with", a comma."""
    nouns = fastener_nouns(scan)
    if not nouns:
        return None
    segment_end = min(
        (i for i in (name.find(","), name.find(";"), name.find("(")) if i > 0), default=len(name)
    )
    if nouns[0].first == 0 or not any(t.low.isalpha() for t in scan.tokens[: nouns[0].first]):
        first = nouns[0]
        rest = [
            t
            for t in scan.tokens[first.last :]
            if t.end <= segment_end and t.low.isalpha() and len(t.low) > 2
        ]
        if (
            not rest
            or name.replace("x", "").isupper()
            or segment_end == first.end
            or _all_describe(scan, first.last, segment_end, language)
        ):
            return first
        return first if sized and not any(c.islower() for c in name[first.end : segment_end]) else None
    stops = [t.start for t in scan.tokens[1:] if language.among(t.low, "stop")]
    cut = min([*stops, segment_end])
    before = [noun for noun in nouns if noun.start < cut]
    if not before:
        return None
    last = before[-1]
    return last if _all_describe(scan, last.last, cut, language) else None


def _all_describe(scan: Scan, first: int, end: int, language: Lexicon) -> bool:
    """Whether the words from a token to a character only describe (head, position, size)."""
    covered = {
        i
        for table in ("heads", "adjectives")
        for hit in scan.of(table)
        if hit.key != "parts"
        for i in range(hit.first, hit.last)
    }
    for index in range(first, len(scan.tokens)):
        token = scan.tokens[index]
        if token.start >= end:
            break
        described = index in covered or language.among(token.low, "stop")
        if token.low.isalpha() and len(token.low) > 2 and not described:
            return False
    return True


def _metric(match: "re.Match[str]") -> Size:
    diameter = _tidy(match["d"])
    thread, length, strength = f"M{diameter}", None, None
    end = match.end()
    values = [(match["join1"], match["a"]), (match["join2"], match["b"])]
    for position, (joint, number) in enumerate(values):
        if number is None:
            continue
        value = float(number.replace(",", "."))
        coarse = COARSE_PITCH_MM.get(diameter)
        dashed = "-" in joint or "–" in joint
        if dashed and re.fullmatch(_GRADES, number):
            strength = number
        elif position == 0 and coarse is not None and value <= coarse:
            thread = f"M{diameter}" if value == coarse else f"M{diameter}x{value:g}"
        elif length is None:
            length = value
        else:
            end = match.start("join2")
    return Size(match.start(), end, thread, length, strength, False)


def _with_tail(text: str, size: Size) -> Size:
    """The size with a length or a strength class that follows in other words."""
    if size.length_mm is None:
        tail = _LONG.match(text, size.end)
        if tail is not None:
            length = float((tail["after"] or tail["before"]).replace(",", "."))
            size = size._replace(length_mm=length, end=tail.end())
    strength = _STRENGTH.match(text, size.end)
    if strength is not None and strength["strength"]:
        size = size._replace(strength=strength["strength"], end=strength.end())
    return size


def _unified(match: "re.Match[str]") -> Size | None:
    name = re.sub(r"^(?:No\.?\s?|#\s?)", "#", match["size"])
    tpi = int(match["tpi"])
    if "/" not in name and not name.startswith("#"):
        name = f"#{name}" if tpi in THREADS_PER_INCH.get(f"#{name}", ()) else name
    if tpi not in THREADS_PER_INCH.get(name, ()):
        return None
    certain = (
        match["series"] or match["length"] or "/" in name or match["size"].lstrip().startswith(("#", "N"))
    )
    if not certain:
        return None
    length = None if match["length"] is None else round(_fraction(match["length"]) * 25.4, 3)
    return Size(match.start(), match.end(), f"{name}-{tpi}", length, None, False)


def _fraction(text: str) -> float:
    """ "1-1/2" as 1.5."""
    total = 0.0
    for part in re.split(r"[-\s]", text):
        top, slash, bottom = part.partition("/")
        total += float(top) / float(bottom) if slash and float(bottom) else float(top)
    return total


def _tidy(number: str) -> str:
    return f"{float(number.replace(',', '.')):g}"

"""A limit typed from paper: "cylinder bore: standard 86.00 to 86.02, at most 86.10 mm"."""

import re

from lastbolt.measuring.dimensions import words_of
from lastbolt.measuring.tools import unit_of
from lastbolt.measuring.typed_numbers import NUMBER, plain_numbers
from lastbolt.measuring.typed_words import words_pattern
from lastbolt.words.citation import Citation, SaidPlace
from lastbolt.words.measured import Limit, LimitSense, Span
from lastbolt.words.measured_units import span_of

_UNIT = re.compile(r"(.*[\d.])\s*([^\W\d_]+|[\"″])\s*\.?")


def limit_stated(name: str, behind: str, by: str, line: int) -> Limit | str:
    """The limit; "" when the line states none, or why it is not understood."""
    text = plain_numbers(behind).strip()
    kinds = "|".join(words_pattern(kind) for kind in ("standard", "limit", "at_most", "at_least"))
    if not re.match(rf"(?:{kinds})\b", text, re.I):
        return ""
    found = _UNIT.fullmatch(text)
    unit = unit_of(found[2]) if found else ""
    if not found or not unit:
        return "a limit needs its unit at the end"
    standard: Span | None = None
    low: float | None = None
    high: float | None = None
    for part in re.split(r"[,;]", found[1]):
        said = part.strip()
        if between := _matched(said, "standard", two=True):
            standard = Span(float(between[1]), float(between[2] or between[1]), unit)
        elif end := _matched(said, "at_most"):
            high = float(end[1])
        elif end := _matched(said, "at_least"):
            low = float(end[1])
        else:
            return f'"{said}" is no standard size and no limit: "at most" or "at least" belongs to it'
    service = Span(low, high, unit) if low is not None or high is not None else None
    return _made(
        name, text, unit, (standard, service), Citation("typed", SaidPlace(by, f"line {line}"), text)
    )


def _matched(said: str, kind: str, *, two: bool = False) -> re.Match[str] | None:
    before = rf"(?:(?:{words_pattern('limit')})\s+)?" if kind != "standard" else ""
    second = rf"(?:\s*(?:-|–|{words_pattern('to')})\s*({NUMBER}))?" if two else ""
    return re.fullmatch(rf"{before}(?:{words_pattern(kind)})\s*:?\s*({NUMBER}){second}", said, re.I)


def _made(name: str, words: str, unit: str, spans: tuple[Span | None, Span | None], said: Citation) -> Limit:
    standard, service = spans
    sense: LimitSense = ""
    if service is not None:
        sense = (
            "between"
            if None not in (service.low, service.high)
            else "at most"
            if service.low is None
            else "at least"
        )
    return Limit(
        f"typed/limit/{'-'.join(words_of(name))}", name, part=name,
        standard=span_of(standard) if standard else None, limit=span_of(service) if service else None,
        sense=sense, printed_standard=(standard,) if standard else (),
        printed_limit=(service,) if service else (),
        words=f"{name}: {words}", citations=(said,),
    )  # fmt: skip

"""Values that were read become one limit: units compared, the good side told, doubts named."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.limit_words import LimitWords, every_phrase
from lastbolt.reading.measured_values import Value, not_of_inches
from lastbolt.words.citation import Citation
from lastbolt.words.measured import Limit, LimitSense, Span
from lastbolt.words.measured_units import converted, span_of, spans_agree

NOT_READ, DISAGREE, DOUBTFUL = "LB-P09", "LB-P10", "LB-P11"
_FAR_BELOW = 0.2
_FAR_ABOVE = 10.0
"""A limit further from the standard than these factors may be an amount of wear and no size."""
UNIT_NOT_TOLD = "its unit is not printed"
FRACTION = "it may be a fraction or two values"
BY_MEASURE = "which side of the limit is good is not said; taken from what is measured"


class Read(NamedTuple):
    """What is printed of one limit: values side by side in their units, and the side that words name."""

    standard: tuple[Value, ...] = ()
    limit: tuple[Value, ...] = ()
    said: LimitSense = ""


class Named(NamedTuple):
    """What is measured: all its words, the kind of size, the part, and which side of such a size wears."""

    what: str
    measure: str = ""
    part: str = ""
    wears: LimitSense = ""


class Made(NamedTuple):
    """A limit, and what is to be told of it: codes with words."""

    limit: Limit
    tell: tuple[tuple[str, str], ...]


@lru_cache(maxsize=4)
def _measures(words: LimitWords) -> re.Pattern[str]:
    lists = (words.words("measures", key) for key in ("grows", "shrinks", "either"))
    return re.compile(rf"(?<!\w)(?:{every_phrase(lists)})(?!\w)", re.IGNORECASE)


def named(what: str, words: LimitWords, part: str = "") -> Named:
    """The kind of size and the part in the words for what is measured; `part`: where it is told elsewhere."""
    tidy = " ".join(what.split()).strip(" ,;:.-–")
    match = _measure_in(tidy, words)
    if match is None:
        return Named(tidy, "", part or tidy)
    before, behind = tidy[: match.start()].strip(" ,;:-–("), tidy[match.end() :].strip(" ,;:-–)")
    of = words.pattern("measures", "of").match(behind)
    rest = behind[of.end() :].strip() if of is not None else ""
    named_part = rest if rest and not before else before or behind
    return Named(tidy, match[0].lower(), named_part or part, wears(match[0], words))


def _measure_in(tidy: str, words: LimitWords) -> "re.Match[str] | None":
    """The kind of size among the words: with "of" behind it, or the last or first word; else the first.

    "Taper key, bore" measures a bore, "Taper of the key" a taper.
    """
    found = list(_measures(words).finditer(tidy))
    ends = [m for m in found if not tidy[m.end() :].strip(" ,;:.-–)") or tidy[m.end()] in ",;:("]
    of = [m for m in found if words.pattern("measures", "of").match(tidy[m.end() :].lstrip())]
    alone = [
        m for m in ends if m.start() == 0 or tidy[: m.start()].rstrip().endswith((",", ";", ":", "-", "–"))
    ]
    return next(iter((*of, *alone[::-1], *ends, *found)), None)


def wears(measure: str, words: LimitWords) -> LimitSense:
    """The side of a limit that is good for such a size: a clearance grows, a thickness shrinks."""
    if words.among(measure, "measures", "grows"):
        return "at most"
    return "at least" if words.among(measure, "measures", "shrinks") else ""


def made_limit(identity: str, name: Named, read: Read, cite: Citation) -> Made:
    """The limit of what was read."""
    unit = next((v.span.unit for v in (*read.standard, *read.limit) if v.span.unit), "")
    standard, limit = _with_unit(read.standard, unit), _with_unit(read.limit, unit)
    tell = [(DISAGREE, words) for side in (standard, limit) if (words := _apart(side))]
    doubts = [words for _, words in tell]
    if any(not_of_inches(value) for value in (*standard, *limit)):
        tell.append((DOUBTFUL, FRACTION))
        doubts.append(FRACTION)
    if not unit and (standard or limit):
        tell.append((DOUBTFUL, UNIT_NOT_TOLD))
    new = span_of(standard[0].span) if standard else None
    worn = span_of(limit[0].span) if limit else None
    sense, why = _sense(read.said, new, worn, name) if worn is not None else ("", "")
    if why:
        doubts.append(why)
    if why and why != BY_MEASURE:
        tell.append((DOUBTFUL, why))
    if not unit and (standard or limit):
        doubts.append(UNIT_NOT_TOLD)
    made = Limit(
        identity, name.what, name.measure, name.part, new, _one_sided(worn, sense), sense,
        tuple(v.span for v in standard), tuple(v.span for v in limit), cite.words, (cite,), "; ".join(doubts),
    )  # fmt: skip
    return Made(made, tuple(tell))


def _with_unit(values: Sequence[Value], unit: str) -> tuple[Value, ...]:
    """A value without a unit has that of the value beside it: "0.05-0.15 mm, limit 0.25"."""
    return tuple(v if v.span.unit else v._replace(span=Span(v.span.low, v.span.high, unit)) for v in values)


def _apart(values: Sequence[Value]) -> str:
    """How values in two units side by side contradict each other."""
    for one in values[1:]:
        first = values[0]
        if spans_agree(first.span, one.span, first.half, one.half) == "no":
            return f"{span_words(first.span)} and {span_words(one.span)} do not convert into each other"
    return ""


def span_words(span: Span) -> str:
    """A span as people write it: "0.05 to 0.15 mm"."""
    ends = [f"{end:g}" for end in dict.fromkeys((span.low, span.high)) if end is not None]
    return f"{' to '.join(ends)} {span.unit}".strip()


def _one_sided(span: Span | None, sense: LimitSense) -> Span | None:
    if span is None or sense in ("", "between"):
        return span
    return Span(None, span.high, span.unit) if sense == "at most" else Span(span.low, None, span.unit)


def _sense(said: LimitSense, new: Span | None, worn: Span, name: Named) -> tuple[LimitSense, str]:
    """The good side of a limit, and why it is doubtful."""
    if worn.low is None or worn.high is None:
        return said, ""
    if new is not None and new.unit != worn.unit:
        return said, f"the standard is in {new.unit or 'no unit'}, the limit in {worn.unit or 'no unit'}"
    if worn.low != worn.high:
        return ("between", _astride(new, worn)) if said in ("", "between") else (said, "")
    if new is None or new.low is None or new.high is None:
        if said:
            return said, ""
        return (name.wears, BY_MEASURE) if name.wears else ("", "which side of the limit is good is not said")
    return _against(said, (new.low, new.high), worn.low, name)


def _against(said: LimitSense, new: tuple[float, float], worn: float, name: Named) -> tuple[LimitSense, str]:
    """The side told by the standard range, held against the side that words name."""
    low, high = new
    if worn < _FAR_BELOW * low or (high > 0 and worn > _FAR_ABOVE * high):
        return said, "the limit is so far from the standard that it may be an amount of wear, not a size"
    if low < worn < high:
        return said, "the limit lies inside the standard range"
    seen: LimitSense = ""
    if low != high or worn != low:
        seen = "at most" if worn >= high else "at least"
    if said and seen and said != seen:
        return said, f'the source says "{said}", but the standard lies on the other side of the limit'
    if said or seen:
        return said or seen, ""
    return (name.wears, BY_MEASURE) if name.wears else ("", "which side of the limit is good is not said")


def _astride(new: Span | None, worn: Span) -> str:
    """A range of limits that does not hold the standard range."""
    if new is None or None in (new.low, new.high, worn.low, worn.high):
        return ""
    assert new.low is not None
    assert new.high is not None
    assert worn.low is not None
    assert worn.high is not None
    if new.low < worn.low or new.high > worn.high:
        return "the standard range lies outside of the limits"
    return ""


def same_kind(one: str, other: str) -> bool:
    """Whether two units convert into each other."""
    return converted(0.0, one)[1] == converted(0.0, other)[1]

"""The reading sheet: what is to be measured, its standard and its limit, how, and with what."""

from collections.abc import Iterable, Sequence

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.measuring.decide import Limits
from lastbolt.measuring.dimensions import Dimension, dimension_of, words_of
from lastbolt.measuring.units import told_in
from lastbolt.words.measured import Limit, Span
from lastbolt.words.readings import Size

_CONVERTED = 1e-5
"""What rounding a converted number may make."""
_HOW_CLASH = "the limit of service, {}, lies inside the standard range {}"


class Wanted(Struct, frozen=True):
    """A limit of the sources, and why this job needs it."""

    limit: Limit
    why: str = ""
    also: tuple[str, ...] = ()
    """Ids of limits that say the same of the same size."""


def sheet_of(wanted: Iterable[Wanted]) -> tuple[Size, ...]:
    """One line for each limit, numbered from 1 in the order given; what two places say alike is one line."""
    return tuple(_size(number, one) for number, one in enumerate(_said_once(list(wanted)), 1))


def _said_once(wanted: list[Wanted]) -> list[Wanted]:
    """A step's "gap between the halves, 2 to 3 mm" is the table's "gap between the coupling halves"."""
    of_standard: dict[Span | None, list[tuple[frozenset[str], Wanted]]] = {}
    for one in wanted:
        of_standard.setdefault(one.limit.standard, []).append((frozenset(words_of(one.limit.what)), one))
    said_by: dict[str, list[Limit]] = {}
    for alike in of_standard.values():
        for words, one in alike:
            fuller = [other for more, other in alike if len(words) > 1 and words < more and _fits(one, other)]
            if len(fuller) == 1:
                said_by.setdefault(fuller[0].limit.id, []).append(one.limit)
    shorter = {limit.id for limits in said_by.values() for limit in limits}
    return [_with_all(one, said_by.get(one.limit.id, [])) for one in wanted if one.limit.id not in shorter]


def _fits(one: Wanted, other: Wanted) -> bool:
    return one.limit.limit in (None, other.limit.limit)


def _with_all(one: Wanted, shorter: Sequence[Limit]) -> Wanted:
    if not shorter:
        return one
    cited = (*one.limit.citations, *(citation for limit in shorter for citation in limit.citations))
    return Wanted(replace(one.limit, citations=cited), one.why, tuple(limit.id for limit in shorter))


def _size(number: int, wanted: Wanted) -> Size:
    limit = as_printed(wanted.limit)
    kind = dimension_of(limit.what, limit.measure)
    standard, service = limit.standard, _service(limit)
    return Size(
        number, limit.id, limit.what, _unit(standard, service), standard, service, kind.name, kind.how,
        kind.source, decides=kind.decides, tools=kind.tools, readings=kind.readings,
        part=limit.part or limit.what,
        beyond=kind.beyond, why=wanted.why, barred=barred(standard, service), told=_told(limit, kind),
        citations=limit.citations, also=wanted.also,
    )  # fmt: skip


def as_printed(limit: Limit) -> Limit:
    """The limit in the unit that its source prints, where all its numbers are printed in one.

    A shop reads its tools in the unit of its books, and a converted number has figures that nobody printed.
    """
    units = [
        {span.unit for span in spans} for spans in (limit.printed_standard, limit.printed_limit) if spans
    ]
    wanted = sum(one is not None for one in (limit.standard, limit.limit))
    first = next((span.unit for span in (*limit.printed_limit, *limit.printed_standard)), "")
    if not first or len(units) < wanted or not all(first in some for some in units):
        return limit
    standard = _in_unit(limit.standard, limit.printed_standard, first)
    service = _in_unit(limit.limit, limit.printed_limit, first)
    if (standard is None) != (limit.standard is None) or (service is None) != (limit.limit is None):
        return limit
    return replace(limit, standard=standard, limit=service)


def _in_unit(span: Span | None, printed: Sequence[Span], unit: str) -> Span | None:
    """The printed span with the ends that count; None where it is not the same span converted."""
    said = next((one for one in printed if one.unit == unit), None)
    if span is None or said is None:
        return None
    low = None if span.low is None else said.low if said.low is not None else said.high
    high = None if span.high is None else said.high if said.high is not None else said.low
    for mine, theirs in ((span.low, low), (span.high, high)):
        if mine is not None and (theirs is None or abs(told_in(theirs, unit, span.unit) - mine) > _CONVERTED):
            return None
    return Span(low, high, unit)


def _unit(*spans: Span | None) -> str:
    return next((span.unit for span in spans if span is not None and span.unit), "")


def _service(limit: Limit) -> Span | None:
    """The limit with only the end that is bad; both ends where the source says both."""
    span = limit.limit
    if span is None:
        return None
    match limit.sense:
        case "at most":
            return Span(None, span.high if span.high is not None else span.low, span.unit)
        case "at least":
            return Span(span.low if span.low is not None else span.high, None, span.unit)
        case "between":
            return span
    if limit.standard is not None and span.low == span.high and span.low is not None:
        return _side_by_standard(limit.standard, span)
    return span


def _side_by_standard(standard: Span, span: Span) -> Span:
    """A single number above the whole standard range can only be the most, one below it the least."""
    if standard.unit == span.unit and span.low is not None:
        if standard.high is not None and span.low > standard.high:
            return Span(None, span.low, span.unit)
        if standard.low is not None and span.low < standard.low:
            return Span(span.low, None, span.unit)
    return span


def barred(standard: Span | None, service: Span | None) -> str:
    """Why limits cannot be used as they stand; "" when they can."""
    for span in (standard, service):
        if span is not None and None not in (span.low, span.high) and (span.low or 0) > (span.high or 0):
            return f"its range runs backwards: {span_words(span)}"
    if standard is None and service is None:
        return "the source gives no number for it"
    if standard is not None and service is not None and standard.unit != service.unit:
        return f"its standard is in {standard.unit or '?'} and its limit in {service.unit or '?'}"
    if not _unit(standard, service):
        return "the source gives no unit"
    if service is not None and service.low is not None and service.low == service.high:
        return "the source does not say on which side of its limit a part is good"
    return _clash(standard, service)


def _clash(standard: Span | None, service: Span | None) -> str:
    if standard is None or service is None or standard.low == standard.high:
        return ""
    high = None not in (standard.high, service.high) and (service.high or 0) < (standard.high or 0)
    low = None not in (standard.low, service.low) and (service.low or 0) > (standard.low or 0)
    if high or low:
        figures = figures_printed(standard, service)
        return _HOW_CLASH.format(span_words(service, figures), span_words(standard, figures))
    return ""


def _told(limit: Limit, kind: Dimension) -> str:
    """What is to be known of the limit itself."""
    more = []
    if limit.sense == "" and limit.limit is not None and _service(limit) != limit.limit:
        more.append(
            "The source does not say which side of its limit is bad: the one away from the standard is taken."
        )
    if limit.doubt:
        more.append(f"Read with doubt: {limit.doubt.rstrip('.')}.")
    return " ".join(more)


def figures_printed(*spans: Span | None) -> int:
    """How many figures behind the point the source prints: the most that any of the numbers needs.

    >>> figures_printed(Span(30.002, 30.011, "mm"), Span(29.99, None, "mm"))
    3
    """
    ends = (end for span in spans if span is not None for end in (span.low, span.high) if end is not None)
    return max((len(f"{end:.7g}".partition(".")[2]) for end in ends), default=0)


def span_words(span: Span | None, figures: int | None = None) -> str:
    """A span as people write it, with so many figures behind the point.

    >>> span_words(Span(0.1, 0.2, "mm")), span_words(Span(None, 0.35, "mm")), span_words(None)
    ('0.1 to 0.2 mm', 'at most 0.35 mm', '')
    """
    if span is None:
        return ""
    places = figures_printed(span) if figures is None else figures
    low, high = ("" if end is None else f"{end:.{places}f}" for end in (span.low, span.high))
    if low and high:
        return f"{low} {span.unit}" if low == high else f"{low} to {high} {span.unit}"
    return f"at least {low} {span.unit}" if low else f"at most {high} {span.unit}" if high else ""


def ends(span: Span | None) -> Limits | None:
    """The ends of a span that can be passed: from nothing on there is no lower one."""
    return None if span is None else Limits(span.low or None, span.high)


def expected(size: Size, *, large: bool) -> Limits:
    """From the smallest to the largest that the sources speak of.

    `large`: a size of a part and no play; where one number alone is known it lies within a fifth of that.
    """
    spans: Sequence[Span] = [span for span in (size.standard, size.service) if span is not None]
    low = min((end for span in spans for end in (span.low, span.high) if end is not None), default=None)
    high = max((end for span in spans for end in (span.low, span.high) if end is not None), default=None)
    if large and low is not None and low == high:
        return Limits(low * 0.8, low * 1.2)
    one_sided = all(span.low is None for span in spans)
    return Limits(None if one_sided else low, None if all(span.high is None for span in spans) else high)

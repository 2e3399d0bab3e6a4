"""Torques, counts, limits and engines as a change tells them: equal ones in equal words."""

from collections.abc import Iterable

from lastbolt.words.applies import engines_words
from lastbolt.words.machine import Applies, TorqueValue
from lastbolt.words.measured import Limit, Span
from lastbolt.words.quantity import Quantity
from lastbolt.words.supplies import Consumable, Tool


def torques_said(values: Iterable[TorqueValue]) -> str:
    """The torques as printed, stage by stage."""
    said = []
    for value in values:
        printed = "/".join(
            f"{value.limit} {low:g} {unit}".lstrip() if low == high else f"{low:g} to {high:g} {unit}"
            for low, high, unit in value.printed
        )
        angle = f"{value.angle_deg:g}°" if value.angle_deg is not None else ""
        said.append(" + ".join(part for part in (printed, angle) if part))
    return ", then ".join(said)


def count_said(quantity: Quantity) -> str:
    """ "3 x", "2 to 4 x", or the sort of a count that is no number."""
    if quantity.low is None:
        return "" if quantity.kind == "unsaid" else quantity.kind
    high = "" if quantity.high in (None, quantity.low) else f" to {quantity.high}"
    return f"{quantity.low}{high} x"


def engines_said(applies: Applies) -> str:
    """For which engines; nothing where it is for all."""
    return engines_words(applies) or applies.words


def span_said(span: Span | None) -> str:
    """A measured value: "4 mm", "3.9 to 4.1 mm", "up to 4 mm".

    >>> span_said(Span(None, 4.0, "mm")), span_said(Span(3.9, 4.1, "mm"))
    ('up to 4 mm', '3.9 to 4.1 mm')
    """
    if span is None or (span.low is None and span.high is None):
        return ""
    if span.low is None or span.high is None:
        number = f"up to {span.high:g}" if span.low is None else f"from {span.low:g}"
    else:
        number = f"{span.low:g}" if span.low == span.high else f"{span.low:g} to {span.high:g}"
    return f"{number} {span.unit}".strip()


def limit_said(limit: Limit) -> str:
    """What a size is when new, and its limit with the side that is good."""
    standard = "/".join(span_said(span) for span in limit.printed_standard) or span_said(limit.standard)
    worn = "/".join(span_said(span) for span in limit.printed_limit) or span_said(limit.limit)
    if limit.sense:
        worn = f"{limit.sense} {worn.removeprefix('from ').removeprefix('up to ')}".strip()
    told = (f"standard {standard}" if standard else "", f"limit {worn}" if worn else "")
    return ", ".join(part for part in told if part)


def consumable_said(one: Consumable) -> str:
    """What is used up, how much or how, and for what."""
    used = f"for {one.used_for}" if one.used_for else ""
    return ", ".join(part for part in (one.name, span_said(one.amount), one.how, used) if part)


def tool_said(one: Tool) -> str:
    """A tool with its number and what it is for."""
    used = f"for {one.used_for}" if one.used_for else ""
    return ", ".join(part for part in (f"{one.name} {one.number}".strip(), used) if part)

"""What was read of a fact, in a few words: for people, and to tell whether it is still read so."""

from lastbolt.words.machine import PartsRow, Reference, Step, TorqueValue
from lastbolt.words.measured import Limit, Span
from lastbolt.words.quantity import Kind, Quantity


def step_words(step: Step) -> str:
    """The deeds: "remove, check"."""
    return ", ".join(step.deeds) or "other"


def reference_words(reference: Reference) -> str:
    """The status and where it leads: "doubtful: m/procedure/4.2"."""
    to = (" or " if reference.any_of else ", ").join(reference.to)
    asks = "" if reference.role == "see" else f" ({reference.role})"
    return f"{reference.status}{asks}{': ' + to if to else ''}"


def torque_words(value: TorqueValue) -> str:
    """As printed: "9 N·m (6.6 lbf·ft), then 90°".

    >>> torque_words(TorqueValue((9.0, 9.0), ((9.0, 9.0, "N·m"), (6.6, 6.6, "lbf·ft"))))
    '9 N·m (6.6 lbf·ft)'
    """
    printed = [f"{_numbers(low, high)} {unit}".strip() for low, high, unit in value.printed]
    first, rest = printed[:1], printed[1:]
    said = "".join(first) + (f" ({'; '.join(rest)})" if rest else "")
    said = f"{value.limit} {said}".strip()
    turn = "" if value.angle_deg is None else f"{value.angle_deg:g}°"
    return ", then ".join(part for part in (said, turn) if part)


def limit_words(limit: Limit) -> str:
    """Size when new and limit: "new 12 to 12.1 mm; limit at least 11.5 mm"."""
    new = f"new {span_words(limit.standard)}" if limit.standard else ""
    worn = f"limit {limit.sense} {span_words(limit.limit)}".replace("  ", " ") if limit.limit else ""
    return "; ".join(part for part in (new, worn) if part)


def span_words(span: Span) -> str:
    """ "12 to 12.1 mm"."""
    ends = [f"{end:g}" for end in dict.fromkeys((span.low, span.high)) if end is not None]
    return f"{' to '.join(ends)} {span.unit}".strip()


def count_words(quantity: Quantity, kind: Kind | None) -> str:
    """ "3 x screw M6x25"."""
    size = kind.words() if kind else ""
    return " x ".join(part for part in (quantity_words(quantity), size) if part)


def quantity_words(quantity: Quantity) -> str:
    """ "3", "2 to 4", "as required"; "" where the source says none."""
    if quantity.low is None and quantity.high is None:
        return "" if quantity.kind == "unsaid" else quantity.kind
    if quantity.low == quantity.high:
        return str(quantity.low)
    if quantity.high is None:
        return f"at least {quantity.low}"
    return f"{quantity.low} to {quantity.high}"


def row_words(row: PartsRow) -> str:
    """ "12 x screw M6x45, Q222-106"."""
    sort = "may be a fastener" if row.unknown and row.kind is None else ""
    return ", ".join(part for part in (count_words(row.quantity, row.kind), sort) if part)


def _numbers(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"

"""What a source says may be measured: standard sizes and limits of wear."""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation

LimitSense = Literal["", "at most", "at least", "between"]
"""Which side of a limit is good. "": the source does not tell."""


class Span(Struct, frozen=True):
    """A measured value or range. The unit stands beside the numbers and not in their name: limits are of
    lengths, forces and pressures alike. An end that is not said is None; a unit that cannot be told is ""."""

    low: float | None
    high: float | None
    unit: str


class Reading(Struct, frozen=True, omit_defaults=True):
    """One number off a tool. `at`: the place ("top 1"); the same place twice is the same spot again. `to`:
    the reading at the other end of a travel."""

    value: float
    at: str = ""
    to: float | None = None


class Limit(Struct, frozen=True, omit_defaults=True):
    """A size that can be measured: what it is when new (`standard`), and its limit of wear or of service.

    `standard` and `limit` are the first printed unit converted: lengths to mm, other quantities to the unit
    that `words/measured_units.py` names for them. Of a limit with the sense "at most" only `high` is set,
    with "at least" only `low`; where the sense is not told both are the one number that is printed.
    """

    id: str
    what: str
    """What is measured, in the source's words: "Brake disc, thickness"."""
    measure: str = ""
    """The kind of size in it: "thickness"."""
    part: str = ""
    """What it is the size of: "Brake disc"."""
    standard: Span | None = None
    limit: Span | None = None
    sense: LimitSense = ""
    printed_standard: tuple[Span, ...] = ()
    """As printed, one for each unit."""
    printed_limit: tuple[Span, ...] = ()
    words: str = ""
    citations: tuple[Citation, ...] = ()
    doubt: str = ""
    """Why it may be read wrongly."""

    @property
    def standard_mm(self) -> tuple[float | None, float | None] | None:
        """The standard range, where it is a length."""
        return _mm(self.standard)

    @property
    def limit_mm(self) -> tuple[float | None, float | None] | None:
        """The limit, where it is a length."""
        return _mm(self.limit)


def _mm(span: Span | None) -> tuple[float | None, float | None] | None:
    return (span.low, span.high) if span is not None and span.unit == "mm" else None

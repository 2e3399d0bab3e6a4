"""Units of measured sizes, and whether two printed values are the same value rounded.

Source: NIST Special Publication 811 (2008), appendix B.8; inch, pound and standard gravity by their exact
definitions (0.0254 m, 0.453 592 37 kg, 9.806 65 m/s2), the US gallon as 231 cubic inches, the imperial pint
as 568.261 25 ml.
"""

from typing import Literal

from lastbolt.words.measured import Span

INCH_MM = 25.4
POUND_FORCE_N = 0.45359237 * 9.80665
KILOGRAM_FORCE_N = 9.80665
PSI_KPA = POUND_FORCE_N / 0.0254**2 / 1000
US_GALLON_ML = 231 * 2.54**3
UK_PINT_ML = 568.26125

INTO: dict[str, tuple[str, float]] = {
    "mm": ("mm", 1.0), "cm": ("mm", 10.0), "m": ("mm", 1000.0), "µm": ("mm", 0.001), "in": ("mm", INCH_MM),
    "mil": ("mm", INCH_MM / 1000),
    "N": ("N", 1.0), "kN": ("N", 1000.0), "lbf": ("N", POUND_FORCE_N), "kgf": ("N", KILOGRAM_FORCE_N),
    "kPa": ("kPa", 1.0), "MPa": ("kPa", 1000.0), "bar": ("kPa", 100.0), "mbar": ("kPa", 0.1),
    "psi": ("kPa", PSI_KPA), "kgf/cm²": ("kPa", KILOGRAM_FORCE_N * 10),
    "°C": ("°C", 1.0), "°F": ("°C", 5 / 9), "g": ("g", 1.0), "oz": ("g", 453.59237 / 16),
    "ml": ("ml", 1.0), "cl": ("ml", 10.0), "l": ("ml", 1000.0), "gal (US)": ("ml", US_GALLON_ML),
    "qt (US)": ("ml", US_GALLON_ML / 4), "pt (US)": ("ml", US_GALLON_ML / 8), "pt (UK)": ("ml", UK_PINT_ML),
    "Ω": ("Ω", 1.0), "kΩ": ("Ω", 1000.0),
}  # fmt: skip
"""A unit -> the one that it is converted to, and the factor. Others stay as printed: "kg" and "lb" may be a
mass or a force, "pt" of two countries."""


def converted(value: float, unit: str) -> tuple[float, str]:
    """A value in the unit that its kind is kept in, and that unit.

    Args:
        value: as printed [unit]
        unit: as `limits.toml` names it; one that is not known here stays
    Source: NIST SP 811 (2008), appendix B.8 and B.9

    >>> converted(0.1, "in")
    (2.54, 'mm')
    """
    if unit == "°F":
        return round((value - 32) * 5 / 9, 6), "°C"
    into, factor = INTO.get(unit, (unit, 1.0))
    return round(value * factor, 6), into


def span_of(span: Span) -> Span:
    """A printed span converted."""
    _, into = converted(0.0, span.unit)
    ends = [None if end is None else converted(end, span.unit)[0] for end in (span.low, span.high)]
    return Span(ends[0], ends[1], into)


def spans_agree(
    one: Span, other: Span, half_one: float, half_other: float
) -> Literal["yes", "no", "unknown"]:
    """Whether two printed spans can be one, each rounded to its last digit.

    "unknown": they are in one unit, or in units of different kinds.

    Args:
        one: as printed [its unit]
        other: as printed [its unit]
        half_one: half of what the last digit of `one` is worth [its unit]
        half_other: half of what the last digit of `other` is worth [its unit]
    Source: factors from NIST SP 811 (2008), appendix B.8
    """
    if one.unit == other.unit or converted(0.0, one.unit)[1] != converted(0.0, other.unit)[1]:
        return "unknown"
    for mine, theirs in ((one.low, other.low), (one.high, other.high)):
        if (mine is None) != (theirs is None):
            return "no"
        if mine is None or theirs is None:
            continue
        a, b = _around(mine, half_one, one.unit), _around(theirs, half_other, other.unit)
        if max(a[0], b[0]) > min(a[1], b[1]) + 1e-9:
            return "no"
    return "yes"


def _around(value: float, half: float, unit: str) -> tuple[float, float]:
    return converted(value - half, unit)[0], converted(value + half, unit)[0]

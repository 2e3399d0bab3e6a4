"""Torque units as printed, and whether two printed values are the same value rounded.

Source: NIST Special Publication 811 (2008), appendix B.8; the pound-force and the kilogram-force by their
exact definitions (pound 0.453 592 37 kg, foot 0.3048 m, standard gravity 9.806 65 m/s2).
"""

import re
from functools import lru_cache
from typing import Literal, NamedTuple

POUND_FORCE_N = 0.45359237 * 9.80665
FOOT_M = 0.3048
INCH_M = 0.0254
KILOGRAM_FORCE_N = 9.80665

NEWTON_METRES: dict[str, float] = {
    "N·m": 1.0,
    "kN·m": 1000.0,
    "daN·m": 10.0,
    "dN·m": 0.1,
    "cN·m": 0.01,
    "mN·m": 0.001,
    "N·cm": 0.01,
    "N·mm": 0.001,
    "kN·cm": 10.0,
    "kN·mm": 1.0,
    "daN·cm": 0.1,
    "kgf·m": KILOGRAM_FORCE_N,
    "kgf·cm": KILOGRAM_FORCE_N / 100,
    "kgf·mm": KILOGRAM_FORCE_N / 1000,
    "lbf·ft": POUND_FORCE_N * FOOT_M,
    "lbf·in": POUND_FORCE_N * INCH_M,
    "ozf·in": POUND_FORCE_N / 16 * INCH_M,
}
"""One unit in newton metres."""

_DOT = r"[\s.·⋅•*∙\-‑–]{0,2}"
_POUND = r"(?:lbf|lbs|lb)\.?"
_SPELLED = (
    ("kN·cm", rf"kN{_DOT}cm"),
    ("kN·mm", rf"kN{_DOT}mm"),
    ("daN·cm", rf"daN{_DOT}cm"),
    ("kgf·mm", rf"kgf?{_DOT}mm|kp{_DOT}mm"),
    ("kN·m", rf"kN{_DOT}m"),
    ("daN·m", rf"daN{_DOT}m|m{_DOT}daN"),
    ("dN·m", rf"dN{_DOT}m"),
    ("cN·m", rf"cN{_DOT}m"),
    ("mN·m", rf"mN{_DOT}m"),
    ("N·cm", rf"N{_DOT}cm"),
    ("N·mm", rf"N{_DOT}mm"),
    ("N·m", rf"N{_DOT}m|newton{_DOT}met(?:re|er)s?"),
    ("kgf·cm", rf"kgf?{_DOT}cm|kp{_DOT}cm|cm{_DOT}kgf?"),
    (
        "kgf·m",
        rf"kgf?{_DOT}m|kp{_DOT}m|m{_DOT}kgf?|m{_DOT}kp|kilo(?:gram|pond)(?:{_DOT}force)?{_DOT}met(?:re|er)s?",
    ),
    (
        "lbf·ft",
        rf"{_POUND}{_DOT}(?:ft|feet|foot)|(?:ft|foot){_DOT}(?:lbf|lbs|lb|pounds?)|pounds?(?:{_DOT}force)?{_DOT}(?:feet|foot)",
    ),
    (
        "lbf·in",
        rf"{_POUND}{_DOT}in|in(?:ch)?{_DOT}(?:lbf|lbs|lb|pounds?)|pounds?(?:{_DOT}force)?{_DOT}inch(?:es)?",
    ),
    ("ozf·in", rf"ozf?{_DOT}in|in{_DOT}ozf?"),
)
_SLIPS = (
    ("N·m", r"N\s?/\s?m|Nrn|N\srn"),
    ("kgf·cm", r"kgf?\s?/\s?cm|kp\s?/\s?cm"),
    ("kgf·m", r"kgf?\s?/\s?m|kp\s?/\s?m|m\s?/\s?kgf?"),
    (
        "lbf·ft",
        rf"{_POUND}\s?/\s?(?:ft|foot)|(?:ft|foot)\s?/\s?{_POUND}|[I1|]bf?s?{_DOT}f[tl]|f[tl]{_DOT}[I1|]bf?s?"
        rf"|['‘’′]\s?-?{_POUND}",
    ),
    (
        "lbf·in",
        rf"{_POUND}\s?/\s?in(?:ch)?|in(?:ch)?\s?/\s?{_POUND}|[I1|]bf?s?{_DOT}in|in{_DOT}[I1|]bf?s?"
        rf"|[\"“”″]\s?-?{_POUND}",
    ),
)
"""Misprints and misread letters that can only have meant a torque, and which: always with doubt."""
UNIT = "|".join(f"(?:{spelled})" for _, spelled in (*_SPELLED, *_SLIPS))
_EACH, _MEANT = (
    re.compile(rf"(?:{'|'.join(f'({spelled})' for _, spelled in some)})\.?$", re.IGNORECASE)
    for some in (_SPELLED, _SLIPS)
)
"""One group for each unit."""
ENGLISH = frozenset(("lbf·ft", "lbf·in", "ozf·in"))
"""Units of books that print a comma only between thousands."""


class Printed(NamedTuple):
    """One printed value: low, high, its unit, and half of what its last digit is worth."""

    low: float
    high: float
    unit: str
    half: float


@lru_cache(maxsize=2048)
def torque_unit(spelled: str) -> str | None:
    """The unit that a spelling such as "ft. lbs." or "N-m" stands for."""
    match = _EACH.match(spelled.strip())
    return _SPELLED[match.lastindex - 1][0] if match is not None and match.lastindex else None


def meant_unit(spelled: str) -> str | None:
    """The unit that a misprint such as "kg/cm" or "ft/lb" must have meant; None where it is no misprint."""
    match = _MEANT.match(spelled.strip())
    return _SLIPS[match.lastindex - 1][0] if match is not None and match.lastindex else None


def newton_metres(value: float, unit: str) -> float:
    """A torque in newton metres.

    Args:
        value: the torque [unit]
        unit: a key of NEWTON_METRES
    Source: NIST SP 811 (2008), appendix B.8
    """
    return value * NEWTON_METRES[unit]


def half_digit(number: str) -> float:
    """Half of what the last printed digit is worth, in the unit of the number: how far it may be rounded.

    >>> half_digit("1.0"), half_digit("47"), half_digit("2,25")
    (0.05, 0.5, 0.005)

    Args:
        number: as printed, with a point or a comma before the decimals
    """
    digits = number.replace(",", ".")
    decimals = len(digits.partition(".")[2])
    return 0.5 * 10.0**-decimals


def units_agree(printed: tuple[Printed, ...]) -> Literal["yes", "no", "unknown"]:
    """Whether all printed values can be one torque, each rounded to its last digit.

    A whole number of 20 or more that ends in 0 or 5 may have been rounded to the nearest five, as makers
    do (common practice, no source). "unknown": only one unit is printed.

    Args:
        printed: the values side by side, each in its own unit (a key of NEWTON_METRES)
    Source: factors from NIST SP 811 (2008), appendix B.8
    """
    if len({value.unit for value in printed}) < 2:
        return "unknown"
    for end in ("low", "high"):
        lowest, highest = float("-inf"), float("inf")
        for value in printed:
            number = value.low if end == "low" else value.high
            half = 2.5 if value.half == 0.5 and number >= 20 and number % 5 == 0 else value.half
            factor = NEWTON_METRES[value.unit]
            lowest = max(lowest, (number - half) * factor)
            highest = min(highest, (number + half) * factor)
        if lowest > highest * (1 + 1e-9):
            return "no"
    return "yes"

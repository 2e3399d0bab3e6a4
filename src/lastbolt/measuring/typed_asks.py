"""Typed lines that ask for shims: what is free or measured, and how the source counts."""

import re

from msgspec import Struct

from lastbolt.measuring.tools import unit_of
from lastbolt.measuring.typed_numbers import NUMBER, plain_numbers
from lastbolt.measuring.typed_words import words_pattern
from lastbolt.words.measured_units import converted


class ShimAsk(Struct, frozen=True):
    """Shims for one limit. `value`, or `named`: a size measured before. `factor`: +1 a shim adds to what was
    measured, -1 it takes away; None: what was measured is the free space that the shims fill."""

    line: int
    what: str
    value: float | None
    named: str
    factor: int | None


class PinionAsk(Struct, frozen=True):
    """The pack for a new pinion; `factor` +1: a more positive mark wants a thicker pack."""

    line: int
    pack: float
    old_mark: float
    new_mark: float
    wider: float
    factor: int


class ValveAsk(Struct, frozen=True):
    """One valve's lash and the shim it has now, mm; the tool that the lash was read with."""

    line: int
    valve: str
    lash: float
    shim: float
    tool: str = ""


def shims_of(line: str, number: int) -> ShimAsk | str | None:
    """ "shims for NAME: free 0.81", or why it is not understood; None: another kind of line."""
    found = re.fullmatch(rf"(?:{words_pattern('shims')})\s+([^:]+):\s*(.+)", plain_numbers(line), re.I)
    if not found:
        return None
    what, behind = found[1].strip(), found[2].strip(" .")
    factor = None
    counts = re.fullmatch(
        rf"(.+?)[,;]\s*(?:({words_pattern('adds')})|({words_pattern('takes')}))", behind, re.I
    )
    if counts:
        behind, factor = counts[1].strip(), 1 if counts[2] else -1
    free = re.match(rf"(?:{words_pattern('free')})\b\s*[=:]?\s*", behind, re.I)
    measured = re.match(rf"(?:{words_pattern('measured')})\b\s*[=:]?\s*", behind, re.I)
    if not (free or measured):
        return 'say "free" (what is left without shims), or "measured"'
    if measured and factor is None:
        return 'say how the source counts: "shim adds" or "shim takes away"'
    if free and factor is not None:
        return '"free" is filled by shims: no sign belongs to it'
    begun = free or measured
    named = behind[begun.end() :] if begun else ""
    value = _length(named)
    return ShimAsk(number, what, value, "" if value is not None else named, factor)


def pinion_of(line: str, number: int) -> PinionAsk | str | None:
    """ "pinion shims: pack 1.50, old mark -5, new mark 3, bearing 0 wider, plus thicker"."""
    found = re.fullmatch(rf"(?:{words_pattern('pinion')})\s*:\s*(.+)", plain_numbers(line), re.I)
    if not found:
        return None
    numbers: dict[str, float] = {"bearing": 0.0}
    factor = 0
    for part in re.split(r"[,;]", found[1]):
        said = part.strip(" .")
        for kind, sign in (("thicker", 1), ("thinner", -1)):
            factor = sign if re.fullmatch(words_pattern(kind), said, re.I) else factor
        for kind in ("pack", "old_mark", "new_mark", "bearing"):
            if value := re.fullmatch(
                rf"(?:{words_pattern(kind)})\s+({NUMBER})\s*(?:mm)?\s*(wider|narrower)?", said, re.I
            ):
                numbers[kind] = float(value[1]) * (-1 if value[2] == "narrower" else 1)
    if not factor:
        return 'say which way the source counts: "plus thicker" or "plus thinner"'
    if len(numbers) < 4:
        return "it needs the pack that was in, the old mark and the new mark"
    return PinionAsk(
        number, numbers["pack"], numbers["old_mark"], numbers["new_mark"], numbers["bearing"], factor
    )


def valve_of(line: str, number: int) -> ValveAsk | str | None:
    """ "valve 1 intake: lash 0.12, shim 2.60"; None: another kind of line."""
    name, _, behind = plain_numbers(line).partition(":")
    if not re.match(rf"\s*(?:{words_pattern('lash')})\b", behind, re.I):
        return None
    found = re.fullmatch(
        rf"\s*(?:{words_pattern('lash')})\s+({NUMBER})\s*(?:mm)?\s*[,;]\s*(?:{words_pattern('shim')})\s+({NUMBER})"
        r"\s*(?:mm)?\s*",
        behind, re.I,
    )  # fmt: skip
    if not found:
        return "it needs both: lash 0.12, shim 2.60, in mm"
    short = re.sub(rf"^(?:{words_pattern('valve')})\s+", "", name.strip(), flags=re.I)
    return ValveAsk(number, short, float(found[1]), float(found[2]))


def _length(said: str) -> float | None:
    found = re.fullmatch(rf"({NUMBER})\s*(\S*)", said.strip())
    if not found:
        return None
    unit = unit_of(found[2]) if found[2] else "mm"
    value, into = converted(float(found[1]), unit or "?")
    return value if into == "mm" else None

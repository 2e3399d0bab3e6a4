"""Torques, counts and engines as a change tells them: in one form, so that equal ones are equal words."""

from collections.abc import Iterable

from lastbolt.words.applies import engines_words
from lastbolt.words.machine import Applies, TorqueValue
from lastbolt.words.quantity import Quantity


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

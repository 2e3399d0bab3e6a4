"""How sizes change with warmth. Sizes on drawings and in manuals hold at 20 °C (ISO 1:2022, from memory)."""

import math
import tomllib
from functools import lru_cache
from importlib import resources
from typing import Any

REFERENCE_C = 20.0


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    text = (resources.files("lastbolt.measuring") / "expansion.toml").read_text("utf-8")
    return tomllib.loads(text)


def _row(material: str) -> list[float] | None:
    name = " ".join(material.lower().split())
    table = _table()
    row: list[float] | None = table["per_million_K"].get(table["also"].get(name, name))
    return row


def coefficient(material: str) -> tuple[float, str] | None:
    """How much of its length a metal grows per kelvin, and where that comes from; None for an unknown one.

    >>> round(coefficient("aluminium")[0] * 1e6, 1)
    23.1
    """
    row = _row(material)
    if row is None:
        return None
    middle, low, high = row
    return middle / 1e6, f"{_table()['source']}; alloys spread from {low:g} to {high:g} millionths per K"


def coefficient_range(material: str) -> tuple[float, float] | None:
    """The least and the most that alloys of a metal grow per kelvin."""
    row = _row(material)
    return None if row is None else (row[1] / 1e6, row[2] / 1e6)


def growth(length: float, alpha: float, kelvin: float) -> float:
    """How much longer a length gets by `kelvin` of warmth, in the unit of the length.

    >>> round(growth(80.0, 23.1e-6, 20.0), 3)
    0.037
    """
    if not all(map(math.isfinite, (length, alpha, kelvin))) or length < 0:
        raise ValueError("what was given is no length that can grow")
    return length * alpha * kelvin


def length_at_20_C(length: float, material: str, temperature_C: float) -> float:
    """What a length measured at another temperature is at 20 °C; the tool is taken to be true there.

    Raises:
        ValueError: the material is not in the table.
    """
    known = coefficient(material)
    if known is None:
        raise ValueError(f"how {material!r} grows with warmth is not known")
    growth(length, known[0], temperature_C)
    return length / (1 + known[0] * (temperature_C - REFERENCE_C))


def heating_for_interference_K(
    interference: float, diameter: float, alpha_hub: float, clearance: float = 0.0
) -> float:
    """By how many kelvin a hub must be warmed to pass its shaft with `clearance`, all in one unit of length.

    What heat a bearing, a seal or a casting stands is for its maker to say; hot parts burn hands.
    """
    if not (diameter > 0 and alpha_hub > 0 and math.isfinite(interference) and clearance >= 0):
        raise ValueError("what was given is no fit that can be warmed")
    return max(0.0, interference + clearance) / (diameter * alpha_hub)

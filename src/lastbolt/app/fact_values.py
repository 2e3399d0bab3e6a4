"""What a fact says now, by the fields of the correction that can be made of it: what a form begins with."""

from collections.abc import Mapping
from typing import Any

import msgspec

from lastbolt.correcting.facts import Fact
from lastbolt.words.corrections import Correction
from lastbolt.words.machine import Mention, PartsRow, Reference, Step, TableRow, TorqueRow, TorqueValue
from lastbolt.words.measured import Limit
from lastbolt.words.quantity import Quantity

CARRIED = ("does", "id", "fact", "saw", "by", "at", "read_as", "seen_at")


def values_of(fact: Fact, said: Correction | None) -> Mapping[str, Any]:
    """The values as read, and over them what a person said."""
    values = _as_read(fact)
    if said is not None:
        over = msgspec.to_builtins(said)
        values |= {name: value for name, value in over.items() if name not in CARRIED}
        values["does"] = over["does"]
    return values


def _as_read(fact: Fact) -> dict[str, Any]:
    match fact.thing:
        case Step(words=words, mark=mark, deeds=deeds):
            return {"words": words, "mark": mark, "deeds": list(deeds)}
        case Reference(to=to, any_of=any_of, role=role, status=status):
            return {"to": list(to), "any_of": any_of, "first": role == "before", "status": status}
        case TorqueRow(value=value):
            return _torque(value)
        case TorqueValue() as value:
            return _torque(value)
        case Mention(quantity=quantity) | TableRow(quantity=quantity):
            return _count(quantity)
        case PartsRow(name=name, part_number=number, quantity=quantity, kind=kind):
            size: dict[str, Any] = {"what": None, "thread": None, "length_mm": None}
            if kind is not None:
                size = {"what": kind.what, "thread": kind.thread, "length_mm": kind.length_mm}
            return {"name": name, "part_number": number, **_count(quantity), **size}
        case Limit(standard=standard, limit=limit, sense=sense):
            spans = {"standard": standard, "limit": limit}
            return {"sense": sense, **{k: msgspec.to_builtins(v) for k, v in spans.items()}}
    return {}


def _count(quantity: Quantity) -> dict[str, Any]:
    return {"low": quantity.low, "high": quantity.high}


def _torque(value: TorqueValue) -> dict[str, Any]:
    low, high, unit = value.printed[0] if value.printed else (None, None, "N·m")
    return {"low": low, "high": high, "unit": unit, "angle_deg": value.angle_deg, "limit": value.limit}

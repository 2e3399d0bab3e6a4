"""How fasteners go back, in words: a step that fits or tightens them, or a line of a torque table."""

import re

from msgspec.structs import replace

from lastbolt.app.plan_shown import torque_words
from lastbolt.planning.names import words
from lastbolt.reading.torques import torques_in
from lastbolt.words.machine import TorqueValue
from lastbolt.words.plan import Fastening

_NUMBERS = re.compile(r"[\d.,\s–/+-]+")


def fastening_words(item: Fastening) -> str:
    """The words, the torques that they do not hold, and how surely it is meant."""
    torques = [_said(value, item.words) for value in item.torques]
    sure = words()["sure_said"][item.sure]
    aside = f" [{sure}]" if sure else ""
    if item.row:
        more = _other_cells(item, torques)
        name = f"{item.words} ({', '.join(more)})" if more else item.words
        return f"{name}: {', '.join(torques)}{aside}"
    told = [one for one in torques if one not in item.words]
    return item.words + (f" ({', '.join(told)})" if told else "") + aside


def _said(value: TorqueValue, beside: str) -> str:
    """A torque with its condition, but for one that the words beside it say."""
    more = "; ".join(part for part in value.condition.split("; ") if part not in beside)
    return torque_words(replace(value, condition=more))


def _other_cells(item: Fastening, torques: list[str]) -> list[str]:
    """What else stands in the line: its size, "crosswise", "new tab washer"."""
    cells = item.citations[0].words.split(" | ") if item.citations else []
    known = (item.words, *torques)
    return [
        cell
        for cell in cells[1:]
        if not (_NUMBERS.fullmatch(cell) or torques_in(cell) or any(cell in one for one in known))
    ]


def fastening_at(item: Fastening) -> str:
    """The section and step, or that it is a table."""
    if item.row:
        return "torque table"
    return f"{item.number} step {item.mark}".strip() if item.mark else item.number

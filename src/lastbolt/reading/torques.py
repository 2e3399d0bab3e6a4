"""Tightening torques as printed: every unit, ranges, tolerances, angles and stages."""

import re
from typing import Literal, NamedTuple

import msgspec

from lastbolt.reading.lexicon import Lexicon, lexicon
from lastbolt.reading.units import UNIT, Printed, half_digit, newton_metres, torque_unit, units_agree
from lastbolt.words.machine import TorqueValue

_N = r"\d{1,4}(?:[.,]\d{1,3})?"
_VALUE = re.compile(
    rf"(?<![\w.,/])(?:(?P<list>{_N}(?:(?:,\s|\s?/\s?|\s(?:and|then|to)\s){_N})+)|(?P<mid>{_N})\s?(?:±|\+/[-−]|\+-)\s?(?P<tol>{_N})|(?P<low>{_N})\s?(?:[-–—…]|\.\.\.?|to)\s?(?P<high>{_N})|(?P<one>{_N}))"
    rf"\s?(?P<unit>{UNIT})(?![\w·])\.?",
    re.IGNORECASE,
)
_QUICK = re.compile(r"\d\s?(?:[ck]?N|kgf?|kp|mkg|m\.?kg|lbf?|ft|foot|in|oz|pound|newton)", re.IGNORECASE)
_LENGTH_BEFORE = re.compile(r"[x×X*]\s?$")
_BETWEEN = re.compile(r"\s?(?:[(\[/,;=|]|\)\s?\(|\]\s?\[|or)?\s?[(\[]?\s?")
_ANGLE = re.compile(r"(?P<deg>\d{1,3})\s?(?:°|deg(?:rees?)?\b\.?)|(?P<fraction>\d/\d)\s?(?:of a\s)?turn\b")
_STAGE = re.compile(
    r"(?:(?P<word>stage|step|pass|round)\s?(?P<after>\d)|(?P<before>[1-9](?:st|nd|rd|th)|first|second|third|fourth|final)\s(?:stage|pass|round|step)?)\s?[:,–-]?\s?(?:to\s|at\s)?$",
    re.IGNORECASE,
)
_SPLIT = re.compile(r",\s|\s?/\s?|\s(?:and|then|to)\s")


class Torque(NamedTuple):
    """A torque in a text; `agree` says whether its printed units are one value within their rounding."""

    start: int
    end: int
    value: TorqueValue
    agree: Literal["yes", "no", "unknown"]


def torques_in(text: str, language: Lexicon | None = None) -> list[Torque]:
    """Every torque in the text: values in several units side by side are one torque, stages are several."""
    if not _QUICK.search(text):
        return []
    groups: list[list[tuple[re.Match[str], list[Printed]]]] = []
    for match in _VALUE.finditer(text):
        printed = _printed(match)
        if not printed:
            continue
        last = groups[-1][-1] if groups else None
        if (
            last is not None
            and _joined(text, last[0], match)
            and len(printed) == len(last[1])
            and printed[0].unit not in {p[0].unit for _, p in groups[-1]}
        ):
            groups[-1].append((match, printed))
        else:
            groups.append([(match, printed)])
    found: list[Torque] = []
    for position, group in enumerate(groups):
        limit = groups[position + 1][0][0].start() if position + 1 < len(groups) else len(text)
        new = _torques_of(text, group, limit, language or lexicon())
        before = found[-1].value.stage if found else ""
        if len(new) == 1 and not new[0].value.stage and before.isdigit():
            value = msgspec.structs.replace(new[0].value, stage=str(int(before) + 1))
            new = [new[0]._replace(value=value)]
        found.extend(new)
    return found


def read_torque(cell: str, unit: str | None = None, language: Lexicon | None = None) -> Torque | None:
    """The torque of a table cell; `unit` is the column's unit where the cell prints a bare number."""
    found = torques_in(cell, language)
    if found:
        return found[0]
    if (
        unit is None
        or torque_unit(unit) is None
        or not re.fullmatch(rf"\s*{_N}(?:\s?(?:[-–±…/]|to|\+/-)\s?{_N})?\s*", cell)
    ):
        return None
    joined = torques_in(f"{cell.strip()} {unit}", language)
    return joined[0] if joined else None


def _number(text: str) -> float:
    return float(text.replace(",", "."))


def _printed(match: "re.Match[str]") -> list[Printed]:
    """The values of one match: one, or several where a list of stages shares the unit."""
    unit = torque_unit(match["unit"])
    if unit is None:
        return []
    if match["list"]:
        numbers = _SPLIT.split(match["list"])
        if len(numbers) == 2 and " to " in match["list"]:
            low, high = _number(numbers[0]), _number(numbers[1])
            if high > 2 * low or low > high or _LENGTH_BEFORE.search(match.string, 0, match.start("list")):
                low = high  # "the other 4 to 35 Nm", "M6 x 25 to 9 Nm": a count or a length, then a torque
            return [Printed(low, high, unit, half_digit(numbers[0]))]
        return [Printed(_number(n), _number(n), unit, half_digit(n)) for n in numbers]
    if match["mid"]:
        middle, tolerance = _number(match["mid"]), _number(match["tol"])
        half = max(half_digit(match["mid"]), half_digit(match["tol"]))
        return [Printed(round(middle - tolerance, 6), round(middle + tolerance, 6), unit, half)]
    if match["low"]:
        low, high = _number(match["low"]), _number(match["high"])
        return [Printed(min(low, high), max(low, high), unit, half_digit(match["low"]))]
    value = _number(match["one"])
    return [Printed(value, value, unit, half_digit(match["one"]))]


def _start(match: "re.Match[str]", printed: list[Printed]) -> int:
    """Where the torque begins: behind a count or a length that stood before it."""
    numbers = _SPLIT.split(match["list"]) if match["list"] else []
    dropped = len(numbers) == 2 and len(printed) == 1 and printed[0].low != _number(numbers[0])
    return match.start("list") + match["list"].rindex(numbers[1]) if dropped else match.start()


def _joined(text: str, left: "re.Match[str]", right: "re.Match[str]") -> bool:
    """Whether two values stand side by side as two units of one torque."""
    return _BETWEEN.fullmatch(text, left.end(), right.start()) is not None


def _torques_of(
    text: str, group: list[tuple["re.Match[str]", list[Printed]]], limit: int, lex: Lexicon
) -> list[Torque]:
    start, end = _start(group[0][0], group[0][1]), group[-1][0].end()
    if text[end : end + 1] in (")", "]"):
        end += 1
    count = len(group[0][1])
    angle, angle_end = _angle_after(text, end, limit, lex)
    end = max(end, angle_end)
    found: list[Torque] = []
    for index in range(count):
        printed = tuple(values[index] for _, values in group)
        stage = str(index + 1) if count > 1 else _stage_before(text, start, lex)
        low, high = (newton_metres(v, printed[0].unit) for v in printed[0][:2])
        value = TorqueValue(
            torque_Nm=(round(low, 4), round(high, 4)),
            printed=tuple((p.low, p.high, p.unit) for p in printed),
            angle_deg=angle if index == count - 1 else None,
            stage=stage,
            words=text[start:end].rstrip(". "),
        )
        found.append(Torque(start, end, value, units_agree(printed)))
    return found


def _angle_after(text: str, end: int, limit: int, lex: Lexicon) -> tuple[float | None, int]:
    """The further turn that follows a torque: "+ 90°", "then a further 1/4 turn"."""
    window = text[end : min(limit, end + 48)]
    match = _ANGLE.search(window)
    if match is None:
        return None, end
    lead = window[: match.start()].strip(" ,;(").lower()
    if (
        lead
        and lead not in lex.words("torque", "plus")
        and not any(word in lead.split() for word in ("turn", "further", "another", "+", "plus"))
    ):
        return None, end
    if match["deg"]:
        return float(match["deg"]), end + match.end()
    top, bottom = match["fraction"].split("/")
    return round(360.0 * int(top) / int(bottom), 1) if int(bottom) else None, end + match.end()


def _stage_before(text: str, start: int, lex: Lexicon) -> str:
    """The number of the stage that is named just before a torque."""
    match = _STAGE.search(text[max(0, start - 32) : start])
    if match is None:
        return ""
    if match["after"]:
        return match["after"]
    ordinal = match["before"].lower()
    number = lex.data["ordinals"].get(ordinal)
    return "final" if ordinal == "final" else str(number or ordinal)
